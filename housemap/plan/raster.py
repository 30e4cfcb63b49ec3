"""A picture in rows and columns, put together from upright strips of it; numpy.

A strip is a stretch of one pixel column from one line down to another. For a plain picture it is
as wide as the column, and a pixel shows what is at its centre. For a smooth one the columns are cut
wherever something begins or ends within them, so that a strip is bounded by straight lines and the
part of a pixel that it covers is exact; only pixels that more than one thing covers are mixed.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Vectors = NDArray[np.complex128]
"""Plane vectors as x + yi."""
Scalar = TypeVar("Scalar", bound=np.generic)
Centres = tuple[Ints, NDArray[np.int16], NDArray[np.float32], NDArray[np.float32]]
"""Pixels whose centres are covered, with the face, shade and depth there."""

FADE_PER_M = 0.012
FADE_TO = 0.88
"""What is further off is a little darker, down to this factor, so that depth reads (our choice)."""
FAR_M = 1e6
"""A level surface that the horizon hides is as far off as this."""
FAR_ROWS = 1e6
"""Lines further outside the picture than this are moved here."""
NEARER_M = 1e-3
"""What stands on or at a surface is drawn over it where it is nearer by this."""
_THIN = 1e-6
"""A strip or a covered part of a pixel that is smaller than this is left out."""


class Face(NamedTuple):
    room: str
    surface: str
    """walls ceiling trim doors floor window opening sky riser tread lamp, "piece" and its id, or
    "accent" and the wall's key.
    """
    wall: str | None
    """The key of the wall that it is on, or was cut into; None for floor and ceiling."""


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """What the pixels along edges show: each a few faces and how much of the pixel they cover.

    Row by row of equally long arrays; all rows of a pixel add up to 1.
    """

    pixel: Ints
    """Row times the picture's width, plus column."""
    face: NDArray[np.int16]
    shade: NDArray[np.float32]
    depth_m: NDArray[np.float32]
    cover: NDArray[np.float32]
    """0..1."""


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """A picture: `faces[face[row, column]]` is seen, darker by the factor `shade[row, column]`."""

    faces: tuple[Face, ...]
    face: NDArray[np.int16]
    """Shape (height, width), the top row first; what the centre of each pixel shows."""
    shade: NDArray[np.float32]
    """0..1; leave it out for the paints as they are."""
    depth_m: NDArray[np.float32]
    """Along the heading."""
    edges: Edges | None = None
    """Of a smooth picture."""

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


class Lens(NamedTuple):
    """The picture's size in pixels and its focal length in pixels; the horizon is its middle."""

    width: int
    height: int
    focal: float
    eye_m: float

    def line(self, z_m: float | Floats, depth_m: Floats) -> Floats:
        """How far down from the picture's top a height at a depth is seen; they broadcast."""
        lines = self.height / 2 - (z_m - self.eye_m) * self.focal / depth_m
        return np.minimum(np.maximum(lines, -FAR_ROWS), FAR_ROWS)


@dataclass(slots=True)
class Strips:
    """Stretches of columns between two lines, which are straight from side to side.

    In the arrays of shape (k, n), k is 1 for what is seen at the middle of a column, or 2 for what
    is seen at the left and at the right side of each strip.
    """

    column: Ints
    left: Floats
    """In pixels from the picture's left; a plain picture's strips have no width."""
    right: Floats
    way: Vectors
    """The ray at depth 1; (k, n)."""
    top: Floats
    bottom: Floats
    """(k, n)."""

    @property
    def middle(self) -> Vectors:
        return np.asarray(self.way.mean(axis=0))

    def only(self, keep: Ints) -> "Strips":
        return Strips(
            self.column.take(keep), self.left.take(keep), self.right.take(keep),
            self.way.take(keep, 1), self.top.take(keep, 1), self.bottom.take(keep, 1),
        )  # fmt: skip

    def between(self, top: Floats, bottom: Floats) -> "Strips":
        return Strips(self.column, self.left, self.right, self.way, top, bottom)

    def clip(self, lines: Floats) -> Floats:
        return np.minimum(np.maximum(lines, self.top), self.bottom)

    def split(self, points: Vectors) -> "Strips":
        """Cut where points of the plan, as seen from the eye, lie within a strip."""
        if len(self.way) == 1 or not len(points):
            return self
        start, run = self.way[0], self.way[1] - self.way[0]
        turn = np.imag(np.conj(run) * points[:, None])
        with np.errstate(divide="ignore", invalid="ignore"):
            share = -np.imag(np.conj(start) * points[:, None]) / turn
            ahead = np.real(np.conj(start + share * run) * points[:, None]) > 0
        point, strip = np.nonzero((share > _THIN) & (share < 1 - _THIN) & ahead)
        return self._cut(strip, share[point, strip]) if len(strip) else self

    def _cut(self, strip: Ints, share: Floats) -> "Strips":
        """At shares of the width of some strips."""
        count = len(self.column)
        which = np.concatenate([np.arange(count), strip])
        start = np.concatenate([np.zeros(count), share])
        order = np.lexsort((start, which))
        which, start = which[order], start[order]
        end = np.ones(len(which))
        same = which[1:] == which[:-1]
        end[:-1][same] = start[1:][same]
        wide = end - start > _THIN
        which, ends = which[wide], np.stack([start[wide], end[wide]])

        def at(values: NDArray[Scalar]) -> NDArray[Scalar]:
            first, last = values[0, which], values[1, which]
            return np.asarray(first + ends * (last - first), dtype=values.dtype)

        left, width = self.left[which], (self.right - self.left)[which]
        return Strips(
            self.column[which], left + ends[0] * width, left + ends[1] * width,
            at(self.way), at(self.top), at(self.bottom),
        )  # fmt: skip


class Canvas:
    """Collects strips and puts them together."""

    def __init__(self, lens: Lens) -> None:
        self.lens = lens
        self._faces: dict[Face, int] = {}
        self._strips: list[Strips] = []
        self._depths: list[Floats] = []
        self._kinds: list[tuple[int, int, float, float]] = []
        """Face, number of strips, shade, height of a level surface over the eye (else 0)."""

    def upright(self, strips: Strips, face: Face, shade: float, depth_m: Floats) -> None:
        """A wall or what is on it, at its depth."""
        self._add(strips, face, shade, 0.0, depth_m)

    def level(self, strips: Strips, face: Face, shade: float, z_m: float) -> None:
        """A floor, ceiling or soffit, at its height; the rows give its depth."""
        self._add(strips, face, shade, z_m - self.lens.eye_m, np.zeros(strips.top.shape))

    def _add(
        self, strips: Strips, face: Face, shade: float, over_m: float, depth_m: Floats
    ) -> None:
        self._strips.append(strips)
        self._depths.append(depth_m)
        number = self._faces.setdefault(face, len(self._faces))
        self._kinds.append((number, len(strips.column), shade, over_m))

    def view(self) -> View:
        """The picture; every point of it must have been given once."""
        every = self._gathered()
        pixel, face, shade, depth = every.centres()
        size = (self.lens.height, self.lens.width)
        return View(
            tuple(self._faces),
            _spread(pixel, face, size),
            _spread(pixel, shade, size),
            _spread(pixel, depth, size),
            every.edges() if len(every.top) > 1 else None,
        )

    def over(self, view: View) -> View:
        """The picture with what was given drawn over it where that is nearer to the eye.

        Writes into the arrays of `view`, which is not to be used any more.
        """
        if not self._strips:
            return view
        every = self._gathered()
        every.face = every.face + np.int16(len(view.faces))
        pixel, face, shade, depth = every.centres()
        nearer = depth < view.depth_m.ravel()[pixel] - NEARER_M
        if not nearer.any():
            return view
        edges = view.edges
        if edges is not None:
            edges = _layered(view, edges, every.edges(), (pixel, face, shade, depth))
        for values, new in ((view.face, face), (view.shade, shade), (view.depth_m, depth)):
            values.ravel()[pixel[nearer]] = new[nearer]
        return replace(view, faces=(*view.faces, *self._faces), edges=edges)

    def _gathered(self) -> "_Gathered":
        faces, counts, shades, overs = (np.array(each) for each in zip(*self._kinds, strict=True))
        kind = np.repeat(np.arange(len(counts)), counts)
        return _Gathered(
            self.lens,
            np.concatenate([each.column for each in self._strips]),
            np.concatenate([each.left for each in self._strips]),
            np.concatenate([each.right for each in self._strips]),
            np.concatenate([each.top for each in self._strips], axis=1),
            np.concatenate([each.bottom for each in self._strips], axis=1),
            np.concatenate(self._depths, axis=1),
            faces[kind].astype(np.int16), shades[kind], overs[kind],
        )  # fmt: skip


@dataclass(slots=True)
class _Gathered:
    """All strips of a picture, with what each shows."""

    lens: Lens
    column: Ints
    left: Floats
    right: Floats
    top: Floats
    bottom: Floats
    depth: Floats
    face: NDArray[np.int16]
    shade: Floats
    over: Floats

    def centres(self) -> Centres:
        strip, top, bottom, depth = self._at_centres()
        first = _first_row(top, self.lens.height)
        length = np.maximum(_first_row(bottom, self.lens.height) - first, 0)
        before = np.cumsum(length) - length
        row = np.arange(int(length.sum())) - np.repeat(before - first, length)
        pixel = np.repeat(self.column[strip], length) + self.lens.width * row
        over, at = self.over[strip].astype(np.float32), depth.astype(np.float32)
        per_m = self._per_m(np.arange(0.5, self.lens.height, dtype=np.float64))[row]
        depths = _depth(np.repeat(over, length), per_m, np.repeat(at, length))
        shade = np.repeat(self.shade[strip].astype(np.float32), length)
        return pixel, np.repeat(self.face[strip], length), _faded(shade, depths), depths

    def _at_centres(self) -> tuple[Ints, Floats, Floats, Floats]:
        """The strips over the middle of their columns: which, their lines and depth there."""
        if len(self.top) == 1:
            every = np.arange(len(self.column))
            return every, self.top[0], self.bottom[0], self.depth[0]
        centre = self.column + 0.5
        strip = np.flatnonzero((self.left <= centre) & (centre < self.right))
        share = (centre[strip] - self.left[strip]) / (self.right[strip] - self.left[strip])

        def at(values: Floats) -> Floats:
            first, last = values[0, strip], values[1, strip]
            return np.asarray(first + share * (last - first))

        first, last = self.depth[0, strip], self.depth[1, strip]
        # 1 / depth is linear across a picture, depth itself is not.
        depth = first * last / np.maximum(last + share * (first - last), 1e-12)
        return strip, at(self.top), at(self.bottom), depth

    def edges(self) -> Edges:
        """The pixels that no strip covers alone."""
        strip, first, length = self._stretches()
        which, row = _rows(first, length)
        strip = strip[which]
        width = (self.right - self.left)[strip]
        cover = _over(self.bottom.take(strip, 1) - row) - _over(self.top.take(strip, 1) - row)
        some = width * cover > _THIN
        strip, row, cover = strip[some], row[some], (width * cover)[some]
        over, mean = (
            each[strip].astype(np.float32) for each in (self.over, self.depth.mean(axis=0))
        )
        # Where the strip is, which may be far from the middle of a row near the horizon.
        top, bottom = self.top.min(axis=0)[strip], self.bottom.max(axis=0)[strip]
        depth = _depth(over, self._per_m(np.clip(row + 0.5, top, bottom)), mean)
        return Edges(
            pixel=self.column[strip] + self.lens.width * row,
            face=self.face[strip],
            shade=_faded(self.shade[strip].astype(np.float32), depth),
            depth_m=depth,
            cover=cover.astype(np.float32),
        )

    def _stretches(self) -> tuple[Ints, Ints, Ints]:
        """Rows that a line runs through, and all rows of a strip that is narrower than a pixel."""
        height = self.lens.height
        a0, a1 = _row_range(self.top, height)
        b0, b1 = _row_range(self.bottom, height)
        whole = (a1 > b0) | (self.right - self.left < 1 - _THIN)
        every = np.arange(len(self.column))
        strip = np.concatenate([every[whole], every[~whole], every[~whole]])
        first = np.concatenate([a0[whole], a0[~whole], b0[~whole]])
        last = np.concatenate([b1[whole], a1[~whole], b1[~whole]])
        return strip, first, np.maximum(last - first, 0)

    def _per_m(self, line: Floats) -> NDArray[np.float32]:
        """How far off a level surface is at a line, for each metre that it is over the eye."""
        with np.errstate(divide="ignore"):
            return np.asarray(self.lens.focal / (self.lens.height / 2 - line), dtype=np.float32)


def _depth(
    over: NDArray[np.float32], per_m: NDArray[np.float32], depth: NDArray[np.float32]
) -> NDArray[np.float32]:
    """Of uprights as given; of levels by the line."""
    with np.errstate(invalid="ignore"):
        level = over * per_m
    level[~(level > 0)] = FAR_M
    return np.where(over != 0, level, depth)


def _faded(shade: NDArray[np.float32], depth: NDArray[np.float32]) -> NDArray[np.float32]:
    fade = np.maximum(1 - np.float32(FADE_PER_M) * depth, np.float32(FADE_TO))
    return np.asarray(shade * fade)


def _layered(view: View, below: Edges, own: Edges, centres: Centres) -> Edges:
    """The edges of a picture under a layer, given the layer's edges and what its centres show.

    What is nearer than the layer keeps its cover; what is behind it gives its cover away.
    """
    first = min(int(centres[0].min()), int(own.pixel.min(initial=view.face.size)))
    size = max(int(centres[0].max()), int(own.pixel.max(initial=0))) - first + 1
    centre = np.full(size, -1, dtype=np.int32)
    centre[centres[0] - first] = np.arange(len(centres[0]))
    centre[own.pixel - first] = -1
    mark = centre >= 0
    mark[own.pixel - first] = True
    here = (below.pixel >= first) & (below.pixel < first + size)
    here[here] = mark[below.pixel[here] - first]
    mark[:] = False
    mark[own.pixel - first] = mark[below.pixel[here] - first] = True
    touched = np.flatnonzero(mark)
    where = np.zeros(size, dtype=np.int32)
    where[touched] = np.arange(len(touched))
    solid, sides = centre[touched] >= 0, where[own.pixel - first]
    whole = centre[touched[solid]]
    mixed = np.zeros(len(touched), dtype=np.bool_)
    mixed[where[below.pixel[here] - first]] = True
    total = np.where(solid, 1.0, np.bincount(sides, own.cover, len(touched)))
    depth = np.full(len(touched), np.float32(np.inf))
    depth[solid] = centres[3][whole]
    np.minimum.at(depth, sides, own.depth_m)
    every = _joined(_only(below, here), _centres(view, touched[~mixed] + first))
    place = where[every.pixel - first]
    behind = every.depth_m > depth[place] + NEARER_M
    given = np.where(behind, every.cover * total[place], 0.0)
    taken = np.bincount(place, given, len(touched))
    pixel, face, shade, depth_m = centres
    full = np.ones(len(whole), dtype=np.float32)
    added = _joined(own, Edges(pixel[whole], face[whole], shade[whole], depth_m[whole], full))
    place = where[added.pixel - first]
    share = taken[place] / np.maximum(total[place], _THIN)
    changed = _joined(
        replace(every, cover=(every.cover - given).astype(np.float32)),
        replace(added, cover=(added.cover * share).astype(np.float32)),
    )
    return _joined(_only(below, ~here), _only(changed, changed.cover > _THIN))


def _centres(view: View, pixel: Ints) -> Edges:
    """Pixels that show what is at their centres and nothing else."""
    return Edges(
        pixel, view.face.ravel()[pixel], view.shade.ravel()[pixel], view.depth_m.ravel()[pixel],
        np.ones(len(pixel), dtype=np.float32),
    )  # fmt: skip


def _only(edges: Edges, keep: NDArray[np.bool_]) -> Edges:
    return Edges(*(getattr(edges, each.name)[keep] for each in fields(Edges)))


def _joined(one: Edges, other: Edges) -> Edges:
    return Edges(*(np.concatenate([getattr(one, f.name), getattr(other, f.name)])
                   for f in fields(Edges)))  # fmt: skip


def _first_row(line: Floats, height: int) -> Ints:
    """The first row whose centre lies below a line."""
    return np.ceil(np.minimum(np.maximum(line - 0.5, -1), height)).astype(np.intp).clip(0)


def _row_range(line: Floats, height: int) -> tuple[Ints, Ints]:
    """The rows that a line runs through from side to side: the first, and the one after."""
    low = np.floor(line.min(axis=0)).clip(0, height).astype(np.intp)
    high = np.ceil(line.max(axis=0)).clip(0, height).astype(np.intp)
    return low, high


def _rows(first: Ints, length: Ints) -> tuple[Ints, Ints]:
    """Every row of every stretch: of which stretch, and which row."""
    which = np.repeat(np.arange(len(length)), length)
    within = np.arange(len(which)) - (np.cumsum(length) - length)[which]
    return which, first[which] + within


def _over(line: Floats) -> Floats:
    """The part of a pixel above a line that enters it at one side and leaves it at the other.

    Both given in rows from the pixel's top; the mean of the clipped height, in closed form.
    """
    start, end = line
    run = end - start
    flat = np.abs(run) < _THIN
    with np.errstate(divide="ignore", invalid="ignore"):
        mean = (_integral(end) - _integral(start)) / run
    return np.asarray(np.where(flat, np.clip((start + end) / 2, 0.0, 1.0), mean))


def _integral(y: Floats) -> Floats:
    """Of the height clipped to 0..1."""
    within = np.clip(y, 0.0, 1.0)
    return np.asarray(within * within / 2 + np.maximum(y - 1, 0.0))


def _spread(pixel: Ints, values: NDArray[Scalar], size: tuple[int, int]) -> NDArray[Scalar]:
    flat = np.zeros(size[0] * size[1], dtype=values.dtype)
    flat[pixel] = values
    return flat.reshape(size)
