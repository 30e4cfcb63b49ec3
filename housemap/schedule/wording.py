"""Numbers, money, names and walls as the schedule words them, in the units of the house."""

from collections.abc import Mapping

from housemap.model.house import House, Part, PartKind, Units
from housemap.model.lengths import FOOT_M
from housemap.plan.floor_plan import short_wall_name
from housemap.schedule.purchase import Purchase
from housemap.schedule.quantities import Need, decimals
from housemap.schedule.systems import System

FT2_PER_M2 = FOOT_M**-2
US_GALLON_L = 3.785411784
"""Exact by definition (NIST SP 811)."""

NOT_MEASURED = "not measured"
NOT_GIVEN = "not given"
NO_SHEEN = "choose"
"""As in "sheen: choose"."""

_SYMBOLS: Mapping[str, str] = {"GBP": "£", "EUR": "€", "USD": "$"}


def area(square_metres: float | None, units: Units) -> str:
    if square_metres is None:
        return NOT_MEASURED
    return f"{square_metres * FT2_PER_M2:.0f} ft2" if units == "ft" else f"{square_metres:.1f} m2"


def volume(litres: float | None, units: Units) -> str:
    if litres is None:
        return NOT_MEASURED
    return f"{litres / US_GALLON_L:.2f} gal" if units == "ft" else f"{litres:.2f} l"


def tins(purchase: Purchase | None, units: Units) -> str:
    """As in "2 x 5 l, 1 x 0.75 l"."""
    if purchase is None:
        return "no tin sizes given"
    counts: Mapping[float, int] = purchase.tins
    return ", ".join(f"{count} x {tin_size(size, units)}" for size, count in counts.items())


def tin_size(litres: float, units: Units) -> str:
    return f"{litres / US_GALLON_L:.2g} gal" if units == "ft" else f"{litres:g} l"


def percent(share: float) -> str:
    """Of a share 0..1, as in "12 %"."""
    return f"{100 * share:.0f} %" if share >= 0.01 or share == 0.0 else "<1 %"  # noqa: PLR2004 - a hundredth


def money(amount: float | None, house: House) -> str:
    """As in "£2,474.12"; without a currency the bare number, which the headings explain."""
    if amount is None:
        return "no price given"
    code = house.client.currency
    figure = f"{amount:,.{decimals(house)}f}"
    return f"{_SYMBOLS.get(code, f'{code} ')}{figure}".lstrip()


def coats(system: System) -> str:
    """As in "2", "primer + 2" or "mist coat + 2"."""
    if system.first is None:
        return str(system.coats)
    return f"{'mist coat' if system.first.is_paint else 'primer'} + {system.coats}"


def hours(amount: float | None) -> str:
    return "no rate given" if amount is None else f"{amount:.1f} h"


def paint(house: House, paint_id: str) -> str:
    """The name with the code, as in "Oat Straw (A-102)"."""
    entity = house.paints[paint_id]
    return f"{entity.name} ({entity.code})" if entity.code else entity.name


PARTS: Mapping[PartKind, str] = {
    "skirting": "skirting", "window": "windows", "radiator": "radiator",
    "panelled-door": "panelled doors", "panelling": "panelling", "paper": "papered wall",
    "tile": "tiled wall",
}  # fmt: skip


def part_name(key: str, held: Part) -> str:
    """What kind it is, as in "3 radiators"; another kind is called by its id, as in "shutters"."""
    name = key.replace("-", " ") if held.kind == "other" else PARTS[held.kind]
    return f"{held.count} {name.removesuffix('s')}s" if held.count > 1 else name


def part(house: House, room_id: str, key: str) -> str:
    """As in "3 radiators, west wall"."""
    held = house.rooms[room_id].parts[key]
    name = part_name(key, held)
    return f"{name}, {short_wall_name(house, room_id, held.wall)}" if held.wall else name


def surface(house: House, room_id: str, key: str) -> str:
    """As in "walls", "west wall (accent)", "panelling, north wall"."""
    kind, _, own = key.partition(" ")
    if kind == "accent":
        return f"{short_wall_name(house, room_id, own)} (accent)"
    return part(house, room_id, own) if kind == "part" else kind


def sheen(need: Need) -> str:
    return need.sheen or (f"{NO_SHEEN}, for {need.open_for}" if need.open_for else NO_SHEEN)
