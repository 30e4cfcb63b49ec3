"""What an eye sees: differences of coats in view, the same however many are asked for."""

import pytest

from housemap.file.reader import read_house
from housemap.study import seen, study_of
from housemap.study.seen import SeenView
from tests.support.project import DEMO


def a_view() -> SeenView:
    """The demo house's view with most coats, by day."""
    views = study_of(read_house(DEMO)).lighting.seen.values()
    return max((view for view in views if view), key=lambda view: len(view.colours))


def test_two_coats_are_as_far_apart_one_way_as_the_other() -> None:
    view = a_view()
    first, *others = view.colours
    for other in others:
        there, back = view.difference(first, other), view.difference(other, first)
        assert there == back
    assert view.difference(first, first).de00 == pytest.approx(0.0, abs=1e-9)


def test_a_pair_is_as_far_apart_whether_all_or_one_coats_pairs_are_computed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    together = a_view()
    coats = list(together.colours)
    whole = [together.difference(coats[0], other) for other in coats]
    monkeypatch.setattr(seen, "MANY", 0)
    alone = a_view()
    mine = list(alone.colours)
    each = [alone.difference(mine[0], other) for other in mine]
    assert [d.ucs for d in each] == pytest.approx([d.ucs for d in whole])
    assert [d.de00 for d in each] == pytest.approx([d.de00 for d in whole], abs=1e-9)


def test_what_is_not_in_view_has_no_difference() -> None:
    view = a_view()
    foreign = next(iter(a_view().colours))
    with pytest.raises(KeyError):
        view.difference(next(iter(view.colours)), foreign)
