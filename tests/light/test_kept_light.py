"""Light from the cache is the light that would be computed, and its key knows of every input."""

import os
from collections.abc import Callable
from dataclasses import replace
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.file import kept, processes
from housemap.light import house_light
from housemap.light.house_light import HouseLight, Joined
from housemap.light.house_light import house_light as light_of_house
from housemap.light.inputs import RoomColours, RoomInputs, RoomOpening
from housemap.light.scene import LIGHTS, grey
from housemap.model.house import Lamp, Room, SpectralPower, Window
from tests.support.lit_rooms import OAK, RED, SAGE, WHITE

WINDOW, LAMP = Window("n", 1.0, 1.5, 1.2, 0.9), Lamp(1400.0, 2700.0, at_m=(1.0, 1.0, 2.0))
WAY = RoomOpening("way", "e", 1.0, 0.9, 2.0, depth_m=0.1)
LIVING = Room("L", size_m=(4.0, 3.5), height_m=2.5, windows={"a": WINDOW}, lamps={"a": LAMP})
ROOMS = {
    "living": RoomInputs(LIVING, RoomColours(SAGE, WHITE, OAK), (WAY,), 0.0, 51.5),
    "hall": RoomInputs(
        Room("H", size_m=(1.8, 3.5), height_m=2.5), RoomColours(RED, WHITE, OAK),
        (WAY._replace(wall="w"),), 0.0, 51.5,
    ),
}  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path / "cache"))
    return tmp_path / "cache"


def same(one: HouseLight, other: HouseLight) -> bool:
    return all(
        a.lights.keys() == b.lights.keys()
        and all(
            np.array_equal(getattr(a.lights[name], part), getattr(b.lights[name], part))
            for name in a.lights
            for part in ("source", "bands", "direct", "received")
        )
        and (a.plane is None) == (b.plane is None)
        and (not a.plane or not b.plane or np.array_equal(a.plane.percents, b.plane.percents))
        and (a.mean_reflectance, a.notes) == (b.mean_reflectance, b.notes)
        and (a.daylight and a.daylight.percent) == (b.daylight and b.daylight.percent)
        for a, b in zip(one.rooms.values(), other.rooms.values(), strict=True)
    )


def test_light_from_the_cache_is_the_light_computed_without_computing_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    first = light_of_house(ROOMS)
    with monkeypatch.context() as patch:
        patch.setattr(house_light, "system_of", None)
        again = light_of_house(ROOMS)
    assert same(first, again)
    edited = ROOMS | {"hall": ROOMS["hall"]._replace(colours=RoomColours(SAGE, WHITE, OAK))}
    one, other = (light_of_house(edited, before=before).rooms for before in (first, again))
    for room, name in product(ROOMS, LIGHTS):
        bands = one[room].lights[name].bands
        assert other[room].lights[name].bands == pytest.approx(bands, rel=1e-3)
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", "/dev/null")
    assert same(first, light_of_house(ROOMS))


Edit = Callable[[RoomInputs], RoomInputs]


def of_room(**parts: object) -> Edit:
    return lambda inputs: inputs._replace(room=replace(inputs.room, **parts))  # type: ignore[arg-type]


def of_window(**parts: object) -> Edit:
    return of_room(windows={"a": replace(WINDOW, **parts)})  # type: ignore[arg-type]


def of_lamp(**parts: object) -> Edit:
    return of_room(lamps={"a": replace(LAMP, **parts)})  # type: ignore[arg-type]


def of_way(**parts: object) -> Edit:
    return lambda inputs: inputs._replace(openings=(WAY._replace(**parts),))  # type: ignore[arg-type]


def of_colours(**parts: object) -> Edit:
    return lambda inputs: inputs._replace(colours=replace(inputs.colours, **parts))  # type: ignore[arg-type]


EDITS: dict[str, Edit] = {
    "length": of_room(size_m=(4.0, 3.6)),
    "height": of_room(height_m=2.6),
    "outline": of_room(size_m=None, outline_m=((0.0, 0.0), (4.0, 0.0), (4.0, 3.5), (0.0, 3.0))),
    "window's wall": of_window(wall="w"),
    "window's place": of_window(along_m=1.1),
    "window's width": of_window(width_m=1.4),
    "window's height": of_window(height_m=1.1),
    "sill": of_window(sill_m=0.8),
    "glass": of_window(transmittance=0.6),
    "angle of sky": of_window(sky_angle_deg=60.0),
    "obstruction": of_window(obstruction=0.4),
    "daylight": of_window(kelvin=5000.0),
    "lumens": of_lamp(lumens=1300.0),
    "kelvin": of_lamp(kelvin=4000.0),
    "illuminant": of_lamp(spectrum="FL11"),
    "measured lamp": of_lamp(power=SpectralPower(380.0, 100.0, (1.0, 2.0, 3.0, 1.0, 1.0))),
    "aim": of_lamp(aim="down"),
    "lamp's place": of_lamp(at_m=(2.0, 1.0, 2.0)),
    "another lamp": of_room(lamps={"a": LAMP, "b": LAMP}),
    "way's place": of_way(along_m=1.2),
    "way's width": of_way(width_m=0.7),
    "way's height": of_way(height_m=1.9),
    "door": of_way(closed="door"),
    "glazed": of_way(closed="glass"),
    "lining": of_way(depth_m=0.3),
    "walls": of_colours(walls=grey(0.4)),
    "ceiling": of_colours(ceiling=grey(0.4)),
    "floor": of_colours(floor=None),
    "a feature wall": of_colours(accents={"s": SAGE}),
    "north": lambda inputs: inputs._replace(north_deg=180.0),
    "latitude": lambda inputs: inputs._replace(latitude_deg=-33.0),
    "ground": lambda inputs: inputs._replace(ground=0.3),
}  # fmt: skip


def joined(*edits: str, outdoor_lux: float = 10_000.0) -> dict[str, Joined]:
    inputs = ROOMS["living"]
    for edit in edits:
        inputs = EDITS[edit](inputs)
    house = light_of_house(ROOMS | {"living": inputs}, outdoor_lux)
    return {"".join(group): each for group, each in house.joined.items()}


@pytest.fixture
def lights_not_computed(monkeypatch: pytest.MonkeyPatch) -> None:
    dark = property(lambda self: ([({}, None)] * len(self.scenes), self))
    monkeypatch.setattr(Joined, "lights", dark)


@pytest.mark.usefixtures("lights_not_computed")
@settings(max_examples=60)
@given(edits=st.lists(st.sampled_from(sorted(EDITS)), min_size=2, max_size=3, unique=True))
def test_the_key_changes_with_every_input(edits: list[str]) -> None:
    plain = joined()["hallliving"].key
    assert joined()["hallliving"].key == plain
    assert all(each.key != plain for each in joined(*edits).values())


@pytest.mark.usefixtures("lights_not_computed")
@pytest.mark.parametrize("edit", sorted(EDITS))
def test_each_input_by_itself_changes_the_key(edit: str) -> None:
    plain = joined()["hallliving"].key
    assert all(each.key != plain for each in joined(edit).values())


@pytest.mark.usefixtures("lights_not_computed")
def test_the_key_changes_with_the_sky_and_the_program(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = joined()["hallliving"].key
    assert joined(outdoor_lux=9_000.0)["hallliving"].key != plain
    monkeypatch.setattr(kept, "program", lambda *_: ("0.0.0", 0))
    assert joined()["hallliving"].key != plain


WRONG: dict[str, Callable[[bytes], bytes]] = {
    "short": lambda body: body[:-8],
    "cut": lambda body: body[:-3],
    "long": lambda body: body + bytes(8),
    "none": lambda body: body[:0],
}
FILLED = {f"all {value}": value for value in (np.nan, np.inf, -5.0, 1e300, 1.0)}


@pytest.mark.parametrize("wrong", [*WRONG, *FILLED])
def test_a_file_of_something_else_is_ignored(wrong: str) -> None:
    first = light_of_house(ROOMS)
    key = joined()["hallliving"].key
    body = kept.recall(key)
    assert body
    other = WRONG[wrong](body) if wrong in WRONG else np.full(len(body) // 8, FILLED[wrong])
    kept.keep(key, bytes(other))
    assert same(first, light_of_house(ROOMS))
    assert kept.recall(key) == body


def test_an_edit_that_light_does_not_depend_on_keeps_it_without_computing_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    light_of_house(ROOMS)
    first = light_of_house(ROOMS)
    monkeypatch.setattr(house_light, "system_of", None)
    again = light_of_house(ROOMS, before=first)
    assert all(again.rooms[room] is first.rooms[room] for room in ROOMS)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no other process to be had")
def test_light_that_another_process_has_computed_is_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    alone = ROOMS["living"]._replace(openings=())
    rooms = {**ROOMS, "study": alone, "attic": alone}
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", os.devnull)
    monkeypatch.setattr(house_light, "WORTH_ROOMS", 1)
    monkeypatch.setattr(processes, "cores", lambda: 1)
    here = light_of_house(rooms)
    monkeypatch.setattr(processes, "cores", lambda: 2)
    both = light_of_house(rooms)
    known = [each.known is not None for each in both.joined.values()]
    assert any(known)
    assert not all(known)
    assert same(here, both)
