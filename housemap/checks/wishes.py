"""What the client asked for, and what a colour costs that does not keep to it.

A broken wish costs as much as a warning (`BROKEN`): each step of strength beyond the strongest
allowed, a hue to avoid, and an LRV outside the range, there up to three times as much the further
it lies outside. A colour whose hue is not among those liked costs a note (`NOT_LIKED`). Our
assumption throughout. Strengths and hues are those of the ISCC-NBS system (NBS SP 440).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from housemap.checks.finding import MOST_EXCESS, SEVERITY_COST
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.undertone import british
from housemap.model.house import STRENGTHS
from housemap.model.wishes import Wishes
from housemap.study import Swatch

BROKEN = SEVERITY_COST["warn"]
NOT_LIKED = SEVERITY_COST["note"]
FAR_OUTSIDE = 10.0
"""LRV points outside a range that double its cost."""

ACHROMATIC = {"white": "white", "gray": "grey", "black": "black"}
LEANS = {
    "pinkish": "pink", "reddish": "red", "brownish": "brown", "yellowish": "yellow",
    "olive": "olive", "greenish": "green", "bluish": "blue", "purplish": "purple",
}  # fmt: skip
MODIFIERS = frozenset({
    "very", "light", "dark", "deep", "pale", "grayish", "blackish", "moderate", "strong", "vivid",
    "brilliant", "medium",
})  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class NamedColours:
    """n colours as wishes see them."""

    names: tuple[str, ...]
    """What each is called in the ISCC-NBS system."""
    strengths: Indices
    """By its modifiers, 0 neutral to 4 vivid: (n,)."""
    lrv: Floats
    """(n,)."""


def named_colours(swatches: Sequence[Swatch]) -> NamedColours:
    return NamedColours(
        tuple(swatch.colour.undertone.name for swatch in swatches),
        np.array([swatch.colour.strength for swatch in swatches], dtype=np.intp),
        np.array([swatch.lrv for swatch in swatches], dtype=np.float64),
    )


def wish_costs(colours: NamedColours, wishes: Wishes) -> Mapping[str, Floats]:
    """By wish, what each colour costs that breaks it: (n,)."""
    costs: dict[str, Floats] = {}
    if wishes.strength is not None:
        beyond = colours.strengths - STRENGTHS.index(wishes.strength)
        costs["strength"] = BROKEN * np.maximum(beyond, 0.0)
    if wishes.avoid:
        costs["avoid"] = np.where(_named(colours, wishes.avoid), BROKEN, 0.0)
    if wishes.like:
        costs["like"] = np.where(_named(colours, wishes.like), 0.0, NOT_LIKED)
    if wishes.lrv is not None:
        costs["lrv"] = outside_costs(colours.lrv, *wishes.lrv)
    return costs


def _named(colours: NamedColours, hues: frozenset[str]) -> Truths:
    """Whether each colour's name answers to one of the hues: (n,)."""
    return np.array([bool(hues_of(name) & hues) for name in colours.names], dtype=np.bool_)


def outside_costs(figures: Floats, low: float, high: float) -> Floats:
    """BROKEN for each figure outside the range, and up to MOST_EXCESS times more far outside."""
    outside = np.maximum(low - figures, figures - high)
    return np.where(outside > 0, BROKEN * (1 + np.minimum(outside / FAR_OUTSIDE, MOST_EXCESS)), 0.0)


def broken_wishes(colours: NamedColours, row: int, wishes: Wishes) -> frozenset[str]:
    """The names of the wishes that one colour breaks."""
    return frozenset(wish for wish, cost in wish_costs(colours, wishes).items() if cost[row])


def broken_words(colours: NamedColours, row: int, wishes: Wishes) -> Iterator[str]:
    """Each wish that one colour breaks, in words."""
    broken, name = broken_wishes(colours, row, wishes), british(colours.names[row])
    if "strength" in broken:
        yield f"stronger than {wishes.strength}: {STRENGTHS[colours.strengths[row]]} ({name})"
    if "avoid" in broken:
        yield f"a hue to avoid: {name}"
    if "like" in broken:
        yield f"none of the hues liked: {name}"
    if "lrv" in broken and wishes.lrv is not None:
        low, high = wishes.lrv
        yield f"LRV {colours.lrv[row]:.0f}, outside {low:g} to {high:g}"


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
