"""What eyes make of many colours at once: as `study.seen` has it, an array for each property."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from housemap.choose.sweep.colours import Colours
from housemap.colorimetry import appearance, munsell, spaces, undertone
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.light.as_seen import Eye


class Looks(NamedTuple):
    """Colours as they look: each (coats, n, m, 3), n and m the options of two rooms, or 1."""

    lab100: Floats
    ucs: Floats
    screen_xyz100: Floats | None
    """XYZ that look so on the screen; None under the reference light."""

    def at(self, coat: Indices, first: Indices, second: Indices) -> Indices:
        """Flat places of coats for options of the two rooms."""
        _, n, m, _ = self.ucs.shape
        row = coat * n + (first if n > 1 else 0)
        return np.asarray(row * m + (second if m > 1 else 0))


def seen_by(eye: Eye, sent: Floats, axis: int) -> Looks:
    """XYZ100 (coats, n or 1, m or 1, 3) as an eye sees them.

    Its level is one, or one for each option of its room, the first (axis 1) or the second (0).
    """
    level = np.asarray(eye.adapting_cd_m2)
    placed = Eye(eye.white100, np.expand_dims(level, axis) if level.ndim else level)
    ucs = appearance.ucs(appearance.jmh(sent, placed.conditions))
    screen = placed.on_screen(sent)
    return Looks(spaces.xyz_to_lab(screen, spaces.SRGB_WHITE), ucs, screen)


def turned(looks: Looks) -> Looks:
    """Looks of the first of two rooms, (coats, n, 1), as those of the second: (coats, 1, n)."""
    lab100, ucs = looks.lab100.swapaxes(1, 2), looks.ucs.swapaxes(1, 2)
    screen = looks.screen_xyz100
    return Looks(lab100, ucs, None if screen is None else screen.swapaxes(1, 2))


def plain(colours: Colours) -> Looks:
    """Under the reference light: (coats, n) to (coats, n, 1)."""
    return Looks(colours.lab100[:, :, np.newaxis], colours.ucs[:, :, np.newaxis], None)


def leaning(asked: Sequence[tuple[Looks, Truths, Indices]]) -> list[Truths]:
    """Whether colours have an undertone, all in one batch: of looks, those at flat places.

    Under the reference light it is known: (coats, n) or (coats, m).
    """
    once = [np.unique(places, return_inverse=True) for _, _, places in asked]
    screens = [
        looks.screen_xyz100.reshape(-1, 3)[at]
        for (looks, _, _), (at, _) in zip(asked, once, strict=True)
        if looks.screen_xyz100 is not None
    ]
    found = iter(_leans(screens) if screens else ())
    return [
        known.reshape(-1)[places] if looks.screen_xyz100 is None else next(found)[back]
        for (looks, known, places), (_, back) in zip(asked, once, strict=True)
    ]


def _leans(screens: Sequence[Floats]) -> list[Truths]:
    leans = undertone.leans(munsell.from_screen(np.concatenate(screens)))
    return np.split(leans, np.cumsum([len(each) for each in screens]))


def families(looks: Looks, places: Indices) -> list[str]:
    """The undertone's family of the colours at flat places, as seen."""
    assert looks.screen_xyz100 is not None
    notations = munsell.from_screen(looks.screen_xyz100.reshape(-1, 3)[places])
    return [undertone.family_of(name) for name in undertone.names(notations)]
