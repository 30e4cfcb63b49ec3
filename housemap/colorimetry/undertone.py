"""The lean of a colour that is nearly neutral, in the words of the ISCC-NBS system.

Names are those of the blocks of Kelly & Judd 1976 (NBS Special Publication 440, after Circular
553) over ASTM D1535 notation, so one yellow hue is yellowish when light and olive when darker. A
colour in a neutral block has no undertone. Temperature from the hue is our assumption.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from math import atan2, degrees, hypot
from typing import Literal, NamedTuple, get_args

import numpy as np

from housemap.colorimetry import tables
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.model.house import STRENGTHS
from housemap.model.notation import hue_name, spell

Family = Literal[
    "pink", "red", "brown", "yellow", "olive", "green", "blue-green", "blue", "purple", "none"
]
Temperature = Literal["warm", "cool", "neutral"]
FAMILIES: tuple[Family, ...] = get_args(Family)

NEAR_NEUTRAL_CHROMA = 3.0
"""ASTM D1535 chroma up to which a colour counts as nearly neutral; common practice."""
DARK_LRV = 20.0
"""Below it little chroma makes a hue: a navy of chroma 2 is a colour, no neutral with an undertone
(our assumption)."""
NEUTRALS = frozenset({"white", "light gray", "medium gray", "dark gray", "black"})
ACHROMATIC_NOUNS = ("white", "gray", "black")
BLOCKS = "iscc_nbs.csv"
ROUNDING = 1e-6
"""A chroma this little above a limit lies on it: notations come back with such an error."""
WARM_TO, NEUTRAL_TO, COOL_TO, PURPLE_TO = 34.0, 50.0, 85.0, 95.0
"""ASTM hue numbers: to 4GY warm, to 10G neutral, to 5P cool, to 5RP neutral, then warm again."""
FAMILY_OF_WORD: dict[str, Family] = {
    "pinkish": "pink", "pink": "pink", "reddish": "red", "red": "red", "brownish": "brown",
    "brown": "brown", "yellowish": "yellow", "yellow": "yellow",
    "olive": "olive", "greenish": "green", "green": "green", "bluish": "blue", "blue": "blue",
    "purplish": "purple", "purple": "purple", "violet": "purple",
}  # fmt: skip
FAMILY_OF_PHRASE: dict[str, Family] = {
    "bluish green": "blue-green", "greenish blue": "blue-green",
    "reddish orange": "red", "orange": "brown",
}  # fmt: skip
"""Where the last word does not say it; brown is dark orange, so orange counts with it."""


class Undertone(NamedTuple):
    """What a colour leans to. `chroma` is the CAM16-UCS M', `hue_deg` lies in its a'b' plane."""

    name: str
    family: Family
    hue_deg: float
    chroma: float
    temperature: Temperature

    @property
    def words(self) -> str:
        """The name as screens and papers show it."""
        return british(self.name)


def british(name: str) -> str:
    """An ISCC-NBS name in British spelling."""
    return name.replace("gray", "grey")


SLIGHT, PLAIN, GREAT = 2.0, 6.0, 12.0
"""CAM16-UCS units in a'b' from which a light's shift of a colour is worth a word (ours)."""
WAYS_DEG = (20.0, 110.0, 200.0, 290.0)
"""Of hue in a'b': up to each pinker, warmer, greener, cooler; then pinker again."""


def shift_words(reference_ucs: Sequence[float], seen_ucs: Sequence[float]) -> str:
    """How a light shifts a known colour: "a little warmer"; empty where it hardly does.

    Both in CAM16-UCS J'a'b'. A colour seen keeps its name, as an eye that has adapted keeps it:
    names of the ISCC-NBS system are for samples under daylight. The four ways are our assumption.
    """
    a, b = seen_ucs[1] - reference_ucs[1], seen_ucs[2] - reference_ucs[2]
    far, hue = hypot(a, b), degrees(atan2(b, a)) % 360.0
    if far < SLIGHT:
        return ""
    way = ("pinker", "warmer", "greener", "cooler", "pinker")[np.searchsorted(WAYS_DEG, hue)]
    return f"{'a little ' if far < PLAIN else 'much ' if far > GREAT else ''}{way}"


class _Blocks(NamedTuple):
    limits: Floats
    """Rows hue from, hue to, chroma above, chroma to, value from, value below."""
    names: tuple[str, ...]


@cache
def _blocks() -> _Blocks:
    rows = [line.split(",") for line in tables.lines(BLOCKS)[1:]]
    limits = np.array([[float(limit) for limit in row[:6]] for row in rows]).T
    return _Blocks(limits, tuple(row[6] for row in rows))


@cache
def words_of_names() -> frozenset[str]:
    """Every word that a name may have: "yellowish", "pale", "grey"."""
    return frozenset(word for name in _blocks().names for word in name.split())


def names(hvc: Floats) -> tuple[str, ...]:
    """ISCC-NBS names of hue number 0..100, value and chroma, shape (n, 3).

    Above chroma 3 most colours are called by their hue alone ("olive green"), without how strong
    they are. The first block that a colour lies in names it.
    """
    found = _within(hvc, _blocks().limits).argmax(1).tolist()
    return tuple(_blocks().names[i] for i in found)


PLAIN_NAMES: Mapping[str, str] = {"gray": "medium gray", "off-white": "yellowish white"}
"""Names in daily use (common practice, no source)."""
LIGHTEST, WIDEST = 9.5, 4.0
"""Where a block has no end: its value up to here, its chroma so far from where it begins."""


@cache
def _centres() -> Mapping[str, str]:
    """The notation in the middle of the largest block of each name."""
    found: dict[str, tuple[float, str]] = {}
    for limits, name in zip(_blocks().limits.T.tolist(), _blocks().names, strict=True):
        hue_from, hue_to, chroma_gt, chroma_le, value_ge, value_lt = limits
        hues, chroma = (hue_to - hue_from) % 100.0 or 100.0, max(chroma_gt, 0.0)
        wide = min(chroma_le, chroma + WIDEST) - chroma
        low, high = value_ge, min(value_lt, LIGHTEST)
        hvc = ((hue_from + hues / 2) % 100.0, (low + high) / 2, chroma + wide / 2)
        if name in NEUTRALS:
            hvc = (0.0, hvc[1], 0.0)
        size = hues * wide * (high - low)
        [middle] = names(np.array([hvc]))
        fits = middle == name or middle.endswith(f" {name}")  # green: a moderate green
        if fits and size > found.get(name, (0.0, ""))[0]:
            hue, value, chroma = (round(each, 1) for each in hvc)
            found[name] = size, spell(hue_name(hue), value, chroma)
    return {name: notation for name, (_, notation) in found.items()}


def notation_of(name: str) -> str | None:
    """The notation in the middle of what is called by an ISCC-NBS name; None where none is."""
    plain = " ".join(name.casefold().split()).replace("grey", "gray")
    return _centres().get(PLAIN_NAMES.get(plain, plain))


def leans(hvc: Floats) -> Truths:
    """Whether colours (n, 3) have an undertone at all: (n,). No other block overlaps a neutral."""
    neutral = [name in NEUTRALS for name in _blocks().names]
    return np.asarray(~_within(hvc, _blocks().limits[:, neutral]).any(1))


def _within(hvc: Floats, limits: Floats) -> Truths:
    """Whether each colour lies within each of some blocks: (n, blocks)."""
    # Upper chroma limits are inclusive: a rounding error must not lift 0.5 out of neutral.
    hue, value, chroma = hvc[:, 0, None], hvc[:, 1, None], hvc[:, 2, None] - ROUNDING
    hue_from, hue_to, chroma_gt, chroma_le, value_ge, value_lt = limits
    after, before = hue >= hue_from, hue < hue_to
    inside = np.where(hue_from > hue_to, after | before, after & before)
    inside &= (chroma > chroma_gt) & (chroma <= chroma_le)
    inside &= (value >= value_ge) & (value < value_lt)
    return np.asarray(inside)


def near_neutral(chroma: Floats, lrv: Floats, names: Sequence[str]) -> Truths:
    """Of little chroma, and no dark colour that is called by its hue: (n,)."""
    grey = np.array([name.endswith(ACHROMATIC_NOUNS) for name in names], dtype=np.bool_)
    return np.asarray((chroma <= NEAR_NEUTRAL_CHROMA + ROUNDING) & (grey | (lrv >= DARK_LRV)))


@cache
def family_of(name: str) -> Family:
    """The family of an ISCC-NBS name: what a grey leans to, else the hue itself."""
    if name in NEUTRALS:
        return "none"
    for phrase, family in FAMILY_OF_PHRASE.items():
        if name.endswith(phrase):
            return family
    words = name.split()
    return FAMILY_OF_WORD[words[-2] if words[-1] in ACHROMATIC_NOUNS else words[-1]]


def temperature_of(hue100: float, family: Family) -> Temperature:
    """Warm from 5RP by red and yellow to 4GY, cool from 10G by blue to 5P; our assumption."""
    if family == "none" or WARM_TO <= hue100 < NEUTRAL_TO or COOL_TO <= hue100 < PURPLE_TO:
        return "neutral"
    return "cool" if NEUTRAL_TO <= hue100 < COOL_TO else "warm"


def undertones(hvc: Floats, ucs: Floats) -> tuple[Undertone, ...]:
    """Undertones of colours by their notation and CAM16-UCS, both of shape (n, 3)."""
    hue_deg = np.degrees(np.arctan2(ucs[:, 2], ucs[:, 1])) % 360.0
    strength = np.sqrt((ucs[:, 1:] ** 2).sum(-1))
    found = names(hvc)
    families = [*map(family_of, found)]
    warmth = map(temperature_of, hvc[:, 0].tolist(), families)
    return tuple(map(Undertone, found, families, hue_deg.tolist(), strength.tolist(), warmth))


# How strong a colour is, by the modifiers of the ISCC-NBS system. They fall into five steps:
# neutral (white, grey and black, also "-ish"), greyish (very pale, pale, greyish, blackish),
# moderate (light, moderate, dark), strong (brilliant, strong, deep) and vivid. Beyond the neutral
# blocks the charts of Kelly & Judd 1976 are summed up by the chroma up to which each step goes, in
# twelve sectors of hue; near a border of two sectors a chart may differ by a step of chroma.

NEUTRAL, GREYISH, MODERATE, STRONG, VIVID = range(len(STRENGTHS))

Sector = tuple[float, float, float, float, float, float, float]
SECTORS: tuple[Sector, ...] = (
    # hue from, hue to, value from, value below, chroma up to: greyish, moderate, strong
    (99, 7, 5.5, 99, 3, 7, 11),  # pinks
    (99, 7, 3.5, 5.5, 7, 11, 13),  # reds
    (99, 7, 0, 3.5, 3, 7, 11),
    (7, 13, 6.5, 99, 3, 6, 10),  # yellowish pinks
    (7, 13, 0, 6.5, 3, 7, 12),  # reddish browns and oranges
    (13, 21, 5.5, 99, 3, 10, 14),  # oranges
    (13, 21, 0, 5.5, 2.5, 5, 14),  # browns
    (21, 32, 5.5, 99, 5, 8, 11),  # yellows
    (21, 32, 0, 5.5, 3, 8, 11),  # olives
    (32, 76, 0, 99, 3, 7, 11),  # yellow greens, greens, blues
    (76, 93, 0, 99, 5, 9, 13),  # violets and purples
    (93, 99, 0, 99, 3, 7, 11),  # purplish pinks and reds
)
GREYISH_WORDS = frozenset({"pale", "grayish", "blackish"})


def strengths(hvc: Floats, names: Iterable[str]) -> Indices:
    """Step of hue number 0..100, value and chroma (n, 3): 0 neutral to 4 vivid, (n,).

    `names` are what `names` says of them.
    """
    sectors = np.array(SECTORS)
    any_chroma = np.full(len(sectors), np.inf)
    limits = np.stack([*sectors.T[:2], -any_chroma, any_chroma, *sectors.T[2:4]])
    most = sectors[_within(hvc, limits).argmax(axis=1), 4:]
    by_chroma = GREYISH + (hvc[:, 2, None] - ROUNDING > most).sum(axis=1)
    by_name = np.array([_step_by_name(name) for name in names], dtype=np.intp)
    return np.where(by_name < 0, by_chroma, by_name)


@cache
def _step_by_name(name: str) -> int:
    """-1 where the name does not say it."""
    words = name.split()
    if words[-1] in ACHROMATIC_NOUNS:
        return NEUTRAL
    return GREYISH if GREYISH_WORDS & set(words) else -1
