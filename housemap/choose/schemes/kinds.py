"""Three kinds of scheme around a neutral, and what colour each part aims for.

Tonal: one hue, within 20 degrees of ASTM D1535 hue angle, in steps of depth and strength, whites
and blacks too. Neighbouring: accents within 90 degrees, preferably greens, blues and yellows.
Counter: one greyed accent opposite, 150 to 210 degrees away, beside tones of the neutral's own hue.
It is deep: as light as the walls, two opposite greys fight. In a set a hue that is not of the kind
costs as a broken wish does, and is named. Strengths are ASTM D1535 chromas that follow the
neutral's: what breaks a scheme is strength, more often than hue. Common practice, no source; the
figures are our assumption.
"""

from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple, get_args

import numpy as np

from housemap.checks.wishes import BROKEN
from housemap.choose.chips import Chips
from housemap.choose.schemes.shape import TIERS, Part, trim_costs
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.undertone import NEUTRAL_TO, PURPLE_TO, WARM_TO
from housemap.study import Swatch

Kind = Literal["tonal", "neighbouring", "counter"]
KINDS: tuple[Kind, ...] = get_args(Kind)

KIND_WORDS: Mapping[Kind, str] = {
    "tonal": "one hue in steps of depth and strength",
    "neighbouring": "accents of neighbouring hues",
    "counter": "accents of the opposite hue",
}
OTHER_HUES = "colours of several hues"

FULL_CIRCLE = 360.0
NO_HUE = 0.3
"""ASTM D1535 chroma below which the neutral has no hue to follow."""
WARM_GREY = 22.5
"""The hue number that a set around a grey without hue follows: a warm white's."""
HUE_COUNTS, HUE_SHOWS = 1.5, 0.5
"""Chroma from which a colour's hue counts in full, and that of light colours for large areas."""
PER_DEGREE, MOST_OFF_HUE = 0.1, 8.0
"""Cost of each degree outside the hues aimed for, and the most that all of them cost."""
PER_CHROMA, LARGE_AREA = 1.0, 3.0
"""Cost of each step of chroma off the strength aimed for, and so many times as much of backbone and
trim: they cover the most, and a light colour shows its strength."""
PER_POINT = 0.1
"""Cost of each LRV point off the depth aimed for."""
SELDOM = (76.0, 31.0)
"""Hue numbers from violet by pink and red to brown and khaki; they go where they are wished for."""
UNASKED = 1.0
"""Cost of such a colour beside a neutral of another hue."""
ALL_WARM_OR_COOL = 1.0
"""Cost of two first accents that are both warm, both green or both cool: a set wants a
counterpart."""

DEEP, MID, STEP = (8.0, 13.0), (22.0, 32.0), (15.0, 38.0)
"""LRV of accents: one for where there is light, or on purpose, one for anywhere, and one more step
of the neutral's own hue."""

Window = tuple[float, float]
"""Degrees of hue angle from the neutral's hue: from, to; to either side where that is asked for."""
OWN: Window = (0.0, 4.0)
FAMILY: Window = (0.0, 14.0)
AROUND: Window = (0.0, 30.0)
NEAR: Window = (30.0, 90.0)
OPPOSITE: Window = (150.0, 180.0)
ONE_HUE = 20.0
"""Degrees from the neutral's hue to which a colour is of the same hue."""
BOUNDS: Mapping[Window, tuple[Window, str]] = {
    NEAR: ((ONE_HUE, NEAR[1]), "not a neighbouring hue"),
    OPPOSITE: (OPPOSITE, "not the opposite hue"),
}
"""By the hues aimed for, those that the kind of a set still allows, and what is wrong with others;
elsewhere the neutral's own hue is asked for."""


class Aim(NamedTuple):
    """What one colour of a scheme is to be like."""

    part: Part
    hues: Window
    lrv: tuple[float, float]
    chroma: float
    """ASTM D1535."""

    def costs(self, chips: Chips, neutral: Swatch) -> Floats:
        """Of colours (n,): by its part of the scheme, and by how far off the aim it is."""
        costs = self.off(chips, neutral) + BROKEN * self.off_kind(chips, neutral)
        if self.part == "trim":
            return costs + trim_costs(chips.lrv, chips.colours.chroma)
        return costs + TIERS[self.part].costs(chips.lrv)

    def off_kind(self, chips: Chips, neutral: Swatch) -> Truths:
        """Of colours (n,): whether the hue is one that the kind of the set does not allow.

        One without a hue goes with all, but is no accent of another hue.
        """
        (low, high), _ = self._bounds
        turned = np.abs(hues_from(chips, neutral))
        hued = chips.colours.chroma >= NO_HUE
        return np.where(hued, (turned < low) | (turned > high), low > 0.0)

    def off_kind_text(self, swatch: Swatch, neutral: Swatch) -> str:
        """What is wrong with the hue of a colour in a set of this kind; empty where it fits."""
        return self._bounds[1] if self.off_kind(Chips((swatch,)), neutral)[0] else ""

    @property
    def _bounds(self) -> tuple[Window, str]:
        return BOUNDS.get(self.hues, ((0.0, max(ONE_HUE, self.hues[1])), "not the neutral's hue"))

    def off(self, chips: Chips, neutral: Swatch) -> Floats:
        """How far off the aim colours are: (n,)."""
        hue, lrv, chroma = chips.colours.hue, chips.lrv, chips.colours.chroma
        depth = np.maximum(np.maximum(self.lrv[0] - lrv, lrv - self.lrv[1]), 0.0)
        turned = np.abs(hues_from(chips, neutral))
        off = np.maximum(np.maximum(self.hues[0] - turned, turned - self.hues[1]), 0.0)
        largest = self.part in {"backbone", "trim"}
        weight = np.minimum(chroma / (HUE_SHOWS if largest else HUE_COUNTS), 1.0)
        per_chroma = PER_CHROMA * (LARGE_AREA if largest else 1.0)
        costs = PER_POINT * depth + per_chroma * np.abs(chroma - self.chroma)
        costs += weight * np.minimum(PER_DEGREE * off, MOST_OFF_HUE)
        seldom = ((hue >= SELDOM[0]) | (hue < SELDOM[1])) & (chroma >= NO_HUE)
        costs += UNASKED * (seldom & (turned > FAMILY[1]))
        return costs


def hue_of(neutral: Swatch) -> float:
    """The hue number that a set follows."""
    notation = neutral.colour.notation
    return notation.hue100 if notation.chroma >= NO_HUE else WARM_GREY


def hues_from(chips: Chips, neutral: Swatch) -> Floats:
    """ASTM D1535 hue angle from the neutral's, -180 to 180 degrees: (n,)."""
    turned = (chips.colours.hue - hue_of(neutral)) * FULL_CIRCLE / 100.0
    return (turned + 180.0) % FULL_CIRCLE - 180.0


def hue_words(walls: Chips, neutral: Swatch) -> str:
    """What colours on walls are beside the neutral, by their hues: as a kind is said, or neither.

    Beside an opposite hue tones are still of the neutral's up to 30 degrees away.
    """
    hued = walls.colours.chroma >= NO_HUE
    turned = np.abs(hues_from(walls, neutral))[hued]
    if (turned <= ONE_HUE).all():
        return KIND_WORDS["tonal"]
    if (turned <= NEAR[1]).all():
        return KIND_WORDS["neighbouring"]
    counter = (turned <= AROUND[1]) | (turned >= OPPOSITE[0])
    return KIND_WORDS["counter"] if counter.all() else OTHER_HUES


def temperatures(chips: Chips) -> Indices:
    """Warm 0, green 1, cool 2: (n,). Bounds as for undertones, without their neutral purples."""
    hue = chips.colours.hue
    cool = (hue >= NEUTRAL_TO) & (hue < PURPLE_TO)
    return np.where(cool, 2, np.where((hue >= WARM_TO) & (hue < NEUTRAL_TO), 1, 0))


def aims_of(kind: Kind, neutral: Swatch, colours: int) -> tuple[Aim, ...]:
    """The colours of a set beside the neutral: `colours` wall colours with it, trim and dark.

    A neutral as light as a backbone is the backbone, and one for rooms that close is their tone:
    no third one fits between it and the backbone. Accents come before further tones.
    """
    quiet = neutral.colour.notation.chroma
    walls = [] if is_backbone(neutral) else [_backbone(quiet)]
    tone, another = _rooms(kind, quiet)
    order = (*_accents(kind, quiet), another)
    walls += (order if is_room(neutral) else (tone, *order))[: max(colours - 1 - len(walls), 0)]
    return (*walls, trim_aim(neutral), _dark(quiet))


def house_aims(kind: Kind, neutral: Swatch) -> tuple[Aim, ...]:
    """The aims of a whole house: its backbone has one though the neutral may be it."""
    others = aims_of(kind, neutral, MOST_COLOURS)
    own = _backbone(neutral.colour.notation.chroma)
    return (own, *(aim for aim in others if aim.part != "backbone"))


MOST_COLOURS = 9
"""Wall colours that have all aims of a kind among them."""
BACKBONE_FROM = 60.0
"""LRV from which a neutral links the house itself: a lighter one would hardly differ."""


def is_backbone(neutral: Swatch) -> bool:
    return neutral.lrv >= BACKBONE_FROM


def is_room(neutral: Swatch) -> bool:
    low, high = TIERS["room"].fine
    return low <= neutral.lrv <= high


def between(low: float, value: float, high: float) -> float:
    return min(max(value, low), high)


def _backbone(quiet: float) -> Aim:
    return Aim("backbone", OWN, (64.0, 70.0), between(0.3, 0.7 * quiet, 1.1))


def _rooms(kind: Kind, quiet: float) -> tuple[Aim, Aim]:
    """Main walls keep to one hue: a tone of the neutral's, then a fuller or a neighbouring one."""
    calm = between(0.6, quiet, 1.8)
    own = Aim("room", FAMILY, (41.0, 50.0), calm + 0.2)
    if kind == "tonal":
        return own, Aim("room", FAMILY, (41.0, 54.0), calm + 1.0)
    return own, Aim("room", AROUND, (41.0, 54.0), min(calm, 1.0))


def _accents(kind: Kind, quiet: float) -> Sequence[Aim]:
    lively = between(1.7, quiet + 1.0, 2.3)
    calm = between(0.8, quiet + 0.4, 1.8)
    own, step = Aim("accent", FAMILY, MID, calm), Aim("accent", FAMILY, STEP, calm)
    if kind == "neighbouring":
        return Aim("accent", NEAR, DEEP, lively + 0.3), Aim("accent", NEAR, MID, lively), own
    if kind == "counter":
        return Aim("accent", OPPOSITE, DEEP, lively), own, step
    deep = Aim("accent", FAMILY, DEEP, lively + 0.3)
    return own._replace(chroma=lively), deep, step


def trim_aim(neutral: Swatch) -> Aim:
    """It leans as the neutral does, and is read as a white: no pink, peach or cream."""
    quiet = neutral.colour.notation.chroma
    return Aim("trim", OWN, (84.0, 88.0), between(0.2, 0.3 * quiet, 0.5))


def _dark(quiet: float) -> Aim:
    return Aim("dark", FAMILY, (3.0, 4.5), between(0.3, 0.5 * quiet, 1.0))
