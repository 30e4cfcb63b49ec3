"""How much of each paint and primer: areas, coats, litres, tins and money; and hours of work.

litres = area x coats / coverage, and waste on top; tins are bought for the whole house at once.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from typing import NamedTuple, TypeVar

from housemap.model.grouping import grouped
from housemap.model.house import (
    SURFACES,
    House,
    Paint,
    Part,
    Primer,
    Room,
    Sheen,
    Surface,
    part_surface,
)
from housemap.model.samples import Trying, all_tried, trying
from housemap.model.takeoff import part_of, surface_of, surface_of_part
from housemap.model.wishes import kept_rooms
from housemap.schedule.existing import ExistingCoats
from housemap.schedule.purchase import SURPLUS_SHARE, Purchase, Tin, few_tins, least_litres
from housemap.schedule.systems import System, system_of
from housemap.study import Study

COVERAGE_M2_PER_L = 12.0
"""Where a paint states none: common practice for walls is 10 to 12 m2 per litre and coat."""
WASTE = 0.10
"""Common practice, no source."""

K = TypeVar("K")


class Line(NamedTuple):
    """One surface of one room as the painter is asked to do it."""

    room: str
    surface: str
    """walls ceiling trim doors, "accent" and the wall's key, or "part" and its id."""
    paint: str
    sheen: Sheen | None
    area_m2: float | None
    """None where the room or the part is not measured."""
    system: System
    litres: float | None
    """Without waste, a mist coat counted in."""
    hours: float | None
    """None where no rate is given, or no area."""

    @property
    def coats(self) -> int:
        return self.system.coats

    @property
    def trying(self) -> Trying:
        """Where its sample is judged."""
        return trying(self.paint, self.room, self.surface)


class Unpainted(NamedTuple):
    """A part of a room that is left as it is."""

    room: str
    key: str
    part: Part
    area_m2: float | None


class Need(NamedTuple):
    """What is needed of one paint in one sheen and product line, over the whole house."""

    paint: str
    sheen: Sheen | None
    product: str
    open_for: str
    """Where neither sheen nor product is chosen: "walls and ceilings" or "woodwork", which take no
    one paint."""
    area_m2: float
    litres: float
    """With waste."""
    purchase: Purchase | None
    """As tins are bought; None where the paint states no tins."""
    least: Purchase | None
    """With the least litres left over."""
    cost: float | None
    """In the house's own currency; None where the paint states no price."""
    lines: tuple[Line, ...]
    """That it is needed for."""


class PrimerNeed(NamedTuple):
    """What is needed of one primer, over the whole house."""

    text: str
    supplier: str
    """As the order code, empty where the house has no such primer."""
    order: str
    area_m2: float
    litres: float
    """With waste."""
    purchase: Purchase | None
    cost: float | None


class Quantities(NamedTuple):
    lines: tuple[Line, ...]
    """By room and surface."""
    left: tuple[Unpainted, ...]
    unchosen: tuple[tuple[str, Surface], ...]
    """Rooms indoors, and the surfaces of them that have no paint yet."""
    rejected: tuple[Line, ...]
    """Those of which a sample was rejected on the wall: nothing is ordered for them."""
    needs: tuple[Need, ...]
    """By paint, sheen and product line."""
    primers: tuple[PrimerNeed, ...]
    unmeasured: tuple[str, ...]
    """The painted rooms that no amount could be given for."""

    @property
    def cost(self) -> float | None:
        """Of all paint and primer that has a price; None where nothing has."""
        every = [*(each.cost for each in self.needs), *(each.cost for each in self.primers)]
        costs = [cost for cost in every if cost is not None]
        return sum(costs) if costs else None

    @property
    def tins(self) -> int:
        return sum(n.purchase.count for n in self.needs if n.purchase)

    @property
    def hours(self) -> float | None:
        """Of all lines that have a rate; None where none has."""
        hours = [line.hours for line in self.lines if line.hours is not None]
        return sum(hours) if hours else None


def quantities(study: Study, existing: ExistingCoats | None = None) -> Quantities:
    """Quantities of a house over what is on its surfaces now, where that is known."""
    house, known = study.house, existing or ExistingCoats()
    kept = kept_rooms(house)
    lines: list[Line] = []
    left: list[Unpainted] = []
    unchosen: list[tuple[str, Surface]] = []
    for key, room in house.rooms.items():
        if key in kept:
            continue
        areas = study.rooms[key].areas
        measured = areas.to_paint_m2 if areas else {}
        for surface, paint in room.painted():
            area = measured.get(surface)
            if area != 0.0:  # no doors, no trim
                lines.append(_line(study, known, (key, surface, paint), area))
        left += (
            Unpainted(key, of, part, measured.get(part_surface(of)))
            for of, part in room.parts.items()
            if part.paint is None
        )
        bare = [on for on in SURFACES if getattr(room.paints, on) is None and measured.get(on)]
        unchosen += ((key, on) for on in bare if room.use != "outdoor")
    tried = all_tried(house)
    rejected = [line for line in lines if tried.get(line.trying) == "rejected"]
    known_area = [line for line in lines if line.area_m2 is not None and line not in rejected]
    needs = _grouped(known_area, partial(_need_key, house))
    primed = (each for each in known_area if each.system.first and not each.system.first.is_paint)
    return Quantities(
        tuple(lines),
        tuple(left),
        tuple(unchosen),
        tuple(rejected),
        tuple(_need(house, need, of) for need, of in needs),
        tuple(_primer_need(house, first, of) for first, of in _grouped(primed, _primer_key)),
        tuple(dict.fromkeys(line.room for line in lines if line.area_m2 is None)),
    )


def _grouped(lines: Iterable[Line], key_of: Callable[[Line], K]) -> Iterator[tuple[K, list[Line]]]:
    groups = grouped((key_of(line), line) for line in lines)
    yield from sorted(groups.items(), key=lambda group: str(group[0]))


def _line(
    study: Study, existing: ExistingCoats, place: tuple[str, str, str], area: float | None
) -> Line:
    house, (room_id, surface, paint) = study.house, place
    room = house.rooms[room_id]
    sheen = sheen_on(room, surface)
    plain = _plain(room, surface)
    usual = sheen == room.sheens.of(plain)  # a part in a sheen of its own has another product
    product = house.paints[paint].product(plain if usual else "", sheen)
    system = system_of(house, study.paint(paint), product, existing.on(room_id, surface), sheen)
    coverage = house.paints[paint].coverage or COVERAGE_M2_PER_L
    mist = 1 if system.first and system.first.is_paint else 0
    litres = None if area is None else area * (system.coats + mist) / coverage
    hours = _hours(house, room, surface, system, area)
    return Line(room_id, surface, paint, sheen, area, system, litres, hours)


def _plain(room: Room, surface: str) -> Surface:
    part = part_of(room, surface)
    return surface_of_part(part) if part else surface_of(surface)


def sheen_on(room: Room, surface: str) -> Sheen | None:
    part = part_of(room, surface)
    return (part.sheen if part else None) or room.sheens.of(_plain(room, surface))


def _hours(
    house: House, room: Room, surface: str, system: System, area: float | None
) -> float | None:
    part = part_of(room, surface)
    rates: Mapping[str, float] = dict(house.client.rates)
    rate = (rates.get(part.kind) if part else None) or rates.get(_plain(room, surface))
    if rate is None or area is None:
        return None
    return area * (system.coats + (1 if system.first else 0)) / rate


_NeedKey = tuple[str, Sheen | None, str, str]


def _need_key(house: House, line: Line) -> _NeedKey:
    product, open_for = line.system.product, ""
    if not product and line.sheen is None:
        plain = _plain(house.rooms[line.room], line.surface)
        open_for = "woodwork" if plain in {"trim", "doors"} else "walls and ceilings"
    return line.paint, line.sheen, product, open_for


_PrimerKey = tuple[str, str | None, float]


def _primer_key(line: Line) -> _PrimerKey:
    first = line.system.first
    assert first is not None
    return first.text, first.primer, first.coverage


def _need(house: House, key: _NeedKey, lines: list[Line]) -> Need:
    paint = house.paints[key[0]]
    area = sum(line.area_m2 or 0.0 for line in lines)
    litres = sum(line.litres or 0.0 for line in lines) * (1.0 + WASTE)
    tins = tins_of(paint)
    purchase = _purchase(house, litres, tins)
    least = least_litres(litres, tins) if tins else None
    cost = purchase.price if purchase else paint.price and paint.price * litres
    return Need(*key, area, litres, purchase, least, _printed(cost, house), tuple(lines))


def decimals(house: House) -> int:
    """That sums of money are printed with (ISO 4217; the whole units from memory)."""
    return 0 if house.client.currency in {"JPY", "KRW", "ISK", "VND", "CLP"} else 2


def _printed(cost: float | None, house: House) -> float | None:
    """So that who adds up what is printed gets the sum that is printed."""
    return None if cost is None else round(cost, decimals(house))


def tins_of(paint: Paint | Primer) -> tuple[Tin, ...]:
    """Sizes with their prices: as given a tin, else by the price a litre."""
    by_litre = paint.price if isinstance(paint, Paint) else None
    if paint.prices:
        return tuple(Tin(size, price) for size, price in zip(paint.tins, paint.prices, strict=True))
    return tuple(Tin(size, None if by_litre is None else by_litre * size) for size in paint.tins)


def _purchase(house: House, litres: float, tins: tuple[Tin, ...]) -> Purchase | None:
    share = SURPLUS_SHARE if house.client.surplus is None else house.client.surplus / 100.0
    return few_tins(litres, tins, share) if tins else None


def _primer_need(house: House, key: _PrimerKey, lines: list[Line]) -> PrimerNeed:
    text, primer, coverage = key
    area = sum(line.area_m2 or 0.0 for line in lines)
    litres = area / coverage * (1.0 + WASTE)
    held = house.primers[primer] if primer else Primer("")
    purchase = _purchase(house, litres, tins_of(held))
    cost = _printed(purchase.price if purchase else None, house)
    return PrimerNeed(text, held.supplier, held.order, area, litres, purchase, cost)
