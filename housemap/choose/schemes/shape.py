"""The shape of a scheme: what each colour does in it, and what a colour costs that does not fit.

Common practice, no source: a light backbone links the house, rooms that close go a tier deeper,
trim is near-white and clearly lighter than the walls, doors or joinery may have one dark tone. A
colour outside its tier costs as a broken wish does, and up to three times as much the further it
lies outside; within its tier but off the best part of it, half a note. Figures are LRV and ASTM
D1535 chroma; colours differ from 8 CAM16-UCS units on.
"""

from collections.abc import Iterator, Mapping
from typing import Literal, NamedTuple

import numpy as np

from housemap.checks.finding import SEVERITY_COST
from housemap.checks.pages.undertones import UNDERTONE, fights
from housemap.checks.wishes import BROKEN, FAR_OUTSIDE, outside_costs
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.model.house import Role
from housemap.study.colours import Colours

Part = Literal["neutral", "backbone", "room", "trim", "dark", "accent"]
"""What a colour does in a scheme."""
WALLS: tuple[Part, ...] = ("neutral", "backbone", "room")


class Tier(NamedTuple):
    """LRV from and to: what is fine, and within it what is best."""

    fine: tuple[float, float]
    best: tuple[float, float]

    def costs(self, lrv: Floats) -> Floats:
        """Of colours (n,)."""
        off = (lrv < self.best[0]) | (lrv > self.best[1])
        outside = outside_costs(lrv, *self.fine)
        return np.where(outside > 0, outside, OFF_BEST * off)


OFF_BEST = SEVERITY_COST["note"] / 2
TIERS: Mapping[Part, Tier] = {
    "neutral": Tier((30.0, 80.0), (30.0, 80.0)),
    "backbone": Tier((55.0, 75.0), (60.0, 70.0)),
    "room": Tier((40.0, 55.0), (40.0, 55.0)),
    "accent": Tier((5.0, 45.0), (8.0, 40.0)),
    "trim": Tier((80.0, 100.0), (82.0, 92.0)),
    "dark": Tier((0.0, 12.0), (3.0, 9.0)),
}
ANY_ROOM = Tier((40.0, 75.0), (40.0, 75.0))
"""A room without a role: as the backbone or as a room that closes."""

TRIM_CHROMA = 1.5
"""ASTM D1535; a trim beyond it is no near-white."""
DARK_TRIM = 60.0
"""LRV from which a trim costs still more for each point that it is darker."""
TRIM_STEP = 15.0
"""LRV points by which trim is lighter than the wall, or darker where that is asked for."""
DISTINCT = 8.0
"""CAM16-UCS distance from which two colours count as different."""
TOO_ALIKE = SEVERITY_COST["warn"]
"""Of two different colours that lie nearer; more the nearer they are, at most twice."""
STEP_APART = SEVERITY_COST["note"]
"""Of each ISCC-NBS step of strength beyond one between two colours that are no accents."""


def room_tier(role: Role | None) -> Tier:
    """The tier of a room's walls."""
    return ANY_ROOM if role is None else TIERS[role]


def off_shape(part: Part, lrv: float, chroma: float) -> Iterator[str]:
    """What is wrong with one colour for its part, in words."""
    low, high = TIERS[part].fine
    if not low <= lrv <= high:
        yield f"LRV {lrv:.0f}, outside {low:.0f} to {high:.0f}"
    if part == "trim" and chroma > TRIM_CHROMA:
        yield f"chroma {chroma:.1f}, above {TRIM_CHROMA}: no near-white"


def trim_costs(lrv: Floats, chroma: Floats) -> Floats:
    """Of trims (n,) by themselves: near-white, and where there is none, light."""
    colourful = np.maximum(chroma - TRIM_CHROMA, 0.0)
    off_white = np.where(colourful > 0, BROKEN * (1 + colourful), 0.0)
    dark = BROKEN * np.maximum(DARK_TRIM - lrv, 0.0) / FAR_OUTSIDE
    return np.asarray(TIERS["trim"].costs(lrv) + off_white + dark)


def trim_step_costs(trim_lrv: Floats, wall_lrv: Floats) -> Floats:
    """Where a trim is not clearly lighter than its wall; arrays broadcast."""
    return np.where(trim_lrv - wall_lrv < TRIM_STEP, BROKEN, 0.0)


def alike_costs(ucs_a: Floats, ucs_b: Floats, *, same: Truths) -> Floats:
    """Of pairs (..., 3) that are two paints, not the same one, and hardly differ."""
    short = np.maximum(1.0 - ucs_parts(ucs_a, ucs_b)[0] / DISTINCT, 0.0)
    return np.where(same | (short == 0), 0.0, TOO_ALIKE * (1 + short))


def step_costs(strengths_a: Indices, strengths_b: Indices) -> Floats:
    """Of pairs of colours whose strengths lie more than one ISCC-NBS step apart."""
    return np.asarray(STEP_APART * np.maximum(np.abs(strengths_a - strengths_b) - 1.0, 0.0))


def clash_costs(a: Colours, b: Colours) -> Floats:
    """Of each near-neutral of `a` with each of `b` where their undertones fight: (n, m)."""
    lean = (a.near_neutral & a.leans)[:, None] & (b.near_neutral & b.leans)
    clash = lean & fights(a.ucs[:, None], b.ucs[None], UNDERTONE.defaults)
    return np.where(clash, SEVERITY_COST["warn"], 0.0)
