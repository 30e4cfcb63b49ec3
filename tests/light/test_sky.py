"""The overcast sky: its luminance, what reaches a window, and rooms lit by it."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.light import shape_cache, sky
from tests.support.lit_rooms import (
    box_shape,
    by_surface,
    hole_of,
    published_light,
    surface_means,
    total_lux,
)

ROOMS = published_light("daylight_rooms")["cases"]


def test_the_zenith_is_three_times_as_bright_as_the_horizon() -> None:
    published = published_light("daylight_factor")["overcast_sky"]["zenith_to_horizon"]
    horizon, zenith = sky.luminance(np.radians([0.0, 90.0]))
    assert zenith / horizon == pytest.approx(published)


def test_the_whole_sky_gives_one_lux_a_lux() -> None:
    """Integrated over the hemisphere onto the horizontal."""
    elevation = np.linspace(0.0, np.pi / 2.0, 20001)
    ring = sky.luminance(elevation) * np.sin(elevation) * np.cos(elevation) * 2.0 * np.pi
    assert np.trapezoid(ring, elevation) == pytest.approx(1.0, abs=1e-6)


def test_an_open_window_gets_the_published_share() -> None:
    """0.396 from the sky (CIE overcast on a vertical plane) and 0.1 from a ground of 0.2."""
    assert sky.glass_share(90.0) == pytest.approx(0.396 + 0.1, abs=5e-4)
    for case in ROOMS:
        (u0, u1), (v0, v1) = case["window"]["rect_u"], case["window"]["rect_v"]
        flux = sky.glass_share(90.0) * (u1 - u0) * (v1 - v0)
        assert flux == pytest.approx(case["expected"]["window_flux_over_Eh_m2"], rel=5e-4)


@given(angle=st.floats(0.0, 90.0))
def test_the_share_is_the_integral_over_the_visible_sky(angle: float) -> None:
    low = np.radians(90.0 - angle)
    elevation = np.linspace(low, np.pi / 2.0, 4001)
    # Integrating cos(azimuth) over the half circle before the glass gives 2.
    band = 2.0 * sky.luminance(elevation) * np.cos(elevation) ** 2
    expected = np.trapezoid(band, elevation) + 0.1
    assert sky.glass_share(angle) == pytest.approx(expected, abs=1e-6)


@given(angle=st.floats(0.0, 89.0), more=st.floats(0.1, 1.0))
def test_more_sky_gives_more_light(angle: float, more: float) -> None:
    assert sky.glass_share(angle + more) > sky.glass_share(angle)


@pytest.mark.parametrize("case", ROOMS, ids=[case["name"] for case in ROOMS])
@pytest.mark.parametrize("as_outline", [False, True])
def test_rooms_under_the_sky_have_the_published_daylight(
    case: dict[str, Any], *, as_outline: bool
) -> None:
    """Plane average by sky sums with fine radiosity and by Radiance; each surface's mean. 2 %."""
    x, y, z = case["size_m"]
    window = hole_of(case["size_m"], {"name": "window", **case["window"]})
    shape = box_shape(x, y, z, window)
    if as_outline:
        # The same room with a corner in the middle of the south wall is no box to the program.
        corners = ((0.0, 0.0), (x / 2.0, 0.0), *shape.outline_m[1:])
        shape = replace(shape, outline_m=corners, wall_keys=("s", "s2", "e", "n", "w"))
    room, plane = shape_cache.enclosure(shape), shape_cache.working_plane(shape)
    assert plane is not None
    falls = shape_cache.window_skylight(shape, window, 90.0)
    flux = sky.glass_share(90.0) * window.width_m * window.height_m
    values = case["reflectance"] | {"window": 0.0, "s2": case["reflectance"]["wall_y0"]}
    grey = np.array(by_surface(room, values))
    first = flux * falls.patches / room.mesh.area_m2
    total = total_lux(room.mesh, grey[:, None], first[:, None])[:, 0]
    direct = flux * falls.plane / plane.area_m2
    reflected = plane.factors @ (grey[room.mesh.surface] * total)
    expected = case["expected"]
    assert 100.0 * direct == pytest.approx(expected["sky_component_border"], rel=0.02)
    percent = 100.0 * (direct + reflected)
    assert percent == pytest.approx(expected["average_DF_percent_0p5m_border"], rel=0.02)
    assert percent == pytest.approx(case["radiance_border_percent"], rel=0.02)
    if not as_outline:
        means = 100.0 * surface_means(room.mesh) @ total
        surfaces = expected["surface_mean_E_percent_of_Eh"] | {"window": means[-1]}
        assert means == pytest.approx(np.array(by_surface(room, surfaces)), rel=0.02)


def test_all_the_light_of_a_window_falls_somewhere() -> None:
    window = hole_of([4.0, 3.0, 2.5], {"name": "window", **ROOMS[0]["window"]})
    falls = shape_cache.window_skylight(box_shape(4.0, 3.0, 2.5, window), window, 60.0)
    assert falls.patches.sum() == pytest.approx(1.0)
    assert 0.0 < falls.plane < 1.0
