"""What the measures of a house contradict each other in, told while they are being typed.

The sentences and limits are those of the check "closing"; its findings come with the report, which
takes longer than a key may.
"""

from collections.abc import Iterator

from housemap.model.house import House
from housemap.plan.placed import Plan
from housemap.plan.sightings import contradicted
from housemap.plan.space import space_of
from housemap.plan.ways import ways


def troubles_of(house: House, plan: Plan) -> tuple[str, ...]:
    """A sentence each: loops that do not close, rooms in each other, sightlines denied."""
    return tuple(_troubles(house, plan))


def _troubles(house: House, plan: Plan) -> Iterator[str]:
    from housemap.checks.finding import Finding, Place  # noqa: PLC0415 - brings numpy, which the
    from housemap.checks.pages import closing  # noqa: PLC0415 - first frame does without

    def tell(kind: str, rooms: tuple[str, ...], value: float | None = None) -> str:
        places = tuple(Place(room, "") for room in rooms)
        limit = limits.get(kind)
        return closing.tell(Finding("closing", "warn", places, kind, value, limit, "m"), house)

    limits = closing.CHECK.limits_in(house)
    for each in plan.closings:
        if each.error_m > limits["loop"]:
            yield tell("loop", house.openings[each.opening].between, each.error_m)
    for pair in plan.overlaps:
        yield tell("overlap", pair)
    if house.sightlines:
        for key in contradicted(house, plan, ways(space_of(house, plan))):
            yield tell("sightline", house.sightlines[key].between)
