"""Two paints beside each other: their difference, and whether they part under a lamp."""

from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple

import numpy as np

from housemap.choose.chips import Chips
from housemap.choose.paint_query import near_rows
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.difference import LAMPS, metamerism
from housemap.colorimetry.facts import ColourFacts
from housemap.model.house import ColourSource, Reflectance
from housemap.study import Swatch

ALIKE = 5.0
"""CIEDE2000 up to which two paints may be meant as a match; the formula holds so far."""
PARTS = 1.0
"""Index of metamerism from which they part visibly; our assumption, as for a near miss."""

Known = Literal["measured", "estimate", "unknown"]


class MetamericPair(NamedTuple):
    """How far two colours are apart, by daylight and because of a lamp."""

    de00: float
    """CIEDE2000 under D65."""
    lrv: float
    """The second one's less the first one's."""
    lamps: Mapping[str, float]
    """Index of metamerism by lamplight: CIEDE2000 under it once they are made equal under D65."""
    known: Known
    """Both spectra were measured; one was and the other recovered; or neither was measured, and
    recovered spectra of like colours are alike whatever the paints are."""

    @property
    def worst(self) -> str:
        """The lamp under which they part most."""
        return max(self.lamps, key=lambda lamp: self.lamps[lamp])

    @property
    def warns(self) -> bool:
        """Whether they match by daylight, more or less, and part under a lamp."""
        parts = max(self.lamps.values()) > PARTS
        return self.known != "unknown" and self.de00 <= ALIKE and parts


class Neighbour(NamedTuple):
    """A paint near a colour."""

    swatch: Swatch
    metameric: MetamericPair


def metameric_pairs(first: Sequence[Swatch], second: Sequence[Swatch]) -> tuple[MetamericPair, ...]:
    """Each pair first[i], second[i]."""
    if not first:
        return ()
    lab_1, lab_2 = (np.array([swatch.colour.lab100 for swatch in side]) for side in (first, second))
    r_1, r_2 = (
        np.array([swatch.colour.reflectance for swatch in side]) for side in (first, second)
    )
    de00 = ciede2000(lab_1, lab_2)
    lamps = np.stack([metamerism(r_1, r_2, lamp) for lamp in LAMPS], axis=-1)
    return tuple(
        MetamericPair(apart, b.lrv - a.lrv, dict(zip(LAMPS, row, strict=True)), known(a, b))
        for a, b, apart, row in zip(first, second, de00.tolist(), lamps.tolist(), strict=True)
    )


def known(first: Swatch, second: Swatch) -> Known:
    measured = sum(is_measured(swatch.entity.colour) for swatch in (first, second))
    levels: tuple[Known, ...] = ("unknown", "estimate", "measured")
    return levels[measured]


def is_measured(source: ColourSource) -> bool:
    """Whether a reflectance was given; else it is recovered."""
    return isinstance(source, Reflectance)


def nearest(one: Swatch, chips: Chips, count: int) -> tuple[Neighbour, ...]:
    """The chips nearest to a colour by CIEDE2000, nearest first; never the swatch itself."""
    rows = near_rows(chips.lab100, one.colour.lab100, np.arange(len(chips))).tolist()
    found = [chips.swatches[row] for row in rows if chips.swatches[row] is not one][:count]
    return tuple(map(Neighbour, found, metameric_pairs([one] * len(found), found)))


def nearest_of(one: Swatch, others: Sequence[Swatch], count: int) -> tuple[Neighbour, ...]:
    """The same among a few, such as the paints and finishes of a house."""
    found = map(Neighbour, others, metameric_pairs([one] * len(others), others))
    return tuple(sorted(found, key=lambda neighbour: neighbour.metameric.de00)[:count])


def spread(readings: Sequence[ColourFacts], mean: ColourFacts) -> tuple[float, ...]:
    """CIEDE2000 of each reading from their mean."""
    if not readings:
        return ()
    labs = np.array([reading.lab100 for reading in readings])
    return tuple(ciede2000(labs, np.array(mean.lab100)).tolist())
