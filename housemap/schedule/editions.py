"""The schedule for whom it is for: which parts each edition has, and the client's own pages."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from housemap.checks import check_of
from housemap.checks.words import room_name
from housemap.model.edits import take_scheme
from housemap.model.house import Accepted, Brief, Edition, House, Room, RoomBrief
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms
from housemap.plan.house_graph import graph_of
from housemap.schedule import drawings, sections, wording
from housemap.schedule.blocks import (
    Bullets,
    Cell,
    Figure,
    Figures,
    Html,
    Section,
    Text,
    filled,
    table,
    together,
)
from housemap.schedule.document import Schedule
from housemap.schedule.existing import as_found, colour_name
from housemap.schedule.quantities import painted
from housemap.schedule.systems import may_hold_lead
from housemap.schedule.takeoff import areas_by_room, surface_of
from housemap.schedule.views import LIGHT_WORDS, MOST_VIEWS
from housemap.schedule.wording import NOT_GIVEN

TITLES: Mapping[Edition, str] = {
    "full": "Paint schedule", "painter": "Painting specification",
    "client": "Colour scheme", "supplier": "Paint order",
}  # fmt: skip


def sections_of(schedule: Schedule, edition: Edition) -> tuple[Section, ...]:
    """Every part that has something to show, in order."""
    parts = _PARTS[edition]
    return tuple(filled(p if isinstance(p, Section) else p(schedule) for p in parts))


# The client's own pages


def idea(schedule: Schedule, *, to_client: bool = False) -> Section:
    """What the client asked for, in their words, and the wishes that the choice goes by."""
    who = "You" if to_client else "The client"
    house = schedule.house
    brief = house.brief
    texts = [Text(text) for text in (brief.notes, house.notes) if text]
    wishes = [*_wishes(brief)]
    for room, own in brief.rooms.items():
        wishes += (f"{room_name(house, room)}: {wish}" for wish in _room_wishes(own))
    causes = schedule.report.causes
    broken = (each.describe(house) for each in causes if each.check == "brief")
    other = [_spoken(text, to_client=to_client) for text in broken]
    parted = (Text("Where the choice differs from that:"), Bullets(tuple(other))) if other else ()
    asked = (Text(f"{who} asked for:"), Bullets(tuple(wishes))) if wishes else ()
    return Section("The idea", (*texts, *asked, *parted))


def _spoken(text: str, *, to_client: bool) -> str:
    """A sentence about the client, as one says it to them."""
    if to_client:
        for theirs, yours in _TO_CLIENT.items():
            text = text.replace(theirs, yours)
    return text


_TO_CLIENT = {
    "the client wants": "you asked for", "the client keeps": "you keep",
    "the client asked": "you asked",
}  # fmt: skip


def _wishes(brief: Brief | RoomBrief) -> Iterator[str]:
    if brief.strength:
        yield f"walls no stronger than {brief.strength}"
    if brief.accent_strength:
        yield f"accents no stronger than {brief.accent_strength}"
    if brief.like:
        yield f"colours such as {', '.join(brief.like)}"
    if brief.avoid:
        yield f"no {' or '.join(brief.avoid)}"
    if brief.colours:
        yield f"about {brief.colours} wall colours"
    if brief.lrv:
        yield f"walls between LRV {brief.lrv[0]:g} and {brief.lrv[1]:g}"


def _room_wishes(brief: RoomBrief) -> Iterator[str]:
    if brief.notes:
        yield brief.notes
    if brief.keep:
        yield "to be kept as it is"
    yield from _wishes(brief)


def views(schedule: Schedule) -> Section:
    """The rooms that see most of the others, by day and by lamp."""
    pictures, figures = schedule.views, []
    for room in pictures.rooms:
        lights = pictures.lights(room)
        words = " and ".join(LIGHT_WORDS[light] for light in lights)
        caption = f"{room_name(schedule.house, room)}, {words}"
        figures.append(Figure("view", caption, partial(pictures.pictures, room, lights)))
    indoors = sum(room.use != "outdoor" for room in schedule.house.rooms.values())
    rooms = [schedule.house.rooms[room] for room in pictures.rooms]
    some = f"{len(figures)} of {indoors} rooms indoors: those that see most of the others."
    notes = {
        some: MOST_VIEWS == len(figures) < indoors,
        GREY: any(_lacks_colour(room) for room in rooms),
        WARM: any("evening" in pictures.lights(room) for room in pictures.rooms),
    }
    told = (Text(note, quiet=True) for note, holds in notes.items() if holds)
    return Section("Views", (Figures(tuple(figures)), *told))


GREY = "Plain grey stands for a surface whose colour is not chosen, or not known."
WARM = "Lamplight looks warmer on a page than to eyes that are used to it in the room."


def _lacks_colour(room: Room) -> bool:
    paints = room.paints
    return None in {paints.walls, paints.ceiling, paints.trim, room.floor}


def room_by_room(schedule: Schedule) -> Section:
    """The colours of each room, with what the notes say of it."""
    house = schedule.house
    columns = "room, walls, woodwork, doors, ceiling, notes: note"
    rows = [_colours(schedule, key) for key, room in house.rooms.items() if dict(painted(room))]
    return Section("Room by room", (sections.said(table("Colours by room", columns, rows)),))


def _colours(schedule: Schedule, key: str) -> tuple[Cell | str, ...]:
    room = schedule.house.rooms[key]
    held = dict(painted(room))
    accents = [wording.paint(schedule.house, held[on]) for on in held if on.startswith("accent")]
    names = ", ".join(dict.fromkeys(accents))
    cells = (_coat(schedule, key, held.get(on)) for on in ("walls", "trim", "doors", "ceiling"))
    kept = "Kept as it is" if key in kept_rooms(schedule.house) else ""
    note = ". ".join(filter(None, (kept, f"Accent: {names}" if names else "", room.notes)))
    return room.name, *cells, note


def _coat(schedule: Schedule, room: str, paint: str | None) -> Cell:
    return sections.paint_cell(schedule, paint, to_order_for=[room]) if paint else Cell("")


def before_and_after(schedule: Schedule) -> Section:
    """The walls of each room as they are now and as they will be, and one room in both."""
    house, existing = schedule.house, schedule.existing
    columns = "room, walls now, walls after"
    rows = []
    for room in house.rooms:
        then = house.rooms[room].paints.walls
        now = existing.on(room, "walls").swatch
        if now and then:
            words = f"{colour_name(now)}, LRV {now.lrv:.0f}"
            rows.append(
                (room_name(house, room), Cell(words, now), sections.paint_cell(schedule, then))
            )
    figures = tuple(_both(schedule)) if rows else ()
    return Section(
        "Before and after", (Figures(figures), table("Walls before and after", columns, rows))
    )


def _both(schedule: Schedule) -> Iterator[Figure]:
    """The room that is seen most, now and after; what is not known of it now is shown as after."""
    house = schedule.house
    before = as_found(house, schedule.before.house if schedule.before else house)
    if before is None or not _alike(before, house):
        return
    pictures = schedule.views
    now = pictures.study_of(before)
    for room in pictures.rooms[:1]:
        caption = f"{room_name(house, room)}, now and after"
        lights = pictures.lights(room)[:1]
        yield Figure("view", caption, partial(pictures.now_and_after, room, lights, now))


def _alike(one: House, other: House) -> bool:
    """Whether both houses have the same rooms and openings around, so that one view fits both."""
    return list(one.rooms) == list(other.rooms) and one.openings == other.openings


def schemes(schedule: Schedule) -> Section:
    """Every other way to paint the house, beside the one chosen."""
    house = schedule.house
    if not house.schemes:
        return Section("", ())
    figures, texts = [], []
    for name, notes, other in _ways(house):
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


def _ways(house: House) -> Iterator[tuple[str, str, House]]:
    yield "As chosen", "", house
    for key, scheme in house.schemes.items():
        yield scheme.name, scheme.notes, take_scheme(house, key)


def wall_shares(house: House) -> Mapping[str, float]:
    """By paint: its share 0..1 of all measured walls, the largest first."""
    everywhere = areas_by_room(house, graph_of(house))
    areas: defaultdict[str, float] = defaultdict(float)
    for key, room in house.rooms.items():
        measured = everywhere[key] or {}
        for surface, paint in painted(room):
            if surface_of(surface) == "walls" and not surface.startswith("part"):
                areas[paint] += measured.get(surface, 0.0)
    whole = sum(areas.values()) or 1.0
    return {paint: areas[paint] / whole for paint in sorted(areas, key=lambda p: -areas[p])}


def accepted(schedule: Schedule) -> Section:
    """What was found, looked at and accepted, and why."""
    house = schedule.house
    columns = "what, where, why it was accepted: note, when"
    rows = [
        (
            _check_title(each.check),
            ", ".join(room_name(house, room) for room in each.rooms),
            _why(house, each),
            " ".join(filter(None, (f"{each.when:%-d %B %Y}" if each.when else "", each.by))),
        )
        for each in house.accepted.values()
    ]
    return Section("Looked at and accepted", (table("Accepted as it is", columns, rows),))


def _why(house: House, each: Accepted) -> str:
    """What was written; where other paints are there now it no longer holds."""
    worn = {paint for room in each.rooms for _, paint in painted(house.rooms[room])}
    stale = " (the paints there have changed since: look again)"
    return (each.why or NOT_GIVEN) + (stale if set(each.paints) - worn else "")


def _check_title(check: str) -> str:
    """A check of another version has no title here."""
    try:
        return check_of(check).title
    except KeyError:
        return check


# What a specification covers


def covered(schedule: Schedule) -> Section:
    """Each item of a painting specification: where it is, or that it is not given.

    The items follow the contents of UFGS 09 90 00 (May 2011, change 4).
    """
    columns = "item, in this specification: note"
    rows = [(item, words or NOT_GIVEN) for item, words in _items(schedule)]
    return Section("What this specification covers", (table("Contents", columns, rows),))


def _items(schedule: Schedule) -> Iterator[tuple[str, str]]:
    house, lines = schedule.house, schedule.quantities.lines
    client = house.client
    yield "Client and address", ", ".join(filter(None, (client.name, client.address)))
    unchosen = len(schedule.quantities.unchosen)
    more = f"; {unchosen} more without a paint yet" if unchosen else ""
    yield "Surfaces to be painted", f"{len(lines)} surfaces, room by room{more}" if lines else ""
    left = len(schedule.quantities.left)
    named = f"{counted(left, 'part')}, named with their rooms" if left else "none named"
    yield "Surfaces left unpainted", named
    noted = sum(line.system.now != NOT_GIVEN for line in lines)
    yield "Surfaces as they are now", _of(noted, len(lines), "surfaces")
    yield "Preparation", "by paint system" if noted else "washing and dulling only"
    yield (
        "Paint products",
        _of(sum(bool(line.system.product) for line in lines), len(lines), "surfaces"),
    )
    yield "Primers", "by paint system" if schedule.quantities.primers else ""
    yield "Coats", "surface by surface" if lines else ""
    yield "Colours", "by name, code and number" if lines else ""
    yield "Sheens", _of(sum(line.sheen is not None for line in lines), len(lines), "surfaces")
    approved = sum(schedule.tried(line.paint, line.room) == "kept" for line in lines)
    yield "Approved samples", _of(approved, len(lines), "surfaces")
    yield "Areas and amounts", "surface by surface, by IS 1200" if lines else ""
    yield "Labour", f"{schedule.quantities.hours:.0f} hours" if schedule.quantities.hours else ""
    lead = "see Cautions" if may_hold_lead(house) else f"built in {house.built}"
    yield "Lead in old paint", lead
    yield "Asbestos and other hazards", ""
    yield "Dates and working hours", ""
    yield "Access, scaffold, parking, power, water", ""
    yield "Who supplies the paint", ""
    yield "Insurance and guarantee", ""
    for each in ("Protection", "Labels and storage", "Temperature and damp", "Waste", "Left over"):
        yield each, "see Conditions of the work"


def _of(count: int, whole: int, what: str) -> str:
    if not count:
        return ""
    some = f"{count} of {whole} {what}; the rest not given"
    return f"all {whole} {what}" if count == whole else some


# Which parts each edition has

Part = Section | Callable[[Schedule], Section]
_PARTS: Mapping[Edition, Sequence[Part]] = {
    "full": (
        sections.caution_list, sections.changes, idea, sections.proportions, sections.plans, views,
        sections.paint_key, sections.systems, partial(sections.rooms, walls=False),
        sections.paint_list, sections.primer_list, sections.labour, sections.measured_how,
        sections.edges, sections.samples_to_put_up, sections.samples_seen, sections.still_open,
        accepted, sections.SIGN_OFF,
    ),
    "painter": (
        sections.caution_list, sections.notes, sections.changes, sections.paint_key,
        sections.plans, sections.systems, partial(sections.rooms, walls=True), sections.edges,
        sections.paint_list, sections.primer_list, sections.samples_to_put_up,
        sections.samples_seen, sections.labour, sections.measured_how, sections.WORK_CONDITIONS,
        covered, sections.SIGN_OFF,
    ),
    "client": (
        partial(idea, to_client=True), sections.proportions, sections.plans, views, room_by_room,
        before_and_after, schemes,
        sections.samples_to_put_up, sections.samples_seen, accepted, sections.costs,
        sections.caution_list, sections.SIGN_OFF,
    ),
    "supplier": (
        partial(sections.paint_list, least=False), sections.primer_list, sections.tester_list,
        sections.ORDER_NOTES,
    ),
}  # fmt: skip
