"""`housemap facts`: what is computed of a house's paints, rooms and plan."""

from argparse import Namespace
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from itertools import chain
from pathlib import Path
from typing import Any

import numpy as np

from housemap.cli.command import DONE, HOUSE, Command, arg, finite, reads
from housemap.cli.output import picked, show, table
from housemap.cli.reading import one_house
from housemap.errors import InputError
from housemap.file.reader import decode, read_bytes
from housemap.light.room_light import light_facts
from housemap.light.scene import LIGHTS
from housemap.light.sky import OUTDOOR_LUX
from housemap.light.sun import Sun, sun_at, sun_facts
from housemap.model.grouping import grouped
from housemap.model.house import House
from housemap.study import PaintedRoom, Study, Swatch, study_of

MOST_OUTDOOR_LUX = 200_000
"""More than the sun at noon on snow gives: our assumption."""
FIGURES = {"ra": "CIE Ra", "rf": "TM-30 Rf", "rg": "TM-30 Rg"}


@reads("sun must be a day and a solar time such as 2026-06-21T10:00")
def solar_time(text: str) -> datetime:
    return datetime.strptime(f"{text}+0000", "%Y-%m-%dT%H:%M%z").replace(tzinfo=None)


def sun_over(house: House, when: datetime) -> Sun:
    """Raises InputError where the house has no latitude."""
    if house.latitude_deg is None:
        raise InputError.of("the sun needs the latitude of the house: give it in [house]")
    return sun_at(house.latitude_deg, when)


@reads("lux must be a number above 0, at most 200,000")
def _lux(text: str) -> float:
    lux = finite(text)
    if not 0 < lux <= MOST_OUTDOOR_LUX:
        raise ValueError(text)
    return lux


def _run(arguments: Namespace) -> int:
    outdoor_lux = arguments.outdoor or OUTDOOR_LUX
    study = one_house(arguments.file, partial(study_of, outdoor_lux=outdoor_lux))
    more: dict[str, Any] = {}
    lines = [_lines(study)]
    if arguments.sun:
        more["sun"] = sun_facts(study.lighting.light, sun_over(study.house, arguments.sun))
        lines.append(_sun_lines(study, more["sun"]))
    if arguments.lamps:
        more["lamps"] = _lamps(study)
        lines.append(_lamp_lines(study, more["lamps"]))
    if arguments.spectrum:
        more["spectrum"] = _measured(arguments.spectrum)
        lines.append(_measured_lines(more["spectrum"]))
    show(arguments, lambda: _as_json(study) | more, chain.from_iterable(lines))
    return DONE


def _lamps(study: Study) -> dict[str, dict[str, Any]]:
    """By room and lamp: how it shows colours, and what it changes most there, else in the house."""
    from housemap.light import lamps, sources  # noqa: PLC0415 - half a second, when asked for

    made: dict[str, dict[str, Any]] = {}
    for room_id, room in study.house.rooms.items():
        there = [paint for _, paint in room.painted()]
        paints = list(dict.fromkeys(there or study.house.paints))
        reflectance = np.array([study.paint(paint).colour.reflectance for paint in paints])
        for key, lamp in room.lamps.items():
            spectrum = sources.lamp(lamp.kelvin, lamp.spectrum, lamp.power)
            fact: dict[str, Any] = lamps.rendering(spectrum)._asdict()
            if paints:
                kelvin = lamp.kelvin or sources.USUAL_KELVIN
                moved = lamps.distortion(spectrum, reflectance, kelvin)
                most = int(moved.argmax())
                fact["most"] = {"paint": paints[most], "units": float(moved[most])}
            made.setdefault(room_id, {})[key] = fact
    return made


def _lamp_lines(study: Study, lamps: dict[str, dict[str, Any]]) -> Iterator[str]:
    yield ""
    yield "Lamps: how well they show colours (100 as daylight or a glowing lamp of their warmth)"
    rows = [("  room", "lamp", *FIGURES.values(), "changes most there (difference)")]
    for room, each in lamps.items():
        for key, fact in each.items():
            most = fact.get("most")
            name = study.house.paints[most["paint"]].name if most else "-"
            name += f" ({most['units']:.1f})" if most else ""
            figures = (f"{fact[figure]:.0f}".replace("nan", "-") for figure in FIGURES)
            rows.append((f"  {study.house.rooms[room].name}", key, *figures, name))
    yield from table(rows)


def _measured(file: Path) -> dict[str, Any]:
    """A lamp's spectrum as the house file has it, and how it shows colours. Raises InputError."""
    from housemap.light import lamps, sources  # noqa: PLC0415 - half a second, when asked for

    data = read_bytes(str(file), lamps.LARGEST_FILE, "a spectrum")
    power = lamps.read_spectrum(decode(data, str(file)), str(file))
    parts = {"start": power.start_nm, "step": power.step_nm, "values": power.values}
    return {"power": parts} | lamps.rendering(sources.lamp(None, None, power))._asdict()


def _measured_lines(measured: dict[str, Any]) -> Iterator[str]:
    power = measured["power"]
    values = ", ".join(f"{value:g}" for value in power["values"])
    figures = (f"{name} {measured[key]:.0f}" for key, name in FIGURES.items())
    yield ""
    yield f"Measured lamp ({', '.join(figures)}). Put this line with the lamp, and no spectrum:"
    yield f"power = {{ start = {power['start']:g}, step = {power['step']:g}, values = [{values}] }}"


def _sun_lines(study: Study, sun: dict[str, Any]) -> Iterator[str]:
    yield ""
    yield f"Sun (altitude {sun['altitude']:.1f} deg, azimuth {sun['azimuth']:.1f} deg, clear day)"
    rows = (
        (study.house.rooms[room].name, f"{each['patch_m2']:.1f} m2 in the sun")
        for room, each in sun["rooms"].items()
        if each["patch_m2"] > 0.0
    )
    yield from table(rows)


def _as_json(study: Study) -> dict[str, Any]:
    return {
        "paints": {paint: _paint(study.paint(paint)) for paint in study.house.paints},
        "rooms": {room: _room(study, part) for room, part in study.rooms.items()},
        "plan": {
            "closing_error": study.plan.closing_error_m,
            "unplaced": list(study.plan.unplaced),
            "connection": {
                room: each.integration for room, each in study.graph.connections.items()
            },
        },
    }


def _paint(swatch: Swatch) -> dict[str, Any]:
    colour, undertone = swatch.colour, swatch.colour.undertone
    return {
        "lab": colour.lab100,
        "xyz": colour.xyz100,
        "lrv": colour.lrv,
        "lrv_printed": swatch.entity.lrv,
        "gloss": swatch.gloss or "not known",
        "srgb": colour.srgb_hex,
        "in_srgb": colour.in_srgb,
        "notation": colour.notation.text,
        "reflectance": {"start": 380, "step": 10, "values": [*colour.reflectance]},
        "undertone": {
            **picked(undertone, "name", "family"),
            "hue": undertone.hue_deg,
            **picked(undertone, "chroma", "temperature"),
        },
    }


def _room(study: Study, part: PaintedRoom) -> dict[str, Any]:
    areas, place = part.areas, study.plan.rooms[part.id]
    return {
        "at": place.at_m if place.measured else None,
        "floor_area": areas and areas.floor_m2,
        "wall_area": areas and areas.wall_m2,
        "wall_area_net": areas and areas.wall_net_m2,
        "volume": areas and areas.volume_m3,
        **light_facts(study.lighting.rooms[part.id].light),
    }


def _lines(study: Study) -> Iterator[str]:
    yield "Paints (LRV and colour for D65 and the 10 degree observer)"
    yield from table(_paint_rows(study))
    yield ""
    yield "Rooms (integration 1/RRA: the higher, the more a room ties the house together)"
    yield from table(_room_rows(study))
    yield ""
    yield "Light (area means on the walls; daylight factor T W theta / (A (1 - R^2)) of BS 8206-2)"
    yield from table(_light_rows(study))
    notes = grouped(
        (note, study.rooms[room_id].room.name)
        for room_id, lit in study.lighting.rooms.items()
        for note in lit.light.notes
    )
    for note, names in notes.items():
        yield f"  {', '.join(names)}: {note}"


def _paint_rows(study: Study) -> Iterator[tuple[str, ...]]:
    yield "  paint", "LRV", "printed", "notation", "screen", "colour"
    for paint in study.house.paints:
        swatch = study.paint(paint)
        colour, printed, tone = swatch.colour, swatch.entity.lrv, swatch.colour.undertone
        lean = tone.temperature if tone.family != "none" else "no undertone"
        yield (
            f"  {swatch.name}",
            f"{colour.lrv:.1f}",
            "-" if printed is None else f"{printed:g}",
            colour.notation.text,
            colour.srgb_hex if colour.in_srgb else f"{colour.srgb_hex} (beyond sRGB)",
            f"{tone.words}, {lean}",
        )


def _room_rows(study: Study) -> Iterator[tuple[str, ...]]:
    yield "  room", "floor m2", "walls m2", "net m2", "integration", "control"
    for room_id, part in study.rooms.items():
        areas, connection = part.areas, study.graph.connections[room_id]
        figures = (areas.floor_m2, areas.wall_m2, areas.wall_net_m2) if areas else ()
        yield (
            f"  {part.room.name}",
            *([f"{figure:.1f}" for figure in figures] or ["-"] * 3),
            "-" if connection.integration is None else f"{connection.integration:.2f}",
            f"{connection.control:.2f}",
        )


def _light_rows(study: Study) -> Iterator[tuple[str, ...]]:
    yield "  room", "daylight factor", "day lux", "evening lux", "walls by day", "in the evening"
    for room_id, part in study.rooms.items():
        light = study.lighting.rooms[room_id].light
        lit = map(light.lights.get, LIGHTS)
        lux = (f"{each.total_lux('walls'):.0f}" if each else "-" for each in lit)
        daylight = f"{light.daylight.percent:.1f} %" if light.daylight else "-"
        seen = (colour.srgb if colour else "-" for colour in map(light.walls_seen, LIGHTS))
        yield (f"  {part.room.name}", daylight, *lux, *seen)


FACTS = Command(
    name="facts",
    summary="List the figures of a house's paints, rooms and plan.",
    examples=("housemap facts house.toml", "housemap facts --json house.toml"),
    arguments=(
        HOUSE,
        arg("--outdoor LUX", "light of the overcast sky on open level ground (default: 10000)",
            type=_lux),
        arg("--sun YYYY-MM-DDTHH:MM",
            "also the sun in the rooms on a clear day, at this solar time (12:00: it is highest)",
            type=solar_time),
        arg("--lamps",
            "also how well each lamp shows colours, and which paint there it changes most"),
        arg("--spectrum FILE",
            "also the measured spectrum of a lamp (CSV or IES TM-27) as a line for the house file",
            type=Path),
    ),
    run=_run,
)  # fmt: skip
