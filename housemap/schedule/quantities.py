"""How much of each paint: areas by room and surface, coats, litres, tins and cost.

litres = area x coats / coverage, and waste on top; tins are bought for the whole house at once.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from housemap.model.house import House, Paint, Room, Sheen
from housemap.schedule.purchase import Purchase, Tin, few_tins, least_litres
from housemap.schedule.takeoff import surface_areas_m2, surface_of
from housemap.study import Study

COVERAGE_M2_PER_L = 12.0
"""Where a paint states none: common practice for walls is 10 to 12 m2 per litre and coat."""
WASTE = 0.10
"""Common practice, no source."""
COATS = 2
COATS_OVER_DARKER = 3
OVER_DARKER_LRV = 30.0
"""Common practice, no source: two coats, a third where the new colour is this much lighter."""


@dataclass(frozen=True, slots=True)
class Line:
    """One surface of one room as the painter is told of it."""

    room: str
    surface: str
    """walls ceiling trim doors, or "accent" and the wall's key."""
    paint: str
    sheen: Sheen | None
    area_m2: float | None
    """None where the room is not measured."""
    coats: int
    litres: float | None
    """Without waste."""


@dataclass(frozen=True, slots=True)
class Need:
    """What is needed of one paint in one sheen, over the whole house."""

    paint: str
    sheen: Sheen | None
    area_m2: float
    litres: float
    """With waste."""
    coverage_assumed: bool
    purchase: Purchase | None
    """As tins are bought; None where the paint states no tins."""
    least: Purchase | None
    """With the least litres left over."""
    cost: float | None
    """In the house's own currency; None where the paint states no price."""


@dataclass(frozen=True, slots=True)
class Quantities:
    lines: tuple[Line, ...]
    """By room and surface."""
    needs: tuple[Need, ...]
    """By paint and sheen."""
    unmeasured: tuple[str, ...]
    """The painted rooms that no amount could be told of."""

    @property
    def cost(self) -> float | None:
        """Of everything that has a price; None where nothing has."""
        costs = [need.cost for need in self.needs if need.cost is not None]
        return sum(costs) if costs else None


def quantities(study: Study, before: Study | None = None) -> Quantities:
    """Quantities of a house; `before` is the house as it is painted now, where that is known."""
    lines = tuple(line for room in study.house.rooms for line in _lines(study, before, room))
    needs: dict[tuple[str, Sheen | None], list[Line]] = {}
    for line in lines:
        if line.area_m2 is not None:
            needs.setdefault((line.paint, line.sheen), []).append(line)
    return Quantities(
        lines,
        tuple(_need(study.house.paints[key[0]], key, needs[key]) for key in sorted(needs, key=str)),
        tuple(dict.fromkeys(line.room for line in lines if line.area_m2 is None)),
    )


def _lines(study: Study, before: Study | None, room_id: str) -> Iterator[Line]:
    house, room = study.house, study.house.rooms[room_id]
    areas = surface_areas_m2(house, room_id)
    for surface, paint in _painted(room):
        area = None if areas is None else areas[surface]
        if area == 0.0:
            continue  # no doors, no trim
        coats = _coats(study, before, room_id, surface, paint)
        coverage = house.paints[paint].coverage or COVERAGE_M2_PER_L
        litres = None if area is None else area * coats / coverage
        sheen = room.sheens.of(surface_of(surface))
        yield Line(room_id, surface, paint, sheen, area, coats, litres)


def _painted(room: Room) -> Iterator[tuple[str, str]]:
    yield from room.paints.chosen()
    for wall in sorted(room.accents):
        yield f"accent {wall}", room.accents[wall].paint


def _coats(study: Study, before: Study | None, room: str, surface: str, paint: str) -> int:
    old = _old_paint(before.house, room, surface) if before else None
    if before is None or old is None:
        return COATS
    lighter = study.paint(paint).lrv - before.paint(old).lrv
    return COATS_OVER_DARKER if lighter > OVER_DARKER_LRV else COATS


def _old_paint(house: House, room: str, surface: str) -> str | None:
    if room not in house.rooms:
        return None
    painted: Mapping[str, str] = dict(_painted(house.rooms[room]))
    return painted.get(surface, painted.get(surface_of(surface)))


def _need(paint: Paint, key: tuple[str, Sheen | None], lines: list[Line]) -> Need:
    litres = sum(line.litres or 0.0 for line in lines) * (1.0 + WASTE)
    tins = [Tin(size, paint.price and paint.price * size) for size in paint.tins]
    purchase = few_tins(litres, tins) if tins else None
    by_litre = None if paint.price is None else paint.price * litres
    return Need(
        paint=key[0],
        sheen=key[1],
        area_m2=sum(line.area_m2 or 0.0 for line in lines),
        litres=litres,
        coverage_assumed=paint.coverage is None,
        purchase=purchase,
        least=least_litres(litres, tins) if tins else None,
        cost=purchase.price if purchase else by_litre,
    )
