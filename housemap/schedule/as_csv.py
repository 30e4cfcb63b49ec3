"""The schedule as CSV for a spreadsheet: one row a surface, numbers plain, no formula ever."""

import csv
import io

from housemap.schedule.document import Schedule
from housemap.schedule.quantities import Line

COLUMNS = (
    "room", "level", "surface", "paint", "code", "LRV", "notation", "screen", "sheen", "coats",
    "area_m2", "litres_without_waste",
)  # fmt: skip

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def as_csv(schedule: Schedule) -> str:
    """RFC 4180 with a header row; amounts in square metres and litres whatever the house shows."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in schedule.quantities.lines:
        writer.writerow([inert(cell) for cell in _row(schedule, line)])
    return out.getvalue()


def _row(schedule: Schedule, line: Line) -> list[str]:
    house = schedule.house
    room, paint, swatch = (
        house.rooms[line.room],
        house.paints[line.paint],
        schedule.swatch(line.paint),
    )
    return [
        room.name,
        str(room.level),
        line.surface,
        paint.name,
        paint.code,
        f"{swatch.lrv:.1f}",
        swatch.colour.notation.text,
        swatch.colour.srgb_hex,
        line.sheen or "",
        str(line.coats),
        "" if line.area_m2 is None else f"{line.area_m2:.3f}",
        "" if line.litres is None else f"{line.litres:.4f}",
    ]


def inert(cell: str) -> str:
    """A cell that no spreadsheet runs: text that begins like a formula gets an apostrophe."""
    if cell.startswith(_FORMULA_STARTS) and not _is_number(cell):
        return f"'{cell}"
    return cell


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
