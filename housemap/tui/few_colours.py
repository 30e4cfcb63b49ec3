"""Paint on a terminal of 256 or 16 colours: the entry that looks nearest, one for each paint.

Imported only there: a terminal of exact colours pays nothing for it. The 240 entries from 16 on
are fixed (a cube of six steps and 24 greys, as xterm has them); the first 16 are the user's to
change, so 256 colours do without them. The values of the 16 are xterm's own.
"""

from collections.abc import Iterable, Mapping
from functools import cache

import numpy as np
from scipy.optimize import linear_sum_assignment

from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_xyz, xyz_to_lab
from housemap.tui.render.cells import Hex

STEPS = (0, 95, 135, 175, 215, 255)
CUBE = [(red, green, blue) for red in STEPS for green in STEPS for blue in STEPS]
GREYS = [(level, level, level) for level in range(8, 248, 10)]
STANDARD = [
    (0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0),
    (0, 0, 238), (205, 0, 205), (0, 205, 205), (229, 229, 229),
    (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0),
    (92, 92, 255), (255, 0, 255), (0, 255, 255), (255, 255, 255),
]  # fmt: skip

Rgb = tuple[int, int, int]
ENTRIES: Mapping[str, Mapping[int, Rgb]] = {
    "256": dict(enumerate([*CUBE, *GREYS], start=16)),
    "16": dict(enumerate(STANDARD)),
}
"""What each number of a terminal's palette looks like, by the depth of the terminal."""

NEAR = 6.0
"""CIEDE2000 units by which an entry may be farther than the nearest, so that two paints in view do
not look the same (our choice: a shift that a screen of few colours makes anyway)."""
_SHARED, _FAR = 1e3, 1e6


class FewColours:
    """The entries of one palette, and which of them the paints in view have."""

    def __init__(self, depth: str) -> None:
        self.entries = ENTRIES[depth]
        self._numbers = list(self.entries)
        self._lab100 = _lab100(list(self.entries.values()))
        self._taken: dict[Hex, int] = {}

    def entry(self, colour: Hex) -> int:
        taken = self._taken.get(colour)
        return self._nearest(colour) if taken is None else taken

    def show_together(self, paints: Iterable[Hex]) -> bool:
        """Give each paint in view an entry of its own where one is near; whether any changed."""
        each = sorted(set(paints))
        distances = np.array([self._distances(paint) for paint in each])
        taken = dict(zip(each, self._own(distances), strict=True)) if each else {}
        before, self._taken = self._taken, taken
        return taken != before

    def _own(self, distances: Floats) -> list[int]:
        """The entry of each row: its own at the least sum of differences, or else the nearest."""
        near = distances.min(axis=1, keepdims=True) + NEAR
        own = np.where(distances <= near, distances, _FAR)
        shared = np.full((len(distances), len(distances)), _SHARED)
        _, columns = linear_sum_assignment(np.hstack([own, shared]))
        chosen = np.where(columns < len(self._numbers), columns, distances.argmin(axis=1))
        return [self._numbers[column] for column in chosen]

    @cache  # noqa: B019 - one object for as long as the program runs
    def _nearest(self, colour: Hex) -> int:
        return self._numbers[int(self._distances(colour).argmin())]

    def _distances(self, colour: Hex) -> Floats:
        lab100 = xyz_to_lab(srgb_to_xyz(np.array(hex_to_srgb(colour))), _WHITE100)
        return ciede2000(lab100, self._lab100)


_WHITE100 = srgb_to_xyz(np.ones(3))


def _lab100(rgb: list[Rgb]) -> Floats:
    return xyz_to_lab(srgb_to_xyz(np.array(rgb) / 255.0), _WHITE100)
