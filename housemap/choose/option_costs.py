"""What checks cost for every option of a room, of two rooms, or in the views that hold a room.

Every figure is the checks' own (`Check.looks`), with options in place of the paint that is there.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from housemap.checks import CHECKS, Check, Finding, Place, Report, check_of
from housemap.checks.check import Compare, Listed, OfRoom, OfView, Scope
from housemap.checks.counting import Visibility, acceptance_of, entries_for, without_accepted
from housemap.checks.finding import FAULT, NOTE, SERIOUS, WARN
from housemap.checks.judging import view_of
from housemap.checks.meetings import Meetings, Verdict
from housemap.checks.options import PairOptions, RoomOptions
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.house import House
from housemap.model.severity import SEVERITIES
from housemap.plan.house_graph import sorted_pair
from housemap.study import PaintedRoom, Study, View

_SEVERITIES = np.array([NOTE, WARN, FAULT])


@dataclass(slots=True, eq=False)
class CostTable:
    """What each check costs and how often it finds something: (n, m); m is 1 for one room."""

    shape: tuple[int, int]
    costs: dict[str, Floats] = field(default_factory=dict)
    """By check id; of the checks that may find anything."""
    counts: Indices = field(init=False)
    """How many findings, how many of them above a note, and how many faults: (3, n, m)."""

    def __post_init__(self) -> None:
        self.counts = np.zeros((3, *self.shape), dtype=np.intp)

    @property
    def findings(self) -> Indices:
        return np.asarray(self.counts[0])

    def add(self, check: str, cost: Floats, counts: Indices) -> None:
        """What a check costs and how often it finds something; both broadcast to the shape.

        A broken wish is found, and costs what `wishes_on` says beside the findings.
        """
        if check_of(check).wish:
            cost, counts = np.zeros(1), counts * np.array([1, 0, 0])[:, None, None]
        self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.counts = self.counts + counts

    def add_found(self, found: Iterable[Finding], rows: Any = slice(None)) -> None:
        """What is found with some of the options."""
        at = np.zeros(self.shape, dtype=np.intp)
        at[rows] = 1
        for finding in found:
            counted = SEVERITIES.index(finding.severity) >= _SEVERITIES
            self.add(finding.check, np.where(at, finding.cost, 0.0), at * counted[:, None, None])

    def add_verdict(self, check: str, found: Verdict) -> None:
        """Of options of one room, a row each."""
        cost, counts = np.zeros(self.shape), np.zeros((3, *self.shape), dtype=np.intp)
        cost[found.cell, 0] = found.cost
        counts[:, found.cell, 0] = found.severity >= _SEVERITIES[:, None]
        self.add(check, cost, counts)

    def add_table(self, other: "CostTable") -> None:
        """Everything of another one, of this shape or one that broadcasts to it."""
        for check, cost in other.costs.items():
            self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.counts = self.counts + other.counts

    def weigh(self, seen: Visibility) -> None:
        """Of two rooms that see so much of each other; what is only a sliver is noted."""
        if seen.share is not None:
            self.costs = {check: cost * seen.weight for check, cost in self.costs.items()}
            self.counts[1:] *= not seen.is_sliver

    def cost(self, grave: float = 0.0) -> Floats:
        """In all: (n, m), as `cost_in_house`."""
        _, above_note, faults = self.counts
        return np.asarray(sum(self.costs.values(), grave * above_note + SERIOUS * faults))


def room_costs(study: Study, room: RoomOptions, *, deep: bool) -> CostTable:
    """Every check of the room itself: (n, 1). `deep` asks for daylight and evening."""
    table = walls_costs(study, room, deep=deep)
    table.add_table(compared_costs(PairOptions(study.house, room, room, together=True)))
    return table


def walls_costs(study: Study, room: RoomOptions, *, deep: bool) -> CostTable:
    """The checks of a room but those that compare its coats: (n, 1)."""
    table = CostTable((room.count, 1))
    for check, look in _looks():
        match look:
            case OfRoom() if room.has("walls") and (deep or not look.deep):
                found = look.judge(room, check.limits_in(study.house))
                table.add_verdict(check.id, _left(study.house, check, found, room.walls_at))
            case Listed("rooms", find):
                for rows, part in _each_painted(room):
                    table.add_found(_not_accepted(study, check, find, part), rows)
    return table


def add_house_costs(table: CostTable, study: Study, room: RoomOptions) -> None:
    """The checks of the whole house: (n, 1)."""
    for check, look in _looks():
        if isinstance(look, Listed) and look.table == "houses":
            for rows, part in _each_painted(room):
                rooms = {**study.rooms, part.id: part}
                table.add_found(_not_accepted(study, check, look.find, rooms), rows)


def pair_costs(
    report: Report, first: RoomOptions, second: RoomOptions, *, together: bool = False
) -> CostTable:
    """Every check of two rooms that see each other: (n, m).

    `together`: both have the same option at a time, so that the costs are (n, 1).
    """
    key = sorted_pair(first.part.id, second.part.id)
    pair = report.study.pairs[key]
    table = compared_costs(PairOptions(report.house, first, second, pair, together))
    table.weigh(report.visibility(key))
    return table


def compared_costs(options: PairOptions) -> CostTable:
    """The checks of coats that meet: (n, m)."""
    table, (n, m) = CostTable(options.shape), options.shape
    known: dict[object, Meetings | None] = {}
    for check, look in _looks():
        if isinstance(look, Compare) and (look.between if options.pair else look.within):
            key = look.surfaces, look.lit
            if key not in known:
                known[key] = options.meetings(look.surfaces, lit=look.lit)
            if (met := known[key]) is not None:
                found = look.judge(met, check.limits_in(options.house))
                found = _left(options.house, check, found, met.places)
                worst = np.zeros(len(met.at) * n * m)
                np.maximum.at(worst, found.cell, found.cost)
                counts = np.zeros((3, len(worst)), dtype=np.intp)
                for count, least in zip(counts, _SEVERITIES, strict=True):
                    count[found.cell[found.severity >= least]] = 1
                each = worst.reshape(-1, n, m)
                table.add(check.id, each.sum(0), counts.reshape(3, -1, n, m).sum(1))
    return table


def is_compared(finding: Finding) -> bool:
    """Whether a finding is of two coats that meet."""
    looks = check_of(finding.check).looks
    return len(finding.places) > 1 and any(isinstance(look, Compare) for look in looks)


def add_view_costs(
    own: CostTable, every: CostTable, study: Study, room: RoomOptions, *, deep: bool
) -> None:
    """Every check of the views that hold the room: to `own` what names it, to `every` all."""
    for check, look in _looks():
        match look:
            case OfView() if deep or not look.deep:
                for key in holding(study, room.part.id, around=look.around):
                    view = view_of(study, key, around=look.around, tried=room)
                    for each in look.judge(view, check.limits_in(study.house)):
                        found = _left(study.house, check, each, room.walls_at)
                        assert found.names_room is not None
                        every.add_verdict(check.id, found)
                        own.add_verdict(check.id, found.rows(found.names_room))
            case Listed("views", find):
                for key in holding(study, room.part.id, around=False):
                    for rows, part in _each_painted(room):
                        view_ = _as_seen(study.views[key], part)
                        listed = _not_accepted(study, check, find, view_)
                        every.add_found(listed, rows)
                        own.add_found((f for f in listed if part.id in f.rooms), rows)


def holding(study: Study, room: str, *, around: bool) -> Sequence[str]:
    """The rooms whose view, or one of the views around which, has the room in it."""
    views = (
        {key: each.views for key, each in study.surroundings.items()}
        if around
        else {key: (view,) for key, view in study.views.items()}
    )
    return [
        key
        for key, of in views.items()
        if any(seen.id == room for view in of for seen in view.rooms)
    ]


def _looks() -> Iterator[tuple[Check, object]]:
    """Of every check that costs anything: what is left to do costs nothing."""
    return ((check, look) for check in CHECKS if not check.to_do for look in check.looks)


def _left(
    house: House, check: Check, found: Verdict, of_cell: Callable[[int], Sequence[Place]]
) -> Verdict:
    """What nobody has accepted; `of_cell` gives the places of a cell, where no row has its own."""
    entries, own = entries_for(house, check.id), found.places
    return without_accepted(found, entries, own or (lambda row: of_cell(int(found.cell[row]))))


def _not_accepted(
    study: Study, check: Check, find: Callable[[Any, Scope], Iterable[Finding]], part: object
) -> list[Finding]:
    """What a check finds in one part of a study, and nobody has accepted."""
    found = find(part, Scope(study, check.limits_in(study.house)))
    return [finding for finding in found if not acceptance_of(finding, study.house)]


def _each_painted(room: RoomOptions) -> Iterator[tuple[object, PaintedRoom]]:
    """The room in each paint of the house, and in one of those that it does not have: all alike."""
    options = room.options
    assert options is not None
    foreign, own = np.flatnonzero(options.foreign), np.flatnonzero(~options.foreign)
    for row in (*foreign[:1].tolist(), *own.tolist()):
        alike = foreign if options.foreign[row] else row
        yield alike, room.as_painted(options.in_house(row))


def _as_seen(view: View, part: PaintedRoom) -> View:
    """A view with one room painted otherwise."""
    seen = tuple(s._replace(room=part) if s.room.id == part.id else s for s in view.seen)
    return View(part if view.room.id == part.id else view.room, seen)
