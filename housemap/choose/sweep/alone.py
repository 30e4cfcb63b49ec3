"""What checks of one room cost in it, for every option: LRV, daylight, and a colour that turns."""

from collections.abc import Mapping

import numpy as np

from housemap.checks import Check, check_of
from housemap.checks.page import Scope
from housemap.checks.pages import backbone, dim, edge, rejected, sheen, trim, turn, untried
from housemap.choose.sweep.eyes import Looks, families
from housemap.choose.sweep.side import Side
from housemap.choose.sweep.tally import Tally
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import ucs_parts
from housemap.light.room_scene import LightName
from housemap.model.house import House
from housemap.study import PaintedRoom, Study

_BY_PAINT = (sheen.CHECK, rejected.CHECK, untried.CHECK)
"""Checks for which it matters which paint it is, not what colour it has."""


def alone(study: Study, side: Side, *, deep: bool) -> Tally:
    """The checks of a room but those of `meetings`: (n, 1)."""
    tally = Tally((side.count, 1))
    _add_lrv(tally, study.house, side)
    if side.options is not None:
        _add_by_paint(tally, study, side)
    if deep and side.has("walls"):
        _add_dim(tally, study, side)
        _add_turn(tally, study.house, side.looks)
    return tally


def _add_lrv(tally: Tally, house: House, side: Side) -> None:
    if not side.has("walls"):
        return
    walls = side.lrv("walls")
    if side.part.room.role == "backbone":
        limit = check_of("backbone").limits_in(house)["lrv"]
        tally.add("backbone", _column(backbone.lrv_costs(walls, limit)))
    if side.has("trim"):
        gap = np.abs(walls - side.lrv("trim"))
        tally.add("trim", _column(trim.gap_costs(gap, check_of("trim").limits_in(house))))
    if house.low_vision:
        limit = check_of("edge").limits_in(house)["lrv"]
        for beside in filter(side.has, ("doors", "trim", "floor")):
            points = np.abs(walls - side.lrv(beside))
            tally.add("edge", _column(edge.point_costs(points, limit)))


def _add_by_paint(tally: Tally, study: Study, side: Side) -> None:
    """Each paint of the house by itself; those that it does not have are all alike."""
    options = side.options
    assert options is not None
    foreign, own = np.flatnonzero(options.foreign), np.flatnonzero(~options.foreign)
    for check in _BY_PAINT:
        cost, count = np.zeros(side.count), np.zeros(side.count, dtype=np.intp)
        for row in (*foreign[:1].tolist(), *own.tolist()):
            alike = foreign if options.foreign[row] else row
            found = _found(check, study, side.as_painted(options.in_house(row)))
            cost[alike], count[alike] = sum(found), len(found)
        tally.add_counted(check.id, _column(cost), count[:, np.newaxis])


def _found(check: Check, study: Study, room: PaintedRoom) -> list[float]:
    """What each finding of a check in a room costs."""
    assert check.of_room is not None
    scope = Scope(study, check.limits_in(study.house))
    return [check.cost(finding) for finding in check.of_room(room, scope)]


def _add_dim(tally: Tally, study: Study, side: Side) -> None:
    factor = study.lighting.rooms[side.part.id].light.daylight
    if factor is None:
        return
    lrv = side.lrv("walls")
    on, on_lrv = "walls", lrv
    if side.options is not None and side.surface != "trim":
        on, on_lrv = side.surface.removeprefix("accent "), side.options.colours.lrv
    limits, severity = check_of("dim").limits_in(study.house), dim.severity_in(side.part.room)
    percent = factor.percent_with(on, on_lrv)
    tally.add("dim", _column(dim.percent_costs(lrv, percent, limits, severity)))


def _add_turn(tally: Tally, house: House, seen: Mapping[LightName, Looks]) -> None:
    """Of the walls, which are the first of a room's coats."""
    if len(seen) < 2:  # noqa: PLR2004 - day and evening
        return
    limits = check_of("turn").limits_in(house)
    day, evening = seen["day"], seen["evening"]
    shift = ucs_parts(day.ucs[0, :, 0], evening.ucs[0, :, 0])[0]
    turned = np.zeros(len(shift), dtype=np.bool_)
    asked = np.flatnonzero((shift > limits["family"]) & (shift <= limits["shift"]))
    pairs = zip(families(day, asked), families(evening, asked), strict=True)
    turned[asked] = [one != other and "none" not in (one, other) for one, other in pairs]
    tally.add("turn", _column(turn.shift_costs(shift, turned, limits)))


def _column(values: Floats) -> Floats:
    return values[:, np.newaxis]
