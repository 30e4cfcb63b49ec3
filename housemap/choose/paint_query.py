"""One search language for the paints of a house, of the chooser and of decks.

- words, all of which must be found in name, code, notation or undertone; a word for a hue finds
  the colours of that hue too: "pinkish" a pink, "pink" a pinkish grey;
- limits: lrv>60, lrv 55-70 or 55 to 70, value 6-8, chroma<2; reversed ones are mended;
- hues: 5y, or 10yr-5y round the circle; "5y 7/" is that hue at that value;
- a colour, which asks for the nearest ones: #d9d0bf, 5Y 7/1, L 62 a 1 b 8 D50/2;
- ways from that colour, or else from the paint that is there now: warmer, lighter, greyer.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from math import cos, hypot, inf, radians, sin
from typing import Protocol

import numpy as np

from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import colour_facts
from housemap.colorimetry.munsell import LEAST_CHROMA
from housemap.colorimetry.undertone import (
    ACHROMATIC_NOUNS,
    FAMILIES,
    FAMILY_OF_WORD,
    british,
    words_of_names,
)
from housemap.deck.typed import kind_named, parse_reading
from housemap.errors import ColourError, InputError
from housemap.model.house import Triple
from housemap.model.notation import HUES, TOP, decimal, hue_number
from housemap.model.text import TO, counted, shown

HALVES = {"lrv": 0.5, "value": 0.25, "chroma": 0.5}
"""How far a single number reaches to either side: a whole LRV is all that round to it."""
NEAR_HUE, NEAR_VALUE = 1.25, 0.5
"""How far a colour may be from a hue and value that were typed; hues stand 2.5 apart."""
ROUNDING = 1e-3
"""Figures that were computed may lie so little outside of a range."""
HUES_ROUND = 100.0
NEAR = 5.0
"""CIEDE2000 is meant for differences up to here (ASTM D2244)."""
FEWEST_NEAR = 24
"""So many are shown however far they are."""
CLEAR_CHROMA = 2.0
"""ASTM D1535 chroma from which on a colour plainly has its hue (our assumption)."""
WARM_DEG = 65.0
"""CIELAB hue angle of orange yellow: what lies that way is warmer (our assumption)."""
WAYS = {"lighter": (0, 1), "darker": (0, -1), "warmer": (1, 1), "cooler": (1, -1),
        "stronger": (2, 1), "grayer": (2, -1)}  # fmt: skip
"""Which of the `steps` goes which way."""
HOW_MUCH = frozenset({"slightly", "a", "little", "bit", "somewhat"})
"""Before a way: only what is at most SLIGHT from that colour."""
SLIGHT = 10.0
"""CIEDE2000 (our assumption)."""
STEP, GOOD_STEP = 1.5, 5.0
"""CIELAB units of a step that is worth a word, and of one that is plain to see: what comes near to
the latter is listed first (our assumptions)."""
BESIDE = {"lrv": 5.0, "value": 0.5, "chroma": 1.0}
"""So far outside of a limit is just outside of it (our assumption)."""
MOST_WORDS = 5000
"""Different words among which a misspelt one is looked for."""

Range = tuple[float, float]
"""Lowest and highest, both within."""

SEPARATORS = re.compile(r",(?!\d)|(?<!\d),|;|(?<=[a-z])-(?=[a-z])")
"""Commas, but those of decimals; hyphens between words, as in "green-grey"."""

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_RANGE = (
    rf"\s*[:=]?\s*(?:(?P<sign>[<>]=?|≤|≥)\s*{_NUMBER}|{_NUMBER}(?:(?:{TO}|\s+){_NUMBER}?)?)"
    r"(?![\w.,-])"
)
_NAME = rf"\b(?P<name>{'|'.join(HALVES)})"
_UNFINISHED = r"\s*[:=]?\s*[<>]?=?\s*$"
_HEX = re.compile(r"(?<!\w)#(?:[0-9a-f]{3}|[0-9a-f]{6})(?!\w)", re.IGNORECASE)
_HUE = rf"(\d+(?:[.,]\d+)?)\s?({'|'.join(sorted(HUES, key=len, reverse=True)).lower()})"
_HUES = re.compile(rf"(?<![\w.,/-]){_HUE}(?:{TO}{_HUE})?(?![\w.,])")
_HUE_AND_VALUE = re.compile(rf"(?<![\w.,/-]){_HUE}\s+{_NUMBER}\s*/(?!\s*\d)")
_NOTATION = re.compile(
    rf"(?<![\w.,/-])(?:{_HUE}\s+{_NUMBER}\s*/\s*{_NUMBER}|n\s*{_NUMBER}\s*/)(?![\w.,])"
)


class Paints(Protocol):
    """Paints that can be searched, a row each; figures that are not known are NaN.

    Words are as `search_words` makes them; `hvc` is ASTM D1535 hue number 0..100, value and chroma,
    `lab100` CIELAB under D65 for the 10 degree observer, (n, 3) both; families are undertones.
    """

    @property
    def words(self) -> Sequence[str]: ...
    @property
    def lrv(self) -> Floats: ...
    @property
    def hvc(self) -> Floats: ...
    @property
    def lab100(self) -> Floats: ...
    @property
    def families(self) -> Sequence[str]: ...


@dataclass(frozen=True, slots=True)
class PaintQuery:
    """What a search asks for; empty parts ask for nothing."""

    words: tuple[str, ...] = ()
    ranges: Mapping[str, Range] = field(default_factory=dict)
    """By "lrv", "value" and "chroma"."""
    hues: Range | None = None
    """From, to: round the hue circle, so that from may be the larger one."""
    near: Triple | None = None
    """CIELAB of a colour that others are to be near to."""
    ways: tuple[str, ...] = ()
    """Of WAYS, from that colour."""
    slightly: bool = False
    """Whether only a little of them."""

    def rows(self, paints: Paints) -> Indices:
        """The rows that fit: nearest first, else those that plainly have a hue that is named."""
        rows = np.flatnonzero(self.fits(paints))
        if self.near is not None:
            return near_rows(paints.lab100, a_step(self.near, self.ways), rows)
        return rows[np.argsort(self.remoteness(paints)[rows], kind="stable")]

    def remoteness(self, paints: Paints) -> Indices:
        """0 for paints that plainly have the hue that a word names, 1 for a tinge of it: (n)."""
        named = [word for word in self.words if word in FAMILIES]
        if not named:
            return np.zeros(len(paints.words), dtype=np.intp)
        count = len(paints.words)
        has_hue = np.fromiter((f in named for f in paints.families), np.bool_, count)
        plain = has_hue & (paints.hvc[:, 2] >= CLEAR_CHROMA)
        ends = [
            f"{noun}\n{hue}" for noun in ACHROMATIC_NOUNS if noun in self.words for hue in named
        ]
        if ends:  # "green grey" is a greenish grey
            plain = np.fromiter(
                (any(e in text for e in ends) for text in paints.words), bool, count
            )
        return np.where(plain, 0, np.where(has_hue, 1, 2)).astype(np.intp)

    def fits(self, paints: Paints) -> Truths:
        """Which paints are as asked for, however far from a colour: (n)."""
        count = len(paints.words)
        fits = np.ones(count, dtype=np.bool_)
        for name, (low, high) in self.ranges.items():
            figures = _figures(name, paints)
            fits &= (figures >= low - ROUNDING) & (figures <= high + ROUNDING)
        if self.hues is not None:
            fits &= within_hues(paints.hvc, self.hues)
        if self.near is not None:
            fits &= ~np.isnan(paints.lab100[:, 0])
            far = steps(self.near, paints.lab100)
            for axis, sign in (WAYS[way] for way in self.ways):
                fits &= sign * far[:, axis] >= STEP
            if self.slightly:
                fits &= ciede2000(paints.lab100, np.array(self.near)) <= SLIGHT
        for word in self.words:
            fits &= _found(word, paints)
        return fits

    def why_none(self, paints: Paints) -> str:
        """What to say of a word that is found in no paint, else of limits that none lies within."""
        for word in self.words:
            if paints.words and not _found(word, paints).any():
                if word in words_of_names():
                    return f"No paint here is {word}."
                near = _nearest_word(word, paints.words)
                guess = f"; did you mean {near}?" if near else ""
                return f"{shown(word)} is neither a name, a hue nor a limit{guess}"
        return "" if self.fits(paints).any() else self._just_outside(paints)

    def _just_outside(self, paints: Paints) -> str:
        """As in "None fits; just outside: 2 paints, LRV 79 to 88"."""
        wide = {n: (low - BESIDE[n], high + BESIDE[n]) for n, (low, high) in self.ranges.items()}
        outside = replace(self, ranges=wide).fits(paints)
        count = int(outside.sum())
        if not wide or not count:
            return ""
        name = next(iter(wide))
        figures, places = _figures(name, paints)[outside], 0 if name == "lrv" else 1
        ends = dict.fromkeys(f"{each:.{places}f}" for each in (figures.min(), figures.max()))
        said = f"{'LRV' if name == 'lrv' else name} {' to '.join(ends)}"
        return f"None fits; just outside: {counted(count, 'paint')}, {said}"


def _figures(name: str, paints: Paints) -> Floats:
    return paints.lrv if name == "lrv" else paints.hvc[:, 1 if name == "value" else 2]


def steps(start: Triple, lab100: Floats) -> Floats:
    """How much lighter, warmer and stronger CIELAB colours (..., 3) are than one: (..., 3)."""
    (light, a, b), warm = start, radians(WARM_DEG)
    redder, yellower = lab100[..., 1] - a, lab100[..., 2] - b
    warmer = redder * cos(warm) + yellower * sin(warm)
    aside = yellower * cos(warm) - redder * sin(warm)
    warmer = np.where(np.abs(aside) <= np.abs(warmer), warmer, 0.0)  # else pinker or greener
    stronger = np.hypot(lab100[..., 1], lab100[..., 2]) - hypot(a, b)
    return np.stack([lab100[..., 0] - light, warmer, stronger], axis=-1)


def a_step(start: Triple, ways: Sequence[str]) -> Triple:
    """The CIELAB colour that lies a plain step from one in some of the WAYS."""
    far = np.zeros(3)
    for axis, sign in (WAYS[way] for way in ways):
        far[axis] = sign * GOOD_STEP
    (light, a, b), (lighter, warmer, stronger) = start, far.tolist()
    more = max(1.0 + stronger / hypot(a, b), 0.0) if hypot(a, b) else 1.0
    warm = radians(WARM_DEG)
    return light + lighter, a * more + warmer * cos(warm), b * more + warmer * sin(warm)


def step_words(start: Triple, other: Triple) -> str:
    """As in "lighter, warmer": what a colour is beside another one."""
    far = steps(start, np.array(other))
    words = [british(way) for way, (axis, sign) in WAYS.items() if sign * far[axis] >= STEP]
    return ", ".join(words) or "much the same"


def _found(word: str, paints: Paints) -> Truths:
    """Which paints have a word in their texts, or the hue that it names: (n)."""
    hue = FAMILY_OF_WORD.get(word, word)
    known = hue in FAMILIES
    pairs = zip(paints.words, paints.families, strict=True)
    found = (word in text or (known and hue in family) for text, family in pairs)
    return np.fromiter(found, np.bool_, len(paints.words))


def search_words(*parts: str) -> str:
    """Text in the form in which words are compared, made once for each paint."""
    return "\n".join(parts).casefold().replace("grey", "gray")


def _nearest_word(word: str, texts: Sequence[str]) -> str | None:
    known = {each for text in texts for each in text.split()}
    if len(known) > MOST_WORDS:
        known = {*FAMILIES, *HALVES}
    return next(iter(get_close_matches(word, known, 1, 0.75)), None)


def parse_paint_query(text: str, now: Triple | None = None) -> PaintQuery:
    """What a typed search asks for; `now` is the CIELAB of the paint that is there now.

    What is still being typed asks for nothing yet. Raises InputError, in one line, where the text
    cannot be read.
    """
    if len(kind_named(text)) == len("lab"):
        return PaintQuery(near=_lab100(text))
    rest = SEPARATORS.sub(" ", search_words(text))
    rest, colour = _cut(_HEX if _HEX.search(rest) else _NOTATION, rest)
    near = _lab100(colour[0]) if colour else None
    hues: Range | None = None
    ranges: dict[str, Range] = {}
    rest, about = _cut(_HUE_AND_VALUE, rest)
    if about:
        hues, value = _about(_hue(about, 1)), decimal(about[3])
        ranges["value"] = value - NEAR_VALUE, value + NEAR_VALUE
    rest, between = _cut(_HUES, rest)
    if between:
        first = _hue(between, 1)
        hues = (first, _hue(between, 3)) if between[3] else _about(first)
    rest, limits = take_ranges(rest)
    ranges |= limits
    if re.search(rf"[<>]|\b(?:{'|'.join(HALVES)})\b", rest):
        line = "limits are asked for as in lrv>60, lrv 55-70, value 6-8, chroma<2, 10yr-5y"
        raise InputError.of(line)
    ways = tuple(word for word in rest.split() if word in WAYS)
    near = near or (now if ways else None)
    if ways and near is None:
        way = british(ways[0])
        raise InputError.of(f"{way} than what? Type a colour too, as in 5Y 7/1 {way}")
    unsaid = {*WAYS, *HOW_MUCH} if ways else ()
    words = tuple(word for word in rest.split() if word not in unsaid)
    slightly = bool(ways) and not HOW_MUCH.isdisjoint(rest.split())
    return PaintQuery(words, ranges, hues, near, ways, slightly)


def _cut(pattern: re.Pattern[str], text: str) -> tuple[str, re.Match[str] | None]:
    """The text without what the pattern finds in it first, and that."""
    found = pattern.search(text)
    return (f"{text[: found.start()]} {text[found.end() :]}" if found else text), found


def _lab100(text: str) -> Triple:
    try:
        x, y, z = colour_facts([parse_reading(text).source])[0].lab100
    except ColourError as error:
        raise InputError.of(str(error)) from error
    return x, y, z


def _hue(found: re.Match[str], group: int) -> float:
    number = decimal(found[group])
    if number > TOP:
        raise InputError.of(f"hue {found[0].strip()}: its number must be 0 to {TOP:g}")
    return hue_number(found[group + 1].upper(), number)


def _about(hue100: float) -> Range:
    return (hue100 - NEAR_HUE) % HUES_ROUND, (hue100 + NEAR_HUE) % HUES_ROUND


def take_ranges(text: str) -> tuple[str, Mapping[str, Range]]:
    """The text without the limits that it asks for, and those, by name."""
    found: dict[str, Range] = {}
    while match := re.search(_NAME + _RANGE, text):
        low, high = found.get(match["name"], (-inf, inf))
        least, most = _range(match, HALVES[match["name"]])
        found[match["name"]] = max(low, least), min(high, most)
        text = f"{text[: match.start()]} {text[match.end() :]}"
    mended = {name: (min(limits), max(limits)) for name, limits in found.items()}
    return re.sub(_NAME + _UNFINISHED, " ", text), mended


def _range(match: re.Match[str], half: float) -> Range:
    bound, first, second = (match[group] and decimal(match[group]) for group in (3, 4, 5))
    if isinstance(bound, float):
        return (bound, inf) if match["sign"][0] in ">≥" else (-inf, bound)
    assert isinstance(first, float)
    if not isinstance(second, float):
        return first - half, first + half
    return min(first, second), max(first, second)


def within_hues(hvc: Floats, hues: Range) -> Truths:
    """Whether colours (n, 3) have a hue and it lies between two, going round the circle."""
    low, high = hues
    beyond_low = (hvc[:, 0] - low + ROUNDING) % HUES_ROUND
    inside = beyond_low <= (high - low) % HUES_ROUND + 2.0 * ROUNDING
    return np.asarray(inside & (hvc[:, 2] >= LEAST_CHROMA))


def near_rows(lab100: Floats, near: Triple, rows: Indices) -> Indices:
    """Those of the rows that are near a colour, nearest first."""
    apart = ciede2000(lab100[rows], np.array(near))
    order = np.argsort(apart, kind="stable")
    count = max(int((apart <= NEAR).sum()), FEWEST_NEAR)
    return rows[order[:count]]
