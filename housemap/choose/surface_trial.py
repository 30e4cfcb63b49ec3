"""Every paint tried on one surface of a house: what each costs in findings that name the room.

Each figure is what the report of the house would say with the paint on the surface, all lights of
the room included (within 0.01 CAM16-UCS units, so that a value that close to its limit may fall on
the other side of it). Other rooms are judged in the light that they have now: of 234 trials in the
demo 220 cost what the report says within 0.4; in 14 a clash with such a room, close to its limit,
comes or goes in the light that the paint sends there. Where somebody chooses, the report of the
house with each paint then takes the place of its trial.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isnan
from typing import NamedTuple

import numpy as np

from housemap.checks import Finding, Report, check_of
from housemap.checks.counting import acceptance_of
from housemap.checks.judging import Subject, as_it_is
from housemap.checks.options import PaintOptions, PairOptions, RoomOptions
from housemap.checks.wishes import wish_cost
from housemap.choose.option_costs import (
    CostTable,
    add_house_costs,
    add_view_costs,
    compared_costs,
    holding,
    is_compared,
    pair_costs,
    room_costs,
    walls_costs,
)
from housemap.choose.schemes.house_rules import off_scheme
from housemap.choose.schemes.shape import trim_costs
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.difference import harmony
from housemap.light.scene import why_not
from housemap.model.house import House, Surface
from housemap.model.wishes import stated_wishes, wishes_of
from housemap.study import Study
from housemap.study.colours import Colours, colours_of

ROUND_OFF = 6
"""Decimals of a cost or a harmony; what differs by less is the same."""


class Candidate(NamedTuple):
    """What one paint, or none, does on a surface."""

    paint: str | None
    """Its id in the house; in the deck, where paints of a deck are tried."""
    parts: Mapping[str, float]
    """What each check costs in findings that name the room, by check id; the dearest first."""
    findings_after: int
    """Of the whole house."""
    harmony: float | None
    """Mean Ou & Luo harmony with the other wall colours in view; None where there is none."""
    wishes: float = 0.0
    """What wishes of the client cost that it breaks; beside the findings."""
    scheme: float = 0.0
    """How far it is off the scheme around the neutral of the house (see `off_scheme`)."""

    @property
    def cost(self) -> float:
        return sum(self.parts.values()) + self.wishes + self.scheme


@dataclass(frozen=True, eq=False)
class Effects:
    """Of n paints, a row each."""

    parts: Mapping[str, Floats]
    """What each check costs in findings that name the room, by check id."""
    findings: Indices
    """Of the whole house."""
    harmony: Floats
    """Mean Ou & Luo harmony with the other wall colours in view; nan where there is none."""
    wishes: Floats
    """What wishes of the client cost that a paint breaks."""
    scheme: Floats
    """How far it is off the scheme around the neutral of the house."""

    def __len__(self) -> int:
        return len(self.findings)

    @cached_property
    def cost(self) -> Floats:
        return np.asarray(sum(self.parts.values(), self.wishes + self.scheme))

    @cached_property
    def keys(self) -> Floats:
        """What they are put in order by, least first: cost, findings, lack of harmony: (n, 3)."""
        pleasing = np.where(np.isnan(self.harmony), 0.0, self.harmony)
        keys = np.stack([self.cost, self.findings, -pleasing], axis=-1)
        return np.asarray(np.round(keys, ROUND_OFF))

    def order(self) -> Indices:
        """The best first; equal ones as they are given."""
        return np.lexsort(self.keys.T[::-1])

    def rows(self, rows: Indices) -> "Effects":
        parts = {check: cost[rows] for check, cost in self.parts.items()}
        harmony, wishes, scheme = self.harmony[rows], self.wishes[rows], self.scheme[rows]
        return Effects(parts, self.findings[rows], harmony, wishes, scheme)

    def joined(self, more: "Effects") -> "Effects":
        """These paints and more."""
        none, others = np.zeros(len(self)), np.zeros(len(more))
        parts = {
            check: np.concatenate([self.parts.get(check, none), more.parts.get(check, others)])
            for check in {**self.parts, **more.parts}
        }
        return Effects(
            parts,
            np.concatenate([self.findings, more.findings]),
            np.concatenate([self.harmony, more.harmony]),
            np.concatenate([self.wishes, more.wishes]),
            np.concatenate([self.scheme, more.scheme]),
        )

    def row(self, row: int, paint: str) -> Candidate:
        pleasing = float(self.harmony[row])
        parts = {check: float(cost[row]) for check, cost in self.parts.items() if cost[row]}
        return Candidate(
            paint,
            dict(sorted(parts.items(), key=lambda part: -part[1])),
            int(self.findings[row]),
            None if isnan(pleasing) else pleasing,
            float(self.wishes[row]),
            float(self.scheme[row]),
        )


# The trial

AT_ONCE, MORE_AT_ONCE = 320, 8000
"""Paints that are judged in all lights at first; then of those that may yet be among the best."""


def options_on(
    study: Study, room: str, surface: str, paints: PaintOptions, *, deep: bool
) -> RoomOptions:
    """A room with paints on a surface, named as in `Coat`, in each light as each paint leaves it.

    Without light unless `deep`.
    """
    part, kept = study.rooms[room], study.rooms[room].coat_on(surface)
    if not deep:
        return RoomOptions(part, surface, paints)
    lit = study.lighting.rooms[room].light
    own = kept is not None and paints.colours.ids.tolist() == [kept.swatch.id]
    if surface == "trim" or own:  # trim is too little to change the light
        return RoomOptions(part, surface, paints, lit.lights, lit.median_daylight)
    if why_not(study.house.rooms[room]) is not None:
        return RoomOptions(part, surface, paints, {}, lit.median_daylight)
    kind, _, wall = surface.partition(" ")
    answer, reflectance = study.lighting.response(room, wall or kind), paints.colours.reflectance
    under = {name: curves.under(reflectance) for name, curves in answer.curves.items()}
    return RoomOptions(part, surface, paints, under, answer.daylight or lit.median_daylight)


@dataclass(frozen=True, eq=False)
class SurfaceTrial:
    """A surface of a room, named as in `Coat`, on which paints are tried."""

    report: Report
    room: str
    surface: str

    def effects(self, paints: PaintOptions, *, deep: bool) -> Effects:
        """What each of the paints does on the surface.

        `deep` asks for all lights, for which the report must have them; without it no cost is
        above the paint's real one.
        """
        study = self.report.study
        tried = options_on(study, self.room, self.surface, paints, deep=deep)
        own, every = CostTable((tried.count, 1)), walls_costs(study, tried, deep=deep)
        self._add_compared(every, tried, deep=deep)
        own.add_table(every)
        if self.surface == "walls":
            add_house_costs(every, study, tried)
        add_view_costs(own, every, study, tried, deep=self.report.deep is not None)
        own.add_found([f for f in self._elsewhere if self.room in f.rooms])
        findings = every.findings[:, 0] + paints.own_findings + len(self._elsewhere)
        findings = findings + self._noted_if_used(paints)
        parts = {check: cost[:, 0] for check, cost in own.costs.items()}
        wishes = wishes_on(self.report.house, self.room, self.surface, paints.colours)
        scheme = off_scheme(study, self.room, self.surface, paints)
        return Effects(parts, findings, _harmony(study, tried), wishes, scheme)

    def _add_compared(self, table: CostTable, tried: RoomOptions, *, deep: bool) -> None:
        """Coats of the room with each other and with those in view.

        Under the reference light only those on the surface depend on the paint.
        """
        house = self.report.house
        if deep:
            table.add_table(compared_costs(PairOptions(house, tried, tried, together=True)))
        else:
            tried, rest = tried.apart()
            table.add_table(compared_costs(PairOptions(house, tried, rest)))
            table.add_found(self._beside)
        for other in self._in_view[deep]:
            table.add_table(pair_costs(self.report, tried, other))

    @cached_property
    def _beside(self) -> Sequence[Finding]:
        """What coats meet in and about the room, but not on the surface, under reference light."""
        report, here = self.report, (self.room, self.surface)
        found = [*report.plain.get(("rooms", self.room), ())]
        for key in report.study.pairs:
            if self.room in key:
                met = report.plain.get(("pairs", key), ())
                found += map(report.visibility(key).weighed, met)
        return [
            f
            for f in found
            if is_compared(f)
            and all((p.room, p.surface) != here for p in f.places)
            and not acceptance_of(f, report.house)
        ]

    @cached_property
    def _in_view(self) -> Mapping[bool, Sequence[RoomOptions]]:
        """The rooms in view, without light and with it."""
        study = self.report.study
        others = [pair.other(self.room) for key, pair in study.pairs.items() if self.room in key]
        return {
            deep: [as_it_is(study, other, deep=deep) for other in others]
            for deep in {False, self.report.deep is not None}
        }

    @cached_property
    def _elsewhere(self) -> Sequence[Finding]:
        """What is found whatever paint is on the surface."""
        counted, depends = self.report.counted, self._subjects
        return [f for s, f in counted if s not in depends and not self._of_use(s, f)]

    @cached_property
    def _used_elsewhere(self) -> frozenset[object]:
        """The keys of the swatches on any other surface."""
        every = (coat for room in self.report.study.rooms.values() for coat in room.every_coat)
        here = self.room, self.surface
        return frozenset(c.swatch.key for c in every if (c.room, c.surface) != here)

    def _noted_if_used(self, paints: PaintOptions) -> Indices:
        """How often each paint of the house is noted by being here and nowhere else: (n,)."""
        found, report = np.zeros(len(paints), dtype=np.intp), self.report
        for row in np.flatnonzero(~paints.foreign).tolist():
            subject = "swatches", ("Paint", str(paints.colours.ids[row]))
            noted = (f for f in report.plain.get(subject, ()) if self._of_use(subject, f))
            found[row] = sum(acceptance_of(f, report.house) is None for f in noted)
        return found

    def _of_use(self, subject: Subject, finding: Finding) -> bool:
        """Whether it is found only of a paint that is used, and this one is nowhere else."""
        table, key = subject
        noted = table == "swatches" and check_of(finding.check).gravest == "note"
        return noted and key not in self._used_elsewhere

    @cached_property
    def _subjects(self) -> frozenset[Subject]:
        """What depends on the paint."""
        study, room = self.report.study, self.room
        tables: Mapping[str, Iterable[object]] = {
            "rooms": [room],
            "pairs": [key for key in study.pairs if room in key],
            "surroundings": holding(study, room, around=True),
            "views": holding(study, room, around=False),
            "houses": study.houses if self.surface == "walls" else (),
        }
        return frozenset((table, key) for table, keys in tables.items() for key in keys)


def wishes_on(
    house: House, room: str, surface: str, colours: Colours, *, stated: bool = False
) -> Floats:
    """What each colour costs that breaks a wish of the client for the surface: (n,).

    Of all that a choice goes by, or only of what the brief states: trim is near-white where the
    brief does not ask for another.
    """
    kind = surface.partition(" ")[0]
    if kind == "trim" and house.brief.white_trim and not stated:
        return trim_costs(colours.lrv, colours.chroma)
    if kind not in {"walls", "accent"}:
        return np.zeros(len(colours))
    accent = kind == "accent" or house.rooms[room].role == "accent"
    wishes = (stated_wishes if stated else wishes_of)(house.brief, room, accent=accent)
    return wish_cost(colours, wishes)


def _harmony(study: Study, tried: RoomOptions) -> Floats:
    """Mean Ou & Luo 2006 harmony with the other wall colours in view; nan where there is none."""
    assert tried.options is not None
    options = tried.options.colours
    rooms = [r for r in study.views[tried.part.id].rooms if "walls" in r.coats]
    if tried.surface == "walls":
        rooms = [r for r in rooms if r.id != tried.part.id]
    walls = colours_of([r.coats["walls"].swatch for r in rooms])
    scores = harmony(options.lab100[:, np.newaxis], walls.lab100)
    others = options.ids[:, np.newaxis] != walls.ids
    count = others.sum(axis=1)
    mean = np.where(others, scores, 0.0).sum(axis=1) / np.maximum(count, 1)
    return np.where(count > 0, mean, np.nan)


def best_of(
    trial: SurfaceTrial, paints: PaintOptions, most: int
) -> tuple[Indices, Effects, Floats]:
    """The rows of the `most` best paints, best first; none of the others is better than the last.

    And what these do; and what each of all the paints costs at least, (n,).

    Under the reference light alone no paint seems to cost more than it does, or to bring more
    findings, and that is quick to know; harmony is the same. So paints are judged in all lights
    from the best such one on, until none of the rest can be better than the last of the best.
    """
    plain = trial.effects(paints, deep=False)
    if trial.report.deep is None:
        rows = plain.order()[:most]
        return rows, plain.rows(rows), plain.cost
    promising = plain.order()
    keys = plain.keys[promising]
    judged = trial.effects(paints.rows(promising[: max(AT_ONCE, most)]), deep=True)
    while len(judged) < len(paints):
        last = judged.keys[judged.order()[most - 1]]
        count = bisect_left(keys, tuple(last), key=tuple)
        if count <= len(judged):
            break
        more = promising[len(judged) : min(count, len(judged) + MORE_AT_ONCE)]
        judged = judged.joined(trial.effects(paints.rows(more), deep=True))
    order, known = judged.order()[:most], plain.cost.copy()
    known[promising[: len(judged)]] = judged.cost
    return promising[order], judged.rows(order), known


def group_costs(
    report: Report, rooms: Sequence[str], surface: Surface, paints: PaintOptions, *, grave: float
) -> Floats:
    """What rooms, and the pairs that they are in, cost with the same paint on all: (n,).

    In all lights that the report has; with so much for each finding above a note beside its cost.
    """
    study, deep, costs = report.study, report.deep is not None, np.zeros(len(paints))
    tried = {room: options_on(study, room, surface, paints, deep=deep) for room in rooms}
    for room in tried.values():
        costs += room_costs(study, room, deep=deep).cost(grave)[:, 0]
    for key, pair in study.pairs.items():
        mine = [room for room in key if room in tried]
        if mine:
            one, rest = tried[mine[0]], pair.other(mine[0])
            other = tried.get(rest) or as_it_is(study, rest, deep=deep)
            both = pair_costs(report, one, other, together=rest in tried)
            costs += both.cost(grave)[:, 0]
    return costs
