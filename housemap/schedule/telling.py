"""What the schedule says in sentences: the same in every form of it."""

from collections.abc import Iterator, Mapping

from housemap.checks.words import room_name
from housemap.model.house import House, Sample
from housemap.model.samples import Tried
from housemap.plan.wall_names import wall_name
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.meetings import Meeting
from housemap.schedule.quantities import (
    COATS,
    COATS_OVER_DARKER,
    COVERAGE_M2_PER_L,
    OVER_DARKER_LRV,
    WASTE,
)
from housemap.schedule.samples import Tester
from housemap.schedule.takeoff import DOOR_COEFFICIENT, PANELLED_COEFFICIENT, UNDEDUCTED_M2
from housemap.schedule.wording import FT2_PER_M2, US_GALLON_L

TRIED: Mapping[Tried, str] = {
    "kept": "kept", "rejected": "rejected", "unsure": "unsure", "put up": "put up",
    "untried": "none yet",
}  # fmt: skip
"""What a sample of the paint in the room has come to."""

_LIGHTS = {"day": "by day", "evening": "in the evening", None: ""}


def cost(schedule: Schedule) -> str:
    return f"In all {wording.money(schedule.quantities.cost)} for what has a price."


def measured_how(schedule: Schedule) -> str:
    """By which rules areas and litres were found."""
    house = schedule.house
    return (
        f"{_coats(schedule)} {100 * WASTE:.0f} % waste; {_coverage(house)} and coat where a paint"
        " states no coverage (an assumption). Areas by IS 1200: holes up to"
        f" {_hole(house)} are not deducted, larger ones are; accent walls are measured solid."
        f"{_doors(schedule)}"
    )


def _doors(schedule: Schedule) -> str:
    if all(line.surface != "doors" for line in schedule.quantities.lines):
        return ""
    more = 100.0 * (PANELLED_COEFFICIENT / DOOR_COEFFICIENT - 1.0)
    return (
        f" Every door counts as flush, {DOOR_COEFFICIENT:g} times its area on each side; a panelled"
        f" one takes {PANELLED_COEFFICIENT:g} times, {more:.0f} % more than told here."
    )


def _coats(schedule: Schedule) -> str:
    if schedule.before is None:
        return (
            f"{COATS} coats everywhere, as the colours before are not known: over a much darker one"
            " allow one more."
        )
    return (
        f"{COATS} coats; {COATS_OVER_DARKER} where the colour before is more than"
        f" {OVER_DARKER_LRV:.0f} LRV points darker (before: {schedule.before.told})."
    )


def _coverage(house: House) -> str:
    if house.units == "ft":
        return f"{COVERAGE_M2_PER_L * FT2_PER_M2 * US_GALLON_L:.0f} ft2 per US gallon"
    return f"{COVERAGE_M2_PER_L:g} m2 per litre"


def _hole(house: House) -> str:
    if house.units == "ft":
        return f"{UNDEDUCTED_M2 * FT2_PER_M2:.1f} ft2"
    return f"{UNDEDUCTED_M2:g} m2"


def unmeasured(schedule: Schedule) -> str:
    """The painted rooms that no amount counts; empty where there are none."""
    rooms = schedule.quantities.unmeasured
    names = ", ".join(room_name(schedule.house, room) for room in rooms)
    return f"Not measured, so not counted: {names}." if names else ""


def meeting(house: House, met: Meeting) -> str:
    rooms = " and ".join(room_name(house, room) for room in met.rooms)
    paints = " to ".join(wording.paint(house, paint) for paint in met.paints)
    return f"{rooms}, {met.surface}: {paints}; {met.instruction}"


def tester(house: House, tester: Tester) -> str:
    name = f"{wording.paint(house, tester.paint)} in {room_name(house, tester.room)}"
    return f"{name}: {places(house, tester)}; look {'; '.join(tester.hours)}"


def places(house: House, tester: Tester) -> str:
    """As in "north wall, 3.1 m (opposite the window)"."""
    if not tester.walls:
        return f"on the {tester.surface}"
    return ", ".join(f"{wall_name(house, tester.room, wall)} ({why})" for wall, why in tester.walls)


def sample(house: House, sample: Sample) -> str:
    """As in "Oat Ladle in Hall, north wall, 3.1 m, 2026-05-02, by day, keep: quiet"."""
    facts = (
        f"{wording.paint(house, sample.paint)} in {room_name(house, sample.room)}",
        wall_name(house, sample.room, sample.wall) if sample.wall else "",
        sample.when.isoformat() if sample.when else "",
        _LIGHTS[sample.light],
        sample.verdict or "not judged yet",
    )
    told = ", ".join(fact for fact in facts if fact)
    return f"{told}: {sample.seen}" if sample.seen else told


def heading(schedule: Schedule) -> Iterator[tuple[str, str]]:
    """What the whole comes to, by name."""
    house, amounts = schedule.house, schedule.quantities
    units = house.units
    yield "date", schedule.date.isoformat()
    yield "revision", schedule.revision
    yield "rooms", str(len({line.room for line in amounts.lines}))
    yield "paints", str(len(schedule.board))
    yield "area", wording.area(sum(need.area_m2 for need in amounts.needs), units)
    yield "paint with waste", wording.volume(sum(need.litres for need in amounts.needs), units)
    if amounts.cost is not None:
        yield "cost", wording.money(amounts.cost)
