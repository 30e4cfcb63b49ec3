"""Hypothesis strategies for any legal house (`houses`) and for its parts.

Everything drawn is legal by `housemap.model.rules`.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from housemap.model.colour import ColourSource, Lab, Notation, Reflectance, Srgb, Xyz
from housemap.model.house import (
    AIMS,
    DOORS,
    OPENING_KINDS,
    ROLES,
    SAMPLE_LIGHTS,
    SHEENS,
    UNITS,
    USES,
    VERDICTS,
    Accent,
    Finish,
    House,
    Lamp,
    Opening,
    Paint,
    Point,
    Room,
    Sample,
    Sightline,
    SurfacePaints,
    SurfaceSheens,
    Visit,
    Window,
)


def lengths(low_m: float, high_m: float) -> st.SearchStrategy[float]:
    """Metres in whole centimetres."""
    return st.integers(round(low_m * 100), round(high_m * 100)).map(lambda cm: cm / 100)


def fractions(low: int = 0, high: int = 100) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(lambda n: n / 100)


ids = st.from_regex(r"[a-z][a-z0-9-]{0,7}", fullmatch=True)
names = st.text(
    st.characters(codec="utf-8", categories=("L", "N", "P", "S"), max_codepoint=0x2FF),
    min_size=1,
    max_size=12,
).map(str.strip).filter(bool)  # fmt: skip
notes = st.sampled_from(("", "by the door", "two coats\nthen wait", '"quoted" \\ # not a comment'))
dates = st.dates(dt.date(2000, 1, 1), dt.date(2100, 1, 1))
observers = st.sampled_from(("D65/10", "D65/2", "D50/2", "A/10"))
srgbs = st.integers(0, 0xFFFFFF).map(lambda n: Srgb(f"#{n:06x}"))
labs = st.builds(
    Lab,
    st.tuples(st.integers(0, 100), st.integers(-60, 60), st.integers(-60, 60)).map(
        lambda t: (float(t[0]), float(t[1]), float(t[2]))
    ),
    observers,
)
colours: st.SearchStrategy[ColourSource] = st.one_of(
    srgbs,
    labs,
    st.builds(Xyz, st.tuples(fractions(), fractions(), fractions()), observers),
    st.sampled_from(("5Y 7/1", "N 8/", "2.5PB 6/4", "10R 5/2")).map(Notation),
    st.builds(
        Reflectance,
        st.just(400.0),
        st.just(10.0),
        st.lists(fractions(), min_size=31, max_size=31).map(tuple),
    ),
)
lrvs = st.none() | fractions(0, 10000)
paints = st.builds(
    Paint, name=names, colour=colours, code=st.just("") | names, lrv=lrvs, notes=notes,
    deck=st.just("") | names, coverage=st.none() | fractions(100, 2000),
    tins=st.lists(fractions(50, 1000), max_size=3).map(tuple),
    price=st.none() | fractions(0, 9000),
)  # fmt: skip
finishes = st.builds(Finish, name=names, colour=colours, lrv=lrvs, notes=notes)


def shapes() -> st.SearchStrategy[dict[str, Any]]:
    """Nothing, a size, or an outline (an L, or a box with a bay); sides of 2 to 9 m."""
    sides = st.tuples(lengths(2, 9), lengths(2, 9))
    return st.one_of(
        st.just({}),
        sides.map(lambda s: {"size_m": s}),
        sides.map(lambda s: {"outline_m": _ell(*s)}),
        sides.map(lambda s: {"outline_m": _bay(*s)}),
    )


def _ell(x: float, y: float) -> tuple[Point, ...]:
    return ((0.0, 0.0), (x, 0.0), (x, y / 2), (x / 2, y / 2), (x / 2, y), (0.0, y))


def _bay(x: float, y: float) -> tuple[Point, ...]:
    return ((0.0, 0.0), (x, 0.0), (x + 0.5, y / 2), (x, y), (0.0, y))


def wall_lengths(shape: Mapping[str, Any]) -> dict[str, float]:
    """Wall keys and a length that surely fits each (half its shortest side)."""
    if "size_m" in shape:
        x, y = shape["size_m"]
        return {"n": x, "e": y, "s": x, "w": y}
    edges = len(shape.get("outline_m", ()))
    return {str(i): 1.0 for i in range(edges)}


@st.composite
def rooms(draw: st.DrawFn, paint_ids: list[str], finish_ids: list[str], row: int = 0) -> Room:
    """Draw a legal room; pinned rooms of different `row` are well apart."""
    shape = draw(shapes())
    walls = wall_lengths(shape)
    some_paint = st.none() | st.sampled_from(paint_ids) if paint_ids else st.none()
    some_sheen = st.none() | st.sampled_from(SHEENS)
    sheen = st.builds(SurfaceSheens, some_sheen, some_sheen, some_sheen, some_sheen)
    return Room(
        name=draw(names),
        level=draw(st.integers(-1, 2)),
        use=draw(st.sampled_from(USES)),
        role=draw(st.none() | st.sampled_from(ROLES)),
        height_m=draw(st.none() | lengths(2.2, 4)),
        at_m=draw(st.none() | st.just((row * 20.0, draw(lengths(-3, 3))))),
        paints=SurfacePaints(*(draw(some_paint) for _ in range(4))),
        sheens=draw(st.just(SurfaceSheens()) | sheen),
        floor=draw(st.none() | st.sampled_from(finish_ids)) if finish_ids else None,
        fixed=tuple(draw(st.lists(st.sampled_from(finish_ids), unique=True, max_size=2)))
        if finish_ids
        else (),
        notes=draw(notes),
        accents={
            wall: Accent(draw(st.sampled_from(paint_ids)))
            for wall in draw(st.lists(st.sampled_from(list(walls) or ["n"]), max_size=2))
            if paint_ids
        },
        windows=draw(st.dictionaries(ids, windows(walls or {"s": 3.0}), max_size=2)),
        lamps=draw(st.dictionaries(ids, lamps, max_size=2)),
        **shape,
    )


def windows(walls: Mapping[str, float]) -> st.SearchStrategy[Window]:
    def fitting(wall: str) -> st.SearchStrategy[Window]:
        return st.builds(
            Window, st.just(wall), along_m=lengths(0, walls[wall] / 4),
            width_m=lengths(0.2, walls[wall] / 2), height_m=lengths(0.3, 1.2),
            sill_m=lengths(0, 1), transmittance=fractions(1), sky_angle_deg=fractions(0, 9000),
            kelvin=st.none() | st.integers(2000, 12000).map(float),
        )  # fmt: skip

    return st.sampled_from(sorted(walls)).flatmap(fitting)


lamps = st.builds(
    Lamp, lumens=fractions(100, 300000), kelvin=st.integers(1800, 6500).map(float),
    spectrum=st.none() | st.sampled_from(("LED-B1", "FL2", "A")), aim=st.sampled_from(AIMS),
    at_m=st.none() | st.tuples(lengths(0, 1), lengths(0, 1), lengths(0, 2)),
)  # fmt: skip


@st.composite
def openings(draw: st.DrawFn, house_rooms: Mapping[str, Room]) -> Opening:
    """Draw a legal opening between two of the rooms (at least two must be there)."""
    first, second = draw(st.permutations(sorted(house_rooms)))[:2]
    kind = draw(st.sampled_from(OPENING_KINDS))
    width = draw(st.none() | lengths(0.3, 0.8))
    wall, along = draw(_stand(house_rooms[first]))
    to_wall, to_along = draw(_stand(house_rooms[second]))
    return Opening(
        (first, second), kind,
        door=draw(st.sampled_from(DOORS)) if kind == "doorway" else "open",
        wall=wall, along_m=along, to_wall=to_wall, to_along_m=to_along, width_m=width,
        height_m=draw(st.none() | lengths(1.8, 2.2)),
        stop=draw(st.booleans()) if kind == "open" else False,
    )  # fmt: skip


def _stand(of: Room) -> st.SearchStrategy[tuple[str | None, float | None]]:
    shape = {"size_m": of.size_m} if of.size_m else {"outline_m": of.outline_m or ()}
    walls = sorted(wall_lengths(shape))
    if not walls:
        return st.just((None, None))
    return st.just((None, None)) | st.tuples(st.sampled_from(walls), st.none() | lengths(0, 0.2))


@st.composite
def houses(draw: st.DrawFn, max_rooms: int = 4) -> House:
    """Draw any legal house with all tables, at most `max_rooms` rooms."""
    all_paints = draw(st.dictionaries(ids, paints, max_size=3))
    all_finishes = draw(st.dictionaries(ids, finishes, max_size=2))
    paint_ids, finish_ids = sorted(all_paints), sorted(all_finishes)
    room_ids = draw(st.lists(ids, max_size=max_rooms, unique=True))
    all_rooms = {
        room_id: draw(rooms(paint_ids, finish_ids, row)) for row, room_id in enumerate(room_ids)
    }
    house = House(
        name=draw(st.just("") | names),
        built=draw(st.none() | st.integers(1600, 2030)),
        latitude_deg=draw(st.none() | fractions(-9000, 9000)),
        north_deg=draw(fractions(0, 35900)),
        low_vision=draw(st.booleans()),
        wall_thickness_m=draw(lengths(0, 0.5)),
        units=draw(st.sampled_from(UNITS)),
        notes=draw(notes),
        limits=draw(
            st.dictionaries(ids, st.dictionaries(ids, fractions(1, 5000), min_size=1), max_size=2)
        ),
        paints=all_paints,
        finishes=all_finishes,
        rooms=all_rooms,
        visits={i: Visit(draw(st.none() | dates), draw(notes)) for i in room_ids[:1]},
    )
    return replace(house, **_relations(draw, house))


def _relations(draw: st.DrawFn, house: House) -> dict[str, Any]:
    room_ids, paint_ids = sorted(house.rooms), sorted(house.paints)
    made: dict[str, Any] = {}
    if len(room_ids) > 1:
        pairs = st.permutations(room_ids).map(lambda order: (order[0], order[1]))
        sight = st.builds(Sightline, pairs, st.none() | fractions())
        made["openings"] = draw(st.dictionaries(ids, openings(house.rooms), max_size=3))
        made["sightlines"] = draw(st.dictionaries(ids, sight, max_size=1))
    if room_ids and paint_ids:
        sample = st.builds(
            Sample, st.sampled_from(paint_ids), st.sampled_from(room_ids), st.none(),
            st.none() | dates, st.none() | st.sampled_from(SAMPLE_LIGHTS),
            st.none() | st.sampled_from(VERDICTS), notes,
        )  # fmt: skip
        made["samples"] = draw(st.dictionaries(ids, sample, max_size=2))
    return made
