"""The optimiser with hardly any room for tables, so that small problems are wide ones."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from housemap.choose.optimiser import guess, listing, once, polish, relaxation, waiting
from housemap.choose.optimiser.width import Budget


@contextmanager
def narrow(cells: int, listed: int | None = None, *, crowded: bool = False) -> Iterator[None]:
    """Every elimination within so many cells; palettes listed only up to so many.

    Crowded: any two nodes are too many to wait.
    """
    budget = Budget(cells, cells)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(relaxation, "REPEATED", budget)
        patch.setattr(relaxation, "OFTEN", budget)
        patch.setattr(relaxation, "LEAST", 0)
        patch.setattr(polish, "NOW_AND_THEN", budget)
        patch.setattr(guess, "A_PALETTE", budget)
        patch.setattr(once, "WORK", cells)
        if listed is not None:
            patch.setattr(listing, "LISTED", listed)
        if crowded:
            patch.setattr(waiting, "NODE_CELLS", 0)
        yield
