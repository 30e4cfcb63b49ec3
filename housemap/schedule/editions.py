"""The schedule for whom it is for: which parts each edition has, and the client's own pages."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial

from housemap.checks import check_of
from housemap.checks.words import room_name
from housemap.model.edits import take_scheme
from housemap.model.house import LIGHT_WORDS, SURFACES, Brief, Edition, House, RoomBrief, Surface
from housemap.model.samples import trying
from housemap.model.takeoff import areas_of_rooms, surface_of
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms
from housemap.schedule import drawings, sections, wording
from housemap.schedule.blocks import (
    NOTHING,
    Bullets,
    Cell,
    Figure,
    Figures,
    Html,
    Section,
    Text,
    table,
    together,
)
from housemap.schedule.document import Schedule
from housemap.schedule.existing import as_found, colour_name
from housemap.schedule.reasons import as_said_to_client, questions, reasons, rooms_in_doubt
from housemap.schedule.systems import may_hold_asbestos, may_hold_lead, now_text
from housemap.schedule.views import MOST_VIEWS
from housemap.schedule.wording import NOT_GIVEN

TITLES: Mapping[Edition, str] = {
    "full": "Paint schedule", "painter": "Painting specification",
    "client": "Colour scheme", "supplier": "Paint order",
}  # fmt: skip


def sections_of(schedule: Schedule, edition: Edition) -> tuple[Section, ...]:
    """Every part that has something to show, in order."""
    parts = (part if isinstance(part, Section) else part(schedule) for part in _PARTS[edition])
    shown = tuple(part for part in parts if not part.empty)
    if schedule.quantities.lines:
        return shown
    return (sections.NOTHING_PAINTED, *(part for part in shown if part.title != sections.AGREED))


# The client's own pages


def idea(schedule: Schedule, *, to_client: bool = False) -> Section:
    """What the client asked for, in their words, and the wishes that the choice goes by."""
    who = "You" if to_client else "The client"
    house = schedule.house
    brief = house.brief
    notes = "" if to_client else house.notes  # the consultant's own
    texts = [Text(text) for text in (brief.notes, notes) if text]
    wishes = [*_wishes(brief)]
    for room, own in brief.rooms.items():
        wishes += (f"{room_name(house, room)}: {wish}" for wish in _wishes(own))
    broken = [c.describe(house) for c in schedule.report.causes if c.check == "brief"]
    if to_client:
        broken = [*map(as_said_to_client, broken)]
    asked = (Text(f"{who} asked for:"), Bullets(tuple(wishes))) if wishes else ()
    differs = Text("Where the choice differs from that:"), Bullets(tuple(broken))
    why = Text("Why these colours:"), Bullets(tuple(reasons(schedule)))
    chosen = why if schedule.numbers else ()
    unmade = sections.without_a_product(schedule) if to_client else ""
    match = Text(f"No product yet: {unmade}. A supplier matches the colour, and you see a sample.")
    parts = *texts, *asked, *chosen, *((match,) if unmade else ())
    return Section("The idea", (*parts, *(differs if broken else ())))


def _wishes(brief: Brief | RoomBrief) -> Iterator[str]:
    if isinstance(brief, RoomBrief):
        if brief.notes:
            yield brief.notes
        if brief.keep:
            yield "to be kept as it is"
    if brief.strength:
        yield f"walls no stronger than {brief.strength}"
    if brief.accent_strength:
        yield f"accents no stronger than {brief.accent_strength}"
    if brief.like:
        yield f"colours such as {', '.join(brief.like)}"
    if brief.avoid:
        yield f"no {' or '.join(brief.avoid)}"
    if brief.colours:
        yield f"at most {counted(brief.colours, 'wall colour')}"
    if brief.lrv:
        yield f"walls between LRV {brief.lrv[0]:g} and {brief.lrv[1]:g}"


def to_settle(schedule: Schedule) -> Section:
    before = Text("Please decide with us before paint is bought:")
    items = tuple(questions(schedule))
    return Section("Still to settle", (before, Bullets(items))) if items else NOTHING


def views(schedule: Schedule) -> Section:
    """The rooms that see most of the others, by day and by lamplight."""
    pictures, figures = schedule.views, []
    for room in pictures.rooms:
        lights = pictures.lights(room)
        words = " and ".join(LIGHT_WORDS[light] for light in lights)
        caption = f"{room_name(schedule.house, room)}, {words}"
        figures.append(Figure("view", caption, partial(pictures.pictures, room, lights)))
    indoors = sum(room.use != "outdoor" for room in schedule.house.rooms.values())
    rooms = [schedule.house.rooms[room] for room in pictures.rooms]
    some = f"{len(figures)} of {indoors} rooms indoors: those that see most of the others."
    colours = {
        colour
        for room in rooms
        for colour in (room.paints.walls, room.paints.ceiling, room.paints.trim, room.floor)
    }
    notes = {
        some: MOST_VIEWS == len(figures) < indoors,
        GREY: None in colours,
        WARM: any("evening" in pictures.lights(room) for room in pictures.rooms),
    }
    shown = (Text(note, quiet=True) for note, holds in notes.items() if holds)
    return Section("Views", (Figures(tuple(figures)), *shown))


GREY = "Plain grey stands for a surface whose colour is not chosen, or not known."
WARM = "Lamplight looks warmer on a page than to eyes that are used to it in the room."


def room_by_room(schedule: Schedule) -> Section:
    house, rows = schedule.house, []
    to_keep, open_ = kept_rooms(house), rooms_in_doubt(schedule)
    for key, room in house.rooms.items():
        held = {line.surface: line.paint for line in schedule.lines_of(key)}
        if key in to_keep:
            held = dict(room.painted())
        if held:
            accents = [wording.paint(house, held[on]) for on in held if on.startswith("accent")]
            names = ", ".join(dict.fromkeys(accents))
            kept = "Kept as it is, in the colours there now" if key in to_keep else ""
            cells = (_cell(schedule, key, on, held.get(on), kept=key in to_keep) for on in SURFACES)
            name = f"{room.name} (question open)" if key in open_ else room.name
            note = ". ".join(filter(None, (kept, f"Accent: {names}" if names else "")))
            rows.append((name, *cells, note))
    columns = "room, walls, ceiling, woodwork, doors, notes: note"
    return Section("Room by room", (sections.said(table("Colours by room", columns, rows)),))


def _cell(
    schedule: Schedule, room: str, surface: Surface, paint: str | None, *, kept: bool
) -> Cell | str:
    """The paint that a surface gets, and its sheen; of a room that is kept, what is there now."""
    if paint is None:
        return ""
    if kept:
        return sections.now_cell(schedule, room, surface)
    cell = sections.paint_cell(schedule, paint, [schedule.tried(trying(paint, room, surface))])
    sheen = schedule.house.rooms[room].sheens.of(surface)
    return cell._replace(text=", ".join(filter(None, (cell.text, sheen))))


def before_and_after(schedule: Schedule) -> Section:
    """The walls of each room as they are now and as they will be, and one room in both."""
    rows, left = [], []
    for key, room in schedule.house.rooms.items():
        if key in kept_rooms(schedule.house):
            continue
        then, existing = room.paints.walls, schedule.existing.on(key, "walls")
        if (now := existing.swatch) and then:
            words = f"{colour_name(now)}, LRV {now.lrv:.0f}"
            rows.append((room.name, Cell(words, now), sections.paint_cell(schedule, then)))
        elif then or room.use != "outdoor":
            known = existing.ground not in {None, "painted"}
            why = now_text(existing) if known else "the colour there now is not given"
            left.append(f"{room.name} ({why if then else 'no colour chosen yet'})")
    if not rows:
        return NOTHING
    walls = table("Walls before and after", "room, walls now, walls after", rows)
    lacking = (Text(f"Not shown: {'; '.join(left)}."),) if left else ()
    return Section("Before and after", (Figures(tuple(_both(schedule))), walls, *lacking))


def _both(schedule: Schedule) -> Iterator[Figure]:
    """The room that is seen most, now and after; what is not known of it now is shown as after."""
    house = schedule.house
    before = as_found(house, schedule.before.house if schedule.before else house)
    same_rooms = before is not None and list(before.rooms) == list(house.rooms)
    if before is None or not same_rooms or before.openings != house.openings:
        return  # no one view fits both
    pictures = schedule.views
    now = pictures.study_of(before)
    for room in pictures.rooms[:1]:
        caption = f"{room_name(house, room)}, now and after"
        lights = pictures.lights(room)[:1]
        yield Figure("view", caption, partial(pictures.now_and_after, room, lights, now))


def schemes(schedule: Schedule) -> Section:
    house = schedule.house
    if not house.schemes:
        return NOTHING
    ways = [("As chosen", "", house)]
    ways += ((way.name, way.notes, take_scheme(house, key)) for key, way in house.schemes.items())
    figures, texts = [], []
    for name, notes, other in ways:
        shares = wall_shares(other)
        caption = f"{name}: {len(shares)} wall colours"
        figures.append(Figure("scheme", caption, partial(_scheme, schedule, other, shares)))
        if notes:
            texts.append(Text(f"{name}: {notes}"))
    return Section("Schemes side by side", (Figures(tuple(figures)), *texts))


def _scheme(schedule: Schedule, other: House, shares: Mapping[str, float]) -> Html:
    """A way to paint the house: its strip, and a room as it would look."""
    pictures = schedule.views
    drawn = [
        pictures.pictures(room, pictures.lights(room)[:1], pictures.study_of(other))
        for room in pictures.rooms[:1]
    ]
    return together(drawings.strip_of(schedule, shares), *drawn)


def wall_shares(house: House) -> Mapping[str, float]:
    """By paint: its share 0..1 of all measured walls, the largest first."""
    measured = areas_of_rooms(house)
    areas: defaultdict[str, float] = defaultdict(float)
    for key, room in house.rooms.items():
        of_room = measured[key]
        for surface, paint in room.painted():
            if surface_of(surface) == "walls" and not surface.startswith("part"):
                areas[paint] += of_room.to_paint_m2.get(surface, 0.0) if of_room else 0.0
    whole = sum(areas.values()) or 1.0
    return {paint: areas[paint] / whole for paint in sorted(areas, key=lambda p: -areas[p])}


def accepted(schedule: Schedule) -> Section:
    house, rows = schedule.house, []
    for each in house.accepted.values():
        try:
            title = check_of(each.check).title
        except KeyError:  # a check of another version
            title = each.check
        worn = {paint for room in each.rooms for _, paint in house.rooms[room].painted()}
        stale = set(each.paints) - worn
        rows.append((
            title,
            ", ".join(room_name(house, room) for room in each.rooms),
            (each.why or NOT_GIVEN)
            + (" (the paints there have changed since: look again)" if stale else ""),
            " ".join(filter(None, (f"{each.when:%-d %B %Y}" if each.when else "", each.by))),
        ))  # fmt: skip
    columns = "what, where, why it was accepted: note, when"
    return Section("Looked at and accepted", (table("Accepted as it is", columns, rows),))


# What a specification covers


def covered(schedule: Schedule) -> Section:
    """Each item of a painting specification: where it is, or that it is not given.

    The items follow the contents of UFGS 09 90 00 (May 2011, change 4).
    """
    given = _items(schedule)
    given |= dict.fromkeys(_NEVER_GIVEN, "")
    given |= dict.fromkeys(_IN_CONDITIONS, "see Conditions of the work")
    rows = [(item, words or NOT_GIVEN) for item, words in given.items()]
    contents = table("Contents", "item, in this specification: note", rows)
    return Section("What this specification covers", (contents,))


def _items(schedule: Schedule) -> dict[str, str]:
    house, amounts, lines = schedule.house, schedule.quantities, schedule.quantities.lines
    unchosen, left = len(amounts.unchosen), len(amounts.left)
    more = f"; {unchosen} more without a paint yet" if unchosen else ""
    left_to_see = [schedule.light_to_see(line.trying) for line in lines]
    seen_once = sum(light is not None for light in left_to_see)
    approved = [
        light is None and schedule.tried(line.trying) == "kept"
        for line, light in zip(lines, left_to_see, strict=True)
    ]
    half = f"{counted(seen_once, 'surface')} approved in one light only" if seen_once else ""
    noted = [line.system.now != NOT_GIVEN for line in lines]
    suppliers = [house.paints[line.paint].supplier for line in lines]

    def of_all(each: Iterable[bool]) -> str:
        count = sum(each)
        if not count:
            return ""
        rest = f"{count} of {len(lines)} surfaces; the rest not given"
        return f"all {count} surfaces" if count == len(lines) else rest

    return {
        "Client and address": ", ".join(filter(None, (house.client.name, house.client.address))),
        "Surfaces to be painted": f"{len(lines)} surfaces, room by room{more}" if lines else "",
        "Surfaces left unpainted": f"{counted(left, 'part')}, named with their rooms" if left
        else "none named",
        "Window frames and stairs": next(sections.uncounted(schedule), "as listed in their rooms"),
        "Surfaces as they are now": of_all(noted),
        "Preparation": "by paint system" if any(noted) else "washing and dulling only",
        "Paint products": of_all(bool(line.system.product) for line in lines),
        "Who supplies the paint": "; ".join(
            filter(None, (*dict.fromkeys(suppliers), of_all(map(bool, suppliers))))
        ),
        "Primers": "by paint system" if amounts.primers else "",
        "Coats": "surface by surface" if lines else "",
        "Colours": "by name, code and number" if lines else "",
        "Sheens": of_all(line.sheen is not None for line in lines),
        "Approved samples": "; ".join(filter(None, (of_all(approved), half))),
        "Areas and amounts": "surface by surface, by IS 1200" if lines else "",
        "Labour": f"{amounts.hours:.0f} hours" if amounts.hours else "",
        "Lead in old paint": "see Cautions" if may_hold_lead(house) else f"built in {house.built}",
        "Asbestos": "see Cautions" if may_hold_asbestos(house) else f"built in {house.built}",
    }  # fmt: skip


_NEVER_GIVEN = (
    "Other hazards", "Dates and working hours",
    "Access, scaffold, parking, power, water", "Insurance and guarantee",
)  # fmt: skip
_IN_CONDITIONS = "Protection", "Labels and storage", "Temperature and damp", "Waste", "Left over"

# Which parts each edition has

Part = Section | Callable[[Schedule], Section]
_PARTS: Mapping[Edition, Sequence[Part]] = {
    "full": (
        sections.caution_list, sections.changes, idea, sections.proportions, sections.plans, views,
        sections.paint_key, sections.systems, partial(sections.rooms, walls=False),
        sections.paint_list, sections.primer_list, sections.labour, sections.measured_how,
        sections.edges, sections.samples_to_put_up, sections.samples_seen, sections.still_open,
        accepted, sections.agreed,
    ),
    "painter": (
        sections.caution_list, sections.not_settled, sections.notes, sections.changes,
        sections.paint_key, sections.plans, sections.systems,
        partial(sections.rooms, walls=True), sections.edges,
        partial(sections.paint_list, edition="painter"), sections.primer_list,
        sections.samples_to_put_up, sections.samples_seen, sections.labour, sections.measured_how,
        sections.WORK_CONDITIONS, covered, sections.agreed,
    ),
    "client": (
        partial(idea, to_client=True), sections.proportions, sections.plans, views, room_by_room,
        before_and_after, schemes, to_settle,
        sections.samples_to_put_up, sections.samples_seen, accepted, sections.costs,
        sections.caution_list, sections.agreed,
    ),
    "supplier": (
        sections.before_ordering, partial(sections.paint_list, edition="supplier"),
        partial(sections.primer_list, edition="supplier"), sections.tester_list,
        sections.ORDER_NOTES,
    ),
}  # fmt: skip
