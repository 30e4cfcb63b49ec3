"""Colours as checks compare them, an array for each property instead of an object each."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields
from itertools import repeat
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.sheen import SIGNS
from housemap.model.frozen import frozen
from housemap.model.house import Paint
from housemap.study.parts import Swatch

FINISH = "="
"""Begins the id of a finish: it is no paint, whatever its id; "=" begins no id of a house."""
Texts = npt.NDArray[np.str_]


@frozen(eq=False)
class Colours:
    """n colours, a row each; or with further axes in front."""

    ids: Texts
    """Equal ids are one paint, which is never compared with itself."""
    lrv: Floats
    """As checks take it."""
    hue: Floats
    """ASTM D1535 hue number, 0..100; 0 of a grey."""
    chroma: Floats
    """ASTM D1535."""
    strengths: Indices
    """By the ISCC-NBS modifiers, 0 neutral to 4 vivid."""
    near_neutral: Truths
    leans: Truths
    """Whether there is an undertone at all, under the reference light."""
    measured: Floats
    """With or without gloss (see `colorimetry.sheen.SIGNS`)."""
    lab100: Floats
    ucs: Floats
    reflectance: Floats
    """380(10)780 nm: (..., n, 41)."""
    names: Texts
    """What each is called in the ISCC-NBS system."""

    def __len__(self) -> int:
        return len(self.ids)

    def joined(self, more: "Colours") -> "Colours":
        """These colours and more, along the first axis."""
        others = iter(more.arrays)
        return self.each(lambda array: np.concatenate([array, next(others)]))

    def rows(self, rows: Indices) -> "Colours":
        return self.each(lambda array: array[rows])

    @property
    def arrays(self) -> Iterator[npt.NDArray[Any]]:
        """Every property, in the order of the fields."""
        return (getattr(self, each.name) for each in fields(self))

    def each(self, make: Callable[[npt.NDArray[Any]], npt.NDArray[Any]]) -> "Colours":
        return Colours(*map(make, self.arrays))


def colours_of(swatches: Sequence[Swatch]) -> Colours:
    made = [swatch.colour for swatch in swatches]
    return Colours(
        ids=np.array([_id(swatch) for swatch in swatches], dtype=np.str_),
        lrv=np.array([swatch.lrv for swatch in swatches], dtype=np.float64),
        hue=np.array([facts.notation.hue100 for facts in made], dtype=np.float64),
        chroma=np.array([facts.notation.chroma for facts in made], dtype=np.float64),
        strengths=np.array([facts.strength for facts in made], dtype=np.intp),
        near_neutral=np.array([facts.near_neutral for facts in made], dtype=np.bool_),
        leans=np.array([facts.undertone.family != "none" for facts in made], dtype=np.bool_),
        measured=np.array([SIGNS[swatch.gloss] for swatch in swatches], dtype=np.float64),
        lab100=np.array([facts.lab100 for facts in made], dtype=np.float64).reshape(-1, 3),
        ucs=np.array([facts.ucs for facts in made], dtype=np.float64).reshape(-1, 3),
        reflectance=np.frombuffer(bytearray().join(f.reflectance for f in made)).reshape(-1, 41),
        names=np.array([facts.undertone.name for facts in made], dtype=np.str_),
    )


def _id(swatch: Swatch) -> str:
    return swatch.id if isinstance(swatch.entity, Paint) else f"{FINISH}{swatch.id}"


def stacked(each: Sequence[Colours], count: int) -> Colours:
    """Colours of several coats, each of one row or of `count` rows, as (coats, count)."""
    columns = zip(*(one.arrays for one in each), strict=True) if each else repeat((), len(SHAPES))
    rows = zip(columns, SHAPES, strict=True)
    made = [stacked_rows(column, count, shape) for column, shape in [*rows][:-2]]
    nothing = [np.zeros((0, 41)), np.zeros(0, dtype=np.str_)]  # nobody asks for spectra and names
    return Colours(*made, *nothing)


SHAPES: tuple[tuple[int, ...], ...] = ((), (), (), (), (), (), (), (), (3,), (3,), (41,), ())
"""What each property of a `Colours` has beyond its rows."""
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
