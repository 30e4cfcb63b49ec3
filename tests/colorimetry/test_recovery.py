"""Recovered reflectances: possible, exact, and near what was measured under other lamps."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import recovery, spaces, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError
from housemap.model.house import Xyz
from tests.support.science import chart_patches, cie_test_colours, recover

SCREEN = "D65/2"


def lab(reflectance: Floats, observed: str) -> Floats:
    return spaces.xyz_to_lab(spectra.to_xyz(reflectance, observed), spectra.white(observed))


def srgb_xyz(rgb: Floats) -> Floats:
    return spaces.srgb_to_xyz(rgb / 255.0) * spectra.white(SCREEN) / spaces.SRGB_WHITE


@given(st.lists(st.tuples(*[st.integers(0, 255)] * 3), min_size=1, max_size=6))
def test_every_screen_colour_has_a_reflectance_that_gives_it_back(
    colours: list[tuple[int, int, int]],
) -> None:
    xyz = srgb_xyz(np.array(colours, dtype=float))
    reflectance = recover(xyz, SCREEN)
    assert ((reflectance >= 0.0) & (reflectance <= 1.0)).all()
    np.testing.assert_allclose(spectra.to_xyz(reflectance, SCREEN), xyz, atol=1e-4)


def test_the_corners_of_the_screen_are_surfaces_too() -> None:
    """Mallett & Yuksel 2019: the whole sRGB gamut lies within the object colours."""
    corners = np.array(np.meshgrid([0, 255], [0, 255], [0, 255]), float).reshape(3, 8).T
    _, found = recovery.try_to_recover(srgb_xyz(corners), SCREEN)
    assert found.all()


@pytest.mark.parametrize("observed", ["D65/10", "D50/2", "A/10", "LED-B1/10", "FL11/2"])
def test_a_measured_colour_is_given_back_under_its_own_light(observed: str) -> None:
    xyz = spectra.to_xyz(chart_patches(), observed)
    got = spectra.to_xyz(recover(xyz, observed), observed)
    white = spectra.white(observed)
    away = ciede2000(spaces.xyz_to_lab(got, white), spaces.xyz_to_lab(xyz, white))
    assert away.max() < 0.05


@pytest.mark.parametrize("level", [0.0, 0.03, 0.18, 0.5, 0.9, 1.0])
def test_a_grey_comes_back_flat(level: float) -> None:
    grey = np.full((1, 41), level)
    got = recover(spectra.to_xyz(grey, "D65/10"))
    np.testing.assert_allclose(got, grey, atol=1e-6)


@pytest.mark.parametrize("lamp", ["A/10", "LED-B1/10"])
def test_lamps_show_recovered_colours_nearly_as_the_measured_ones(lamp: str) -> None:
    """The docstring's table, for what colour-science carries: charts and CIE 13.3."""
    measured = np.concatenate([chart_patches(), np.stack(list(cie_test_colours().values()))])
    recovered = recover(spectra.to_xyz(measured))
    away = ciede2000(lab(measured, lamp), lab(recovered, lamp))
    assert away.mean() < 1.05
    straight = ciede2000(lab(measured, lamp), lab(measured, spectra.REFERENCE))
    assert away.mean() < straight.mean() / 3.0


IMPOSSIBLE = (
    (132.0, 87.6, 14.0),
    (50.0, 50.0, 0.0),
    (94.8, 100.0, 109.0),
    (-1.0, -1.0, -1.0),
    (float("nan"), 20.0, 20.0),
    (float("inf"), 20.0, 20.0),
)


@pytest.mark.parametrize("xyz", IMPOSSIBLE)
def test_a_colour_that_no_surface_has_is_refused(xyz: tuple[float, float, float]) -> None:
    with pytest.raises(ColourError, match="no surface"):
        colour_facts([Xyz(xyz)])


def test_one_impossible_colour_does_not_spoil_the_others() -> None:
    good = spectra.to_xyz(chart_patches()[:4])
    mixed = np.concatenate([good[:2], np.array(IMPOSSIBLE), good[2:]])
    reflectance, found = recovery.try_to_recover(mixed)
    assert found.tolist() == [True, True, *[False] * len(IMPOSSIBLE), True, True]
    np.testing.assert_allclose(spectra.to_xyz(reflectance[found]), good, atol=1e-6)


@given(st.tuples(*[st.floats(-1e6, 1e6)] * 3))
def test_no_numbers_break_it(xyz: tuple[float, float, float]) -> None:
    reflectance, found = recovery.try_to_recover(np.array([xyz]))
    assert ((reflectance >= 0.0) & (reflectance <= 1.0)).all()
    assert found.shape == (1,)


def test_colours_are_the_same_alone_and_in_a_crowd() -> None:
    xyz = spectra.to_xyz(np.tile(chart_patches(), (4, 1)))
    crowd = recover(xyz)
    np.testing.assert_allclose(recover(xyz[:1]), crowd[:1], atol=1e-9)
    np.testing.assert_allclose(crowd[:78], crowd[-78:], atol=1e-9)
    assert recover(np.zeros((0, 3))).shape == (0, 41)


def test_very_many_colours_are_those_of_a_few_at_a_time() -> None:
    """They begin elsewhere, and end at the same; impossible ones among them stay impossible."""
    rgb = np.random.default_rng(5).integers(0, 256, (2 * recovery.MANY, 3)).astype(float)
    xyz = np.concatenate([srgb_xyz(rgb), np.array(IMPOSSIBLE)])
    crowd, found = recovery.try_to_recover(xyz, SCREEN)
    assert found.tolist() == [True] * len(rgb) + [False] * len(IMPOSSIBLE)
    np.testing.assert_allclose(crowd[:200], recover(xyz[:200], SCREEN), atol=1e-8)


def test_very_many_colours_are_found_again_in_the_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same to the last bit, without being computed; those of another light are not."""
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path / "cache"))
    rgb = np.random.default_rng(6).integers(0, 256, (recovery.MANY, 3)).astype(float)
    xyz = np.concatenate([srgb_xyz(rgb), np.array(IMPOSSIBLE)])
    first, gives_back = recovery.try_to_recover(xyz, SCREEN)
    with monkeypatch.context() as patch:
        patch.delattr(recovery, "_least_slope")
        again, still = recovery.try_to_recover(xyz, SCREEN)
    assert np.array_equal(first, again)
    assert np.array_equal(gives_back, still)
    other, _ = recovery.try_to_recover(xyz, "A/2")
    np.testing.assert_allclose(other[:20], recovery.try_to_recover(xyz[:20], "A/2")[0], atol=1e-8)
    assert len([*(tmp_path / "cache").iterdir()]) == 2
