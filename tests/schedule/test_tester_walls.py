"""On which walls of a room a board with a paint is put up."""

import pytest

from housemap.model.house import House, Room, Window
from housemap.plan.house_graph import graph_of
from housemap.schedule.samples import where


def room(size_m: tuple[float, float], **windows: str) -> House:
    made = {key: Window(wall, 0.5, 1.2, 1.1, 0.9) for key, wall in windows.items()}
    return House(rooms={"hall": Room("Hall", size_m=size_m, height_m=2.4, windows=made)})


@pytest.mark.parametrize(
    ("house", "seen", "places"),
    [
        (room((4.0, 3.0), a="e"), "e", [("n", "lit from the side")]),
        (room((4.0, 3.0), a="e"), "w",
         [("w", "most seen from other rooms"), ("n", "lit from the side")]),
        (room((4.0, 3.0), a="e"), "n",
         [("n", "most seen from other rooms, and lit from the side")]),
        (room((4.0, 3.0), a="n", b="e", c="s"), "e", [("w", "lit from the side")]),
        (room((4.0, 0.5), a="n", b="s"), None, [("s", "opposite the window")]),
        (room((4.0, 3.0)), None, [("n", "the longest wall")]),
        (room((4.0, 3.0), a="n", b="e", c="s", d="w"), "e",
         [("e", "most seen from other rooms, and lit from the side")]),
    ],
)  # fmt: skip
def test_a_board_hangs_on_a_wall_without_a_window_lit_from_the_side(
    house: House, seen: str | None, places: list[tuple[str, str]]
) -> None:
    """Common practice, no source: against the light of a window a board cannot be judged."""
    assert [*where(house, graph_of(house), "hall", "walls", seen)] == places


def test_an_accent_has_its_own_wall_and_a_ceiling_none() -> None:
    house = room((4.0, 3.0), a="e")
    graph = graph_of(house)
    assert [*where(house, graph, "hall", "accent w", "e")] == [("w", "the accent wall itself")]
    assert [*where(house, graph, "hall", "ceiling", "e")] == []
