"""A deck's screen driven by keys: finding, comparing, taking."""

from pathlib import Path

import numpy as np
import pytest

from housemap.checks import report_of
from housemap.choose.rank import rank_deck
from housemap.colorimetry.facts import colour_facts
from housemap.model.house import House
from housemap.tui.commands import commands_called
from housemap.tui.house_screen import HouseScreen
from housemap.tui.program_screen import PageScreen
from housemap.tui.tasks.decks import BesideScreen
from housemap.workbench.folders import data_folder
from tests.support.chips import reference_de00
from tests.support.deck_screens import (
    FAN,
    HOSTILE,
    deck_open,
    deck_screen,
    house_of,
    keep_fan,
)
from tests.support.houses import small_house
from tests.support.screens import run_command, screen_text, settled, until_shown


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return keep_fan(tmp_path / "data", monkeypatch)


async def test_the_built_in_deck_opens_at_the_paint_on_the_wall() -> None:
    async with deck_open("notation") as (app, screen, _):
        assert "4,732 paints" in screen_text(app)
        assert screen.browser.swatch
        assert "now" in screen_text(app)
        house = house_of(app)
        room = app.session.selection.room if app.session else None
        [own] = colour_facts([house.paints[str(house.rooms[str(room)].paints.walls)].colour])
        apart = reference_de00(screen.browser.chips.lab100, np.array(own.lab100))
        assert screen.browser.chosen_row == apart.argmin()


async def test_a_search_shows_what_fits_and_escape_shows_all_again() -> None:
    async with deck_open() as (app, screen, pilot):
        await pilot.press("slash", *"moss")
        await pilot.pause()
        assert [
            s.id for s in map(screen.browser.chips.swatches.__getitem__, screen.browser.rows)
        ] == ["moss"]
        assert "Fern Drain M-1" in screen_text(app)
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert len(screen.browser.rows) == len(FAN)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, HouseScreen)


async def test_a_search_that_finds_nothing_gives_the_chosen_paint_back() -> None:
    async with deck_open() as (app, screen, pilot):
        before = screen.browser.chosen
        await pilot.press("slash", *"moss qq")
        await pilot.pause()
        assert not len(screen.browser.rows)
        await pilot.press("escape")
        await pilot.pause()
        assert screen.browser.chosen == before is not None
        assert len(screen.browser.rows) == len(FAN)
        await pilot.press("f")
        await until_shown(app, pilot, "press esc, then f")


async def test_a_search_that_cannot_be_read_is_told_while_it_is_typed() -> None:
    async with deck_open(size=(80, 24)) as (app, screen, pilot):
        await pilot.press("slash", *"lrv>x")
        await pilot.pause()
        assert len(screen.browser.rows) == len(FAN), "what was shown before stays"
        assert "limits are asked for as in lrv>60" in screen_text(app)
        await pilot.press("backspace", "6", "0")
        await pilot.pause()
        assert "limits are asked for" not in screen_text(app)


async def test_what_is_typed_into_the_search_is_no_command() -> None:
    async with deck_open() as (app, screen, pilot):
        before = house_of(app)
        await pilot.press("slash", *"quick n d x p c b u 1 2 3")
        assert app.screen is screen
        assert screen.browser.text == "quick n d x p c b u 1 2 3"
        assert house_of(app) == before


async def test_enter_takes_the_paint_and_one_key_undoes_it() -> None:
    async with deck_open() as (app, _, pilot):
        before = house_of(app)
        await pilot.press("slash", *"moss", "enter", "plus")
        taken = [p for p in house_of(app).paints.values() if p.name == "Fern Drain"]
        assert taken == [FAN["moss"]]
        assert "sample" in screen_text(app)
        await pilot.press("u")
        assert house_of(app) == before


async def test_the_house_is_saved_from_a_deck(tmp_path: Path) -> None:
    async with deck_open() as (app, _, pilot):
        assert app.session is not None
        await pilot.press("slash", *"moss", "enter", "plus", "ctrl+s")
        await until_shown(app, pilot, "press esc, then ctrl+s")
        app.session.save_as(tmp_path / "house.toml")
        await pilot.press("u", "plus", "ctrl+s")
        await until_shown(app, pilot, "Saved")
        assert "Fern Drain" in (tmp_path / "house.toml").read_text()


async def test_a_paint_whose_id_the_house_has_takes_another_one() -> None:
    house = small_house()
    assert "moss" in house.paints
    async with deck_open(house=house) as (app, _, pilot):
        await pilot.press("slash", *"moss", "enter", "plus")
        assert house_of(app).paints["moss"] == house.paints["moss"]
        assert house_of(app).paints["moss-2"] == FAN["moss"]


async def test_p_puts_the_paint_on_the_chosen_surface_in_one_edit() -> None:
    async with deck_open() as (app, _, pilot):
        await pilot.press("slash", *"moss", "enter", "enter")
        room = app.session.selection.room if app.session else None
        assert room
        on_walls = house_of(app).rooms[room].paints.walls
        assert house_of(app).paints[str(on_walls)] == FAN["moss"]
        await pilot.press("u")
        assert on_walls not in house_of(app).paints


async def test_the_code_of_a_paint_is_copied_by_one_key() -> None:
    async with deck_open() as (app, _, pilot):
        await pilot.press("slash", *"moss", "enter", "c")
        assert app.clipboard == (FAN["moss"].code or FAN["moss"].name)
        assert "OSC 52" in screen_text(app)


async def test_the_arrangements_and_pages_turn() -> None:
    async with deck_open("notation", size=(160, 48)) as (app, screen, pilot):
        for words in (
            "hue down, chroma across", "chroma up to 3", "by hue, lightest first",
            "value down, chroma across",
        ):  # fmt: skip
            await pilot.press("v")
            await pilot.pause()
            assert words in screen_text(app)
        before = screen.browser.page
        await pilot.press("pagedown")
        assert screen.browser.page != before
        await pilot.press("pageup")
        assert screen.browser.page == before


async def test_arrows_move_over_the_chart_and_the_list() -> None:
    async with deck_open("notation", size=(160, 48)) as (_, screen, pilot):
        for _ in range(4):
            await pilot.press("v")
            await pilot.pause()
            seen = {screen.browser.chosen}
            for key in ("down", "right", "down", "up", "left", "down", "right"):
                await pilot.press(key)
                await pilot.pause()
                seen.add(screen.browser.chosen)
            assert len(seen) > 1


async def test_the_arrows_put_the_list_in_another_order() -> None:
    async with deck_open() as (app, screen, pilot):
        await pilot.press("v", "v", "v", "right")
        await pilot.pause()
        assert "lightest first" in screen_text(app)
        lrv = screen.browser.chips.lrv[screen.browser.rows]
        assert list(lrv) == sorted(lrv, reverse=True)


async def test_near_this_one_keeps_what_is_near() -> None:
    async with deck_open("notation") as (app, screen, pilot):
        await run_command(app, pilot, "deck-near")
        await pilot.pause()
        assert 24 <= len(screen.browser.rows) < 200
        assert "near" in screen_text(app)
        await run_command(app, pilot, "deck-near")
        assert len(screen.browser.rows) == 4732


async def test_a_set_is_built_around_the_chosen_paint() -> None:
    async with deck_open("notation", size=(160, 48)) as (app, screen, pilot):
        assert screen.browser.swatch
        name = screen.browser.swatch.name
        await pilot.press("b")
        await until_shown(app, pilot, f"Around {name}")
        await until_shown(app, pilot, "from notation, to be matched")


async def test_one_key_lists_the_paints_that_do_best_on_the_chosen_surface() -> None:
    async with deck_open(size=(160, 48)) as (app, screen, pilot):
        await run_command(app, pilot, "deck-best")
        await settled(app, pilot)
        session = screen.session
        report = report_of(session.house)
        best = rank_deck(report, "hall", "walls", screen.browser.chips, "fan").best
        listed = [screen.browser.chips.swatches[row].id for row in screen.browser.rows]
        assert listed[: len(best)] == [one.paint for one in best]
        assert screen.browser.chosen == best[0].paint
        assert f"Penalty here {best[0].cost:.1f}" in " ".join(screen_text(app).split())


async def test_what_is_weighed_follows_the_search_and_the_house() -> None:
    async with deck_open() as (app, screen, pilot):
        await run_command(app, pilot, "deck-best")
        await settled(app, pilot)
        first = screen.browser.weighing
        await pilot.press("slash", *"moss", "enter")
        await settled(app, pilot)
        assert screen.browser.weighing is not None
        assert [*screen.browser.weighing.best] == screen.browser.rows.tolist()
        await pilot.press("escape", "enter")
        await settled(app, pilot)
        assert screen.browser.weighing is not first
        assert screen.browser.weighing is not None
        await pilot.press("v")
        await pilot.press("u")
        await settled(app, pilot)
        assert screen.browser.weighing is None, "it was of another house"


async def test_picked_paints_lie_side_by_side() -> None:
    async with deck_open("notation", size=(160, 48)) as (app, screen, pilot):
        await run_command(app, pilot, "side-by-side")
        assert app.screen_stack[-1] is screen
        await pilot.press("x", "right", "x", "down", "x")
        await run_command(app, pilot, "side-by-side")
        await settled(app, pilot)
        assert isinstance(app.screen, BesideScreen)
        text = screen_text(app)
        assert "Difference in CIEDE2000" in text
        assert "no spectrum was measured" in text.lower()
        room = app.session.selection.room if app.session else None
        own = house_of(app).rooms[str(room)].paints.walls
        assert f"1 {house_of(app).paints[str(own)].name}" in text, "what would be replaced"
        await pilot.press("enter")
        assert "That is the paint there now" in screen_text(app)
        await pilot.press("right", "right", "enter")
        await pilot.pause()
        paints = house_of(app).paints
        on_wall = str(house_of(app).rooms[str(room)].paints.walls)
        assert paints[on_wall].name == screen.browser.picks[1].name, "it is put on the wall"
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("x")
        assert len(screen.browser.picks) == 2


async def test_a_discontinued_paint_is_replaced_everywhere_by_one_of_a_deck() -> None:
    assert "replace-paint" in commands_called("discontinued") & commands_called("nearest")
    assert "replace-paint" in commands_called("match") & commands_called("similar")
    async with deck_open("notation", size=(160, 48)) as (app, _, pilot):
        await pilot.press("escape")
        house = house_of(app)
        room = str(app.session.selection.room if app.session else None)
        old = house.rooms[room].paints.walls
        others = [k for k, r in house.rooms.items() if old in dict(r.painted()).values()]
        await run_command(app, pilot, "replace-paint")
        await settled(app, pilot)
        await pilot.press("d")
        await settled(app, pilot)
        await until_shown(app, pilot, f"{house.paints[str(old)].name} everywhere now")
        await pilot.press("enter")
        await pilot.pause()
        new = house_of(app).rooms[room].paints.walls
        assert new != old
        rooms = house_of(app).rooms
        assert all(old not in dict(rooms[k].painted()).values() for k in others)
        assert f" everywhere ({len(others)} rooms): " in screen_text(app)
        await until_shown(app, pilot, " findings, as before; sample it")
        await pilot.press("escape")
        await until_shown(app, pilot, f"{house_of(app).paints[str(new)].name} everywhere")


async def test_a_deck_that_was_open_is_found_as_it_was_left() -> None:
    async with deck_open() as (app, screen, pilot):
        await pilot.press("slash", *"moss", "enter", "x")
        desk = screen.browser
        await pilot.press("escape", "escape")
        await pilot.pause()
        await pilot.press("d")
        await pilot.pause()
        assert deck_screen(app).browser is desk
        assert desk.picked == ("moss",)


async def test_what_looks_wrong_in_the_deck_has_a_page() -> None:
    async with deck_open("notation") as (app, _, pilot):
        await run_command(app, pilot, "deck-faults")
        await settled(app, pilot)
        assert isinstance(app.screen, PageScreen)
        assert "Hardly different colours" in screen_text(app)


async def test_no_name_of_a_deck_is_markup() -> None:
    async with deck_open(size=(160, 48)) as (app, screen, pilot):
        screen.browser.choose(screen.browser.chips.rows["hostile"])
        screen.follow()
        await pilot.press("x", "v", "v", "v")
        await pilot.pause()
        assert HOSTILE[:20] in screen_text(app)
        await pilot.press("down", "x")
        await run_command(app, pilot, "side-by-side")
        await pilot.pause()
        assert "[red]" in screen_text(app)
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert app.is_running


async def test_a_house_without_rooms_has_decks_too() -> None:
    async with deck_open(house=House(name="Empty")) as (app, _, pilot):
        await pilot.press("enter")
        assert len(house_of(app).paints) == 1
        assert data_folder().exists()


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (160, 48), (40, 10), (20, 5)])
async def test_every_size_shows_something_and_holds(size: tuple[int, int]) -> None:
    async with deck_open() as (app, screen, pilot):
        await pilot.resize_terminal(*size)
        for key in ("v", "down", "v", "v", "right", "v", "down", "x"):
            await pilot.press(key)
        assert app.screen is screen
        await pilot.resize_terminal(100, 30)
        await until_shown(app, pilot, "Deck: fan")
