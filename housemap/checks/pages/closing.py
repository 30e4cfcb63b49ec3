"""Measures that contradict each other."""

from collections.abc import Iterator

from housemap.checks.examples import loop_of_rooms
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import room_name
from housemap.model.house import House
from housemap.plan.free_space import space_of
from housemap.plan.placing import Plan
from housemap.plan.sightings import contradicted, ways


def contradictions(plan: Plan, scope: Scope) -> Iterator[Finding]:
    house = scope.study.house
    for closing in plan.closings:
        if closing.error_m > scope.limits["loop"]:
            places = tuple(Place(room, "") for room in house.openings[closing.opening].between)
            yield Finding(
                "closing", "warn", places, "loop", closing.error_m, scope.limits["loop"], "m"
            )
    for pair in plan.overlaps:
        yield Finding("closing", "warn", tuple(Place(room, "") for room in pair), "overlap")
    for unmet in plan.unmet:
        places = tuple(Place(room, "") for room in house.openings[unmet.opening].between)
        yield Finding("closing", "warn", places, "facing")
    for key in contradicted(scope.study.graph, plan, ways(space_of(house, plan))):
        places = tuple(Place(room, "") for room in house.sightlines[key].between)
        yield Finding("closing", "note", places, "sightline")


def tell(finding: Finding, house: House) -> str:
    first, second = (room_name(house, room) for room in finding.rooms)
    if finding.kind == "overlap":
        return f"{first} and {second} lie in each other: one of their measures or places is wrong"
    if finding.kind == "facing":
        return (
            f"The opening between {first} and {second} is measured in walls that do not face each"
            " other"
        )
    if finding.kind == "sightline":
        return f"{first} and {second} are said to see each other, but their measures say no"
    return (
        f"The measures of the rooms in a circle with {first} and {second} do not close by"
        f" {finding.value:.2f} m, above {finding.limit:.2f}: measure the opening between these"
        " two again"
    )


CHECK = Check(
    id="closing",
    title="Measures that do not close",
    help=(
        "Walking through openings round a circle of rooms must lead back to where one began. What"
        " does not close is spread over the openings by least squares, as in a surveyor's"
        " traverse; above the limit the opening most likely mis-measured is named. Rooms that lie"
        " in each other, and sightlines that the measures speak against, are told here too."
    ),
    limits=(Limit("loop", 0.10, "m", "common practice: a tape held by one person"),),
    clean=Example("Four rooms in a circle whose measures close.", loop_of_rooms(0.0)),
    caught=Example("The same with one doorway measured 0.4 m off.", loop_of_rooms(0.4)),
    tell=tell,
    of_plan=contradictions,
)
