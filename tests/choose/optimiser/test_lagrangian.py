"""The palette half of the relaxation: checked against every palette there is."""

from itertools import combinations

import numpy as np
import pytest

from housemap.choose.optimiser.lagrangian import IN, OPEN, OUT, select


def every_palette(
    earned: np.typing.NDArray[np.float64], state: list[int], cap: int, paint_cost: float
) -> dict[frozenset[int], float]:
    kept = [paint for paint, one in enumerate(state) if one == IN]
    free = [paint for paint, one in enumerate(state) if one == OPEN]
    return {
        frozenset([*kept, *more]): paint_cost * (len(kept) + size) - float(earned[list(more)].sum())
        for size in range(cap - len(kept) + 1)
        for more in combinations(free, size)
    }


@pytest.mark.parametrize("seed", range(300))
def test_the_best_palette_and_every_wish_cost_what_trying_all_says(seed: int) -> None:
    random = np.random.default_rng(seed)
    paints = int(random.integers(1, 7))
    state = random.choice([OUT, OPEN, OPEN, IN], paints).astype(np.int8)
    cap = int(random.integers(max(1, (state == IN).sum()), paints + 1))
    paint_cost = float(random.choice([0.0, 1.5]))
    earned = np.round(random.uniform(0, 3, paints), 1) * (random.random(paints) < 0.7)
    earned[state != OPEN] = 0.0
    values = every_palette(earned, state.tolist(), cap, paint_cost)
    found = select(earned[None], state[None], cap, paint_cost)
    assert found.value[0] == pytest.approx(min(values.values()))
    assert values[frozenset(np.flatnonzero(found.chosen[0]))] == pytest.approx(found.value[0])
    for paint in range(paints):
        having = [value for palette, value in values.items() if paint in palette]
        without = [value for palette, value in values.items() if paint not in palette]
        assert found.with_paint[0, paint] == pytest.approx(min(having, default=np.inf))
        assert found.without[0, paint] == pytest.approx(min(without, default=np.inf))
