"""Our colour kernels against the reference libraries, and what facts of many colours cost.

The best of several turns each, in one process; the last column is how often ours fits into theirs.
"""

import warnings
from collections.abc import Callable
from functools import partial

import numpy as np
from skimage import color as skimage_color

from housemap.colorimetry import appearance, facts, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.model.house import Srgb
from tests.benchmarks.measuring import wall_seconds
from tests.support.science import SCIENCE, recover

TURNS = 9
PAIRS = (1, 60, 5_000, 100_000)
COLOURS = (1, 60, 1_000)


def best(work: Callable[[], object]) -> float:
    """Milliseconds."""
    return min(wall_seconds(work) for _ in range(TURNS)) * 1e3


def main() -> None:
    random = np.random.default_rng(1)
    _row("", "ours", "theirs", "ratio")
    for count in PAIRS:
        labs = random.uniform([0, -60, -60], [100, 60, 60], (2, count, 3))
        _against(f"CIEDE2000, {count} pairs", ciede2000, skimage_color.deltaE_ciede2000, *labs)
    xyz = spectra.to_xyz(random.uniform(0.05, 0.95, (5_000, 41)))
    seen = appearance.reference()
    _against("CIECAM16, 5000 colours", partial(appearance.jmh, seen=seen), _their_cam, xyz)
    for count in COLOURS:
        _row(f"recovery of {count}", best(partial(recover, xyz[:count] * 0.5)))
        _row(f"facts of {count}", best(partial(_facts_of, random, count)))


def _against(
    title: str, ours: Callable[..., object], theirs: Callable[..., object], *given: Floats
) -> None:
    mine, other = best(partial(ours, *given)), best(partial(theirs, *given))
    _row(title, mine, other, other / mine)


def _their_cam(xyz: Floats) -> object:
    seen = appearance.reference()
    surround = SCIENCE.VIEWING_CONDITIONS_CIECAM16["Average"]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return SCIENCE.XYZ_to_CIECAM16(xyz, seen.white100, seen.adapting_cd_m2, 20, surround)


def _facts_of(random: np.random.Generator, count: int) -> int:
    """Of colours that are new each time."""
    numbers = random.integers(0, 1 << 24, count).tolist()
    return len(facts.colour_facts([Srgb(f"#{number:06x}") for number in numbers]))


def _row(title: str, *columns: float | str) -> None:
    cells = [f"{one:>11.3f}" if isinstance(one, float) else f"{one:>11}" for one in columns]
    print(f"{title:<28}" + "".join(cells))


if __name__ == "__main__":
    main()
