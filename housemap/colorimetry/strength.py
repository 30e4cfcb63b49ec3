"""How strong a colour is, by the modifiers of the ISCC-NBS system: neutral up to vivid.

The modifiers fall into five steps: neutral (white, grey and black, also "-ish"), greyish (very
pale, pale, greyish, blackish), moderate (light, moderate, dark), strong (brilliant, strong, deep)
and vivid. Near-neutral blocks are those of `undertone`. Further out the charts of Kelly & Judd 1976
(NBS Special Publication 440) are summed up by the ASTM D1535 chroma up to which each step goes, in
twelve sectors of hue; near a border of two sectors a chart may differ by a step of chroma.
"""

from collections.abc import Iterable
from functools import cache

import numpy as np

from housemap.colorimetry import undertone
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.house import STRENGTHS

NEUTRAL, GREYISH, MODERATE, STRONG, VIVID = range(len(STRENGTHS))

Sector = tuple[float, float, float, float, float, float, float]
SECTORS: tuple[Sector, ...] = (
    # hue from, hue to, value from, value below, chroma up to: greyish, moderate, strong
    (99, 7, 5.5, 99, 3, 7, 11),  # pinks
    (99, 7, 3.5, 5.5, 7, 11, 13),  # reds
    (99, 7, 0, 3.5, 3, 7, 11),
    (7, 13, 6.5, 99, 3, 6, 10),  # yellowish pinks
    (7, 13, 0, 6.5, 3, 7, 12),  # reddish browns and oranges
    (13, 21, 5.5, 99, 3, 10, 14),  # oranges
    (13, 21, 0, 5.5, 2.5, 5, 14),  # browns
    (21, 32, 5.5, 99, 5, 8, 11),  # yellows
    (21, 32, 0, 5.5, 3, 8, 11),  # olives
    (32, 76, 0, 99, 3, 7, 11),  # yellow greens, greens, blues
    (76, 93, 0, 99, 5, 9, 13),  # violets and purples
    (93, 99, 0, 99, 3, 7, 11),  # purplish pinks and reds
)
GREYISH_WORDS = frozenset({"pale", "grayish", "blackish"})


def strengths(hvc: Floats, names: Iterable[str]) -> Indices:
    """Step of hue number 0..100, value and chroma (n, 3): 0 neutral to 4 vivid, (n,).

    `names` are what `undertone.names` says of them.
    """
    found = [_step_by_name(name) for name in names]
    by_chroma = _steps_by_chroma(hvc)
    return np.array(
        [step if known < 0 else known for known, step in zip(found, by_chroma, strict=True)],
        dtype=np.intp,
    )


@cache
def _step_by_name(name: str) -> int:
    """-1 where the name does not say it."""
    words = name.split()
    if words[-1] in undertone.ACHROMATIC_NOUNS:
        return NEUTRAL
    return GREYISH if GREYISH_WORDS & set(words) else -1


def _steps_by_chroma(hvc: Floats) -> list[int]:
    hue, value, chroma = hvc[:, 0, None], hvc[:, 1, None], hvc[:, 2, None] - undertone.ROUNDING
    hue_from, hue_to, value_from, value_below, *limits = np.array(SECTORS).T
    after, before = hue >= hue_from, hue < hue_to
    inside = np.where(hue_from > hue_to, after | before, after & before)
    inside &= (value >= value_from) & (value < value_below)
    most = np.stack(limits, axis=-1)[inside.argmax(axis=1)]
    steps: list[int] = (GREYISH + (chroma > most).sum(axis=1)).tolist()
    return steps
