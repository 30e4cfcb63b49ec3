"""Colours as checks compare them, an array for each property instead of an object each."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.study import Swatch

Texts = npt.NDArray[np.str_]


@dataclass(frozen=True, slots=True, eq=False)
class Colours:
    """n colours, a row each; or with further axes in front."""

    ids: Texts
    """Equal ids are one paint: what looks different cannot be told of it."""
    lrv: Floats
    """As checks take it."""
    chroma: Floats
    """ASTM D1535."""
    near_neutral: Truths
    leans: Truths
    """Whether there is an undertone at all, under the reference light."""
    lab100: Floats
    ucs: Floats
    reflectance: Floats
    """380(10)780 nm: (..., n, 41)."""

    def __len__(self) -> int:
        return len(self.ids)

    def rows(self, rows: Indices) -> "Colours":
        return Colours(
            self.ids[rows], self.lrv[rows], self.chroma[rows], self.near_neutral[rows],
            self.leans[rows], self.lab100[rows], self.ucs[rows], self.reflectance[rows],
        )  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Options:
    """Paints of which each may be on a surface."""

    swatches: Sequence[Swatch]
    colours: Colours
    """`ids` are those that they have, or would have, in the house."""
    foreign: Truths
    """Those that the house does not have yet: (n,)."""
    told: Indices
    """How many findings a paint brings as one of the house, wherever it is: (n,)."""

    def __len__(self) -> int:
        return len(self.swatches)

    def in_house(self, row: int) -> Swatch:
        """The paint by the id that it has, or would have, in the house."""
        return replace(self.swatches[row], id=str(self.colours.ids[row]))

    def rows(self, rows: Indices) -> "Options":
        return Options(
            [self.swatches[row] for row in rows],
            self.colours.rows(rows),
            self.foreign[rows],
            self.told[rows],
        )


def colours_of(swatches: Sequence[Swatch]) -> Colours:
    made = [swatch.colour for swatch in swatches]
    return Colours(
        ids=np.array([swatch.id for swatch in swatches], dtype=np.str_),
        lrv=np.array([swatch.lrv for swatch in swatches], dtype=np.float64),
        chroma=np.array([facts.notation.chroma for facts in made], dtype=np.float64),
        near_neutral=np.array([facts.near_neutral for facts in made], dtype=np.bool_),
        leans=np.array([facts.undertone.family != "none" for facts in made], dtype=np.bool_),
        lab100=np.array([facts.lab100 for facts in made], dtype=np.float64).reshape(-1, 3),
        ucs=np.array([facts.ucs for facts in made], dtype=np.float64).reshape(-1, 3),
        reflectance=np.array([facts.reflectance for facts in made], dtype=np.float64),
    )


def stacked(each: Sequence[Colours], count: int) -> Colours:
    """Colours of several coats, each of one row or of `count` rows, as (coats, count)."""
    return Colours(
        ids=stacked_rows([one.ids for one in each], count),
        lrv=stacked_rows([one.lrv for one in each], count),
        chroma=stacked_rows([one.chroma for one in each], count),
        near_neutral=stacked_rows([one.near_neutral for one in each], count),
        leans=stacked_rows([one.leans for one in each], count),
        lab100=stacked_rows([one.lab100 for one in each], count, (3,)),
        ucs=stacked_rows([one.ucs for one in each], count, (3,)),
        reflectance=np.zeros((0, 41)),  # nobody asks for it
    )


Scalar = TypeVar("Scalar", bound=np.generic)


def stacked_rows(
    arrays: Sequence[npt.NDArray[Scalar]], count: int, channels: tuple[int, ...] = ()
) -> npt.NDArray[Scalar]:
    """(arrays, count, *channels) of arrays whose one row stands for all, or that have them all."""
    shape = (len(arrays), count, *channels)
    made = np.empty(shape, dtype=np.result_type(*arrays) if arrays else np.float64)
    for row, each in enumerate(arrays):
        made[row] = each
    return made


def own_options(swatches: Sequence[Swatch]) -> Options:
    """Paints that the house has."""
    nothing = np.zeros(len(swatches), dtype=np.intp)
    return Options(swatches, colours_of(swatches), nothing.astype(np.bool_), nothing)
