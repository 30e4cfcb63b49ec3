"""The parts of a schedule, each made once for every edition and form."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import partial

from housemap.checks.words import room_name
from housemap.model.geometry import opening_height_m
from housemap.model.grouping import grouped
from housemap.model.house import (
    LIGHT_WORDS,
    SURFACES,
    Edition,
    House,
    Opening,
    OpeningKind,
    SampleLight,
    Surface,
    part_surface,
)
from housemap.model.samples import OF_VERDICT, OTHER_LIGHT, Tried, approved_paints
from housemap.model.severity import SHOWN
from housemap.model.takeoff import (
    DEDUCTED_ABOVE_M2,
    DOOR_COEFFICIENT,
    ONE_FACE_M2,
    PANELLED_COEFFICIENT,
)
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms
from housemap.plan.floor_plan import wall_name
from housemap.schedule import drawings, reasons, wording
from housemap.schedule.blocks import (
    NOTHING,
    Bullets,
    Cell,
    Facts,
    Figure,
    Figures,
    Row,
    Section,
    SignOff,
    Table,
    Text,
    listed,
    row_of,
    table,
)
from housemap.schedule.document import Schedule
from housemap.schedule.existing import UNKNOWN
from housemap.schedule.purchase import LITRES_FOR_A_TIN, SHORT_SHARE, SURPLUS_SHARE, Purchase
from housemap.schedule.quantities import COVERAGE_M2_PER_L, WASTE, Line
from housemap.schedule.samples import Trial
from housemap.schedule.systems import (
    AT_ACCENT,
    COATS,
    COATS_OVER_DARKER,
    CONDITIONS,
    OVER_DARKER_LRV,
    SUNDRIES,
    System,
    at_edge,
    cautions,
    may_hold_lead,
    now_text,
)
from housemap.schedule.wording import FT2_PER_M2, NOT_GIVEN, US_GALLON_L

TRIED: Mapping[Tried, str] = {
    "kept": "approved", "rejected": "rejected", "unsure": "unsure",
    "put up": "put up", "untried": "no sample",
}  # fmt: skip
"""What samples of a paint in a room have come to."""

_MARKS: Mapping[Tried, str] = {
    "rejected": " (sample rejected: choose again)", "unsure": " (sample unsure: look again first)",
}  # fmt: skip
"""Beside a paint that is not to be ordered yet."""


def paint_cell(schedule: Schedule, paint: str, tried: Collection[Tried] = ()) -> Cell:
    """Marked by what its samples came to where it is ordered for."""
    mark = next((words for verdict, words in _MARKS.items() if verdict in tried), "")
    text = f"{wording.paint(schedule.house, paint)}{mark}"
    return Cell(text, schedule.swatch(paint), schedule.numbers.get(paint))


def parties(schedule: Schedule, edition: Edition = "full") -> Facts:
    """Who for, by whom, which issue; to a supplier, whom to deliver to, and when."""
    client, day = schedule.house.client, f"{schedule.date:%-d %B %Y}"
    address = " ".join(client.address.split())
    given = {"client": client.name, "address": address, "prepared by": client.by}
    if edition == "supplier":
        to = ", ".join(filter(None, (client.name, address)))
        given = {"ordered by": client.by, "deliver to": to, "day of delivery": ""}
    given["issue"] = f"{schedule.issue}, {day}" if schedule.issue else f"draft of {day}"
    return Facts(tuple((name, words or NOT_GIVEN) for name, words in given.items()))


def totals(schedule: Schedule, edition: Edition = "full") -> Facts:
    """What the whole comes to; a client is spared litres and tins, a supplier rooms and areas."""
    house, amounts, needs = schedule.house, schedule.quantities, schedule.quantities.needs

    def and_without(words: str, each: Iterable[object], what: str) -> str:
        lacking = sum(value is None for value in each)
        return f"{words}, and {counted(lacking, 'line')} without {what}" if lacking else words

    facts = {"paints": str(len(schedule.numbers))}
    if edition != "supplier":
        uses = [house.rooms[room].use for room in {line.room for line in amounts.lines}]
        outside = f", and {n} outside" if (n := uses.count("outdoor")) else ""
        facts = {"rooms painted": f"{len(uses) - uses.count('outdoor')}{outside}", **facts}
    if edition in {"full", "painter"}:
        facts["area"] = wording.area(sum(need.area_m2 for need in needs), house.units)
        if amounts.rejected:
            facts["area"] += f", {counted(len(amounts.rejected), 'rejected surface')} not counted"
        litres = sum(need.litres for need in needs)
        facts["paint with waste"] = wording.volume(litres, house.units)
    if edition != "client":
        bought = [*(n.purchase for n in needs), *(n.purchase for n in amounts.primers)]
        primer = sum(each.purchase.count for each in amounts.primers if each.purchase)
        tins = f"{amounts.tins} of paint, {primer} of primer" if primer else str(amounts.tins)
        facts["tins"] = and_without(tins, bought, "tin sizes")
        if amounts.cost is not None:
            costs = [*(need.cost for need in needs), *(need.cost for need in amounts.primers)]
            money = wording.money(amounts.cost, house)
            facts["paint and primer"] = and_without(money, costs, "a price")
    return Facts((*facts.items(), ("file mark", schedule.revision)))


def changes(schedule: Schedule) -> Section:
    """What is different from the last issue; nothing where there was none."""
    house, last = schedule.house, schedule.last_issue
    if last is None:
        return NOTHING
    rows = [
        (room_name(house, line.room), wording.surface(house, line.room, line.surface), before)
        for line in schedule.quantities.lines
        if (before := schedule.change(line)) is not None
    ]
    rows += [
        (room_name(house, room), surface, f"left out now; was: {text}")
        for room, surface, text in schedule.dropped()
    ]
    if not rows:
        unchanged = Text(f"Nothing has changed since issue {last}.")
        return Section(f"Changed since issue {last}", (unchanged,))
    return listed(f"Changed since issue {last}", f"room, surface, in issue {last}: note", rows)


def paint_key(schedule: Schedule) -> Section:
    columns = "paint, LRV: number, notation, colour, goes on: note, notes: note"
    rooms = _rooms_of(schedule)
    rows = [
        (
            paint_cell(schedule, paint),
            f"{schedule.swatch(paint).lrv:.0f}",
            schedule.swatch(paint).colour.notation.text,
            schedule.swatch(paint).colour.undertone.words,
            "; ".join(rooms[paint]),
            schedule.house.paints[paint].notes,
        )
        for paint in schedule.numbers
    ]
    return Section("Paints", (said(table("Paints by number", columns, rows)),))


_NAMED = 4
"""More rooms than these are counted."""


def some_rooms(names: Collection[str]) -> str:
    return ", ".join(names) if len(names) <= _NAMED else f"{len(names)} rooms"


def _rooms_of(schedule: Schedule) -> Mapping[str, list[str]]:
    """As in "walls: Hall, Landing", "ceiling, sample rejected: Hall"."""
    house = schedule.house
    found: defaultdict[str, defaultdict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for line in schedule.quantities.lines:
        kind = "accent wall" if line.surface.startswith("accent") else line.surface
        name = "parts" if kind.startswith("part ") else kind
        name += ", sample rejected" if line in schedule.quantities.rejected else ""
        found[line.paint][name].append(house.rooms[line.room].name)

    return {
        paint: [f"{kind}: {some_rooms(dict.fromkeys(rooms))}" for kind, rooms in kinds.items()]
        for paint, kinds in found.items()
    }


def proportions(schedule: Schedule) -> Section:
    if not schedule.board:
        return NOTHING
    seen = any(share.of_view for share in schedule.board)
    strips = tuple(
        Figure("strip", f"All paints {name}", partial(drawings.strip, schedule, name))
        for name in (("by area", "by view") if seen else ("by area",))
    )
    columns = "paint, LRV: number, colour, of the area: number, of the view: number"
    rows = [
        (
            paint_cell(schedule, share.paint),
            f"{schedule.swatch(share.paint).lrv:.0f}",
            schedule.swatch(share.paint).colour.undertone.words,
            wording.percent(share.of_area),
            wording.percent(share.of_view),
        )
        for share in schedule.board
    ]
    note = "By view: of the paint that is seen by somebody who stands in each room and looks round."
    shares = table("Paints in proportion", columns, rows)
    return Section("The paints in proportion", (Figures(strips), shares, Text(note, quiet=True)))


def plans(schedule: Schedule) -> Section:
    figures = tuple(
        Figure(
            "plan", drawings.plan_caption(schedule, level), partial(drawings.plan, schedule, level)
        )
        for level in schedule.study.plan.levels()
    )
    words = (
        "The numbers are those of the paints; letters name the walls of a room"
        " by the compass, as the arrow shows it."
    )
    return Section("Plan", (Figures(figures), Text(words, quiet=True))) if figures else NOTHING


def systems_of(schedule: Schedule) -> Mapping[System, str]:
    """The letter of every paint system, in the order in which the rooms need them.

    Two surfaces share a system when they are prepared, primed and painted alike.
    """
    found: dict[object, str] = {}
    letters: dict[System, str] = {}
    for system in (line.system for line in schedule.quantities.lines):
        key = system.preparation, system.first, system.coats, system.why_coats.text
        letters[system] = found.setdefault(key, _letters(len(found)))
    return letters


def _letters(number: int) -> str:
    """A, B ... Z, AA, AB ..."""
    high, low = divmod(number, 26)
    return (_letters(high - 1) if high else "") + chr(ord("A") + low)


def systems(schedule: Schedule) -> Section:
    """Preparation, first coat and coats of every system, with the source of each rule."""
    columns = (
        "system, preparation: note, first coat: note, finish coats: note, "
        "where the rules come from: note"
    )
    by_letter: dict[str, System] = {}
    for system, letter in systems_of(schedule).items():
        by_letter.setdefault(letter, system)
    rows = []
    for letter, each in by_letter.items():
        sources = [*(step.source for step in each.preparation), each.why_coats.source]
        if each.first:
            sources.append(each.first.source)
        rows.append((
            letter,
            "; ".join(step.text for step in each.preparation),
            each.first.text if each.first else "none",
            f"{each.coats}: {each.why_coats.text}",
            "; ".join(dict.fromkeys(sources)),
        ))  # fmt: skip
    return listed("Paint systems", columns, rows)


_ROOM = (
    "surface, paint, LRV: number, sheen, product: note, now: note, system, coats: number, "
    "area: number, needed: number, sample"
)


def rooms(schedule: Schedule, *, walls: bool) -> Section:
    """Room by room; `walls` adds each wall as one stands before it."""
    letters = systems_of(schedule)
    parts = tuple(_room(schedule, room, letters, walls=walls) for room in schedule.house.rooms)
    unset = sum(line.sheen is None for line in schedule.quantities.lines)
    agree = f"{counted(unset, 'surface')} without a sheen: agree it first. {USUAL_SHEENS}"
    texts = (Text(agree),) if unset else ()
    return Section("Room by room", texts, tuple(part for part in parts if not part.empty))


USUAL_SHEENS = (
    "Usual are matt walls, flat ceilings and satin woodwork, and a washable paint in kitchens and"
    " bathrooms (common practice)."
)


def _room(schedule: Schedule, room: str, letters: Mapping[System, str], *, walls: bool) -> Section:
    house = schedule.house
    held = house.rooms[room]
    lines = schedule.lines_of(room)
    if room in kept_rooms(house):
        return Section(held.name, (Text(kept_text(schedule, room)),))
    if not lines:
        return NOTHING
    rows = [_line(schedule, line, letters[line.system]) for line in lines]
    notes = [Text(held.notes)] if held.notes else []
    figures = tuple(
        Figure("elevation", caption, partial(drawings.elevation, schedule, room, key, caption))
        for key, caption in (drawings.walls_of(schedule, room) if walls else ())
    )
    surfaces, beside = said(table(held.name, _ROOM, rows)), Bullets(tuple(_beside(schedule, room)))
    return Section(held.name, (*notes, surfaces, beside, Figures(figures)))


def kept_text(schedule: Schedule, room: str) -> str:
    """As in "Kept as it is, not painted. Known of it: walls: painted, Oat; trim: papered."."""
    held = schedule.house.rooms[room]
    states = (key if key in SURFACES else part_surface(key) for key in held.states)
    found = grouped(
        (now_cell(schedule, room, on).text, wording.surface(schedule.house, room, on))
        for on in dict.fromkeys((*(on for on, _ in held.painted()), *states))
    )
    now = "; ".join(f"{', '.join(on)}: {text}" for text, on in found.items())
    return "Kept as it is, not painted." + (f" Known of it: {now}." if now else "")


def now_cell(schedule: Schedule, room: str, surface: str) -> Cell:
    """What is on a surface of a room that is kept: as noted, else what the plan has there."""
    existing = schedule.existing.on(room, surface)
    paint = dict(schedule.house.rooms[room].painted()).get(surface)
    if not paint or existing.swatch or existing.ground not in {None, "painted"}:
        return Cell(now_text(existing), existing.swatch)
    planned = schedule.swatch(paint)
    seen = "" if existing == UNKNOWN else f"{now_text(existing)}, colour "
    words = f"{seen}not noted on site (as planned: {planned.name}, LRV {planned.lrv:.0f})"
    return Cell(words, planned)


def said(full: Table) -> Table:
    """A table without the columns in which nothing is given."""
    empty = {"", NOT_GIVEN, wording.NO_SHEEN}
    silent = [
        column.name
        for n, column in enumerate(full.columns)
        if n and empty.issuperset(row.cells[n].text for row in full.rows)
    ]
    return without(full, *silent)


def without(full: Table, *names: str) -> Table:
    kept = [n for n, column in enumerate(full.columns) if column.name not in names]
    rows = tuple(row._replace(cells=tuple(row.cells[n] for n in kept)) for row in full.rows)
    return Table(full.caption, tuple(full.columns[n] for n in kept), rows)


def _line(schedule: Schedule, line: Line, letter: str) -> Row:
    house = schedule.house
    changed = schedule.change(line) is not None
    surface = wording.surface(house, line.room, line.surface)
    return row_of(
        (
            f"{surface} (changed)" if changed else surface,
            paint_cell(schedule, line.paint),
            f"{schedule.swatch(line.paint).lrv:.0f}",
            line.sheen or wording.NO_SHEEN,
            line.system.product or NOT_GIVEN,
            line.system.now,
            letter,
            wording.coats(line.system),
            wording.area(line.area_m2, house.units),
            wording.volume(line.litres, house.units),
            tried_text(schedule, line),
        ),
        changed=changed,
    )


def tried_text(schedule: Schedule, line: Line) -> str:
    """As in "approved", or "approved by day only" where it is still to be seen by lamplight."""
    tried, light = schedule.tried(line.trying), schedule.light_to_see(line.trying)
    more = f" {LIGHT_WORDS[OTHER_LIGHT[light]]} only" if light else ""
    more = ": do not paint yet" if tried == "rejected" else more
    return f"{TRIED[tried]}{more}"


def _beside(schedule: Schedule, room: str) -> Iterator[str]:
    """What a table of painted surfaces does not say: notes of parts, and what is not painted."""
    house, amounts = schedule.house, schedule.quantities
    for key, part in house.rooms[room].parts.items():
        if part.paint and part.notes:
            yield f"{wording.part(house, room, key)}: {part.notes}"
    for each in amounts.left:
        if each.room == room:
            name = wording.part(house, room, each.key)
            area = wording.area(each.area_m2, house.units)
            yield f"{name}, {area}: leave as it is, protect. {each.part.notes}".rstrip()
    yield from (f"{on}: no paint chosen yet." for key, on in amounts.unchosen if key == room)


def paint_list(schedule: Schedule, edition: Edition = "full") -> Section:
    """What to buy, tin by tin, with what it comes to."""
    columns = (
        "paint, sheen, tins: tins, product: note, supplier, order code, area: number, "
        "with waste: number, price: number"
    )
    house, needs, rows = schedule.house, schedule.quantities.needs, []
    for need in needs:
        paint = house.paints[need.paint]
        tried = [schedule.tried(line.trying) for line in need.lines]
        rows.append((
            paint_cell(schedule, need.paint, tried),
            wording.sheen(need),
            wording.tins(need.purchase, house.units),
            need.product or NOT_GIVEN,
            paint.supplier or NOT_GIVEN,
            paint.order or paint.code or NOT_GIVEN,
            wording.area(need.area_m2, house.units),
            wording.volume(need.litres, house.units),
            wording.money(need.cost, house),
        ))  # fmt: skip
    if not rows:
        return Section("Paint to buy", tuple(map(Text, left_off(schedule))))
    paints, texts = said(table("Paint to buy", columns, rows)), [*sums(schedule, edition)]
    if edition == "supplier":
        paints = without(paints, "area")
    if unordered := without_a_product(schedule):
        texts.append(
            f"Without product and code: {unordered}. Agree a product, or have the colour"
            " matched and a sample approved, before it is ordered."
        )
    doubts = [each for each in schedule.matters if each.check == "label"]
    texts += (f"{each.headline(house)}: make sure of it before the order." for each in doubts)
    suppliers = {house.paints[need.paint].supplier for need in needs}
    if len(suppliers) == 1 and (only := suppliers.pop()):
        paints = without(paints, "supplier")
        texts.insert(0, f"Supplier of all of it: {only}.")
    return Section("Paint to buy", (paints, *map(Text, texts)))


def without_a_product(schedule: Schedule) -> str:
    """The paints that no supplier could find by what is written of them."""
    needs, paints = schedule.quantities.needs, schedule.house.paints
    unnamed = (paints[need.paint] for need in needs if not need.product)
    return ", ".join({p.name: None for p in unnamed if not (p.order or p.code)})


def sums(schedule: Schedule, edition: Edition = "full") -> Iterator[str]:
    """The total; of the paint alone its tins, to a painter beside what would be cheaper."""
    house, amounts = schedule.house, schedule.quantities
    yield total(schedule)
    bought = [(need.purchase, need.litres) for need in amounts.needs if need.purchase]
    if bought:
        over = sum(max(purchase.litres - litres, 0.0) for purchase, litres in bought)
        words = f"{_tins_at([purchase for purchase, _ in bought], house)}, with"
        words += f" {wording.volume(over, house.units)} left over for repairs."
        yield " ".join((words, *_least(schedule, edition)))
        if edition != "supplier":
            yield _tin_rule(schedule)
    mixed = sum(not purchase.one_size for purchase, _ in bought)
    if mixed:
        yield (
            f"{mixed} line{' takes' if mixed == 1 else 's take'} tins of more than one size: order"
            " them as one batch, or mix them together before use."
        )
    unmeasured = ", ".join(room_name(house, room) for room in amounts.unmeasured)
    if unmeasured:
        yield f"Not measured, so not counted: {unmeasured}."


def _tin_rule(schedule: Schedule) -> str:
    given = schedule.house.client.surplus
    share = 100.0 * SURPLUS_SHARE if given is None else given
    less = wording.tin_size(LITRES_FOR_A_TIN, schedule.house.units)
    return (
        f"Each paint in as few tins as hold enough, one more only where that leaves {less} less"
        f" over. Up to {share:g} % over, kept for repairs, does not count; up to"
        f" {100 * SHORT_SHARE:.0f} % short may save a tin, as waste is counted in."
    )


def _least(schedule: Schedule, edition: Edition) -> Iterator[str]:
    """The least litres that can be bought: where cheaper, and in the full edition."""
    both = [(n.least, n.purchase) for n in schedule.quantities.needs if n.least and n.purchase]
    saved = sum((few.price or 0.0) - (least.price or 0.0) for least, few in both)
    if edition == "full" or (edition == "painter" and saved > 0.0):
        tins = _tins_at([least for least, _ in both], schedule.house)
        yield f"With as little left over as can be, it would be {tins}."


def _tins_at(bought: Sequence[Purchase], house: House) -> str:
    """As in "34 tins of paint at £2,548.00"; without a sum where nothing has a price."""
    known = [each.price for each in bought if each.price is not None]
    price = f" at {wording.money(sum(known), house)}" if known else ""
    return f"{counted(sum(each.count for each in bought), 'tin')} of paint{price}"


def total(schedule: Schedule) -> str:
    """Of all that has a price, with tax where a rate is given."""
    house, cost = schedule.house, schedule.quantities.cost
    if cost is None:
        return " ".join(("No prices are given, so there is no total.", *left_off(schedule)))
    words = f"Total of priced paint and primer: {wording.money(cost, house)}"
    if not house.client.currency:
        words += " (currency not given)"
    if house.client.tax is not None:
        with_tax = cost * (1.0 + house.client.tax / 100.0)
        words += f" before tax; with {house.client.tax:g} % tax {wording.money(with_tax, house)}"
    return " ".join((f"{words}.", *left_out(schedule)))


def left_out(schedule: Schedule) -> Iterator[str]:
    """What a sum says too little of: paints without a price, and rejected ones."""
    if unpriced := _unpriced(schedule):
        yield f"Without {', '.join(unpriced)}: no price given."
    yield from left_off(schedule)


def _unpriced(schedule: Schedule) -> Collection[str]:
    paints, needs = schedule.house.paints, schedule.quantities.needs
    return {paints[need.paint].name: None for need in needs if need.cost is None}


def left_off(schedule: Schedule) -> Iterator[str]:
    """Where a paint is not ordered for, as in "Left off: Moth Felt (Hall walls)"."""
    house, found = schedule.house, schedule.quantities.rejected
    surfaces = grouped(
        ((line.paint, line.room), wording.surface(house, line.room, line.surface)) for line in found
    )
    places = grouped(
        (house.paints[paint].name, f"{room_name(house, room)} {', '.join(on)}")
        for (paint, room), on in surfaces.items()
    )
    if places:
        named = "; ".join(f"{paint} ({'; '.join(where)})" for paint, where in places.items())
        yield f"Left off: {named}. A sample was rejected on the wall: choose again."


def primer_list(schedule: Schedule, edition: Edition = "full") -> Section:
    """Primers by ground, and what the preparation takes."""
    house = schedule.house
    columns = (
        "primer, tins: tins, supplier, order code, area: number, with waste: number, price: number"
    )
    rows = [
        (
            need.text,
            wording.tins(need.purchase, house.units),
            need.supplier or NOT_GIVEN,
            need.order or NOT_GIVEN,
            wording.area(need.area_m2, house.units),
            wording.volume(need.litres, house.units),
            wording.money(need.cost, house),
        )
        for need in schedule.quantities.primers
    ]
    abrasive = SUNDRIES["wet_abrasive" if may_hold_lead(house) else "abrasive"]
    sundries = SUNDRIES["text"].format(abrasive=abrasive)
    lines = schedule.quantities.lines
    unknown = sum(line.system.now == NOT_GIVEN for line in lines)
    known = f", but {unknown} of {len(lines)} are not known: look first" if unknown else ""
    none = Text(f"No primer is asked for by what is known of the surfaces{known}.")
    primers = said(table("Primer to buy", columns, rows))
    if edition == "supplier":
        primers = without(primers, "area")
    return Section("Primer and sundries", (primers if rows else none, Text(sundries)))


def tester_list(schedule: Schedule) -> Section:
    """Sample pots to buy: one a paint, none where a sample of it is up somewhere."""
    house = schedule.house
    owned = {sample.paint for sample in house.samples.values()}
    lacking = {tester.paint: None for tester in schedule.testers if tester.paint not in owned}
    rows = [
        (
            paint_cell(schedule, paint),
            house.paints[paint].order or house.paints[paint].code or NOT_GIVEN,
            "1",
        )
        for paint in lacking
    ]
    return listed("Sample pots to buy", "paint, order code, pots: number", rows)


def labour(schedule: Schedule) -> Section:
    """Hours by the user's own rates."""
    house, hours = schedule.house, schedule.quantities.hours
    if hours is None:
        words = "Hours are not given: set how many square metres an hour each surface takes."
        return Section("Hours", (Text(words),))
    rows = []
    for room in house.rooms:
        if lines := schedule.lines_of(room):
            known = [line.hours for line in lines if line.hours is not None]
            rows.append((room_name(house, room), wording.hours(sum(known) if known else None)))
    words = f"{counted(round(hours), 'hour')} by the rates given, preparation not counted."
    cost = labour_cost(schedule)
    if cost is not None and house.client.labour is not None:
        rate = wording.money(house.client.labour, house)
        words += f" At {rate} an hour: {wording.money(cost, house)}."
    without = sum(line.hours is None for line in schedule.quantities.lines)
    if without:
        words += f" {counted(without, 'surface')} without a rate or a measure."
    return Section("Hours", (table("Hours by room", "room, hours: number", rows), Text(words)))


def labour_cost(schedule: Schedule) -> float | None:
    """Of whole hours, so that who multiplies what is printed gets what is printed."""
    hours, rate = schedule.quantities.hours, schedule.house.client.labour
    return None if hours is None or rate is None else round(hours) * rate


def measured_how(schedule: Schedule) -> Section:
    texts = (Text(text, quiet=True) for text in measuring_rules(schedule))
    return Section("How it was measured", tuple(texts))


def measuring_rules(schedule: Schedule) -> Iterator[str]:
    """By which rules areas and litres were found."""
    units, coverage = schedule.house.units, f"{COVERAGE_M2_PER_L:g} m2 per litre"
    small, large = (wording.area(area, units) for area in (DEDUCTED_ABOVE_M2, ONE_FACE_M2))
    if units == "ft":
        coverage = f"{COVERAGE_M2_PER_L * FT2_PER_M2 * US_GALLON_L:.0f} ft2 per US gallon"
    yield (
        f"{coats_rule(schedule)} {100 * WASTE:.0f} % waste; {coverage} and coat where a"
        " paint gives no coverage (an assumption)."
    )
    words = (
        "Walls by IS 1200: round the room times its height, less windows and outer doors. Of a"
        " doorway or opening between two rooms half is taken off in each, above"
        f" {large} all of it. Nothing is taken off for holes up to {small}."
        " Accent walls are measured solid."
    )
    if any(line.surface == "doors" for line in schedule.quantities.lines):
        more = 100.0 * (PANELLED_COEFFICIENT / DOOR_COEFFICIENT - 1.0)
        words += (
            f" A door counts as flush, {DOOR_COEFFICIENT:g} times its area on each side; a panelled"
            f" one takes {PANELLED_COEFFICIENT:g} times, {more:.0f} % more."
        )
    yield words
    yield from uncounted(schedule)


_OF_STAIRS = ("stair", "balust", "banister", "handrail", "spindle", "newel", "tread")


def uncounted(schedule: Schedule) -> Iterator[str]:
    """What painters paint as a rule and nobody has listed here as a part of its room."""
    house = schedule.house
    painted_rooms = dict.fromkeys(line.room for line in schedule.quantities.lines)
    frames = [
        room_name(house, room)
        for room in painted_rooms
        if house.rooms[room].windows
        and all(part.kind != "window" for part in house.rooms[room].parts.values())
    ]
    flights = [
        " to ".join(room_name(house, room) for room in each.between)
        for each in house.openings.values()
        if each.kind == "stairs"
        and not painted_rooms.keys().isdisjoint(each.between)
        and not any(
            word in key
            for room in each.between
            for key in house.rooms[room].parts
            for word in _OF_STAIRS
        )
    ]
    named = {"window frames": frames, "balustrades, handrails and steps of the stairs": flights}
    lacking = "; ".join(f"{what} ({some_rooms(where)})" for what, where in named.items() if where)
    if lacking:
        yield f"Not measured and in no amount or sum: {lacking}. Agree a price for each."


def coats_rule(schedule: Schedule) -> str:
    if not schedule.existing.known and not schedule.existing.states:
        return (
            f"{COATS} coats unless the paint hides badly, as the colours there now are not given:"
            " over a much darker one allow one more."
        )
    where = f" (from {schedule.before.source})" if schedule.before else ""
    return (
        f"{COATS} coats; {COATS_OVER_DARKER} where the colour there now is more than"
        f" {OVER_DARKER_LRV:.0f} LRV points darker{where}."
    )


_MEET: Mapping[OpeningKind, Sequence[Surface]] = {
    "open": ("walls", "ceiling"), "cased": ("walls",), "doorway": ("doors",),
    "stairs": ("walls", "ceiling", "trim"),
}  # fmt: skip
"""The surfaces that go on from one room to the other."""


def _meeting(house: House, opening: Opening) -> Iterator[Surface]:
    """In open plan the ceilings meet where no wall is left above the opening."""
    heights = [house.rooms[room].height_m or 0.0 for room in opening.between]
    is_low = opening.kind == "open" and (opening_height_m(house, opening) or 0.0) < max(heights)
    yield from (on for on in _MEET.get(opening.kind, ()) if on != "ceiling" or not is_low)


def edges(schedule: Schedule) -> Section:
    items = (*_at_openings(schedule), *_at_accents(schedule))
    return Section("Where colours meet", (Bullets(items),))


def _at_openings(schedule: Schedule) -> Iterator[str]:
    """Where the paint changes from room to room, or its sheen alone."""
    house = schedule.house
    for opening in house.openings.values():
        rooms = [house.rooms[room] for room in opening.between]
        names = " and ".join(room.name for room in rooms)
        for surface in _meeting(house, opening):
            paints = [wording.paint(house, p) for room in rooms if (p := room.paints.of(surface))]
            sheens = [sheen for room in rooms if (sheen := room.sheens.of(surface))]
            of_sheen = f"{paints[0]}, {change}" if paints and (change := _change(sheens)) else ""
            change = _change(paints) or of_sheen
            if len(paints) == len(rooms) and change:
                yield f"{names}, {surface}, {change}: {at_edge(house, opening)}."


def _change(ends: Sequence[str]) -> str:
    """As in "matt to satin"; empty where both are alike or one is not known."""
    return " to ".join(ends) if len({*ends}) > 1 else ""


def _at_accents(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for key, room in house.rooms.items():
        for wall, accent in room.accents.items():
            ends = [wording.paint(house, p) for p in (accent.paint, room.paints.walls) if p]
            if change := _change(ends):
                where = wording.surface(house, key, f"accent {wall}")
                yield f"{room.name}, {where}, {change}: {AT_ACCENT}."


def samples_to_put_up(schedule: Schedule) -> Section:
    rows = [
        (
            paint_cell(schedule, tester.paint),
            room_name(schedule.house, tester.room),
            _TO_SEE[tester.light or tester.tried],
            places(schedule, tester),
            "; ".join(tester.hours),
        )
        for tester in schedule.testers
    ]
    columns = "paint, room, what to do: note, where: note, when to look: note"
    return listed("Samples to put up", columns, rows)


_TO_SEE: Mapping[Tried | SampleLight, str] = {
    "untried": "put a sample up", "put up": "look at the sample there",
    "unsure": "look again: unsure so far", "day": "approved by lamplight: look at it by day",
    "evening": "approved by day: look at it by lamplight",
}  # fmt: skip


def samples_seen(schedule: Schedule) -> Section:
    house, graph, rows = schedule.house, schedule.study.graph, []
    for sample in house.samples.values():
        day = f"{sample.when:%-d %B %Y}" if sample.when else ""
        rows.append((
            paint_cell(schedule, sample.paint),
            room_name(house, sample.room),
            wall_name(house, sample.room, sample.wall, graph) if sample.wall else "",
            " ".join(filter(None, (day, sample.light and LIGHT_WORDS[sample.light]))),
            TRIED[OF_VERDICT[sample.verdict]],
            sample.seen,
        ))  # fmt: skip
    columns = "paint, room, wall: note, when, verdict, what was seen: note"
    return listed("Samples seen", columns, rows)


def places(schedule: Schedule, tester: Trial) -> str:
    """As in "west wall, 5.30 m, door to Hall (opposite the window)"."""
    house, room, graph = schedule.house, tester.room, schedule.study.graph
    walls = (f"{wall_name(house, room, wall, graph)} ({why})" for wall, why in tester.walls)
    return "; ".join(walls) or f"on the {tester.surface}"


def not_settled(schedule: Schedule) -> Section:
    """Rooms of which the client is asked something (why, if serious); paints not approved yet."""
    house, paints = schedule.house, _to_approve(schedule)
    rooms = [room_name(house, room) for room in reasons.rooms_in_doubt(schedule)]
    wait = {
        "Wait until the consultant has settled the colours of": rooms,
        "Use none of these before a sample is approved by day and by lamplight": [
            name for names in paints.values() for name in names
        ],
    }
    grave = [each.describe(house) for each in schedule.matters if each.severity == "fault"]
    said = [Text(f"{what}: {', '.join(names)}.") for what, names in wait.items() if names]
    why = [Bullets(tuple(grave))] if grave else []
    return Section("Not settled yet", (*said, *why)) if said else NOTHING


def _to_approve(schedule: Schedule) -> Mapping[str, Sequence[str]]:
    """The names of paints of which a sample is still to be approved, by how far that is."""
    house, approved = schedule.house, approved_paints(schedule.house)
    up = {sample.paint for sample in house.samples.values()}
    steps = {(each.paint in approved, each.paint in up, each.paint) for each in schedule.testers}
    return grouped(
        (_STEPS[is_ok, is_up], house.paints[key].name) for is_ok, is_up, key in sorted(steps)
    )


_STEPS: Mapping[Sequence[bool], str] = {
    (False, False): "Sample pots come first, of",
    (False, True): "Samples are up, but not approved yet, of",
    (True, True): "Approved, but not yet in every light and room",
}
"""What to say of paints by whether a sample was approved somewhere, and whether one is up."""


def before_ordering(schedule: Schedule) -> Section:
    """What a supplier is not to send yet; why is not for them."""
    paints = _to_approve(schedule)
    if not paints and may_be_signed(schedule):
        return NOTHING
    first = [f" {what}: {', '.join(names)}." for what, names in paints.items()]
    wait = f"Do not supply the paint yet: its colours may change.{''.join(first)}"
    return Section("Draft order", (Text(wait),))


AGREED = "Agreed"


def may_be_signed(schedule: Schedule) -> bool:
    return bool(schedule.issue) and not schedule.report.tally.serious


def agreed(schedule: Schedule) -> Section:
    """Lines to sign on; none on a draft, nor while something serious is open."""
    if may_be_signed(schedule):
        return Section(AGREED, (SignOff(("Client", "Consultant", "Painter")),))
    why = "serious questions about the colours are open" if schedule.issue else "this is a draft"
    return Section(AGREED, (Text(f"Not for signature: {why}."),))


def still_open(schedule: Schedule) -> Section:
    house = schedule.house
    items = [f"{SHOWN[matter.severity]}: {matter.describe(house)}" for matter in schedule.matters]
    unset = [room_name(house, ln.room) for ln in schedule.quantities.lines if ln.sheen is None]
    if unset:
        surfaces, rooms = counted(len(unset), "surface"), ", ".join(dict.fromkeys(unset))
        items.append(f"to do: choose the sheen of {surfaces}: {rooms}.")
    return Section("Still open", (Bullets(tuple(items)),))


def caution_list(schedule: Schedule) -> Section:
    return Section("Cautions", (Bullets(tuple(cautions(schedule.house))),))


def notes(schedule: Schedule) -> Section:
    text = schedule.house.notes
    return Section("Notes", (Text(text),) if text else ())


def costs(schedule: Schedule) -> Section:
    """Paint, and labour where the hours and what one costs are known."""
    house, labour_, paint = schedule.house, labour_cost(schedule), schedule.quantities.cost
    words = "Labour is not in it."
    if labour_ is not None:
        words = f"Labour, preparation not counted: {wording.money(labour_, house)}."
        if paint is not None:
            tax = " before tax" if house.client.tax is not None else ""
            count = len(_unpriced(schedule))
            without = f", without {counted(count, 'paint')} not priced yet" if count else ""
            words += f" Paint and labour: {wording.money(paint + labour_, house)}{tax}{without}."
    texts = [total(schedule), words, *uncounted(schedule)]
    if not may_be_signed(schedule):
        texts.insert(0, "An estimate: the colours may still change.")
    return Section("What it costs", tuple(map(Text, texts)))


WORK_CONDITIONS = listed(
    "Conditions of the work", "item, what holds: note", CONDITIONS.items(),
    Text("All common practice.", quiet=True),
)  # fmt: skip
NOTHING_PAINTED = Section(
    "Nothing to paint yet",
    (Text("No surface has a paint: choose paints before this is handed on."),),
)
_ORDER = (
    "Supply each colour as one batch, and write the batch number on the order.",
    "Ask before any paint is swapped for another make, line, sheen or size.",
)
ORDER_NOTES = Section("Please note", (Bullets(_ORDER),))
