"""Paint on terminals of few colours: the nearest entry, one for each paint where it can be."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000, rgb2lab

from housemap.tui.few_colours import ENTRIES, NEAR, FewColours

HEXES = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


def apart(colour: str, entry: int, depth: str = "256") -> float:
    """CIEDE2000 by another library."""
    rgb = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    ours = [part / 255 for part in ENTRIES[depth][entry]]
    return float(
        deltaE_ciede2000(  # type: ignore[no-untyped-call]  # it has no types
            rgb2lab(np.array(rgb)), rgb2lab(np.array(ours))
        )
    )


def test_the_fixed_entries_are_those_of_xterm() -> None:
    # XTerm Control Sequences, 256 colours: a 6 x 6 x 6 cube, then 24 greys from 8 to 238.
    entries = ENTRIES["256"]
    assert len(entries) == 240
    assert entries[16] == (0, 0, 0)
    assert entries[67] == (95, 135, 175)
    assert entries[231] == (255, 255, 255)
    assert (entries[232], entries[255]) == ((8, 8, 8), (238, 238, 238))


@given(HEXES, st.sampled_from(["256", "16"]))
def test_a_colour_gets_the_entry_that_looks_nearest(colour: str, depth: str) -> None:
    shown = apart(colour, FewColours(depth).entry(colour), depth)
    best = min(apart(colour, entry, depth) for entry in ENTRIES[depth])
    assert shown == pytest.approx(best, abs=0.05)


def test_a_warm_white_stays_near_white() -> None:
    assert apart("#f1ede4", FewColours("256").entry("#f1ede4")) < 5.5


@given(st.lists(HEXES, min_size=2, max_size=12, unique=True))
def test_two_paints_share_an_entry_only_where_none_near_is_free(
    paints: list[str],
) -> None:
    few = FewColours("256")
    few.show_together(paints)
    entries = {paint: few.entry(paint) for paint in paints}
    taken = set(entries.values())
    for one, other in combinations(paints, 2):
        if entries[one] == entries[other]:
            free = [entry for entry in ENTRIES["256"] if entry not in taken]
            assert min(apart(one, entry) for entry in free) > NEAR - 0.05
            assert min(apart(other, entry) for entry in free) > NEAR - 0.05


def test_a_pink_and_a_beige_of_one_view_do_not_look_the_same() -> None:
    few = FewColours("256")
    few.show_together(["#dcc8bd", "#d6cdbd"])
    assert few.entry("#dcc8bd") != few.entry("#d6cdbd")


def test_what_is_no_longer_in_view_gives_its_entry_back() -> None:
    few = FewColours("256")
    few.show_together(["#d6cdbd", "#d7cebd"])
    assert few.entry("#d6cdbd") != few.entry("#d7cebd")
    few.show_together([])
    assert few.entry("#d7cebd") == FewColours("256").entry("#d7cebd")
