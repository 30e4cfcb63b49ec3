"""Undo and redo."""

from hypothesis import given
from hypothesis import strategies as st

from housemap.model.history import History
from housemap.model.house import House

moves = st.lists(st.integers(0, 5) | st.sampled_from(("undo", "redo")))


def test_undo_gives_back_the_house_and_names_the_edit() -> None:
    before, after = House("one"), House("two")
    history = History(before).do(after, "Renamed")
    assert (history.undo_label, history.redo_label) == ("Renamed", None)
    undone = history.undo()
    assert (undone.present, undone.undo_label, undone.redo_label) == (before, None, "Renamed")
    assert undone.redo() == history


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    history = History(House("one"))
    assert history.do(House("one"), "Nothing") is history
    assert history.undo() is history
    assert history.redo() is history


@given(moves)
def test_any_walk_agrees_with_a_list_and_a_place_in_it(walk: list[int | str]) -> None:
    history, houses, place = History(House("start")), [House("start")], 0
    for move in walk:
        if move == "undo":
            history, place = history.undo(), max(0, place - 1)
        elif move == "redo":
            history, place = history.redo(), min(len(houses) - 1, place + 1)
        elif (house := House(str(move))) != houses[place]:
            history, houses, place = (
                history.do(house, "edit"),
                [*houses[: place + 1], house],
                place + 1,
            )
        assert history.present == houses[place]
        assert len(history.past) == place
        assert len(history.future) == len(houses) - 1 - place
