"""Colours and outlines as text."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from housemap.deck.typed import parse_reading
from housemap.errors import InputError
from housemap.model.colour import ColourSource, Lab, Notation, Reflectance, Srgb, Xyz
from housemap.model.house import Point, Units
from housemap.model.measure import format_length
from housemap.model.polygon import edges, signed_area_m2
from housemap.model.text import shown
from housemap.tui.forms.entries import Length, plain_number, refusal
from housemap.tui.survey.words import SIDES

SPECTRUM = "spectrum"


@dataclass(frozen=True, slots=True)
class Colour:
    """A colour in any of the ways in which one is measured or named."""

    hint: str = "#d9d0bf, L 62 a 1.2 b 8.3 D50/2, XYZ 30 31 25, 5Y 7/1"

    def text(self, value: ColourSource) -> str:
        match value:
            case Srgb():
                return value.hex
            case Notation():
                return value.text
            case Lab():
                numbers = zip("Lab", map(plain_number, value.lab100), strict=True)
                return (
                    f"{' '.join(f'{name} {number}' for name, number in numbers)} {value.observed}"
                )
            case Xyz():
                return f"XYZ {' '.join(map(plain_number, value.xyz100))} {value.observed}"
            case Reflectance():
                end = value.start_nm + value.step_nm * (len(value.values) - 1)
                return f"{SPECTRUM} {value.start_nm:g} to {end:g} nm, {len(value.values)} values"

    def value(self, text: str) -> ColourSource:
        if text.strip().casefold().startswith(SPECTRUM):
            raise refusal("a spectrum is pasted as numbers: from 400 step 10: 0.31 0.33 ...")
        try:
            return parse_reading(text).source
        except InputError as error:
            raise refusal(str(error)) from error


def notes_on(text: str) -> tuple[str, ...]:
    """What was taken for granted in a colour that was typed."""
    try:
        return parse_reading(text).notes
    except InputError:
        return ()


_STEP = re.compile(r"(?:^|[\s,;]+)(north|east|south|west|[nesw])(?=[\s\d.])", re.IGNORECASE)
_TOWARDS = {"n": (0, 1), "e": (1, 0), "s": (0, -1), "w": (-1, 0)}
STRAIGHT_M = 1e-6
"""A wall that drifts less than this runs along an axis."""
CLOSES_M = 0.02
"""Walls taped one by one and rounded close no better (our assumption)."""


@dataclass(frozen=True, slots=True)
class Walk:
    """An outline as the walls that one walks along: e 4 n 3 w 2 n 2 w 2; or as its corners."""

    units: Units
    hint: str = "along the walls, e 4 n 3 w 2 n 2 w 2, or corners 0 0; 4 0; 4 3"

    def text(self, value: Sequence[Point]) -> str:
        steps = [_step_of(a, b) for a, b in edges(tuple(value))]
        if all(steps):
            pairs = (step for step in steps if step)
            return " ".join(f"{way} {format_length(long, self.units)}" for way, long in pairs)
        length = Length(self.units)
        return "; ".join(f"{length.text(x)}, {length.text(y)}" for x, y in value)

    def value(self, text: str) -> tuple[Point, ...]:
        found = self._walked(text) if _STEP.search(text) else self._corners(text)
        if len(found) < 3:  # noqa: PLR2004 - a triangle
            raise refusal(f"an outline has three corners or more: {self.hint}")
        if signed_area_m2(found) < 0:
            found = (found[0], *reversed(found[1:]))
        return found

    def _walked(self, text: str) -> tuple[Point, ...]:
        pieces = _STEP.split(text)
        if pieces[0].strip():
            raise refusal(f"{shown(pieces[0].strip())}: begin with a way to go, such as e 4")
        legs = []
        for way, long in zip(pieces[1::2], pieces[2::2], strict=True):
            metres = Length(self.units).value(long.strip(" ,;"))
            dx, dy = _TOWARDS[SIDES[way.casefold()]]
            legs.append((dx * metres, dy * metres))
        return self._closed(legs)

    def _closed(self, legs: list[Point]) -> tuple[Point, ...]:
        """The corners; a last leg that was left out is added, the rounding of a tape eased."""
        over = sum(x for x, _ in legs), sum(y for _, y in legs)
        if min(map(abs, over)) > CLOSES_M:
            raise refusal(f"the walk ends {self._apart(*over)} of where it began")
        for axis in (0, 1):
            along = [i for i, leg in enumerate(legs) if leg[axis]]
            if abs(over[axis]) <= CLOSES_M and along:
                x, y = legs[along[-1]]
                legs[along[-1]] = (x - over[0], y) if axis == 0 else (x, y - over[1])
        corners: list[Point] = [(0.0, 0.0)]
        for dx, dy in legs:
            x, y = corners[-1]
            corners.append((round(x + dx, 7) + 0.0, round(y + dy, 7) + 0.0))
        return tuple(corners[:-1] if corners[-1] == corners[0] else corners)

    def _apart(self, x: float, y: float) -> str:
        across = f"{format_length(abs(x), self.units)} {'east' if x > 0 else 'west'}"
        return f"{across} and {format_length(abs(y), self.units)} {'north' if y > 0 else 'south'}"

    def _corners(self, text: str) -> tuple[Point, ...]:
        corners = []
        for piece in filter(str.strip, text.split(";")):
            between = r",\s+" if ", " in piece else r"\s+"
            found = re.split(between, piece.strip())
            if len(found) != 2:  # noqa: PLR2004 - x and y
                raise refusal(f"{shown(piece.strip())}: a corner is two lengths, such as 4 0")
            x, y = (Length(self.units).value(each) for each in found)
            corners.append((x, y))
        return tuple(corners)


def _step_of(start: Point, end: Point) -> tuple[str, float] | None:
    """The way and length of a wall that runs along an axis."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dy) < STRAIGHT_M:
        return ("e" if dx > 0 else "w"), abs(dx)
    if abs(dx) < STRAIGHT_M:
        return ("n" if dy > 0 else "s"), abs(dy)
    return None
