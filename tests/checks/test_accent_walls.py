"""An accent wall is judged against what meets the eye with it in its room."""

import pytest

from housemap.checks import Cause, Finding, report_of
from housemap.checks.examples import one_room
from housemap.choose.remedies import trials
from housemap.model.edits import paint_on
from housemap.model.house import House, Room, SurfacePaints

PAINTS = {
    "oat": "5Y 8/1", "near": "5Y 8.3/1", "clear": "5Y 7/1", "pink": "5R 8/1.5", "green": "5G 8/1.5",
    "deep": "5PB 3/6", "blue": "5PB 7/2",
}  # fmt: skip


def found(walls: str, accent: str, boards: str = "N 5/") -> tuple[House, list[Finding]]:
    """What is found of the accent wall, beside its samples."""
    hall = Room("Hall", paints=SurfacePaints(walls=walls), floor="boards")
    house = paint_on(one_room(hall, {"boards": boards}, **PAINTS), "hall", "accent n", accent)
    on_it = [f for f in report_of(house).findings if "accent n" in f.surfaces]
    return house, [f for f in on_it if f.check not in {"untried", "lone"}]


@pytest.mark.parametrize(
    ("walls", "accent", "boards", "check"),
    [
        ("oat", "near", "N 5/", "near-miss"),
        ("pink", "green", "N 5/", "undertone"),
        ("deep", "blue", "10YR 6/4", "fixed"),
        ("oat", "clear", "10YR 6/4", None),
        ("oat", "deep", "10YR 6/4", None),
        ("oat", "oat", "10YR 6/4", None),
    ],
)
def test_it_is_judged_with_its_room(
    walls: str, accent: str, boards: str, check: str | None
) -> None:
    assert [f.check for f in found(walls, accent, boards)[1]] == ([check] if check else [])


@pytest.mark.parametrize(("walls", "accent"), [("oat", "near"), ("pink", "green")])
def test_there_is_a_remedy_for_it(walls: str, accent: str) -> None:
    house, [finding] = found(walls, accent)
    assert any(trial.remedies for trial in trials(Cause((finding,)), report_of(house)))
