"""What the client asked for, and what a colour costs that does not keep to it.

A broken wish costs as much as a warning (`BROKEN`): each step of strength beyond the strongest
allowed, a hue to avoid, none of the hues liked in that very room (a bluish grey is no blue), and an
LRV outside the range, there up to three times as much the further it lies outside. A colour whose
hue is not among those liked in the house costs a note (`NOT_LIKED`); a grey or white that leans to
a hue to avoid costs a note, even by a trace where it is still called neutral, and so does any
colour of less than LEAST_HUE chroma: a yellowish grey is no yellow. Our assumption throughout.
Strengths and hues are those of the ISCC-NBS system (NBS SP 440).
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache

import numpy as np

from housemap.checks.finding import MOST_EXCESS, SEVERITY_COST
from housemap.colorimetry import undertone
from housemap.colorimetry.arrays import Floats, Truths
from housemap.colorimetry.undertone import (
    ACHROMATIC_NOUNS,
    DARK_LRV,
    FAMILY_OF_WORD,
    NEUTRALS,
    british,
)
from housemap.model.house import STRENGTHS
from housemap.model.wishes import Wishes
from housemap.study.colours import Colours

BROKEN = SEVERITY_COST["warn"]
NOT_LIKED = SEVERITY_COST["note"]
FAR_OUTSIDE = 10.0
"""LRV points outside a range that double its cost."""

LEAST_HUE = 2.0
"""ASTM D1535 chroma below which a colour only leans to its hue, whatever the block that it lies in
is called (our assumption)."""

TRACE, BEYOND = 0.4, 0.5
"""ASTM D1535 chroma from which on a white is seen to lean beside one of none, and how much more
takes it out of the neutral block (our assumption)."""
FULLER = 3.0
"""ASTM D1535 chroma that gives a greyish colour the full name of its hue (our assumption)."""

MODIFIERS = frozenset({
    "very", "light", "dark", "deep", "pale", "grayish", "blackish", "moderate", "strong", "vivid",
    "brilliant", "medium",
})  # fmt: skip


def wish_costs(colours: Colours, wishes: Wishes) -> Mapping[str, Floats]:
    """By wish, what each colour costs that breaks it: (n,)."""
    costs: dict[str, Floats] = {}
    if wishes.strength is not None:
        beyond = colours.strengths - STRENGTHS.index(wishes.strength)
        costs["strength"] = BROKEN * np.maximum(beyond, 0.0)
    if wishes.avoid:
        costs["avoid"] = np.where(has_hue(colours, wishes.avoid), BROKEN, 0.0)
    if wishes.lean:
        hardly = _named(colours, wishes.lean, hues_of) & ~has_hue(colours, wishes.lean)
        leans = _named(colours, wishes.lean, leans_of) | hardly
        costs["lean"] = np.where(leans | _traces(colours, wishes.lean), NOT_LIKED, 0.0)
    if wishes.like:
        costs["like"] = np.where(
            liked(colours, wishes), 0.0, BROKEN if wishes.like_here else NOT_LIKED
        )
    if wishes.lrv is not None:
        costs["lrv"] = outside_costs(colours.lrv, *wishes.lrv)
    return costs


def wish_cost(colours: Colours, wishes: Wishes) -> Floats:
    """What each colour costs in all that it breaks: (n,)."""
    return np.asarray(sum(wish_costs(colours, wishes).values(), np.zeros(len(colours))))


def liked(colours: Colours, wishes: Wishes) -> Truths:
    """Whether each colour has one of the hues liked: (n,).

    A grey that leans to one has it too, but where hues were named for the room and it may have
    colour: there a bluish grey is no blue.
    """
    found = _named(colours, wishes.like, hues_of)
    if wishes.like_here and wishes.strength != "neutral":
        return found
    return found | _named(colours, wishes.like, leans_of)


def between_hues(colours: Colours, hues: frozenset[str]) -> Truths:
    """Whether each colour is called by one of the hues and yet lies between it and another: (n,).

    That shows where it is a strong one: a dark greyish blue of 10BG is a teal.
    """
    full = [bool(main_hues(name) & hues) for name in _names_if_stronger(colours, FULLER)]
    coloured = hues - {*map(british, ACHROMATIC_NOUNS)}
    return _named(colours, coloured, hues_of) & ~np.array(full, dtype=np.bool_)


def has_hue(colours: Colours, hues: frozenset[str]) -> Truths:
    """Whether each colour is of one of the hues and not a grey that leans to it: (n,).

    A brownish pink of chroma 1.5 is a greige, and no client's pink; a dark brown of as little is
    brown.
    """
    greys = hues & {*map(british, ACHROMATIC_NOUNS)}
    coloured = (colours.chroma >= LEAST_HUE) | (colours.lrv < DARK_LRV)
    return _named(colours, greys, hues_of) | (_named(colours, hues - greys, hues_of) & coloured)


def _named(
    colours: Colours, hues: frozenset[str], hues_in: Callable[[str], frozenset[str]]
) -> Truths:
    """Whether one of the hues is in each colour's name: (n,)."""
    names = colours.names.tolist()
    named = {name for name in set(names) if hues_in(name) & hues}
    return np.array([name in named for name in names], dtype=np.bool_)


def _traces(colours: Colours, hues: frozenset[str]) -> Truths:
    """Whether one that is called neutral would lean to one of the hues if a little stronger: (n,).

    5BG 8.5/0.5 is called white, and is green beside a white of no chroma.
    """
    found = np.isin(colours.names, [*NEUTRALS]) & (colours.chroma >= TRACE)
    stronger = _names_if_stronger(colours, BEYOND, found)
    found[found] = [bool(leans_of(name) & hues) for name in stronger]
    return np.asarray(found)


def _names_if_stronger(
    colours: Colours, by: float, rows: Truths | slice = slice(None)
) -> Sequence[str]:
    """The ISCC-NBS names of some of the colours with so much more chroma (ASTM D1535)."""
    value = colours.lab100[:, 0] / 10.0
    hvc = np.stack([colours.hue, value, colours.chroma + by], axis=-1)
    return undertone.names(hvc[rows])


def outside_costs(figures: Floats, low: float, high: float) -> Floats:
    """BROKEN for each figure outside the range, and up to MOST_EXCESS times more far outside."""
    outside = np.maximum(low - figures, figures - high)
    return np.where(outside > 0, BROKEN * (1 + np.minimum(outside / FAR_OUTSIDE, MOST_EXCESS)), 0.0)


def broken_text(colours: Colours, row: int, wishes: Wishes, asks: str = "asked for:") -> str:
    """What is there and what was asked for, as in "vivid; asked for: greyish at most"; or ""."""
    both = [*_broken(colours, row, wishes)]
    there, asked = (", ".join(each) for each in zip(*both, strict=True)) if both else ("", "")
    return f"{there}; {asks} {asked}" if both else ""


def _broken(colours: Colours, row: int, wishes: Wishes) -> Iterator[tuple[str, str]]:
    """Of each wish that one colour breaks: what is there, and what was asked for."""
    broken = {wish for wish, cost in wish_costs(colours, wishes).items() if cost[row]}
    name = british(str(colours.names[row]))
    if "strength" in broken:
        yield STRENGTHS[colours.strengths[row]], f"{wishes.strength} at most"
    if "avoid" in broken:
        yield name, f"no {' or '.join(sorted(wishes.avoid))}"
    if "like" in broken:
        yield name, " or ".join(sorted(wishes.like))
    if "lrv" in broken and wishes.lrv is not None:
        yield f"LRV {colours.lrv[row]:.0f}", "LRV {:g} to {:g}".format(*wishes.lrv)


@cache
def hues_of(name: str) -> frozenset[str]:
    """The hue names that an ISCC-NBS colour name answers to."""
    last = name.rpartition(" ")[-1]
    return main_hues(name) | {british(last) if last in ACHROMATIC_NOUNS else last}


@cache
def main_hues(name: str) -> frozenset[str]:
    """The hue of an ISCC-NBS colour name in full: a greenish blue is no blue; none for a grey."""
    words = [word for word in name.split() if word not in MODIFIERS]
    if words[-1] in ACHROMATIC_NOUNS:
        return frozenset()
    full = " ".join(words)
    between = {"blue green"} if full in {"bluish green", "greenish blue"} else set[str]()
    return frozenset({full, *between})


@cache
def leans_of(name: str) -> frozenset[str]:
    """The hues that a grey, a white or a black leans to."""
    *words, last = name.split()
    return frozenset(FAMILY_OF_WORD.get(w, "") for w in words if last in ACHROMATIC_NOUNS) - {""}
