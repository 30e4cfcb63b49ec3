"""Schemes of one house beside each other: findings, colours in proportion, daylight, changes."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from housemap.checks import Report
from housemap.model.edits import take_scheme
from housemap.model.house import SURFACES, House

AS_IT_IS = "as it is"


@dataclass(frozen=True, slots=True)
class Changed:
    """A surface that has another paint in a scheme."""

    room: str
    surface: str
    """A surface of the room, or "accent" and a wall."""
    now: str | None
    then: str | None
    """Ids of paints; None for none."""


@dataclass(frozen=True, eq=False)
class Compared:
    """The house in one of its schemes."""

    key: str | None
    """None for the house as it is."""
    name: str
    report: Report
    """Of the house so painted."""
    shares: Mapping[str, float]
    """Of the wall area by wall paint, largest first; by rooms where one is not measured."""
    daylight: Mapping[str, float]
    """Daylight factor in percent by room; rooms without windows or measures are missing."""
    changed: tuple[Changed, ...]
    """Against the house as it is."""

    @property
    def findings(self) -> int:
        """How many causes of findings there are."""
        return len(self.report.causes)


def compared(report: Report) -> tuple[Compared, ...]:
    """The house of the report as it is, then in each of its schemes."""
    house = report.house
    made = [_compared(None, AS_IT_IS, report, house)]
    for key, scheme in house.schemes.items():
        made.append(_compared(key, scheme.name, report.after(take_scheme(house, key)), house))
    return tuple(made)


def _compared(key: str | None, name: str, report: Report, before: House) -> Compared:
    return Compared(
        key,
        name,
        report,
        wall_shares(report),
        _daylight(report),
        tuple(changes(before, report.house)),
    )


def wall_shares(report: Report) -> Mapping[str, float]:
    """Of the wall area by wall paint; every room counts alike where one is not measured."""
    painted = {
        key: room.paints.walls for key, room in report.house.rooms.items() if room.paints.walls
    }
    areas = {key: report.study.rooms[key].areas for key in painted}
    known = {key: area.wall_net_m2 for key, area in areas.items() if area is not None}
    all_known = len(known) == len(areas) and sum(known.values()) > 0
    weights = known if all_known else dict.fromkeys(areas, 1.0)
    shares: dict[str, float] = {}
    for key, weight in weights.items():
        shares[painted[key]] = shares.get(painted[key], 0.0) + weight / sum(weights.values())
    return dict(sorted(shares.items(), key=lambda each: -each[1]))


def _daylight(report: Report) -> Mapping[str, float]:
    lit = report.study.lighting.rooms
    return {
        key: room.light.daylight.percent
        for key, room in lit.items()
        if room.light.daylight is not None
    }


def changes(before: House, after: House) -> Iterator[Changed]:
    """Surfaces with another paint, in the order of rooms and surfaces."""
    for key, room in before.rooms.items():
        other = after.rooms[key]
        for surface in SURFACES:
            now, then = getattr(room.paints, surface), getattr(other.paints, surface)
            if now != then:
                yield Changed(key, surface, now, then)
        for wall in dict.fromkeys((*room.accents, *other.accents)):
            pair = [held.accents[wall].paint if wall in held.accents else None
                    for held in (room, other)]  # fmt: skip
            if pair[0] != pair[1]:
                yield Changed(key, f"accent {wall}", pair[0], pair[1])
