"""Everything that looks wrong in a deck, by its data and by its colours."""

from collections.abc import Iterator, Mapping

import numpy as np

from housemap.checks import check_of
from housemap.choose.deck.chips import Chips, all_chips
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.deck.report import Oddity, deck_report
from housemap.model.house import Paint

NEAR_EQUAL = 0.5
"""CIEDE2000 below which two paints of one deck are hardly two; our assumption: half of what a
near miss takes for one paint."""
WINDOW = 1.0
"""Delta L* beyond which CIEDE2000 is above NEAR_EQUAL: its weight of lightness is below 1.75."""


def deck_faults(paints: Mapping[str, Paint], chips: Chips | None = None) -> tuple[Oddity, ...]:
    """The report of the data, then colours that cannot be, labels contradicted, near equals."""
    chips = chips or all_chips(paints)
    return (
        *deck_report(paints),
        *(Oddity("impossible", (id_,), text) for id_, text in chips.faults.items()),
        *contradicted_labels(chips),
        *near_equals(chips),
    )


def contradicted_labels(chips: Chips) -> Iterator[Oddity]:
    """Paints whose printed LRV is further from the computed one than the label check allows."""
    limit = check_of("label").defaults["lrv"]
    for swatch in chips.swatches:
        printed, computed = swatch.entity.lrv, swatch.colour.lrv
        if printed is not None and abs(printed - computed) > limit:
            text = f"printed LRV {printed:.1f}, computed {computed:.1f}"
            yield Oddity("label", (swatch.id,), text)


def near_equals(chips: Chips) -> Iterator[Oddity]:
    """Pairs that differ by less than NEAR_EQUAL and are not equal, nearest first."""
    order = np.argsort(chips.lab100[:, 0], kind="stable")
    lab100 = chips.lab100[order]
    found: list[tuple[float, int, int]] = []
    for step in range(1, len(order)):
        close = np.flatnonzero(lab100[step:, 0] - lab100[:-step, 0] <= WINDOW)
        if not close.size:
            break
        apart = ciede2000(lab100[close], lab100[close + step])
        for place in np.flatnonzero((apart > 0) & (apart < NEAR_EQUAL)).tolist():
            first, second = order[close[place]], order[close[place] + step]
            found.append((float(apart[place]), min(first, second), max(first, second)))
    for apart_, first, second in sorted(found):
        ids = chips.swatches[first].id, chips.swatches[second].id
        yield Oddity("near-equal", ids, f"2 paints differ by {apart_:.2f} CIEDE2000")
