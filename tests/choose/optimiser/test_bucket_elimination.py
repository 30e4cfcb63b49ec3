"""Elimination and its passes give the least cost, the labels of it, and all min-marginals."""

from itertools import product

import numpy as np
import pytest

from housemap.choose.optimiser import bucket_elimination as module
from housemap.choose.optimiser.bucket_elimination import (
    best_labels,
    eliminate,
    min_marginals,
    pair_tables,
)
from housemap.choose.optimiser.dual_decomposition import Relaxation, Relaxer
from housemap.choose.optimiser.indexed import Indexed, index
from housemap.choose.optimiser.problem import Array
from tests.choose.support.problems import house, open_plan

PROBLEMS = [house(6, 4, seed) for seed in range(6)] + [
    open_plan(5, 4, seed, density=0.7) for seed in range(6)
]


def costs_of_all(indexed: Indexed, own: Array) -> Array:
    """The cost of every choice, an axis for each room."""
    rooms, labels = own.shape
    whole = np.zeros([labels] * rooms)
    for choice in product(range(labels), repeat=rooms):
        whole[choice] = own[np.arange(rooms), choice].sum() + sum(
            table[choice[one], choice[other]]
            for (one, other), table in zip(indexed.edges, indexed.pairs, strict=True)
        )
    return whole


def whole_tree(indexed: Indexed) -> Relaxation:
    whole = Relaxer(indexed).whole
    assert whole is not None
    return whole


@pytest.fixture(params=["in one go", "label by label"])
def _direct(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "label by label":
        monkeypatch.setattr(module, "DIRECT", 0)


@pytest.mark.usefixtures("_direct")
@pytest.mark.parametrize("batch", [1, 3])
@pytest.mark.parametrize("number", range(len(PROBLEMS)))
def test_a_batch_is_solved_as_if_each_case_were_tried_in_full(number: int, batch: int) -> None:
    indexed = index(PROBLEMS[number])
    tree = whole_tree(indexed).tree
    random = np.random.default_rng(number)
    owns = indexed.own + random.integers(0, 500, (batch, *indexed.own.shape))
    pairs = pair_tables(tree, [table[None] for table in indexed.pairs])
    up = eliminate(tree, [owns[:, step.room] for step in tree], pairs)
    labels, marginals = best_labels(tree, up), min_marginals(tree, up)
    for case, own in enumerate(owns):
        every = costs_of_all(indexed, own)
        assert up.cost[case] == pytest.approx(every.min())
        chosen = np.empty(len(tree), dtype=np.intp)
        for number_of_step, step in enumerate(tree):
            chosen[step.room] = labels[case, number_of_step]
            others = tuple(axis for axis in range(len(own)) if axis != step.room)
            assert marginals[number_of_step][case] == pytest.approx(every.min(axis=others))
        assert every[tuple(chosen)] == pytest.approx(every.min())
