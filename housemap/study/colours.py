"""Colours as checks compare them, an array for each property instead of an object each."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.model.house import Paint
from housemap.study.parts import Swatch

FINISH = "="
"""Begins the id of a finish: it is no paint, whatever its id; "=" begins no id of a house."""
Texts = npt.NDArray[np.str_]


@dataclass(frozen=True, slots=True, eq=False)
class Colours:
    """n colours, a row each; or with further axes in front."""

    ids: Texts
    """Equal ids are one paint, which is never compared with itself."""
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

    def joined(self, more: "Colours") -> "Colours":
        """These colours and more, along the first axis."""
        return Colours(
            np.concatenate([self.ids, more.ids]),
            np.concatenate([self.lrv, more.lrv]),
            np.concatenate([self.chroma, more.chroma]),
            np.concatenate([self.near_neutral, more.near_neutral]),
            np.concatenate([self.leans, more.leans]),
            np.concatenate([self.lab100, more.lab100]),
            np.concatenate([self.ucs, more.ucs]),
            np.concatenate([self.reflectance, more.reflectance]),
        )

    def as_columns(self) -> "Colours":
        """(n,) as (n, 1)."""
        return Colours(
            self.ids[:, None], self.lrv[:, None], self.chroma[:, None], self.near_neutral[:, None],
            self.leans[:, None], self.lab100[:, None], self.ucs[:, None], self.reflectance[:, None],
        )  # fmt: skip

    def rows(self, rows: Indices) -> "Colours":
        return Colours(
            self.ids[rows], self.lrv[rows], self.chroma[rows], self.near_neutral[rows],
            self.leans[rows], self.lab100[rows], self.ucs[rows], self.reflectance[rows],
        )  # fmt: skip


def colours_of(swatches: Sequence[Swatch]) -> Colours:
    made = [swatch.colour for swatch in swatches]
    return Colours(
        ids=np.array([_id(swatch) for swatch in swatches], dtype=np.str_),
        lrv=np.array([swatch.lrv for swatch in swatches], dtype=np.float64),
        chroma=np.array([facts.notation.chroma for facts in made], dtype=np.float64),
        near_neutral=np.array([facts.near_neutral for facts in made], dtype=np.bool_),
        leans=np.array([facts.undertone.family != "none" for facts in made], dtype=np.bool_),
        lab100=np.array([facts.lab100 for facts in made], dtype=np.float64).reshape(-1, 3),
        ucs=np.array([facts.ucs for facts in made], dtype=np.float64).reshape(-1, 3),
        reflectance=np.array([facts.reflectance for facts in made], dtype=np.float64),
    )


def _id(swatch: Swatch) -> str:
    return swatch.id if isinstance(swatch.entity, Paint) else f"{FINISH}{swatch.id}"


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
