"""Clauses written out as a survey line that reads back as the same clauses."""

from collections.abc import Iterator, Sequence

from housemap.model.house import Point, Units
from housemap.workbench.survey.grammar import parse_line
from housemap.workbench.survey.vocabulary import (
    MOST_HEIGHT_M,
    Along,
    Clause,
    Cut,
    FinishWords,
    LampWords,
    NowWords,
    OpeningWords,
    RoomWords,
    WindowWords,
)


def write_line(clauses: Sequence[Clause], units: Units = "m") -> str:
    return "; ".join(write_clause(clause, units) for clause in clauses)


def write_clause(clause: Clause, units: Units = "m") -> str:
    match clause:
        case RoomWords(name=""):
            words = _change(clause, units)
        case RoomWords():
            words = _room(clause, units)
        case OpeningWords():
            words = _opening(clause, units)
        case WindowWords():
            words = _window(clause, units)
        case LampWords():
            words = _lamp(clause, units)
        case FinishWords():
            words = iter(("floor" if clause.is_floor else "keep", clause.text))
        case NowWords():
            words = iter((clause.surface, "now", clause.text))
    return " ".join(words)


def _room(room: RoomWords, units: Units) -> Iterator[str]:
    yield _name(room.name)
    if room.size_m:
        yield _size(room.size_m, units)
    if room.cut:
        yield _cut(room.cut, units)
    if room.wall:
        yield f"wall {room.wall}"
    yield from _along(room.along, units)
    yield from _details(room, units)


def _details(room: RoomWords, units: Units) -> Iterator[str]:
    if room.height_m is not None:
        yield f"height {_length(room.height_m, units)}"
    if room.use:
        yield f"use {room.use}"
    if room.role:
        yield f"role {room.role}"
    if room.level is not None:
        yield f"level {room.level}"


def _opening(opening: OpeningWords, units: Units) -> Iterator[str]:
    if opening.wall:
        yield _wall(opening.wall)
    yield opening.kind
    yield from _sides(opening, units)
    yield from _along(opening.along, units)
    flags = {"shut": opening.shut, "stop": opening.stop}
    flags |= {"up": opening.rise > 0, "down": opening.rise < 0}
    yield from (flag for flag, said in flags.items() if said)
    yield ">"
    yield from _room(opening.into, units)


def _window(window: WindowWords, units: Units) -> Iterator[str]:
    yield _wall(window.wall)
    yield "window"
    yield from _sides(window, units)
    yield from _along(window.along, units)
    if window.sill_m is not None:
        yield f"sill {_length(window.sill_m, units)}"


def _lamp(lamp: LampWords, units: Units) -> Iterator[str]:
    yield "lamp"
    if lamp.lumens is not None:
        yield f"{_number(lamp.lumens)} lm"
    if lamp.kelvin is not None:
        yield f"{_number(lamp.kelvin)} K"
    yield from filter(None, (lamp.aim, lamp.spectrum))
    if lamp.at_m:
        yield " ".join(["at", *(_length(each, units) for each in lamp.at_m)])


def _change(change: RoomWords, units: Units) -> Iterator[str]:
    if change.size_m:
        yield f"size {_size(change.size_m, units)}"
    if change.cut:
        yield _cut(change.cut, units)
    yield from _details(change, units)


def _sides(sized: OpeningWords | WindowWords, units: Units) -> Iterator[str]:
    if sized.width_m is not None:
        yield _length(sized.width_m, units)
    if sized.height_m is not None:
        yield f"height {_length(sized.height_m, units)}"


def _along(along: Along | None, units: Units) -> Iterator[str]:
    if along:
        yield f"at {_length(along.metres, units)}"
        if along.end:
            yield f"from {along.end}"


def _size(size_m: Point, units: Units) -> str:
    return " x ".join(_length(each, units) for each in size_m)


def _cut(cut: Cut, units: Units) -> str:
    return f"less {_size(cut.size_m, units)} {cut.corner}"


def _wall(key: str) -> str:
    return f"wall {key}" if key.isdecimal() else key


def _name(name: str) -> str:
    """In quotes where it would be taken for something else."""
    line = parse_line(name)
    plain = line.fault is None and line.clauses == (RoomWords(name),)
    return name if plain and not any(each.isdecimal() for each in name) else f'"{name}"'


def _length(metres: float, units: Units) -> str:
    unit = "" if units == "m" and metres <= MOST_HEIGHT_M else " m"
    return f"{_number(metres)}{unit}"


def _number(value: float) -> str:
    return f"{value:.7f}".rstrip("0").rstrip(".")
