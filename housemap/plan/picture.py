"""A picture in rows and columns, put together from vertical runs of pixels; numpy."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Scalar = TypeVar("Scalar", bound=np.generic)

FADE_PER_M = 0.012
FADE_TO = 0.88
"""What is further off is a little darker, down to this factor, so that depth reads (our choice)."""


class Face(NamedTuple):
    """What a pixel shows."""

    room: str
    surface: str
    """walls ceiling trim doors floor window opening sky riser tread, or "accent" and the wall's
    key.
    """
    wall: str | None
    """The key of the wall that it is on, or was cut into; None for floor and ceiling."""


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """A picture: `faces[face[row, column]]` is seen, darker by the factor `shade[row, column]`."""

    faces: tuple[Face, ...]
    face: NDArray[np.int16]
    """Shape (height, width), the top row first."""
    shade: NDArray[np.float32]
    """0..1; leave it out for the paints as they are."""
    depth_m: NDArray[np.float32]
    """Along the heading."""

    def parts(self, count: int) -> "tuple[View, ...]":
        """The pictures that stand side by side in this one."""
        cut = (np.split(each, count, axis=1) for each in (self.face, self.shade, self.depth_m))
        return tuple(View(self.faces, *part) for part in zip(*cut, strict=True))

    def shares(self) -> Mapping[tuple[str, str], float]:
        """The part of the picture that each room's surface takes, the largest first."""
        counts = np.bincount(self.face.ravel(), minlength=len(self.faces)) / self.face.size
        found: dict[tuple[str, str], float] = defaultdict(float)
        for face, share in zip(self.faces, counts, strict=True):
            found[face.room, face.surface] += float(share)
        return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))


@dataclass(frozen=True, slots=True)
class Lens:
    """The picture's size in pixels and its focal length in pixels; the horizon is its middle."""

    width: int
    height: int
    focal: float
    eye_m: float

    def row(self, z_m: float | Floats, depth_m: Floats) -> Ints:
        """The first row whose centre lies below a height at a depth; they broadcast."""
        rows = self.height / 2 - 0.5 - (z_m - self.eye_m) * self.focal / depth_m
        within = np.minimum(np.maximum(rows, -1), self.height + 1)
        return np.ceil(within).astype(np.intp)


class Runs(NamedTuple):
    """Some columns, each from one row down to another (left out)."""

    columns: Ints
    top: Ints
    bottom: Ints


class Canvas:
    """Collects runs of pixels and puts them together."""

    def __init__(self, lens: Lens) -> None:
        self.lens = lens
        self._faces: dict[Face, int] = {}
        self._columns: list[Ints] = []
        self._tops: list[Ints] = []
        self._bottoms: list[Ints] = []
        self._depths: list[Floats] = []
        self._runs: list[tuple[int, int, float, float]] = []
        """Face, number of columns, shade, height of a level surface over the eye (else 0)."""
        self._no_depth = np.zeros(lens.width)

    def upright(self, runs: Runs, face: Face, shade: float, depth_m: Floats) -> None:
        """A wall or what is on it, at its depth."""
        self._add(runs, face, shade, 0.0, depth_m)

    def level(self, runs: Runs, face: Face, shade: float, z_m: float) -> None:
        """A floor, ceiling or soffit, at its height; the rows give its depth."""
        depth = self._no_depth[: len(runs.columns)]
        self._add(runs, face, shade, z_m - self.lens.eye_m, depth)

    def _add(self, runs: Runs, face: Face, shade: float, over_m: float, depth_m: Floats) -> None:
        self._columns.append(runs.columns)
        self._tops.append(runs.top)
        self._bottoms.append(runs.bottom)
        self._depths.append(depth_m)
        number = self._faces.setdefault(face, len(self._faces))
        self._runs.append((number, len(runs.columns), shade, over_m))

    def view(self) -> View:
        """The picture; every pixel must have been given once."""
        faces, counts, shades, overs = (np.array(each) for each in zip(*self._runs, strict=True))
        top = np.concatenate(self._tops)
        length = np.maximum(np.concatenate(self._bottoms) - top, 0)
        first = np.concatenate(self._columns) + self.lens.width * top
        run = np.repeat(np.arange(len(length)), length)
        within = np.arange(len(run)) - (np.cumsum(length) - length)[run]
        pixel = first[run] + self.lens.width * within
        kind = np.repeat(np.arange(len(counts)), counts)[run]
        rows = pixel // self.lens.width
        over = overs[kind]
        depth = np.concatenate(self._depths)[run]
        is_level = over != 0
        below = self.lens.height / 2 - 0.5 - rows[is_level]
        depth[is_level] = over[is_level] * self.lens.focal / below
        shade = shades[kind] * np.maximum(1 - FADE_PER_M * depth, FADE_TO)
        return View(
            faces=tuple(self._faces),
            face=self._spread(pixel, faces[kind].astype(np.int16)),
            shade=self._spread(pixel, shade.astype(np.float32)),
            depth_m=self._spread(pixel, depth.astype(np.float32)),
        )

    def _spread(self, pixel: Ints, values: NDArray[Scalar]) -> NDArray[Scalar]:
        flat = np.zeros(self.lens.width * self.lens.height, dtype=values.dtype)
        flat[pixel] = values
        return flat.reshape(self.lens.height, self.lens.width)
