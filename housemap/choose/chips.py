"""The paints of a deck with their colours, a row each; and how one is taken into a house.

Colours are made in blocks, so that nobody waits.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from housemap.choose.paint_query import search_words
from housemap.colorimetry import gamut, spaces
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.light.as_seen import eye_in
from housemap.light.surface_light import Lit, lit_as
from housemap.model.edits import change, free_id, put
from housemap.model.house import House, Paint
from housemap.study import Swatch
from housemap.study.colours import Colours, colours_of

BLOCK = 500
"""Paints whose colours are computed at a time: about a twentieth of a second."""


@dataclass(frozen=True, eq=False)
class Chips:
    """Paints that have a colour, in the order of their deck."""

    swatches: tuple[Swatch, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    """By paint id, why it is not here: no surface can have its colour."""
    known: Colours | None = None
    """`colours`, where they are known already."""

    def __len__(self) -> int:
        return len(self.swatches)

    @cached_property
    def rows(self) -> Mapping[str, int]:
        """The row of each paint id."""
        return {swatch.id: row for row, swatch in enumerate(self.swatches)}

    def taken(self, rows: Sequence[int]) -> "Chips":
        """Some of them, in this order."""
        return Chips(tuple(self.swatches[row] for row in rows))

    def swatch(self, paint: str) -> Swatch:
        """By paint id."""
        return self.swatches[self.rows[paint]]

    @cached_property
    def words(self) -> tuple[str, ...]:
        """What is searched of each."""
        return tuple(map(words_of, self.swatches))

    @cached_property
    def colours(self) -> Colours:
        """As checks compare them: (n)."""
        return self.known or colours_of(self.swatches)

    @property
    def lab100(self) -> Floats:
        """CIELAB under D65 for the 10 degree observer: (n, 3)."""
        return self.colours.lab100

    @cached_property
    def hvc(self) -> Floats:
        """ASTM D1535 hue number 0..100, value and chroma: (n, 3)."""
        notations = (swatch.colour.notation for swatch in self.swatches)
        return _rows([(one.hue100, one.value, one.chroma) for one in notations])

    @property
    def lrv(self) -> Floats:
        """The LRV that checks use: (n)."""
        return self.colours.lrv

    @property
    def reflectance(self) -> Floats:
        """Measured or recovered, 380(10)780 nm: (n, 41)."""
        return self.colours.reflectance

    @cached_property
    def printed_off(self) -> Floats:
        """How far the printed LRV is from the computed one; 0 where none is printed: (n)."""
        return np.array([abs((s.entity.lrv or s.colour.lrv) - s.colour.lrv) for s in self.swatches])

    @cached_property
    def in_srgb(self) -> Truths:
        """Whether a screen can show it: (n)."""
        return np.array([swatch.colour.in_srgb for swatch in self.swatches], dtype=np.bool_)

    @cached_property
    def name_ranks(self) -> Indices:
        """The place of each among all names: (n)."""
        ranks = np.empty(len(self), dtype=np.intp)
        ranks[np.argsort([swatch.name.casefold() for swatch in self.swatches])] = np.arange(
            len(self)
        )
        return ranks

    @cached_property
    def families(self) -> tuple[str, ...]:
        return tuple(swatch.colour.undertone.family for swatch in self.swatches)


def _rows(triples: Sequence[tuple[float, float, float]]) -> Floats:
    return np.array(triples, dtype=np.float64).reshape(-1, 3)


def growing_chips(paints: Mapping[str, Paint]) -> Iterator[Chips]:
    """The chips of a deck, more of them each time, at last all; at least once."""
    entries = list(paints.items())
    chips = Chips()
    for start in range(0, len(entries), BLOCK) or (0,):
        words = chips.words
        chips = _with_more(chips, entries[start : start + BLOCK])
        vars(chips)["words"] = (*words, *map(words_of, chips.swatches[len(words) :]))
        yield chips


def all_chips(paints: Mapping[str, Paint]) -> Chips:
    """The chips of a whole deck."""
    return _with_more(Chips(), list(paints.items()))


def _with_more(chips: Chips, entries: Sequence[tuple[str, Paint]]) -> Chips:
    made = facts_or_errors([paint.colour for _, paint in entries])
    swatches, faults = [*chips.swatches], {**chips.faults}
    for (id_, paint), colour in zip(entries, made, strict=True):
        if isinstance(colour, ColourFacts):
            swatches.append(Swatch(id_, paint, colour))
        else:
            faults[id_] = str(colour)
    return Chips(tuple(swatches), faults)


def words_of(swatch: Swatch) -> str:
    """Everything of a paint that may be searched."""
    paint, tone = swatch.entity, swatch.colour.undertone
    assert isinstance(paint, Paint)
    said = (swatch.colour.notation.text, tone.name, tone.family, tone.temperature)
    return search_words(paint.name, paint.code, swatch.id, paint.deck, *said)


def screen_xyz(light: Lit, surface: str, reflectance: Floats) -> Floats:
    """XYZ100 that looks on a D65 screen as reflectances (n, 41) look on a surface: (n, 3)."""
    return eye_in(light).on_screen(light.reflected_xyz100(lit_as(surface), reflectance))


def shown_under(light: Lit, surface: str, reflectance: Floats) -> list[str]:
    """The screen's "#rrggbb" for reflectances (n, 41) on a surface of a room, all in one batch."""
    return spaces.srgb_to_hex(gamut.to_srgb(screen_xyz(light, surface, reflectance)))


def lab100_under(light: Lit, surface: str, reflectance: Floats) -> Floats:
    """CIELAB of reflectances (n, 41) as they look on a surface, as on a D65 screen: (n, 3)."""
    return spaces.xyz_to_lab(screen_xyz(light, surface, reflectance), spaces.SRGB_WHITE)


# Into a house


def take(house: House, deck_id: str, paint: Paint, deck: str = "") -> tuple[House, str]:
    """The house with the paint, and the id that it has there.

    An equal paint of the house is not taken twice; another paint that has this id keeps it.
    `deck` is what the paint says it comes from where it does not say so itself.
    """
    taken = replace(paint, deck=paint.deck or deck)
    for own_id, own in house.paints.items():
        if own == taken:
            return house, own_id
    new_id = free_id(deck_id, house.paints, "paint")
    return put(house, "paints", new_id, taken), new_id


def take_all(
    house: House, paints_of_deck: Mapping[str, Paint], deck: str = ""
) -> tuple[House, Mapping[str, str]]:
    """The house with many paints, each as `take` takes it; and its id there by id in the deck."""
    paints = dict(house.paints)
    known = {own: own_id for own_id, own in reversed(paints.items())}  # the first, as `take` does
    ids: dict[str, str] = {}
    for deck_id, paint in paints_of_deck.items():
        taken = replace(paint, deck=paint.deck or deck)
        if taken not in known:
            known[taken] = free_id(deck_id, paints, "paint")
            paints[known[taken]] = taken
        ids[deck_id] = known[taken]
    return change(house, paints=paints), ids
