"""A conflict of two edits: the place, and what stood and stands there, each with its colour."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError
from housemap.file.diff import value_text
from housemap.model.colour import Lab, Notation, Reflectance, Srgb, Xyz
from housemap.model.house import Finish, House, Paint
from housemap.tui.render.choosing import title_row
from housemap.tui.render.listing import Line, patch
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.scene import BARE, Coat

if TYPE_CHECKING:
    from housemap.file.merge import Conflict, Side

NAMES: "Mapping[Side, str]" = {"base": "1 was", "mine": "2 mine", "theirs": "3 theirs"}
_COLOURS = (Lab, Notation, Reflectance, Srgb, Xyz)


@dataclass(frozen=True, slots=True)
class Sides:
    """The house that both edits grew from, and what each has made of it."""

    base: House
    mine: House
    theirs: House

    def of(self, side: "Side") -> House:
        house: House = getattr(self, side)
        return house


def settling_head(count: int, settled: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    told = "Both have changed these. Nothing is saved until each is settled."
    return [
        title_row("Two edits meet", f"{settled} of {count} settled", line),
        *page.text(told, quiet=True),
        page.blank(),
    ]


def conflict_rows(
    conflict: "Conflict", sides: Sides, chosen: "Side | None", line: Line
) -> Sequence[Row]:
    """The place, then a row for what it was, what is mine and what is theirs."""
    rows: list[Row] = [line.row((line.mark(),), place_of(conflict, sides.mine), "", strong=True)]
    for side, name in NAMES.items():
        value = getattr(conflict, side)
        swatch = patch(_coat(value, conflict, sides.of(side)), SWATCH, line.look)
        tick = line.look.glyphs.tick if side == chosen else " "
        lead = (line.run(f" {tick} "), swatch, line.run(f" {name:9}", quiet=True))
        text = _text(value, conflict, sides.of(side))
        rows.append(line.row(lead, text, "", strong=side == chosen))
    return rows


def place_of(conflict: "Conflict", house: House) -> str:
    """As in "Hall, paints walls": a room by its name, other things by their keys."""
    table, *rest = conflict.path
    if table == "room" and rest and rest[0] in house.rooms:
        return ", ".join((house.rooms[rest[0]].name, " ".join(rest[1:]) or "the room"))
    return " ".join(conflict.path)


def _text(value: object, conflict: "Conflict", house: House) -> str:
    if value is None:
        return "not there"
    if isinstance(value, str) and value in house.paints and _names_paint(conflict):
        return house.paints[value].name
    return value_text(conflict.field, value)


def _names_paint(conflict: "Conflict") -> bool:
    return "paints" in conflict.path or conflict.path[-1] == "paint"


def _coat(value: object, conflict: "Conflict", house: House) -> Coat:
    if isinstance(value, str) and _names_paint(conflict) and value in house.paints:
        value = house.paints[value]
    if isinstance(value, Paint | Finish):
        value = value.colour
    if not isinstance(value, _COLOURS):
        return BARE
    try:
        return Coat("known", colour_facts([value])[0].srgb_hex)
    except ColourError:
        return BARE
