"""The best that the whole house can be with each paint in one room, its bare rooms filled.

Costs are those of filling the house: judged by rooms and pairs under the reference light.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.checks import Report
from housemap.choose.house_problem import problem_of, rooms_to_fill
from housemap.choose.optimiser.best_completion import completions
from housemap.choose.optimiser.incumbent import Signal

SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Reach:
    """By paint of the house, what the whole house costs at best with it in the room."""

    at_least: Mapping[str, float]
    at_most: Mapping[str, float]
    """What a choice that exists costs; equal where that is exact."""
    rooms: int
    """That are bare beside the one."""


def reach_of(
    report: Report, room: str, seconds: float = SECONDS, stop: Signal | None = None
) -> Reach | None:
    """For the walls of a room; None where no other one is left to fill, or the room is outdoors."""
    house = report.house
    others = rooms_to_fill(house) - {room}
    if not others or not house.paints or house.rooms[room].use == "outdoor":
        return None
    problem = problem_of(report, free=room)
    found = completions(problem, seconds=seconds, stop=stop)
    paints = problem.candidates[room]
    at_least, at_most = found.at_least[room].tolist(), found.at_most[room].tolist()
    known = [at for at, most in enumerate(at_most) if most < float("inf")]
    return Reach(
        {paints[at]: at_least[at] for at in known},
        {paints[at]: at_most[at] for at in known},
        len(others),
    )
