"""Which coats of two rooms, or of one, meet the eye together, for every pair of options."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from housemap.choose.sweep.colours import Scalar
from housemap.choose.sweep.eyes import Looks, turned
from housemap.choose.sweep.side import Side
from housemap.colorimetry.arrays import Floats, Indices, Truths


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Where coats meet: of each meeting the coats and the options, all (k,)."""

    first: Indices
    second: Indices
    n: Indices
    m: Indices

    def flat(self, looks: tuple[Looks, Looks]) -> tuple[Indices, Indices]:
        """The places in both looks."""
        first, second = looks
        return first.at(self.first, self.n, self.m), second.at(self.second, self.n, self.m)


@dataclass(frozen=True, slots=True, eq=False)
class Facing:
    """Two rooms that see each other, or one room twice."""

    first: Side
    second: Side
    together: bool = False
    """Whether both have the same option at a time; so it is within a room."""

    @property
    def shape(self) -> tuple[int, int]:
        """n, m."""
        return self.first.count, 1 if self.together else self.second.count

    @property
    def _within(self) -> bool:
        return self.first is self.second

    def beside(self, looks: Looks) -> Looks:
        """Looks of the second room, (coats, m, 1), along their own axis: (coats, 1, m)."""
        return looks if self.together else turned(looks)

    def lit_beside(self, xyz100: Floats) -> Floats:
        """What the second room sends, (coats, m, 3), along its own axis."""
        return xyz100[:, :, np.newaxis] if self.together else xyz100[:, np.newaxis]

    def across(
        self, one: npt.NDArray[Scalar], other: npt.NDArray[Scalar]
    ) -> tuple[npt.NDArray[Scalar], npt.NDArray[Scalar]]:
        """Arrays (n) and (m) along the axes (n, m)."""
        return one[:, np.newaxis], other[:, np.newaxis] if self.together else other

    def near(self) -> Places:
        """Different paints."""
        return self._where(self._paints() & self._differ())

    def neutral(self) -> Places:
        """Different paints that are both nearly neutral."""
        one, other = self._laid(self.first.coats.near_neutral, self.second.coats.near_neutral)
        return self._where(self._paints() & self._differ() & one & other)

    def stays(self, most_chroma: float) -> Places:
        """A nearly neutral paint, and a finish of at most this chroma."""
        first, second = self.first.coats, self.second.coats
        neutral = self._laid(first.near_neutral, second.near_neutral)
        chroma = self._laid(first.chroma, second.chroma)
        painted, staying = self._painted(), self._staying()
        met = painted[0] & staying[1] & neutral[0] & (chroma[1] <= most_chroma)
        if not self._within:
            met = met | (staying[0] & painted[1] & neutral[1] & (chroma[0] <= most_chroma))
        return self._where(met & self._differ())

    def _paints(self) -> Truths:
        one, other = self._painted()
        if not self._within:
            return one & other
        count = len(self.first.surfaces)
        return one & other & np.triu(np.ones((count, count), dtype=np.bool_), 1)[..., None, None]

    def _differ(self) -> Truths:
        one, other = self._laid(self.first.coats.ids, self.second.coats.ids)
        return np.asarray(one != other)

    def _painted(self) -> tuple[Truths, Truths]:
        return self._laid(_painted(self.first), _painted(self.second))

    def _staying(self) -> tuple[Truths, Truths]:
        return self._laid(~_painted(self.first), ~_painted(self.second))

    def _laid(
        self, one: npt.NDArray[Scalar], other: npt.NDArray[Scalar]
    ) -> tuple[npt.NDArray[Scalar], npt.NDArray[Scalar]]:
        """Arrays (coats, options) along the axes (first coats, second coats, n, m)."""
        along = other[None, :, :, None] if self.together else other[None, :, None, :]
        return one[:, np.newaxis, :, np.newaxis], along

    def _where(self, met: Truths) -> Places:
        shape = (len(self.first.surfaces), len(self.second.surfaces), *self.shape)
        return Places(*np.nonzero(np.broadcast_to(met, shape)))


def _painted(side: Side) -> Truths:
    """(coats, 1)"""
    return np.arange(len(side.surfaces))[:, np.newaxis] < len(side.painted)
