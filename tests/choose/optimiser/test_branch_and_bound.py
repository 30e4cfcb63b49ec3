"""A split loses no choice and gives none to two children."""

from itertools import combinations

import numpy as np
import pytest

from housemap.choose.optimiser.branch_and_bound import split
from housemap.choose.optimiser.dual_decomposition import Relaxer
from housemap.choose.optimiser.indexed import index
from housemap.choose.optimiser.lagrangian import (
    IN,
    OUT,
    DualFunction,
    NodeBatch,
    root,
    variable_bounds,
)
from housemap.choose.optimiser.problem import no_poll
from tests.choose.support.problems import house


def allows(child: NodeBatch, palette: tuple[int, ...]) -> bool:
    """Whether a child may have exactly the paints."""
    state = child.state[0]
    others = np.setdiff1d(np.arange(len(state)), palette)
    return bool((state[list(palette)] != OUT).all() and (state[others] != IN).all())


def children_of(seed: int, *, paints_first: bool) -> list[NodeBatch]:
    indexed = index(house(8, 6, seed, limit=3))
    relaxation, start = Relaxer(indexed).relax(indexed.sizes), root(indexed, 0)
    seen = variable_bounds(DualFunction(relaxation, start, no_poll))
    if not paints_first:
        seen.conflict[:] = 1.0
    decoupled = relaxation.decoupled.numbers
    node = split(start, 0, seen, decoupled, 0, paints_first=paints_first)
    assert node.bound == start.bound[0]
    return list(node.children(np.inf))


@pytest.mark.parametrize("seed", range(5))
def test_every_palette_is_left_to_one_child(seed: int) -> None:
    children = children_of(seed, paints_first=True)
    assert len(children) > 2
    for size in range(7):
        for palette in combinations(range(6), size):
            assert sum(allows(child, palette) for child in children) == 1


@pytest.mark.parametrize("seed", range(5))
def test_every_label_of_the_room_is_left_to_one_child(seed: int) -> None:
    children = children_of(seed, paints_first=False)
    left = np.concatenate([child.is_open for child in children])
    several = left.all(axis=2).all(axis=0)
    assert (~several).sum() == 1, "one room is decided"
    assert (left[:, ~several].sum(axis=0) == 1).all()
