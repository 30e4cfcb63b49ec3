"""The page: its sections in order, its style, and a policy that forbids everything else."""

from collections import Counter
from collections.abc import Iterator
from importlib.resources import files

from housemap.checks.words import room_name
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.page.parts import bullets, chip, ink_on, section, table
from housemap.schedule.page.plan import plans
from housemap.schedule.page.tags import Html, tag, together
from housemap.schedule.page.views import views
from housemap.schedule.quantities import COATS, COVERAGE_M2_PER_L, WASTE

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""Even a browser that found a script or an address in the page would not follow it."""


def as_html(schedule: Schedule) -> str:
    """One self-contained page, valid HTML, for print (A4 or Letter) and for a phone."""
    style = files("housemap.schedule.page").joinpath("page.css").read_text("utf-8")
    title = f"Paint schedule: {schedule.house.name or 'house'}"
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=_POLICY),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        tag("style", Html(style)),
    )
    body = tag("body", tag("main", *_sections(schedule, title)))
    return f"<!doctype html>\n{tag('html', head, body, lang='en')}\n"


def _sections(schedule: Schedule, title: str) -> Iterator[Html]:
    yield tag("h1", title)
    yield tag(
        "p",
        f"{schedule.date.isoformat()}, revision {schedule.revision}",
        class_="soft",
    )
    yield tag("div", *(tag("p", text) for text in schedule.cautions), class_="caution")
    yield section("The paints, by the area that each takes", _board(schedule))
    yield section("The plan", plans(schedule)) if schedule.house.rooms else Html()
    yield section("Views", views(schedule))
    yield section("Room by room", *_rooms(schedule))
    yield section("To buy", _needs(schedule), *_footing(schedule))
    yield section("Where colours meet", bullets(_meetings(schedule)))
    yield section("Samples to put up", bullets(_testers(schedule)))
    yield section("Samples seen", bullets(_samples(schedule)))
    yield section("Still open", bullets(_open(schedule)))


def _board(schedule: Schedule) -> Html:
    areas: Counter[str] = Counter()
    for line in schedule.quantities.lines:
        areas[line.paint] += line.area_m2 or 0.0  # type: ignore[assignment]  # areas, not counts
    strips = []
    for paint, area in areas.most_common():
        swatch = schedule.swatch(paint)
        hex_ = swatch.colour.srgb_hex
        style = f"flex:{max(area, 0.1):.2f} 1 0;background:{hex_};color:{ink_on(hex_)}"
        text = f"{swatch.name} LRV {swatch.lrv:.0f}"
        strips.append(tag("div", text, style=style, title=text))
    return tag("div", *strips, class_="board") if strips else Html()


def _rooms(schedule: Schedule) -> Iterator[Html]:
    house = schedule.house
    for room_id, room in house.rooms.items():
        rows = [
            (
                chip(schedule.swatch(line.paint)),
                wording.wall_of_surface(line.surface),
                wording.paint(house, line.paint),
                f"{schedule.swatch(line.paint).lrv:.0f}",
                line.sheen or "not chosen",
                str(line.coats),
                wording.area(line.area_m2, house.units),
                wording.volume(line.litres, house.units),
            )
            for line in schedule.lines_of(room_id)
        ]
        if rows:
            head = ("", "surface", "paint", "LRV", "sheen", "coats", "area", "needed")
            yield together(tag("h3", room.name), table(head, rows))


def _needs(schedule: Schedule) -> Html:
    house = schedule.house
    return table(
        ("", "paint", "sheen", "area", "with waste", "tins", "cost"),
        (
            (
                chip(schedule.swatch(need.paint)),
                wording.paint(house, need.paint),
                need.sheen or "not chosen",
                wording.area(need.area_m2, house.units),
                wording.volume(need.litres, house.units),
                wording.tins(need.purchase, house.units),
                wording.money(need.cost),
            )
            for need in schedule.quantities.needs
        ),
    )


def _footing(schedule: Schedule) -> Iterator[Html]:
    amounts = schedule.quantities
    if amounts.needs:
        yield tag(
            "p",
            f"In all {wording.money(amounts.cost)} for what has a price. {COATS} coats unless told"
            f" otherwise, {100 * WASTE:.0f} % waste; {COVERAGE_M2_PER_L:g} m2 per litre and coat"
            " where a paint states no coverage (an assumption). Areas by IS 1200.",
            class_="soft",
        )
    if amounts.unmeasured:
        rooms = ", ".join(room_name(schedule.house, room) for room in amounts.unmeasured)
        yield tag("p", f"Not measured, so not counted: {rooms}.")


def _meetings(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for meeting in schedule.meetings:
        rooms = " and ".join(room_name(house, room) for room in meeting.rooms)
        paints = " to ".join(wording.paint(house, paint) for paint in meeting.paints)
        yield f"{rooms}, {meeting.surface}: {paints}; {meeting.instruction}"


def _testers(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for tester in schedule.testers:
        places = ", ".join(f"wall {wall} ({why})" for wall, why in tester.walls)
        name = f"{wording.paint(house, tester.paint)} in {room_name(house, tester.room)}"
        yield f"{name}: {places}; look {'; '.join(tester.hours)}"


def _samples(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for sample in house.samples.values():
        facts = (
            f"{wording.paint(house, sample.paint)} in {room_name(house, sample.room)}",
            f"wall {sample.wall}" if sample.wall else "",
            sample.when.isoformat() if sample.when else "",
            {"day": "by day", "evening": "in the evening", None: ""}[sample.light],
            sample.verdict or "",
            sample.seen,
        )
        yield ", ".join(fact for fact in facts if fact)


def _open(schedule: Schedule) -> Iterator[str]:
    for matter in schedule.matters:
        yield f"{matter.severity}: {matter.tell(schedule.house)}"
