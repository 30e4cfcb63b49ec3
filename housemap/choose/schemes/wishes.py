"""What the client asked for, and what a colour costs that does not keep to it.

A broken wish costs as much as a warning (`BROKEN`): each step of strength beyond the strongest
allowed, a hue to avoid, and an LRV outside the range, there up to three times as much the further
it lies outside. A colour whose hue is not among those liked costs a note (`NOT_LIKED`). Our
assumption throughout. Strengths and hues are those of the ISCC-NBS system (NBS SP 440).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from housemap.checks.finding import MOST_EXCESS, SEVERITY_COST
from housemap.choose.chips import Chips
from housemap.colorimetry.arrays import Floats, Truths
from housemap.model.house import STRENGTHS, Brief, Strength

BROKEN = SEVERITY_COST["warn"]
NOT_LIKED = SEVERITY_COST["note"]
FAR_OUTSIDE = 10.0
"""LRV points outside a range that double its cost."""
WALLS: Strength = "greyish"
"""The strongest colour on walls where the brief does not say."""
ACCENTS: Strength = "moderate"
"""The same for accents."""

ACHROMATIC = {"white": "white", "gray": "grey", "black": "black"}
LEANS = {
    "pinkish": "pink", "reddish": "red", "brownish": "brown", "yellowish": "yellow",
    "olive": "olive", "greenish": "green", "bluish": "blue", "purplish": "purple",
}  # fmt: skip
MODIFIERS = frozenset({
    "very", "light", "dark", "deep", "pale", "grayish", "blackish", "moderate", "strong", "vivid",
    "brilliant", "medium",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked of one colour."""

    strength: Strength = WALLS
    like: frozenset[str] = frozenset()
    avoid: frozenset[str] = frozenset()
    lrv: tuple[float, float] | None = None


def wishes_of(brief: Brief, room: str | None = None, *, accent: bool = False) -> Wishes:
    """The wishes for walls of the house, or of a room where they may differ; or for an accent.

    The range of LRV is one of walls: it does not hold for accents.
    """
    own = brief.rooms.get(room) if room is not None else None
    usual, key = (ACCENTS, "accent_strength") if accent else (WALLS, "strength")
    strength = (own and getattr(own, key)) or getattr(brief, key) or usual
    like = brief.like if own is None or own.like is None else own.like
    avoid = brief.avoid if own is None or own.avoid is None else own.avoid
    lrv = (own and own.lrv) or brief.lrv
    return Wishes(strength, frozenset(like), frozenset(avoid), None if accent else lrv)


def wish_costs(chips: Chips, wishes: Wishes) -> Mapping[str, Floats]:
    """By wish, what each colour costs that breaks it: (n,)."""
    beyond = chips.strengths - STRENGTHS.index(wishes.strength)
    costs = {"strength": BROKEN * np.maximum(beyond, 0.0)}
    if wishes.avoid:
        costs["avoid"] = np.where(_named(chips, wishes.avoid), BROKEN, 0.0)
    if wishes.like:
        costs["like"] = np.where(_named(chips, wishes.like), 0.0, NOT_LIKED)
    if wishes.lrv is not None:
        costs["lrv"] = outside_costs(chips.lrv, *wishes.lrv)
    return costs


def _named(chips: Chips, hues: frozenset[str]) -> Truths:
    """Whether each colour's name answers to one of the hues: (n,)."""
    return np.array([bool(hues_of(name) & hues) for name in chips.iscc_names], dtype=np.bool_)


def outside_costs(figures: Floats, low: float, high: float) -> Floats:
    """BROKEN for each figure outside the range, and up to MOST_EXCESS times more far outside."""
    outside = np.maximum(low - figures, figures - high)
    return np.where(outside > 0, BROKEN * (1 + np.minimum(outside / FAR_OUTSIDE, MOST_EXCESS)), 0.0)


def broken_words(chips: Chips, row: int, wishes: Wishes) -> Iterator[str]:
    """Each wish that one colour breaks, in words."""
    costs = {wish: float(cost[row]) for wish, cost in wish_costs(chips, wishes).items()}
    name = chips.iscc_names[row].replace("gray", "grey")
    if costs["strength"]:
        yield f"stronger than {wishes.strength}: {STRENGTHS[chips.strengths[row]]} ({name})"
    if costs.get("avoid"):
        yield f"a hue to avoid: {name}"
    if costs.get("like"):
        yield f"none of the hues liked: {name}"
    if costs.get("lrv") and wishes.lrv is not None:
        low, high = wishes.lrv
        yield f"LRV {chips.lrv[row]:.0f}, outside {low:g} to {high:g}"


@cache
def hues_of(name: str) -> frozenset[str]:
    """The hue names that an ISCC-NBS colour name answers to: a grey also to what it leans to."""
    words = [word for word in name.split() if word not in MODIFIERS]
    last = words[-1]
    if last in ACHROMATIC:
        lean = {LEANS[word] for word in words[:-1]}
        return frozenset({ACHROMATIC[last], *lean})
    found = {" ".join(words), last}
    if found & {"bluish green", "greenish blue"}:
        found.add("blue green")
    return frozenset(found)
