"""Everything that looks wrong in a deck, by its data and by its colours."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from housemap.checks import check_of
from housemap.choose.chips import Chips
from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import reflectances
from housemap.deck.report import Oddity, deck_report
from housemap.errors import ColourError
from housemap.model.house import Lab, Paint, Srgb

NEAR_EQUAL = 0.5
"""CIEDE2000 below which two paints of one deck are hardly two; our assumption: half of what a
near miss takes for one paint."""
WINDOW = 1.0
"""Delta L* beyond which CIEDE2000 is above NEAR_EQUAL: its weight of lightness is below 1.75."""
DIRECT = "D65/10"
"""Lab under this needs no conversion."""
DOUBT = 1.5
"""LRV of a screen colour for 2 degrees is nearer than this to that for 10."""
BLOCK = 2000
"""Spectra recovered at a time."""


@dataclass(frozen=True, slots=True, eq=False)
class Labs:
    """The colours of a deck as far as its faults need them: (n), (n, 3), (n)."""

    ids: Sequence[str]
    lab100: Floats
    lrv: Floats
    faults: Mapping[str, str] = field(default_factory=dict)
    """By paint id, why no surface can have its colour."""


def labs_of(paints: Mapping[str, Paint]) -> Labs:
    """Screen colours by their own 2 degree observer, Lab as it is given, others by their spectra.

    No spectrum is recovered where it is known that there is one: of screen colours, all of which
    some surface can have, and of Lab that is plainly possible.
    """
    sources = [paint.colour for paint in paints.values()]
    lab100 = np.full((len(sources), 3), np.nan)
    screen = {row: s.hex for row, s in enumerate(sources) if isinstance(s, Srgb)}
    if screen:
        code = np.array([int(hex_[1:], 16) for hex_ in screen.values()], dtype=np.uint32)
        srgb1 = np.stack([code >> 16, code >> 8 & 255, code & 255], axis=-1) / 255.0
        lab100[[*screen]] = spaces.xyz_to_lab(spaces.srgb_to_xyz(srgb1), spaces.SRGB_WHITE)
    for row, source in enumerate(sources):
        if isinstance(source, Lab) and source.observed == DIRECT:
            lab100[row] = source.lab100
    impossible = ~np.isnan(lab100[:, 0]) & ~plainly_possible(lab100)
    impossible[[*screen]] = False
    lab100[impossible] = np.nan
    errors: dict[int, ColourError] = {}
    lacking = np.flatnonzero(np.isnan(lab100[:, 0])).tolist()
    for start in range(0, len(lacking), BLOCK):
        rows = lacking[start : start + BLOCK]
        made, wrong = reflectances([sources[row] for row in rows])
        lab100[rows] = spaces.xyz_to_lab(spectra.to_xyz(made), spectra.white())
        errors |= {rows[place]: error for place, error in wrong.items()}
    ids = list(paints)
    kept = np.array([row for row in range(len(ids)) if row not in errors], dtype=np.intp)
    lrv = spaces.lab_to_xyz(lab100[kept], spectra.white())[:, 1]
    faults = {ids[row]: str(error) for row, error in errors.items()}
    return Labs([ids[row] for row in kept], lab100[kept], lrv, faults)


def plainly_possible(lab100: Floats) -> Truths:
    """Whether a surface can have a colour, beyond doubt: half as far out as the first that none
    can have, by trying; a test holds this.
    """  # noqa: D205 - one sentence
    level, chroma = lab100[:, 0], np.hypot(lab100[:, 1], lab100[:, 2])
    most = np.minimum(np.minimum(0.8 * level, 1.5 * (100.0 - level)), 30.0)
    return np.asarray(chroma <= most)


def deck_faults(paints: Mapping[str, Paint], chips: Chips | None = None) -> tuple[Oddity, ...]:
    """The report of the data, then colours that cannot be, labels contradicted, near equals.

    `chips` are those of the paints, where they have been made already.
    """
    labs = _labs_of_chips(chips) if chips else labs_of(paints)
    return (
        *deck_report(paints),
        *(Oddity("impossible", (id_,), text) for id_, text in labs.faults.items()),
        *contradicted_labels(paints, labs),
        *near_equals(labs),
    )


def _labs_of_chips(chips: Chips) -> Labs:
    ids = [swatch.id for swatch in chips.swatches]
    lrv = np.array([swatch.colour.lrv for swatch in chips.swatches])
    return Labs(ids, chips.lab100, lrv, chips.faults)


def contradicted_labels(paints: Mapping[str, Paint], labs: Labs) -> Iterator[Oddity]:
    """Paints whose printed LRV is further from the computed one than the label check allows."""
    limit = check_of("label").defaults["lrv"]
    doubtful = []
    for id_, lrv in zip(labs.ids, labs.lrv.tolist(), strict=True):
        printed = paints[id_].lrv
        if printed is None:
            continue
        if abs(printed - lrv) > limit + DOUBT:
            text = f"printed LRV {printed:.1f}, computed about {lrv:.0f}"
            yield Oddity("label", (id_,), text)
        elif abs(printed - lrv) > limit - DOUBT:
            doubtful.append((id_, printed))
    yield from _contradicted_exactly(paints, doubtful, limit)


def _contradicted_exactly(
    paints: Mapping[str, Paint], doubtful: Sequence[tuple[str, float]], limit: float
) -> Iterator[Oddity]:
    """Those of the paints whose recovered spectrum has another LRV than is printed."""
    rows, wrong = reflectances([paints[id_].colour for id_, _ in doubtful])
    computed = spectra.to_xyz(rows)[:, 1].tolist()
    for place, ((id_, printed), lrv) in enumerate(zip(doubtful, computed, strict=True)):
        if place not in wrong and abs(printed - lrv) > limit:
            yield Oddity("label", (id_,), f"printed LRV {printed:.1f}, computed {lrv:.1f}")


def near_equals(labs: Labs) -> Iterator[Oddity]:
    """Pairs that differ by less than NEAR_EQUAL and are not equal, nearest first."""
    order = np.argsort(labs.lab100[:, 0], kind="stable")
    lab100 = labs.lab100[order]
    within = reach(lab100)
    found: list[tuple[float, int, int]] = []
    for step in range(1, len(order)):
        close = lab100[step:, 0] - lab100[:-step, 0] <= WINDOW
        if not close.any():
            break
        close &= np.abs(lab100[step:, 1] - lab100[:-step, 1]) <= within[:-step]
        close &= np.abs(lab100[step:, 2] - lab100[:-step, 2]) <= within[:-step]
        found += _pairs(lab100, order, np.flatnonzero(close), step)
    for apart, first, second in sorted(found):
        ids = labs.ids[first], labs.ids[second]
        yield Oddity("near-equal", ids, f"2 paints differ by {apart:.2f} CIEDE2000")


def reach(lab100: Floats) -> Floats:
    """How far in a* or b* another colour may be and still differ by less than NEAR_EQUAL: (n).

    CIEDE2000 is at least 0.36 of the root of (dC'/SC)2 + (dH'/SH)2, as its rotation term is no
    larger than 1.74 times their product; SC is 1 + 0.045 C', SH is less, and C' at most 1.5 C*.
    """
    chroma = np.hypot(lab100[:, 1], lab100[:, 2])
    return np.asarray(1.4 * (1.0 + 0.0675 * (chroma + 10.0)))


def _pairs(
    lab100: Floats, order: Indices, close: Indices, step: int
) -> Iterator[tuple[float, int, int]]:
    apart = ciede2000(lab100[close], lab100[close + step])
    for place in np.flatnonzero((apart > 0) & (apart < NEAR_EQUAL)).tolist():
        first, second = int(order[close[place]]), int(order[close[place] + step])
        yield float(apart[place]), min(first, second), max(first, second)
