"""`housemap view`: a room as seen from where one stands in it, as a picture in a file."""

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

from housemap.cli.command import DONE, FORCE, HOUSE, Command, arg, finite, reads
from housemap.cli.facts import solar_time, sun_over
from housemap.cli.output import show, table
from housemap.cli.reading import one_house
from housemap.cli.written import check_free, write_made
from housemap.errors import InputError
from housemap.file.reader import printable
from housemap.light.room_light import why_unlit
from housemap.model.fieldtypes import unknown_id
from housemap.model.geometry import box_of
from housemap.model.house import LIGHT_WORDS, House, Light, Point
from housemap.model.text import shown
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import Space, part_at
from housemap.plan.pixels import moving_png_bytes, png_bytes, svg_text
from housemap.plan.route import stand_in
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import best_of, facing
from housemap.study import study_of
from housemap.study.light_in_view import patches_of, with_sunshine
from housemap.study.painted import (
    Painted,
    beside,
    elevations_of,
    pictured,
    screen_hex,
    strip,
    undertone_of,
    walk_frames,
)
from housemap.study.study import Study

SIZE = (960, 640)
LEAST, MOST = 16, 4096
"""Pixels on a side."""
A_PICTURE = "a picture"
FORMATS = (".png", ".svg")


@reads("must be two numbers, as in 4.2,1.5")
def _point(text: str) -> Point:
    x, y = map(finite, text.split(","))
    return x, y


@reads("must be a number of degrees")
def _degrees(text: str) -> float:
    return finite(text) % 360


@reads(f"must be {LEAST}x{LEAST} to {MOST}x{MOST} pixels")
def _size(text: str) -> tuple[int, int]:
    width, height = map(int, text.lower().split("x"))
    if not all(LEAST <= side <= MOST for side in (width, height)):
        raise ValueError(text)
    return width, height


@reads("must end in .png or .svg")
def _picture_file(text: str) -> Path:
    if Path(text).suffix.lower() not in FORMATS:
        raise ValueError(text)
    return Path(text)


def _run(arguments: Namespace) -> int:
    _check_kind(arguments)
    check_free(arguments.output, force=arguments.force)
    study = one_house(arguments.file, study_of)
    make = _strip if arguments.all else _walk if arguments.walk else _one
    title, *rest = make(study, arguments)
    lines = [f"{printable(str(arguments.output))}: {title}", *rest]
    show(arguments, lambda: {"written": str(arguments.output), "text": lines}, lines)
    return DONE


def _check_kind(arguments: Namespace) -> None:
    """Raises InputError for options that do not go together."""
    several = "--all" if arguments.all else "--walk" if arguments.walk else ""
    text = ""
    if several and arguments.room:
        text = f"{several} shows every room: leave {shown(arguments.room)} out"
    elif arguments.sun and (several or arguments.light == "evening"):
        text = "--sun shows one room on a clear day: leave --all, --walk and the evening out"
    elif not several and not arguments.room:
        text = "name a room, or write --all or --walk for every room"
    elif (several or arguments.before) and arguments.output.suffix.lower() != ".png":
        text = f"{several or '--before'} writes a .png file"
    if text:
        raise InputError.of(text)


def _strip(study: Study, arguments: Namespace) -> Iterator[str]:
    pixels, rooms = strip(study, ("day", "evening"), arguments.size)
    write_made(png_bytes(pixels), arguments.output, A_PICTURE)
    names = ", ".join(study.house.rooms[room].name for room in rooms)
    yield f"by day and by lamplight, from above: {names}"


def _walk(study: Study, arguments: Namespace) -> Iterator[str]:
    frames = walk_frames(study, arguments.light, arguments.size)
    write_made(moving_png_bytes(frames), arguments.output, A_PICTURE)
    seconds = sum(frame.seconds for frame in frames)
    yield f"a walk of {seconds:.0f} s, {LIGHT_WORDS[arguments.light]}"


def _one(study: Study, arguments: Namespace) -> Iterator[str]:
    camera = _camera(elevations_of(study), arguments)
    painted = _painted(study, camera, arguments)
    assert painted is not None
    pixels = painted.pixels(shaded=not arguments.plain)
    (x, y), toward = camera.at_m, camera.toward_deg
    where = f"{study.house.rooms[camera.room].name} from {x:.2f}, {y:.2f}"
    title = f"{where} looking {toward:.0f} deg, {LIGHT_WORDS[arguments.light]}"
    if arguments.before:
        old = one_house(arguments.before, study_of)
        _check_room(old.house, elevations_of(old).space, camera.room)
        left = _painted(old, camera, arguments)
        if left is None:
            text = f"in {shown(str(arguments.before))} one cannot stand there: give --stand"
            raise InputError.of(text)
        pixels = beside([left.pixels(shaded=not arguments.plain), pixels])
        title = f"{title}; left as in {arguments.before}"
    is_png = arguments.output.suffix.lower() == ".png"
    data = png_bytes(pixels) if is_png else svg_text(pixels, title).encode()
    write_made(data, arguments.output, A_PICTURE)
    yield title
    yield from table(_rows(painted))
    yield from _unlit(painted)


def _painted(study: Study, camera: Camera, arguments: Namespace) -> Painted | None:
    """As asked for, exact or as a picture; None where one cannot stand there."""
    elevations, light, size = elevations_of(study), arguments.light, arguments.size
    smooth = arguments.output.suffix.lower() == ".png"
    if arguments.plain:
        view = look(elevations, camera, *size)
        return Painted(study, camera.room, light, view) if view else None
    painted = pictured(study, elevations, camera, light, size, smooth=smooth)
    if painted is None or arguments.sun is None:
        return painted
    patches = patches_of(study.lighting.light, sun_over(study.house, arguments.sun))
    return replace(painted, view=with_sunshine(patches, elevations, camera, painted.view))


# Where one stands


def _camera(elevations: Elevations, arguments: Namespace) -> Camera:
    """As asked for. Raises InputError where one cannot stand there."""
    room, stand, toward = arguments.room, arguments.stand, arguments.toward
    space = elevations.space
    _check_room(elevations.house, space, room)
    if stand is None and toward is None and (best := best_of(elevations, room)):
        return best
    at = stand or stand_in(elevations.plan, space, room)
    if part_at(space, room, at) is None:
        west, south, east, north = box_of(space.rooms[room].outline_m)
        reach = f"its box reaches from {west:.2f},{south:.2f} to {east:.2f},{north:.2f}"
        raise InputError.of(f"{at[0]:g},{at[1]:g} is not in room {shown(room)}: {reach}")
    camera = Camera(room, at, 0.0)
    return facing(space, camera) if toward is None else camera._replace(toward_deg=toward)


def _check_room(house: House, space: Space, room: str) -> None:
    if room not in house.rooms:
        raise InputError.of(unknown_id("room", room, house.rooms))
    if room not in space.rooms:
        text = f"room {shown(room)} has no measures to stand in: give it a size or an outline"
        raise InputError.of(text)


def _rows(picture: Painted) -> Iterator[tuple[str, ...]]:
    study, eye, light = picture.study, picture.eye, picture.light
    yield "  share", "room", "surface", "LRV", "screen", "paint or finish"
    for (room, surface), (coat, share) in picture.coats().items():
        place = f"{100 * share:6.1f} %", study.house.rooms[room].name, surface
        if coat is None:
            yield (*place, "-", "-", "bare")
            continue
        tone = undertone_of(study, eye, light, coat)
        words = f"{coat.swatch.name}, {tone.words}, {tone.temperature}"
        yield (*place, f"{coat.swatch.lrv:.0f}", screen_hex(study, eye, light, coat), words)


def _unlit(picture: Painted) -> Iterator[str]:
    """The rooms in view that show as under the reference light, and why."""
    if picture.light == "reference":
        return
    for room in dict.fromkeys(room for room, _ in picture.coats()):
        lit = picture.study.lighting.rooms[room]
        if reason := why_unlit(lit.part.room, lit.light, picture.light):
            yield f"  {lit.part.room.name}: {reason}, so shown {LIGHT_WORDS['reference']}"


VIEW = Command(
    name="view",
    summary="Draw a room as it is seen from where one stands in it.",
    examples=(
        "housemap view house.toml hall -o hall.png",
        "housemap view house.toml hall --stand 4.8,1.2 --toward 350 --light evening -o hall.png",
        "housemap view house.toml hall --light day --sun 2026-06-21T10:00 -o sunny.png",
        "housemap view house.toml kitchen --size 1600x1000 --plain -o kitchen.svg",
        "housemap view house.toml kitchen --before old.toml -o before-after.png",
        "housemap view house.toml --all --size 480x320 -o rooms.png",
        "housemap view house.toml --walk --light day --size 480x320 -o walk.png",
    ),
    arguments=(
        HOUSE,
        arg("room ROOM", "the id of a room in it", nargs="?"),
        (
            arg("--before OLD", "the same view of another house file to the left of it", type=Path),
            arg("--all", "every room, by day and in the evening, in one picture"),
            arg("--walk", "a walk through the house as a moving PNG"),
        ),
        arg("--stand X,Y",
            "where one stands, in metres of the plan, as `housemap sight` prints it"
            " (default: a corner from which most is seen; write --stand=-1,2 for a number below 0)",
            type=_point),
        arg("--toward DEG",
            "where one looks, clockwise from plan-north (default: the middle of the room)",
            type=_degrees),
        arg("--light", "default: reference", choices=get_args(Light), default="reference"),
        arg("--sun YYYY-MM-DDTHH:MM",
            "with the sun of a clear day at this solar time (12:00: it is highest)",
            type=solar_time),
        arg("--size WxH", "pixels (default: 960x640)", type=_size, default=SIZE),
        arg("--plain", "no shading: every pixel is the paint's own colour"),
        arg("-o OUT", "the picture to write: a name that ends in .png or .svg",
            dest="output", type=_picture_file, required=True),
        FORCE,
    ),
    run=_run,
)  # fmt: skip
