"""A palette costs no less than its cuts say, at any paint_duals."""

from itertools import combinations

import numpy as np
import pytest

from housemap.choose.optimiser.dual_decomposition import Relaxer
from housemap.choose.optimiser.incumbent import Incumbent, Watch
from housemap.choose.optimiser.indexed import index
from housemap.choose.optimiser.lagrangian import DualFunction, root
from housemap.choose.optimiser.palette_descent import Cuts, Palettes
from housemap.choose.optimiser.problem import no_poll
from tests.choose.support.problems import house


@pytest.mark.parametrize("paint_cost", [0.0, 120.0])
@pytest.mark.parametrize("seed", range(5))
def test_no_palette_costs_less_than_its_cuts_say(seed: int, paint_cost: float) -> None:
    indexed = index(house(9, 7, seed, limit=3, paint_cost=paint_cost))
    relaxation = Relaxer(indexed).relax(indexed.sizes)
    palettes = np.array(list(combinations(range(7), 3)), dtype=np.intp)
    costs = Palettes(relaxation, Incumbent(indexed, Watch())).costs(palettes)
    cuts, start = Cuts(indexed), root(indexed, 0)
    assert np.isneginf(cuts.at_least(palettes)).all()
    dual = DualFunction(relaxation, start, no_poll)
    random, before = np.random.default_rng(seed), cuts.at_least(palettes)
    for size in (0.0, 30.0, 300.0):
        paint_dual = random.uniform(0, size, start.paint_dual.shape)
        point = dual.at(paint_dual, start.pair_dual)
        cuts.learn(point.up.cost, point.earned)
        now = cuts.at_least(palettes)
        assert (before <= now).all()
        assert (now <= costs + 1e-6).all()
        before = now


def test_with_no_rents_a_cut_is_what_the_rooms_cost_freely() -> None:
    indexed = index(house(6, 5, 1, limit=2))
    relaxation, start = Relaxer(indexed).relax(indexed.sizes), root(indexed, 0)
    point = DualFunction(relaxation, start, no_poll).at(start.paint_dual, start.pair_dual)
    cuts = Cuts(indexed)
    cuts.learn(point.up.cost, point.earned)
    assert cuts.at_least(np.array([[0, 1]])) == pytest.approx(point.up.cost)
