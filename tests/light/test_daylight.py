"""The average daylight factor as the standard's formula gives it, and the limits around it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.light import daylight, sky
from housemap.light.daylight import DaylightFactor, average_percent
from housemap.light.inputs import RoomColours, RoomOpening
from housemap.light.scene import grey
from housemap.model.house import Window
from tests.support.lit_rooms import light_of, lit_room, living_inputs, published_light

PUBLISHED = published_light("daylight_factor")
lrvs = st.floats(0.0, 95.0)


def published_factor(walls: float) -> DaylightFactor:
    """The 5 x 4 x 2.5 m room of the check file."""
    room = PUBLISHED["adf_room"]
    glass = room["glazed_m2"]
    reflects = (room["rho_floor"], room["rho_ceiling"], walls, room["rho_glass"])
    return DaylightFactor(
        room["transmittance"] * glass * room["sky_angle_deg"],
        {"floor": 20.0, "ceiling": 20.0, "walls": 45.0 - glass, "window": glass},
        dict(zip(("floor", "ceiling", "walls", "window"), reflects, strict=True)),
        {"walls": frozenset({"walls"})},
    )


@pytest.mark.parametrize("case", PUBLISHED["adf_cases"])
def test_the_factor_is_that_of_the_formula(case: dict[str, float]) -> None:
    """BS 8206-2; the file tells where equation and inputs were read."""
    factor = published_factor(case["wall_LRV"] / 100.0)
    assert factor.total_m2 == PUBLISHED["total_area_A"]
    assert factor.mean_reflectance == pytest.approx(case["mean_R"], abs=1e-6)
    assert factor.percent == pytest.approx(case["adf_percent"], abs=1e-3)


@pytest.mark.parametrize("case", published_light("daylight_rooms")["cases"])
def test_the_formula_gives_the_figures_of_the_published_rooms(
    case: dict[str, dict[str, float]],
) -> None:
    f = case["formula"]
    got = average_percent(f["T"] * f["Aw_m2"] * f["theta_deg"], f["A_m2"], f["R_mean"])
    assert float(got) == pytest.approx(f["DF_percent"], abs=1e-3)


def test_a_room_gets_the_factor_of_its_measures() -> None:
    """By hand: T W theta = 0.68 x 1.8 x 75; A = 2 x 14 + 2 x 7.5 x 2.5; glass reflects 0.1."""
    colours = RoomColours(walls=grey(0.6), ceiling=grey(0.85), floor=grey(0.25))
    (room,) = light_of([living_inputs(colours)])
    area = 2 * 14.0 + 37.5
    mean = (14.0 * (0.85 + 0.25) + (37.5 - 1.8) * 0.6 + 1.8 * 0.1) / area
    assert room.daylight is not None
    assert room.mean_reflectance == pytest.approx(mean)
    expected = 0.68 * 1.8 * 75.0 / (area * (1.0 - mean**2))
    assert room.daylight.percent == pytest.approx(expected)
    assert room.daylight.percent_with("walls", np.array([60.0])) == pytest.approx([expected])


def test_the_plane_has_more_daylight_than_the_formula_says() -> None:
    """The formula is 0.6 to 0.8 of a plane average in the published rooms (open aperture)."""
    windows = {"w": Window("w", 0.6, 1.8, 1.2, 0.9, 1.0, 90.0)}
    inputs = living_inputs(
        RoomColours(walls=grey(0.5), ceiling=grey(0.8), floor=grey(0.2)),
        size_m=(4.0, 3.0), windows=windows,
    )  # fmt: skip
    (room,) = light_of([inputs])
    assert room.daylight is not None
    assert room.plane_percent is not None
    assert 0.6 < room.daylight.percent / room.plane_percent < 0.8
    # The published room's aperture reflects nothing back; this one's glass a tenth.
    assert room.plane_percent == pytest.approx(6.1811, rel=0.02)


@given(lrv=lrvs, more=st.floats(0.5, 5.0))
def test_a_lighter_paint_never_costs_daylight(lrv: float, more: float) -> None:
    factor = published_factor(0.5)
    for surface in ("walls", "ceiling", "floor"):
        darker, lighter = factor.percent_with(surface, np.array([lrv, lrv + more]))
        assert lighter > darker


def test_the_curve_of_a_paint_runs_through_where_it_is_now() -> None:
    factor = published_factor(0.48)
    assert factor.percent_with("walls", np.array([48.0])) == pytest.approx([factor.percent])


def test_limits_are_those_that_were_read() -> None:
    limits = PUBLISHED["bs8206_2_min_adf_percent"]
    bs = daylight.BS8206_PERCENT
    assert (bs["bedroom"], bs["living"], bs["kitchen"]) == (
        limits["bedroom"], limits["living_room"], limits["kitchen"],
    )  # fmt: skip


def test_what_a_room_should_have_depends_on_the_country() -> None:
    """EN 17037 table A.3 and its UK annex, from memory: 300 lx of 13,900 in Berlin, as anywhere."""
    assert daylight.median_percent("kitchen", "GB") == pytest.approx(200.0 / 141.0)
    assert daylight.median_percent("kitchen") == daylight.median_percent("kitchen", "GB")
    assert daylight.median_percent("hall") == pytest.approx(100.0 / 141.0)
    for use in ("kitchen", "bedroom", "hall"):
        assert daylight.median_percent(use, "DE") == pytest.approx(300.0 / 139.0)
    assert daylight.least_average("kitchen", "GB") == daylight.BS8206_PERCENT["kitchen"]
    assert daylight.least_average("kitchen", "DE") is None


def test_a_brighter_ground_gives_a_window_more_light() -> None:
    dark, snow = (
        lit_room(living_inputs()._replace(ground=ground)).lights["day"] for ground in (0.1, 0.8)
    )
    assert snow.direct_lux("ceiling") > 3.0 * dark.direct_lux("ceiling")
    assert snow.direct_lux("floor") == pytest.approx(dark.direct_lux("floor"), rel=0.01)


def test_a_glazed_door_to_the_garden_lets_daylight_in_as_a_window_does() -> None:
    """By hand: the share of the sky on a glass x its transmittance x its area."""
    way = RoomOpening("garden", "n", 1.0, 1.2, 2.0, "glass", outdoors=True)
    room = living_inputs(windows={}, lamps={})._replace(openings=(way,))
    day = lit_room(room).lights["day"]
    share = sky.glass_share(sky.Outside(75.0))
    assert day.source[3] == pytest.approx(10_000.0 * share * 0.8 * 1.2 * 2.0, rel=1e-3)
    assert lit_room(room._replace(openings=(way._replace(closed="door"),))).lights == {}
    assert lit_room(room._replace(openings=(way._replace(outdoors=False),))).lights == {}
    notes = {c: " ".join(lit_room(room._replace(openings=(way._replace(closed=c),))).notes)
             for c in ("glass", "door", "open")}  # fmt: skip
    assert "No window" in notes["door"]
    assert "No window" not in notes["glass"]
    assert [closed for closed in notes if "stands open" in notes[closed]] == ["open"]
