"""All bounces: exact enclosures, conservation of energy, and what paint may do to light."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.light import enclosures, sources
from housemap.light.mesh import Hole, Mesh
from housemap.light.radiosity import Rows, band_light, first_light, modes_of
from tests.support.lit_rooms import (
    bounced_alone,
    box_shape,
    exact_lux,
    modes,
    published_light,
    surface_means,
    total_lux,
)
from tests.support.science import cie_test_colours

ROOM = enclosures.enclosure(box_shape(4.0, 3.0, 2.5))
reflectances = st.lists(st.floats(0.0, 0.95), min_size=6, max_size=6)


def sphere(shares: list[float]) -> Mesh:
    """An enclosure in which all see all alike: the view factor to a surface is its share."""
    area = np.array(shares)
    names = tuple(str(i) for i in range(len(shares)))
    nowhere = np.zeros((len(shares), 3))
    return Mesh(
        names, np.arange(len(shares)), area, nowhere, nowhere,
        lambda kind: np.outer(area, area).astype(kind),
    )  # fmt: skip


def lamp() -> Floats:
    return np.asarray(1000.0 * ROOM.lamp_shares((1.0, 1.2, 1.9), "all") / ROOM.mesh.area_m2)


@pytest.mark.parametrize("case", published_light("uniform_enclosure")["band_cases"])
def test_a_uniform_enclosure_multiplies_light_by_sumpners_factor(case: dict[str, float]) -> None:
    """E = E0 / (1 - rho) in the sphere, as in a box whose every patch is lit alike."""
    for mesh in (sphere([0.3, 0.7]), ROOM.mesh):
        rho = np.full((len(mesh.surfaces), 1), case["rho"])
        total = total_lux(mesh, rho, np.ones((len(mesh.area_m2), 1)))
        assert case["rho"] * total == pytest.approx(
            np.full_like(total, case["with_interreflection"]), rel=2e-4
        )


def uv(xyz: Floats) -> Floats:
    return np.asarray([4.0, 9.0] * xyz[:2] / (xyz @ [1.0, 15.0, 3.0]))


def in_the_round(wall: Floats, illuminant: str) -> dict[str, float]:
    """Distance in u'v' from the light of what a wall and a white ceiling send to the eye."""
    grey = np.ones(41)
    reflectance = np.stack([wall, 0.85 * grey, 0.30 * grey])
    total = total_lux(sphere([0.55, 0.225, 0.225]), reflectance, np.ones((3, 41)))
    weights = sources.band_weights(sources.lamp(0.0, illuminant))[:, :3]
    light = uv(weights.sum(0))
    sent = {
        "sample": wall,
        "room_55pct_walls": total[0] * wall,
        "room_all_one_colour": wall / (1.0 - wall),
        "white_ceiling_in_that_room": total[1] * 0.85,
    }
    return {name: float(np.hypot(*(uv(each @ weights) - light))) for name, each in sent.items()}


@pytest.mark.parametrize("case", published_light("uniform_enclosure")["cases"])
def test_colours_grow_stronger_in_a_room_as_published(case: dict[str, Any]) -> None:
    """CIE 13.3 samples as walls; the file names its sources. Tolerance as stated there."""
    got = in_the_round(cie_test_colours()[case["wall"]], case["illuminant"])
    expected = {name: shift["s_uv"] for name, shift in case["shift_from_illuminant_uv"].items()}
    assert got == pytest.approx(expected, abs=0.002)


def test_two_wall_colours_in_one_room_grow_alike_as_published() -> None:
    """Billger 1999 by the uniform enclosure: nearer than in two rooms of one colour each."""
    case = published_light("uniform_enclosure")["two_colour_room"]
    samples = cie_test_colours()
    walls = np.stack([samples["TCS13"], samples["TCS05"]])
    weights = spectra.weights("D65/10")
    total = total_lux(sphere([0.5, 0.5]), walls, np.ones((2, 41)))
    apart = [
        np.hypot(*(uv(first @ weights) - uv(second @ weights)))
        for first, second in (walls, walls / (1.0 - walls), total * walls)
    ]
    names = ("samples", "two_single_colour_rooms", "half_and_half_room")
    assert apart == pytest.approx([case[f"uv_distance_{name}"] for name in names], abs=0.002)


@settings(max_examples=30, deadline=None)
@given(rho=reflectances)
def test_what_is_absorbed_is_what_shines(rho: list[float]) -> None:
    mesh = ROOM.mesh
    total = total_lux(mesh, np.array(rho)[:, None], lamp()[:, None])[:, 0]
    absorbed = (1.0 - np.array(rho)[mesh.surface]) * total * mesh.area_m2
    assert absorbed.sum() == pytest.approx(1000.0, rel=2e-3)


@settings(max_examples=30, deadline=None)
@given(rho=reflectances, surface=st.integers(0, 5), more=st.floats(0.0, 0.3))
def test_a_brighter_paint_never_gives_less_light_anywhere(
    rho: list[float], surface: int, more: float
) -> None:
    brighter = rho.copy()
    brighter[surface] = min(rho[surface] + more, 0.95)
    both = np.array([rho, brighter]).T
    dim, bright = total_lux(ROOM.mesh, both, np.repeat(lamp()[:, None], 2, axis=1)).T
    assert np.all(bright >= dim * (1.0 - 2e-3))


@settings(max_examples=20, deadline=None)
@given(rho=reflectances, factor=st.floats(0.1, 9.0))
def test_light_adds_up(rho: list[float], factor: float) -> None:
    one, other = lamp(), 800.0 * ROOM.lamp_shares((3.0, 2.0, 2.5), "down") / ROOM.mesh.area_m2
    columns = np.column_stack([one, other, one + factor * other])
    first, second, both = total_lux(ROOM.mesh, np.array(rho)[:, None].repeat(3, 1), columns).T
    assert both == pytest.approx(first + factor * second, rel=3e-3)


def test_the_solution_solves_the_equation() -> None:
    """Against a dense solve of 1 - F rho: patches roughly, surface means closely."""
    mesh, rho = ROOM.mesh, np.array([[0.2], [0.85], [0.7], [0.6], [0.5], [0.9]])
    exact, got = (solve(mesh, rho, lamp()[:, None]) for solve in (exact_lux, total_lux))
    assert got == pytest.approx(exact, rel=0.05)
    assert surface_means(mesh) @ got == pytest.approx(surface_means(mesh) @ exact, rel=5e-4)


def test_a_dark_room_has_no_light_but_the_first() -> None:
    total = total_lux(ROOM.mesh, np.zeros((6, 1)), lamp()[:, None])
    assert total[:, 0] == pytest.approx(lamp())
    assert np.all(total_lux(ROOM.mesh, np.full((6, 1), 0.5), np.zeros_like(total)) == 0.0)


def test_modes_are_orthonormal_and_gather_what_patches_exchange() -> None:
    """By the definition: the integral of two modes over the room is 1 or 0."""
    mesh, known = ROOM.mesh, modes(ROOM.mesh)
    count = len(known.surface)
    assert count < len(mesh.area_m2) / 8
    assert known.on_patches * mesh.area_m2 @ known.on_patches.T == pytest.approx(
        np.eye(count), abs=1e-6
    )
    assert known.exchange == pytest.approx(known.exchange.T, abs=1e-6)
    even = known.on_patches[known.starts]
    assert even**2 * mesh.area_m2 @ np.ones(even.shape[1]) == pytest.approx(np.ones(6))
    assert np.ptp(even[0][mesh.surface == 0]) == 0.0


@settings(max_examples=20, deadline=None)
@given(rho=reflectances)
def test_modes_alone_come_near_the_solution_by_patches(rho: list[float]) -> None:
    """Within 5 % on every surface; bounces by patches take care of the rest."""
    mesh, known = ROOM.mesh, modes(ROOM.mesh)
    reflectance, lit = np.array(rho)[:, None], lamp()[:, None]
    once = known.once(mesh, reflectance, lit)
    light = lit + known.on_patches.T @ known.bounced(reflectance, once)
    exact = surface_means(mesh) @ exact_lux(mesh, reflectance, lit)
    assert surface_means(mesh) @ light == pytest.approx(exact, rel=0.05)


def test_a_window_behind_another_has_modes_of_nothing() -> None:
    both = [Hole(name, "w", 0.5, 0.9, 1.0, 1.0, shines=True) for name in ("a", "b")]
    mesh = enclosures.enclosure(box_shape(4.0, 3.0, 2.5, *both)).mesh
    assert mesh.surface_area_m2()[-2] == 0.0
    assert np.all(np.isfinite(modes_of(mesh).exchange))


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 999))
def test_modes_corrected_at_some_bands_are_as_good_as_patches_at_all(seed: int) -> None:
    """Steep spectra on every surface: within 0.3 % at every band."""
    random = np.random.default_rng(seed)
    low, high = random.uniform(0.03, 0.9, (2, 6, 1))
    rise = 1.0 / (1.0 + np.exp((random.uniform(430, 670, (6, 1)) - spectra.GRID_NM) / 12.0))
    reflectance = low + (high - low) * rise
    rows = Rows(np.eye(6))
    mesh, known = ROOM.mesh, modes(ROOM.mesh)
    lit = reflectance, first_light(mesh, known, lamp()[:, None])
    got = band_light(mesh, known, rows, lit, bounced_alone(known, *lit))
    every = exact_lux(mesh, reflectance, np.repeat(lamp()[:, None], 41, axis=1))
    assert got.total[:, 0] == pytest.approx(rows.means(mesh) @ every, rel=3e-3)
    assert got.direct + got.received.sum(1).mean(-1) == pytest.approx(got.total.mean(-1), rel=1e-9)
