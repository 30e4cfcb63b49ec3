"""Numbers and names as the schedule tells them, in the units of the house."""

from collections.abc import Mapping

from housemap.model.house import House, Units
from housemap.schedule.purchase import Purchase

FT2_PER_M2 = 1 / 0.3048**2
US_GALLON_L = 3.785411784
"""Exact by definition (NIST SP 811)."""

NOT_MEASURED = "not measured"
NO_SHEEN = "not chosen"


def area(square_metres: float | None, units: Units) -> str:
    if square_metres is None:
        return NOT_MEASURED
    if units == "ft":
        return f"{square_metres * FT2_PER_M2:.0f} ft2"
    return f"{square_metres:.1f} m2"


def volume(litres: float | None, units: Units) -> str:
    if litres is None:
        return NOT_MEASURED
    if units == "ft":
        return f"{litres / US_GALLON_L:.2f} gal"
    return f"{litres:.2f} l"


def tins(purchase: Purchase | None, units: Units) -> str:
    """As in "2 x 5 l, 1 x 0.75 l"."""
    if purchase is None:
        return "no tin sizes stated"
    counts: Mapping[float, int] = purchase.tins
    return ", ".join(f"{count} x {_size(size, units)}" for size, count in counts.items())


def _size(litres: float, units: Units) -> str:
    return f"{litres / US_GALLON_L:.2g} gal" if units == "ft" else f"{litres:g} l"


def percent(share: float) -> str:
    """Of a share 0..1, as in "12 %"."""
    return f"{100 * share:.0f} %" if share >= 0.01 or share == 0.0 else "<1 %"  # noqa: PLR2004 - a hundredth


def money(amount: float | None) -> str:
    return "no price stated" if amount is None else f"{amount:,.2f}"


def wall_of_surface(surface: str) -> str:
    kind, _, wall = surface.partition(" ")
    return f"accent wall {wall}" if kind == "accent" else kind


def room(house: House, room_id: str) -> str:
    return house.rooms[room_id].name


def paint(house: House, paint_id: str) -> str:
    """The name with the code, as in "Oat Ladle (A-102)"."""
    entity = house.paints[paint_id]
    return f"{entity.name} ({entity.code})" if entity.code else entity.name
