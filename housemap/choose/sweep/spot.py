"""Every paint tried on one surface of a house: what each costs in findings that name the room.

Exact: each figure is what the report of the house would say with the paint on the surface, all
lights included (within 0.01 CAM16-UCS units, so that a value that close to its limit may fall on
the other side of it).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from housemap.checks import Finding, Report, check_of
from housemap.checks.looking import Subject
from housemap.choose.sweep.alone import alone
from housemap.choose.sweep.around import around, holds
from housemap.choose.sweep.colours import Options, colours_of
from housemap.choose.sweep.meetings import MEETINGS, within_apart, within_room
from housemap.choose.sweep.side import Side
from housemap.choose.sweep.subjects import of_pair
from housemap.choose.sweep.tally import Tally
from housemap.choose.sweep.tried_surface import TriedSurface, as_it_is
from housemap.choose.sweep.weighed import Sweep
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.harmony import harmony
from housemap.study import SeenPair, Study


@dataclass(frozen=True, eq=False)
class Spot:
    """A surface of a room, named as in `Coat`, on which paints are tried."""

    report: Report
    room: str
    surface: str

    def sweep(self, options: Options, *, deep: bool) -> Sweep:
        """Each of the paints on the surface.

        `deep` asks for all lights, for which the report must have them; without it no paint is
        said to cost more than it does.
        """
        study, side = self.report.study, self._tried.side(options, deep=deep)
        own, every = Tally((side.count, 1)), Tally((side.count, 1))
        every.add_all(alone(study, side, deep=deep))
        every.add_all(self._meetings(side, deep=deep))
        own.add_all(every)
        views = around(study, side, deep=deep)
        own.add_all(views.own)
        every.add_all(views.every)
        _add_found(own, [f for f in self._stay if self.room in f.rooms])
        findings = every.findings[:, 0] + options.told + len(self._stay)
        parts = {check: cost[:, 0] for check, cost in own.costs.items()}
        return Sweep(parts, findings, _harmony(study, side))

    def _meetings(self, side: Side, *, deep: bool) -> Tally:
        """Under the reference light only those on the surface depend on the paint."""
        house, tally = self.report.house, Tally((side.count, 1))
        if deep:
            tally.add_all(within_room(house, side))
        else:
            side, rest = side.apart()
            tally.add_all(within_apart(house, side, rest))
            _add_found(tally, self._elsewhere)
        for pair, other in self._others[deep]:
            tally.add_all(of_pair(house, pair, side, other))
        return tally

    @cached_property
    def _elsewhere(self) -> Sequence[Finding]:
        """What coats meet in and about the room, but not on the surface, under reference light."""
        plain, here = self.report.plain, (self.room, self.surface)
        found = [f for f in plain.get(("rooms", self.room), ()) if f.check in MEETINGS]
        for key in self.report.study.pairs:
            if self.room in key:
                found += plain.get(("pairs", key), ())
        return [f for f in found if all((p.room, p.surface) != here for p in f.places)]

    @cached_property
    def _tried(self) -> TriedSurface:
        return TriedSurface(self.report.study, self.room, self.surface)

    @cached_property
    def _others(self) -> Mapping[bool, Sequence[tuple[SeenPair, Side]]]:
        """The rooms in view, without light and with it."""
        study = self.report.study
        pairs = [pair for key, pair in study.pairs.items() if self.room in key]
        return {
            deep: [(pair, as_it_is(study, pair.other(self.room), deep=deep)) for pair in pairs]
            for deep in {False, self.report.deep is not None}
        }

    @cached_property
    def _stay(self) -> Sequence[Finding]:
        """What is found whatever paint is on the surface."""
        return [f for _, subject, f in self.report.ordered if self._stays(subject, f)]

    def _stays(self, subject: Subject, finding: Finding) -> bool:
        table, key = subject
        match table:
            case "rooms":
                return bool(key != self.room)
            case "pairs":
                return self.room not in key
            case "surroundings":
                return not holds(self.report.study.surroundings[key], self.room)
            case "views" if self.surface == "walls" and finding.check == "bare":
                return bool(key != self.room)
            case "views" if self.surface == "walls":
                return all(seen.id != self.room for seen in self.report.study.views[key].rooms)
        return True


def _add_found(tally: Tally, findings: Iterable[Finding]) -> None:
    """What is found whatever the option."""
    for finding in findings:
        tally.add(finding.check, np.full(tally.shape, check_of(finding.check).cost(finding)))


def _harmony(study: Study, side: Side) -> Floats:
    assert side.options is not None
    options = side.options.colours
    rooms = [r for r in study.views[side.part.id].rooms if "walls" in r.coats]
    if side.surface == "walls":
        rooms = [r for r in rooms if r.id != side.part.id]
    walls = colours_of([r.coats["walls"].swatch for r in rooms])
    scores = harmony(options.lab100[:, np.newaxis], walls.lab100)
    others = options.ids[:, np.newaxis] != walls.ids
    count = others.sum(axis=1)
    mean = np.where(others, scores, 0.0).sum(axis=1) / np.maximum(count, 1)
    return np.where(count > 0, mean, np.nan)
