"""Colours as adapted eyes see them: an array for each property."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance, munsell, spaces, undertone
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.light.as_seen import Eye
from housemap.study.colours import Colours


class Adapted(NamedTuple):
    """Coats as they look: (coats, n, m) each, n and m the options of two rooms, or 1."""

    lab100: Floats
    ucs: Floats
    screen_xyz100: Floats | None = None
    """XYZ that look so on the screen, where the undertones follow from it."""
    leans: Truths | None = None
    """Whether they have an undertone, where that is known."""
    families: Sequence[str] = ()
    """What each leans to, where a finding has to say it."""

    def at(self, coat: Indices, first: Indices, second: Indices) -> Indices:
        """Flat places of coats for options of the two rooms."""
        _, n, m, _ = self.ucs.shape
        row = coat * n + (first if n > 1 else 0)
        return np.asarray(row * m + (second if m > 1 else 0))

    def turned(self) -> "Adapted":
        """Coats of the first of two rooms, (coats, n, 1), as those of the second, (coats, 1, n)."""
        screen, leans = self.screen_xyz100, self.leans
        return Adapted(
            self.lab100.swapaxes(1, 2),
            self.ucs.swapaxes(1, 2),
            None if screen is None else screen.swapaxes(1, 2),
            None if leans is None else leans.swapaxes(1, 2),
        )


def seen_by(eye: Eye, sent: Floats, axis: int) -> Adapted:
    """XYZ100 (coats, n or 1, m or 1, 3) as an eye sees them.

    Its level is one, or one for each option of its room, the first (axis 1) or the second (0).
    """
    level = np.asarray(eye.adapting_cd_m2)
    placed = Eye(eye.white100, np.expand_dims(level, axis) if level.ndim else level)
    ucs = appearance.ucs(appearance.jmh(sent, placed.conditions))
    screen = placed.on_screen(sent)
    return Adapted(spaces.xyz_to_lab(screen, spaces.SRGB_WHITE), ucs, screen)


def in_reference_light(colours: Colours) -> Adapted:
    """(coats, n) to (coats, n, 1)."""
    lab100, ucs = colours.lab100[:, :, None], colours.ucs[:, :, None]
    return Adapted(lab100, ucs, leans=colours.leans[:, :, None])


def leaning(asked: Sequence[tuple[Adapted, Indices]]) -> list[Truths]:
    """Whether colours have an undertone, those at flat places, all in one batch."""
    once = [np.unique(places, return_inverse=True) for _, places in asked]
    screens = [
        seen.screen_xyz100.reshape(-1, 3)[at]
        for (seen, _), (at, _) in zip(asked, once, strict=True)
        if seen.leans is None and seen.screen_xyz100 is not None
    ]
    found = iter(_leans(screens) if screens else ())
    return [
        next(found)[back] if seen.leans is None else seen.leans.reshape(-1)[places]
        for (seen, places), (_, back) in zip(asked, once, strict=True)
    ]


def _leans(screens: Sequence[Floats]) -> list[Truths]:
    leans = undertone.leans(munsell.from_screen(np.concatenate(screens)))
    return np.split(leans, np.cumsum([len(each) for each in screens]))


def undertone_names(screen_xyz100: Floats) -> tuple[str, ...]:
    """ISCC-NBS names of colours by what looks so on the screen: (n, 3)."""
    return undertone.names(munsell.from_screen(screen_xyz100))
