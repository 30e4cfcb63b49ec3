"""What checks cost for every option of a room, of two rooms, or in the views that hold a room.

Every figure is the checks' own (`Check.looks`), with options in place of the paint that is there.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TypeVar

import numpy as np

from housemap.checks import CHECKS, Check, Finding, Place, Report, check_of
from housemap.checks.check import Compare, Listed, OfRoom, OfView, Scope
from housemap.checks.counting import Visibility, acceptance_of, entries_for, without_accepted
from housemap.checks.finding import NOTE
from housemap.checks.judging import view_of
from housemap.checks.meetings import Meetings, Verdict
from housemap.checks.options import PairOptions, RoomOptions
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.house import House
from housemap.plan.house_graph import sorted_pair
from housemap.study import PaintedRoom, Study, Surroundings, View

Part = TypeVar("Part")
Find = Callable[[Part], Iterable[Finding]]
"""What a check finds in one part of a study."""


@dataclass(slots=True, eq=False)
class CostTable:
    """What each check costs and how often it finds something: (n, m); m is 1 for one room."""

    shape: tuple[int, int]
    costs: dict[str, Floats] = field(default_factory=dict)
    """By check id; of the checks that may find anything."""
    findings: Indices = field(init=False)
    grave: Indices = field(init=False)
    """How many of the findings are above a note."""

    def __post_init__(self) -> None:
        self.findings = self.grave = np.zeros(self.shape, dtype=np.intp)

    def add(self, check: str, cost: Floats, findings: Indices, grave: Indices) -> None:
        """What a check costs and how often it finds something; all broadcast to the shape."""
        self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.findings = self.findings + findings
        self.grave = self.grave + grave

    def add_found(self, findings: Sequence[Finding]) -> None:
        """What is found whatever the option."""
        for finding in findings:
            grave = np.array(finding.severity != "note", dtype=np.intp)
            self.add(finding.check, np.array(finding.cost), np.array(1), grave)

    def add_table(self, other: "CostTable") -> None:
        """Everything of another one, of this shape or one that broadcasts to it."""
        for check, cost in other.costs.items():
            self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.findings = self.findings + other.findings
        self.grave = self.grave + other.grave

    def weighed(self, seen: Visibility) -> "CostTable":
        """The same between two rooms that see so much of each other."""
        if seen.share is None:
            return self
        table = CostTable(self.shape)
        table.costs = {check: cost * seen.weight for check, cost in self.costs.items()}
        table.findings = self.findings
        if not seen.is_sliver:
            table.grave = self.grave
        return table

    @property
    def cost(self) -> Floats:
        return self.cost_with(0.0)

    def cost_with(self, grave: float) -> Floats:
        """With so much for each finding above a note, beside its own cost."""
        return np.asarray(sum(self.costs.values(), grave * self.grave))


def room_costs(study: Study, room: RoomOptions, *, deep: bool) -> CostTable:
    """Every check of the room itself: (n, 1). `deep` asks for daylight and evening."""
    table = CostTable((room.count, 1))
    table.add_table(walls_costs(study, room, deep=deep))
    table.add_table(compared_costs(PairOptions(study.house, room, room, together=True)))
    return table


def walls_costs(study: Study, room: RoomOptions, *, deep: bool) -> CostTable:
    """The checks of a room but those that compare its coats: (n, 1)."""
    table = CostTable((room.count, 1))
    for check, look in _looks():
        limits = check.limits_in(study.house)
        match look:
            case OfRoom() if room.has("walls") and (deep or not look.deep):
                found = look.judge(room, limits)
                if found.places is None:
                    found = _left(study.house, check, found, room.walls_at)
                else:
                    found = _left_of_view(study.house, check, found)
                _add_rows(table, check, found, room.count)
            case Listed("rooms", find):
                scope = Scope(study, limits)
                _add_each(table, check, room, _in_scope(find, scope))
    return table


def house_costs(study: Study, room: RoomOptions) -> CostTable:
    """The checks of the whole house: (n, 1)."""
    table = CostTable((room.count, 1))
    for check, look in _looks():
        if isinstance(look, Listed) and look.table == "houses":
            find = _in_scope(look.find, Scope(study, check.limits_in(study.house)))
            _add_each(table, check, room, partial(_in_house, study.rooms, find))
    return table


def _in_house(
    rooms: Mapping[str, PaintedRoom], find: Find[Mapping[str, PaintedRoom]], part: PaintedRoom
) -> Iterable[Finding]:
    """What is found in a house with one room painted otherwise."""
    return find({**rooms, part.id: part})


def pair_costs(
    report: Report, first: RoomOptions, second: RoomOptions, *, together: bool = False
) -> CostTable:
    """Every check of two rooms that see each other: (n, m).

    `together`: both have the same option at a time, so that the costs are (n, 1).
    """
    key = sorted_pair(first.part.id, second.part.id)
    pair = report.study.pairs[key]
    table = compared_costs(PairOptions(report.house, first, second, pair, together))
    return table.weighed(report.visibility(key))


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
                grave = np.zeros(len(worst), dtype=np.intp)
                grave[found.cell[found.severity > NOTE]] = 1
                each = worst.reshape(-1, n, m)
                table.add(
                    check.id, each.sum(0), (each > 0.0).sum(0), grave.reshape(-1, n, m).sum(0)
                )
    return table


def is_compared(finding: Finding) -> bool:
    """Whether a finding is of two coats that meet."""
    looks = check_of(finding.check).looks
    return len(finding.places) > 1 and any(isinstance(look, Compare) for look in looks)


@dataclass(frozen=True, slots=True, eq=False)
class ViewCosts:
    """What is found in views that hold the room: naming it, and any; (n, 1) both."""

    own: CostTable
    every: CostTable


def view_costs(study: Study, room: RoomOptions, *, deep: bool) -> ViewCosts:
    """Every check of the views that hold the room, for the options on its surface."""
    made = ViewCosts(CostTable((room.count, 1)), CostTable((room.count, 1)))
    for check, look in _looks():
        limits = check.limits_in(study.house)
        match look:
            case OfView() if deep or not look.deep:
                for key in holding(study, room.part.id, around=look.around):
                    view = view_of(study, key, around=look.around, tried=room)
                    for each in look.judge(view, limits):
                        found = _left_of_view(study.house, check, each)
                        _add_rows(made.every, check, found, room.count)
                        _add_rows(made.own, check, _naming(found), room.count)
            case Listed("views", find):
                scope = Scope(study, limits)
                for key in holding(study, room.part.id, around=False):
                    look_at = _in_scope(find, scope)
                    _add_view(made, check, room, partial(_as_seen, study.views[key], look_at))
    return made


def holding(study: Study, room: str, *, around: bool) -> Iterator[str]:
    """The rooms whose view, or one of the views around which, has the room in it."""
    if around:
        yield from (key for key, each in study.surroundings.items() if is_around(each, room))
        return
    yield from (key for key, view in study.views.items() if is_in(view, room))


def is_in(view: View, room: str) -> bool:
    return any(seen.id == room for seen in view.rooms)


def is_around(place: Surroundings, room: str) -> bool:
    return any(is_in(view, room) for view in place.views)


def _looks() -> Iterator[tuple[Check, object]]:
    """Of every check that costs anything: what is left to do costs nothing."""
    for check in CHECKS:
        if not check.to_do:
            for look in check.looks:
                yield check, look


def _left(
    house: House, check: Check, found: Verdict, places: Callable[[int], Sequence[Place]]
) -> Verdict:
    """What nobody has accepted; `places` of a cell."""
    entries = entries_for(house, check.id)
    return without_accepted(found, entries, lambda row: places(int(found.cell[row])))


def _left_of_view(house: House, check: Check, found: Verdict) -> Verdict:
    assert found.places is not None
    return without_accepted(found, entries_for(house, check.id), found.places)


def _naming(found: Verdict) -> Verdict:
    """Those that name the room with the options."""
    assert found.names_room is not None
    return found.rows(found.names_room)


def _add_rows(table: CostTable, check: Check, found: Verdict, count: int) -> None:
    """A verdict on options, a row each."""
    cost, number = np.zeros((count, 1)), np.zeros((count, 1), dtype=np.intp)
    grave = np.zeros_like(number)
    cost[found.cell, 0] = found.cost
    number[found.cell, 0] = 1
    grave[found.cell, 0] = found.severity > NOTE
    _add_cost(table, check, cost, number, grave)


def _add_cost(table: CostTable, check: Check, cost: Floats, count: Indices, grave: Indices) -> None:
    """A broken wish is found, and costs what `wishes_on` says beside the findings."""
    free = np.zeros_like(count)
    table.add(check.id, *((free, count, free) if check.wish else (cost, count, grave)))


def _in_scope(find: Callable[[Part, Scope], Iterable[Finding]], scope: Scope) -> Find[Part]:
    return lambda part: [f for f in find(part, scope) if not acceptance_of(f, scope.study.house)]


def _as_seen(view: View, find: Find[View], part: PaintedRoom) -> Iterable[Finding]:
    """What is found in a view with one room painted otherwise."""
    seen = tuple(s._replace(room=part) if s.room.id == part.id else s for s in view.seen)
    return find(View(part if view.room.id == part.id else view.room, seen))


def _add_view(made: ViewCosts, check: Check, room: RoomOptions, find: Find[PaintedRoom]) -> None:
    _add_each(made.every, check, room, find)
    _add_each(made.own, check, room, lambda part: [f for f in find(part) if part.id in f.rooms])


def _add_each(
    table: CostTable,
    check: Check,
    room: RoomOptions,
    find: Find[PaintedRoom],
) -> None:
    """Each paint of the house by itself; those that it does not have are all alike."""
    options = room.options
    assert options is not None
    cost, count = np.zeros((room.count, 1)), np.zeros((room.count, 1), dtype=np.intp)
    grave = np.zeros_like(count)
    foreign, own = np.flatnonzero(options.foreign), np.flatnonzero(~options.foreign)
    for row in (*foreign[:1].tolist(), *own.tolist()):
        alike = foreign if options.foreign[row] else row
        found = [*find(room.as_painted(options.in_house(row)))]
        cost[alike], count[alike] = sum(each.cost for each in found), len(found)
        grave[alike] = sum(each.severity != "note" for each in found)
    _add_cost(table, check, cost, count, grave)
