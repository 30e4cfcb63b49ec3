"""A chip shows under the light of the moment as its paint shows in the house."""

import pytest

from housemap.checks import report_of
from housemap.choose.chips import all_chips
from housemap.model.house import House, Light
from housemap.tui.render.shades import shades_of
from housemap.tui.tasks.deck_drawing import DeckShades, falling
from housemap.workbench.session import Session
from tests.support.houses import small_house

REPORT = report_of(small_house())
assert REPORT.study.lighting.seen
CHIPS = all_chips(REPORT.house.paints)


def session_under(light: Light) -> Session:
    session = Session.of(REPORT.house)
    session.take_report(REPORT)
    session.select("hall")
    session.select_light(light)
    return session


@pytest.mark.parametrize("light", ["reference", "day", "evening"])
def test_a_chip_shows_as_the_same_paint_on_the_walls(light: Light) -> None:
    session = session_under(light)
    walls = REPORT.house.rooms["hall"].paints.walls
    assert walls
    chip = DeckShades(session).coat(CHIPS, CHIPS.rows[walls])
    assert chip == shades_of(session).on("hall", "walls", walls)
    assert (falling(session) is None) == (light == "reference")


def test_colours_are_worked_out_anew_when_the_light_turns() -> None:
    session = session_under("evening")
    shades = DeckShades(session)
    shades.follow(CHIPS, range(len(CHIPS)))
    evening = [shades.coat(CHIPS, row) for row in range(len(CHIPS))]
    session.select_light("reference")
    plain = [shades.coat(CHIPS, row).colour for row in range(len(CHIPS))]
    assert plain == [swatch.colour.srgb_hex for swatch in CHIPS.swatches]
    session.select_light("day")
    shades.follow(CHIPS, range(len(CHIPS)))
    assert [shades.coat(CHIPS, row) for row in range(len(CHIPS))] != evening


def test_which_light_it_is_is_told() -> None:
    assert DeckShades(session_under("reference")).words == "under the reference light"
    assert DeckShades(session_under("evening")).words == "Hall walls by lamplight"
    dark = Session.of(House(name="Empty"))
    dark.select_light("day")
    assert DeckShades(dark).words == "under the reference light"
    unreported = Session.of(REPORT.house)
    unreported.select_light("day")
    assert "none is known by day" in DeckShades(unreported).words


@pytest.mark.parametrize("light", ["reference", "day", "evening"])
def test_paints_beside_a_chip_show_under_the_same_light(light: Light) -> None:
    shades = DeckShades(session_under(light))
    coats = [shades.coat(CHIPS, row) for row in range(len(CHIPS))]
    assert shades.coats(CHIPS.swatches) == coats
    assert shades.by_light == {"reference": "", "day": "by day", "evening": "by lamplight"}[light]


def test_differences_under_a_light_differ_from_those_of_the_reference() -> None:
    every = CHIPS.swatches
    reference = DeckShades(session_under("reference")).apart(every, every)
    evening = DeckShades(session_under("evening")).apart(every, every)
    assert reference[0][0] == pytest.approx(0)
    assert evening[0][0] == pytest.approx(0)
    assert reference != evening
