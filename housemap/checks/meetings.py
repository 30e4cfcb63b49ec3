"""Pairs of coats that meet an adapted eye together, very many at once: what the checks compare.

A report compares each pair as it is; a ranking compares it for every option of one room, or of
both. It is the same array either way: meetings x options of the first room x of the second.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from typing import NamedTuple, Protocol, TypeVar

import numpy as np
import numpy.typing as npt

from housemap.checks.finding import CLOSE_COST, Place, excess_costs
from housemap.colorimetry import appearance, munsell, spaces, undertone
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.difference import hue_apart, ucs_parts
from housemap.light.as_seen import Eye
from housemap.model.frozen import frozen
from housemap.model.house import House
from housemap.study import PaintedRoom, SeenPair
from housemap.study.colours import FINISH, Colours

WOODWORK = frozenset({"trim", "doors"})


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
    screens, backs = [np.zeros((0, 3))], []
    for seen, places in asked:
        if seen.leans is None and seen.screen_xyz100 is not None:
            at, back = np.unique(places, return_inverse=True)
            backs.append(back + sum(map(len, screens)))
            screens.append(seen.screen_xyz100.reshape(-1, 3)[at])
    found, each = undertone.leans(munsell.from_screen(np.concatenate(screens))), iter(backs)
    return [
        found[next(each)] if seen.leans is None else seen.leans.reshape(-1)[places]
        for seen, places in asked
    ]


def undertone_names(screen_xyz100: Floats) -> tuple[str, ...]:
    """ISCC-NBS names of colours by what looks so on the screen: (n, 3)."""
    return undertone.names(munsell.from_screen(screen_xyz100))


MOST_WEIGHT = 1.75
"""CIEDE2000 is at least delta L* over this: its weight of lightness is nowhere larger."""

Limits = Mapping[str, float]
"""Of one check, by kind."""
Scalar = TypeVar("Scalar", bound=np.generic)
Kinds = tuple[tuple[str, ...], Indices]
"""Names of limits, and of each row which of them it broke."""


class Between(NamedTuple):
    """The two rooms of a meeting; one room twice within it."""

    first: PaintedRoom
    second: PaintedRoom
    pair: SeenPair | None = None
    """None within a room."""

    @property
    def kind(self) -> str:
        """How the rooms see each other; empty within a room."""
        return self.pair.sighting.kind if self.pair else ""


class Look(NamedTuple):
    """Some meetings as eyes see them."""

    one: Adapted
    other: Adapted
    one_rows: Indices
    other_rows: Indices
    meetings: Indices
    """(q,); a meeting that several eyes see comes once for each of them."""
    lights: Sequence[str] = ()
    """The light of each, where a finding has to name it."""
    lit: bool = False
    """Whether it is another light than the reference light."""


@frozen(eq=False)
class Meetings:
    """Pairs of coats: rows `at` of the first room's colours with rows `to` of the second's."""

    house: House
    first: Colours
    """(coats, n)"""
    second: Colours
    """(coats, m)"""
    at: Indices
    to: Indices
    surfaces: Sequence[tuple[str, str]]
    """Of each meeting."""
    between: Sequence[Between]
    place: Indices
    """Of each meeting, which of `between` it lies in."""
    looks: Sequence[Look] = ()
    together: bool = False
    """Whether both rooms have the same option at a time; so it is within a room."""

    @property
    def shape(self) -> tuple[int, int, int]:
        """Meetings, n, m."""
        m = 1 if self.together else self.second.ids.shape[1]
        return len(self.at), self.first.ids.shape[1], m

    def both(
        self, of: Callable[[Colours], npt.NDArray[Scalar]]
    ) -> tuple[npt.NDArray[Scalar], npt.NDArray[Scalar]]:
        """A property of both coats, along (meetings, n, m)."""
        one, other = of(self.first)[self.at], of(self.second)[self.to]
        return one[:, :, None], other[:, :, None] if self.together else other[:, None]

    @cached_property
    def differ(self) -> Truths:
        """Whether they are two paints: one paint is never compared with itself."""
        one, other = self.both(lambda colours: colours.ids)
        return np.asarray(one != other)

    def places(self, cell: int) -> tuple[Place, Place]:
        """Both coats of a meeting, with the options of a cell."""
        p, i, j = (int(each) for each in np.unravel_index(cell, self.shape))
        rooms, (one, other) = self.between[self.place[p]], self.surfaces[p]
        second = i if self.together else j
        return (
            _place(rooms.first.id, one, str(self.first.ids[self.at[p], i])),
            _place(rooms.second.id, other, str(self.second.ids[self.to[p], second])),
        )

    def of_place(self, of: Callable[[Between], float]) -> Floats:
        """A figure of the rooms, along (meetings, 1, 1)."""
        return np.array([of(each) for each in self.between])[self.place][:, None, None]

    def plain(self, where: Truths | None = None) -> "Compared":
        """Meetings judged by their paints alone, a row for each pair of options."""
        every = np.broadcast_to(True if where is None else where, self.shape)
        return Compared(self, np.flatnonzero(every))

    def seen(self, where: Truths) -> "Compared":
        """Meetings as every eye sees them, a row for each eye and pair of options."""
        every, (_, n, m) = np.broadcast_to(where, self.shape), self.shape
        cells, sights = [], []
        for look in self.looks:
            entry, i, j = np.nonzero(every[look.meetings])
            cells.append((look.meetings[entry] * n + i) * m + j)
            one = look.one.at(look.one_rows[entry], i, j)
            other = look.other.at(look.other_rows[entry], i, j)
            sights.append(_Sights(look, one, other, entry))
        cell = np.concatenate(cells) if cells else np.zeros(0, dtype=np.intp)
        return Compared(self, cell, sights)


def _place(room: str, surface: str, id_: str) -> Place:
    if id_.startswith(FINISH):
        return Place(room, surface, finish=id_.removeprefix(FINISH))
    return Place(room, surface, id_)


class _Sights(NamedTuple):
    """Flat places in a look."""

    look: Look
    one: Indices
    other: Indices
    entry: Indices


@frozen(eq=False)
class Compared:
    """Meetings that a check judges: r rows."""

    met: Meetings
    cell: Indices
    """Of each row, its flat place in the shape of the meetings."""
    sights: Sequence[_Sights] = ()

    @cached_property
    def _where(self) -> tuple[Indices, ...]:
        return np.unravel_index(self.cell, self.met.shape)

    def paints(
        self, of: Callable[[Colours], npt.NDArray[Scalar]], rows: Indices | None = None
    ) -> tuple[npt.NDArray[Scalar], npt.NDArray[Scalar]]:
        """A property of the paints themselves, of all rows or of some."""
        p, i, j = (each if rows is None else each[rows] for each in self._where)
        second = i if self.met.together else j
        met = self.met
        return of(met.first)[met.at[p], i], of(met.second)[met.to[p], second]

    def of_meeting(self, values: npt.NDArray[Scalar]) -> npt.NDArray[Scalar]:
        """A figure of each meeting, for each row."""
        return values[self._where[0]]

    @property
    def place(self) -> Indices:
        """Of each row, which of `Meetings.between` it lies in."""
        return self.met.place[self._where[0]]

    def families(self, row: int) -> tuple[str, ...]:
        """What both colours lean to, as they are seen; empty where nobody asked before."""
        for each in self.sights:
            if row < len(each.entry):
                one, other = each.look.one.families, each.look.other.families
                return (one[each.one[row]], other[each.other[row]]) if one and other else ()
            row -= len(each.entry)
        return ()

    def of_place(self, of: Callable[[Between], float]) -> Floats:
        """A figure of the rooms, (r,)."""
        return np.asarray(self.met.of_place(of)[self._where[0], 0, 0])

    @cached_property
    def ucs(self) -> tuple[Floats, Floats]:
        return self._gathered(lambda seen: seen.ucs)

    def _gathered(
        self, of: Callable[[Adapted], Floats], where: Truths | None = None
    ) -> tuple[Floats, Floats]:
        """A figure of both colours, of all rows or of some."""
        found: tuple[list[Floats], list[Floats]] = [], []
        start = 0
        for each in self.sights:
            part = slice(start, start := start + len(each.entry))
            both = (each.look.one, each.one), (each.look.other, each.other)
            for side, (look, rows) in enumerate(both):
                values = of(look)
                flat = values.reshape(-1, *values.shape[3:])
                found[side].append(flat[rows if where is None else rows[where[part]]])
        if not self.sights:
            return np.zeros((0, 3)), np.zeros((0, 3))
        one, other = (each[0] if len(each) == 1 else np.concatenate(each) for each in found)
        return one, other

    @cached_property
    def ucs_parts(self) -> tuple[Floats, Floats, Floats, Floats]:
        """CAM16-UCS distance, and its lightness, chroma and hue parts."""
        return ucs_parts(*self.ucs)

    def hue_apart(self, where: Truths) -> Floats:
        """Degrees in the a'b' plane; 0 elsewhere."""
        apart = np.zeros(len(self.cell))
        apart[where] = hue_apart(self.ucs[0][where], self.ucs[1][where])
        return apart

    def de00(self, most: float) -> Floats:
        """CIEDE2000 where it may be at most so much; infinite elsewhere.

        It is not computed where the lightness alone keeps it larger.
        """
        if not self.sights:
            return np.zeros(0)
        lightness = self._gathered(lambda seen: seen.lab100[..., 0])
        apart = np.full(len(self.cell), np.inf)
        near = np.abs(lightness[0] - lightness[1]) <= MOST_WEIGHT * most
        apart[near] = ciede2000(*self._gathered(lambda seen: seen.lab100, near))
        return apart

    def both_lean(self, where: Truths) -> Truths:
        """Whether both colours have an undertone as they are seen, of the rows asked for."""
        if not where.any():
            return where
        ends = np.cumsum([len(each.one) for each in self.sights])[:-1]
        parts = np.split(where, ends)
        asked = [
            (seen, places[part])
            for each, part in zip(self.sights, parts, strict=True)
            for seen, places in ((each.look.one, each.one), (each.look.other, each.other))
        ]
        found = iter(leaning(asked))
        lean = np.zeros(len(where), dtype=np.bool_)
        pairs = [one & other for one, other in zip(found, found, strict=True)]
        lean[where] = np.concatenate(pairs)
        return lean

    @property
    def of_woodwork(self) -> Truths:
        """Whether either is woodwork: (r,)."""
        either = [bool({*pair} & WOODWORK) for pair in self.met.surfaces]
        return self.of_meeting(np.array(either, dtype=np.bool_))

    def light(self, row: int) -> str:
        for each in self.sights:
            if row < len(each.entry):
                return each.look.lights[each.entry[row]] if each.look.lights else "reference"
            row -= len(each.entry)
        return "reference"

    @cached_property
    def lit(self) -> Truths:
        """Whether a row is seen under other than the reference light: (r,)."""
        lit = [np.full(len(each.entry), each.look.lit) for each in self.sights]
        return np.concatenate(lit) if lit else np.zeros(len(self.cell), dtype=np.bool_)


@frozen(eq=False)
class Verdict:
    """What a check finds, a row each: where, how much, how grave, what it costs."""

    cell: Indices
    """Flat place among what was judged."""
    value: Floats
    limit: Floats
    severity: Indices
    cost: Floats
    close: Truths
    kind: str | Kinds = ""
    parts: Mapping[str, Floats] = field(default_factory=dict)
    lights: Callable[[int], str] | str = "reference"
    turned: Truths | None = None
    """Where the second coat is named first."""
    words: Callable[[int], tuple[str, ...]] | None = None
    """Of a row of this verdict."""
    places: Callable[[int], tuple[Place, ...]] | None = None
    """Of a row, where that is not plain from what was judged."""
    names_room: Truths | None = None
    """Where a finding of a view names the room that has options."""

    def kind_of(self, row: int) -> str:
        return self.kind if isinstance(self.kind, str) else self.kind[0][int(self.kind[1][row])]

    def rows(self, which: Truths) -> "Verdict":
        """Some of the rows, for what they cost: what only a finding needs is left out."""
        return replace(
            self, cell=self.cell[which], cost=self.cost[which], severity=self.severity[which],
            names_room=None if self.names_room is None else self.names_room[which],
        )  # fmt: skip

    def light_of(self, row: int) -> str:
        return self.lights if isinstance(self.lights, str) else self.lights(row)

    def each_worst(self) -> Iterator[int]:
        """Of each cell the row that costs most, in the order of the cells."""
        order = np.lexsort((-self.cost, self.cell))
        _, first = np.unique(self.cell[order], return_index=True)
        yield from order[first].tolist()


_NONE = np.zeros(0)
_NO_ROWS = np.zeros(0, dtype=np.intp)
NOTHING = Verdict(
    _NO_ROWS, _NONE, _NONE, _NO_ROWS, _NONE, _NO_ROWS > 0, names_room=_NO_ROWS > 0
)  # fmt: skip


class Judged(Protocol):
    """What a check judges: a row for each figure."""

    @property
    def cell(self) -> Indices:
        """Of each row, its flat place; a place that several eyes see has several rows."""


def verdict(
    judged: Judged, found: Truths, value: Floats, limit: Floats | float, severity: Indices | int,
    *, cost: Callable[[Indices], Floats] | None = None, band: Floats | float = 0.0,
    kind: str | Kinds = "", parts: Mapping[str, Floats] | None = None,
    turned: Truths | None = None, words: Callable[[int], tuple[str, ...]] | None = None,
    lights: Callable[[int], str] | str = "reference",
) -> Verdict:  # fmt: skip
    """The rows that are found; every array has a row for each of what was judged.

    `cost` is asked for the rows that are found; without it, it follows from value and limit.
    `band` is how far the value may be off; within it of its limit it is close and costs less.
    """
    rows = np.flatnonzero(found)
    if not len(rows):
        return NOTHING
    values, limits = value[rows], _taken(np.asarray(limit, dtype=np.float64), rows)
    severities = _taken(np.asarray(severity, dtype=np.intp), rows)
    costs = excess_costs(severities, values, limits) if cost is None else cost(rows)
    close = np.abs(values - limits) < _taken(np.asarray(band, dtype=np.float64), rows)
    return Verdict(
        judged.cell[rows],
        values,
        limits,
        severities,
        np.where(close, CLOSE_COST * costs, costs),
        close,
        kind if isinstance(kind, str) else (kind[0], kind[1][rows]),
        {name: each[rows] for name, each in (parts or {}).items()},
        lights if isinstance(lights, str) else (lambda row: lights(int(rows[row]))),
        None if turned is None else turned[rows],
        (lambda row: words(int(rows[row]))) if words else None,
    )


def _taken(each: npt.NDArray[Scalar], rows: Indices) -> npt.NDArray[Scalar]:
    """Those rows of an array, or its one value for each of them."""
    return np.full(len(rows), each) if each.ndim == 0 else each[rows]
