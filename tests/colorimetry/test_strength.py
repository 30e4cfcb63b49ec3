"""The strength of colours against blocks of the ISCC-NBS charts (NBS SP 440, 1976)."""

import numpy as np
import pytest

from housemap.colorimetry.munsell import parse
from housemap.colorimetry.undertone import names, strengths
from housemap.model.house import STRENGTHS

CHARTS = {
    # Notation: the modifier of the chart that it lies in.
    "N 8/": "neutral", "5Y 8/0.6": "neutral", "2Y 7/1.5": "neutral", "10YR 8/1": "neutral",
    "2Y 8.5/3": "greyish", "2Y 7/4": "greyish", "5Y 5/2.5": "greyish", "6PB 4/2": "greyish",
    "5G 5/2": "greyish", "5BG 6/1.5": "greyish", "10GY 6/2.4": "greyish", "5R 4/5": "greyish",
    "2Y 7/6": "moderate", "5YR 4/4": "moderate", "5YR 6/8": "moderate", "5G 5/5": "moderate",
    "1P 5/7": "moderate", "6PB 8/8": "moderate",
    "2Y 7/9": "strong", "5YR 6/12": "strong", "5G 5/9": "strong", "5P 4/11": "strong",
    "2Y 8/12": "vivid", "5YR 6/15": "vivid", "5G 5/13": "vivid", "5P 4/14": "vivid",
}  # fmt: skip


def of(*notations: str) -> list[str]:
    hvc = np.array([parse(one) for one in notations])
    return [STRENGTHS[step] for step in strengths(hvc, names(hvc))]


@pytest.mark.parametrize(("notation", "strength"), CHARTS.items())
def test_a_colour_has_the_strength_of_its_chart(notation: str, strength: str) -> None:
    assert of(notation) == [strength]


def test_more_chroma_never_makes_a_colour_weaker() -> None:
    chroma = np.arange(0.0, 20.0, 0.1)
    for hue in np.arange(0.5, 100.0, 1.0):
        for value in np.arange(1.25, 9.5, 0.5):
            hvc = np.stack([np.full_like(chroma, hue), np.full_like(chroma, value), chroma], -1)
            steps = strengths(hvc, names(hvc))
            falls = np.flatnonzero(np.diff(steps) < 0)
            assert not falls.size, (hue, value, chroma[falls])
