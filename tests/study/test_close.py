"""A close look at a room: other paints on its walls look and light as if they were there."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.light.daylight import average_percent
from housemap.model.edits import assign, put
from housemap.model.house import House, Lamp, SurfacePaints
from housemap.study import Study, study_of
from tests.support.houses import small_house


def lit_house() -> House:
    """The small house with paint on every surface of its hall."""
    house = small_house()
    paints = SurfacePaints("oat", "chalk", "chalk", "moss")
    return put(house, "rooms", "hall", replace(house.rooms["hall"], paints=paints))


HOUSE = lit_house()


def looked_at(house: House, room: str = "hall") -> Study:
    study = study_of(house)
    study.lighting.close.look(study.lighting, room)
    return study


@pytest.mark.parametrize("paint", ["chalk", "moss", "oat"])
def test_a_paint_does_to_the_light_what_it_does_once_it_is_on(paint: str) -> None:
    lighting = looked_at(HOUSE).lighting
    tried = (lighting.close.paints(lighting, "hall") or {})[paint]
    after = study_of(assign(HOUSE, "hall", "walls", paint)).lighting
    room = after.rooms["hall"]
    assert tried.daylight_percent == pytest.approx(
        room.light.daylight and room.light.daylight.percent
    )
    for name, lit in room.light.lights.items():
        assert tried.wall_lux[name] == pytest.approx(lit.total_lux("walls"), rel=3e-3)
        seen = after.seen["hall", name]
        assert seen
        shown = seen.colours[room.part.coats["walls"]].srgb_hex
        channels = zip(
            bytes.fromhex(shown[1:]), bytes.fromhex(tried.srgb_hex[name][1:]), strict=True
        )
        assert all(abs(a - b) <= 1 for a, b in channels)


def test_the_daylight_factor_is_the_published_formula() -> None:
    """T W theta / (A (1 - R^2)), BS 8206-2, from the measures of the hall by hand.

    Where its doorway is open, nothing comes back; its window gives back 0.1.
    """
    study = looked_at(HOUSE)
    hall = study.lighting
    floor = ceiling = 1.8 * 5.2
    glass, door = 1.2 * 1.1, 0.8 * 2.0
    plain = 2 * (1.8 + 5.2) * 2.4 - 5.2 * 2.4 - glass - door
    lrv = {paint: study.paint(paint).lrv for paint in HOUSE.paints}
    oak = study.finish("oak-floor").lrv
    area = 2 * floor + 2 * (1.8 + 5.2) * 2.4
    for paint, tried in (hall.close.paints(hall, "hall") or {}).items():
        reflected = (
            floor * oak + ceiling * lrv["chalk"] + plain * lrv[paint]
            + 5.2 * 2.4 * lrv["moss"] + 10.0 * glass
        ) / 100.0  # fmt: skip
        by_hand = average_percent(0.68 * glass * 75.0, area, reflected / area)
        assert tried.daylight_percent == pytest.approx(float(by_hand), rel=1e-9)


def test_a_darker_paint_costs_light() -> None:
    lighting = looked_at(HOUSE).lighting
    paints = lighting.close.paints(lighting, "hall") or {}
    light, dark = paints["chalk"], paints["moss"]
    assert light.daylight_percent
    assert dark.daylight_percent
    assert light.daylight_percent > dark.daylight_percent
    assert all(light.wall_lux[name] > dark.wall_lux[name] for name in light.wall_lux)


def test_nothing_is_known_before_the_look() -> None:
    lighting = study_of(HOUSE).lighting
    assert lighting.close.paints(lighting, "hall") is None
    assert lighting.close.tints(lighting, "hall") is None


def test_repainting_the_walls_keeps_what_is_known_of_other_paints_on_them() -> None:
    before = looked_at(HOUSE)
    after = study_of(assign(HOUSE, "hall", "walls", "moss"), before).lighting
    assert after.close.paints(after, "hall") is before.lighting.close.paints(
        before.lighting, "hall"
    )
    assert after.close.tints(after, "hall") is None


@pytest.mark.parametrize("table", ["lamp", "ceiling", "door", "north", "paint"])
def test_whatever_else_changes_the_light_asks_for_another_look(table: str) -> None:
    before = looked_at(HOUSE)
    hall = HOUSE.rooms["hall"]
    edited = {
        "lamp": lambda: put(
            HOUSE, "rooms", "hall", replace(hall, lamps={"a": Lamp(400.0, 4000.0)})
        ),
        "ceiling": lambda: assign(HOUSE, "hall", "ceiling", "oat"),
        "door": lambda: put(
            HOUSE, "openings", "hall-kitchen",
            replace(HOUSE.openings["hall-kitchen"], door="shut"),
        ),
        "north": lambda: replace(HOUSE, north_deg=90.0),
        "paint": lambda: put(HOUSE, "paints", "moss", replace(HOUSE.paints["moss"], lrv=20.0)),
    }[table]()  # fmt: skip
    after = study_of(edited, before).lighting
    assert after.close.paints(after, "hall") is None


@pytest.mark.parametrize("room", ["kitchen", "study"])
def test_a_room_without_light_is_looked_at_without_fuss(room: str) -> None:
    door = replace(HOUSE.openings["hall-kitchen"], door="shut")
    lighting = looked_at(put(HOUSE, "openings", "hall-kitchen", door), room).lighting
    assert lighting.close.tints(lighting, room) == {}
    paints = lighting.close.paints(lighting, room)
    assert paints is not None
    assert all(not paint.wall_lux and not paint.srgb_hex for paint in paints.values())


def test_light_is_ready_once_the_findings_in_depth_have_been_made() -> None:
    report = report_of(HOUSE, deep=False)
    assert not report.study.lighting.ready
    assert report_of(HOUSE, report).study.lighting.ready
