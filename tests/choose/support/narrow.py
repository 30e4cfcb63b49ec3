"""The optimiser with hardly any room for tables, so that small problems are wide ones."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from housemap.choose.optimiser import (
    branch_and_bound,
    dual_decomposition,
    heuristics,
    solve,
)
from housemap.choose.optimiser.elimination_order import Budget


@contextmanager
def narrow(cells: int, *, crowded: bool = False) -> Iterator[None]:
    """Every elimination within so many cells.

    Crowded: any two nodes are too many to wait.
    """
    budget = Budget(cells, cells)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(dual_decomposition, "REPEATED", budget)
        patch.setattr(dual_decomposition, "OFTEN", budget)
        patch.setattr(dual_decomposition, "LEAST", 0)
        patch.setattr(heuristics, "A_PALETTE", budget)
        patch.setattr(solve, "ONCE", budget)
        if crowded:
            patch.setattr(branch_and_bound, "NODE_CELLS", 0)
        yield
