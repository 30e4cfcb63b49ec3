"""Suggesting paints: shown on the map, changed by keys, stopped at will, taken as one edit."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from itertools import product
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.checks import report_of
from housemap.file.deck_file import deck_path, save_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import House, Paint, Srgb
from housemap.tui.app import HousemapApp
from housemap.tui.render.cells import text_of
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades
from housemap.tui.tasks.suggest import RULES, Entry, SuggestPanel, room_row
from housemap.workbench.session import Session
from tests.support.chips import random_paints
from tests.support.houses import small_house
from tests.support.project import DEMO
from tests.support.screens import screen_text, settled, shallow_report

HOSTILE = "[red]x[/red] [@click=app.quit]go[/]"
FAN = {**random_paints(120), "oat": Paint(HOSTILE, Srgb("#5b6b4a"))}


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "data"
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(folder))
    path = deck_path(folder, "fan", "notation")
    path.parent.mkdir(parents=True)
    save_deck(FAN, path)


@asynccontextmanager
async def house_open(
    house: House, *keys: str, size: tuple[int, int] = (110, 40)
) -> AsyncIterator[tuple[HousemapApp, Session, Pilot[None]]]:
    session = Session.of(house)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        for key in keys:
            await pilot.press(key)
            await settled(app, pilot)
        yield app, session, pilot


def panel_of(app: HousemapApp) -> SuggestPanel:
    return app.screen.query_one(SuggestPanel)


async def choose_fan(app: HousemapApp, pilot: Pilot[None]) -> None:
    """Open the deck of our own from the built-in one."""
    await pilot.press("d")
    await pilot.press("down", "enter")
    await settled(app, pilot)


BARE = assign(small_house(), "kitchen", "walls", None)


async def test_a_bare_room_is_painted_shown_and_taken_as_one_edit() -> None:
    async with house_open(BARE, "a") as (app, session, pilot):
        text = " ".join(screen_text(app).split())
        assert "the unpainted ones" in text
        for width, words in ((60, "Only unpainted rooms are filled. Press h for all rooms."),
                             (33, "Unpainted rooms only; h: all.")):  # fmt: skip
            assert text_of(panel_of(app).head(Page(Look(), width))[1:2]).strip() == words
        assert "the house's own paints" in text
        assert "under these rules" in text
        assert session.house == BARE
        assert session.shown.rooms["kitchen"].paints.walls is not None
        await pilot.press("v")
        before = session.shown
        assert before == BARE
        await pilot.press("v")
        assert session.shown != before
        await pilot.press("enter")
        await settled(app, pilot)
        assert session.house.rooms["kitchen"].paints.walls is not None
        assert session.house.rooms["hall"].paints.walls == "oat"
        await pilot.press("u")
        assert session.house == BARE


def test_the_names_of_a_room_and_its_paint_are_whole_on_a_narrow_panel() -> None:
    house, page = read_house(DEMO), Page(Look(), 32)
    before = Shades("reference", house, None)
    for room, paint in product(house.rooms, house.paints):
        after = Shades("reference", assign(house, room, "walls", paint), None)
        text = text_of([room_row(room, before, after, page, kept=True)])
        assert house.rooms[room].name in text
        same = house.rooms[room].paints.walls == paint
        assert ("kept" in text or "approved" in text) if same else house.paints[paint].name in text


async def test_leaving_changes_nothing() -> None:
    async with house_open(BARE, "a") as (app, session, pilot):
        await pilot.press("escape")
        await settled(app, pilot)
        assert session.shown == session.house == BARE


async def test_kept_rooms_stay_and_there_are_no_more_paints_than_allowed() -> None:
    async with house_open(small_house(), "a") as (app, session, pilot):
        panel = panel_of(app)
        assert panel.asked.keep == frozenset({"hall"})  # a sample of its paint was approved there
        assert "kept: sample approved" in screen_text(app)
        panel.step(panel.items.index(Entry("room", "hall")) - (panel.chosen_number or 0))
        await pilot.press("x", "x", *["minus"] * 9)
        await settled(app, pilot)
        text = " ".join(screen_text(app).split())
        assert "all but 1 kept" in text
        assert "up to 1" in text
        await pilot.press("enter")
        await settled(app, pilot)
        assert {room.paints.walls for room in session.house.rooms.values()} == {"oat"}


async def test_every_option_is_a_line_that_the_arrows_change() -> None:
    async with house_open(small_house(), "a") as (app, _, pilot):
        await pilot.press("home", "right", "down", "left", "down", "right", "down", "left")
        asked, source = panel_of(app).asked, panel_of(app).source
        assert asked.keep is None
        assert asked.trim is False
        assert source.name
        await settled(app, pilot)


async def test_colours_of_a_suggestion_never_stand_beside_findings_of_the_house_before() -> None:
    async with house_open(small_house(), "a") as (app, session, _):
        shown = panel_of(app).shown
        assert shown is not None
        assert session.shown == shown.house
        assert session.report is not None
        assert session.report.house == session.shown


async def test_it_says_why_and_what_it_could_not_keep_to() -> None:
    async with house_open(small_house(), "a") as (app, _, pilot):
        panel = panel_of(app)
        shown = panel.shown
        assert shown is not None
        assert all(colour.reason for colour in shown.colours)
        await pilot.press("down")
        reason = shown.colours[0].reason
        text = " ".join(screen_text(app).split())
        assert reason[:30] in text
        assert report_of(shown.house).causes == shown.report.causes
        panel.step(panel.items.index(RULES) - (panel.chosen_number or 0))
        assert "enter show it" in screen_text(app)
        await pilot.press("enter")
        await settled(app, pilot)
        assert "What counts only in the findings" in screen_text(app)


async def test_while_a_search_runs_its_findings_are_so_far_and_what_is_missed_is_whole() -> None:
    async with house_open(small_house(), "a") as (app, _, pilot):
        panel = panel_of(app)
        assert "so far" not in screen_text(app)
        words = "a wish in so many words that no line of a list could ever show the whole of it"
        rules = "Painted rooms that change to another hue (7); One colour in two rooms (2)"
        found = [one._replace(missed=(words,), unusual=rules) for one in panel.found.found]
        panel.show_found(panel.found._replace(found=tuple(found), running=True))
        await settled(app, pilot)
        text = " ".join(screen_text(app).split())
        assert "so far." in text
        lines = [entry.text for entry in panel.items if entry.kind == "missed"]
        assert " ".join(lines) == f"not kept: {words}"
        assert all(line in text for line in lines)
        apart = [entry for entry in panel.items if entry.kind == "unusual"]
        assert " ".join(entry.text for entry in apart) == f"not as usual: {rules}"
        panel.step(panel.items.index(apart[0]) - (panel.chosen_number or 0))
        await settled(app, pilot)
        assert "These are usual" in screen_text(app)


async def test_it_is_found_in_a_deck_and_taken_as_one_edit() -> None:
    house = small_house()
    async with house_open(house, "d") as (app, session, pilot):
        await choose_fan(app, pilot)
        await pilot.press("a")
        await settled(app, pilot)
        assert panel_of(app).source.name == "fan"
        assert session.house == house
        assert session.shown != house
        await pilot.press("enter")
        await settled(app, pilot)
        assert session.house != house
        assert all(paint in session.house.paints for paint in house.paints)
        await pilot.press("u")
        await settled(app, pilot)
        assert session.house == house


async def test_what_is_searched_in_a_deck_is_what_is_suggested_from() -> None:
    dark = assign(small_house(), "hall", "walls", "moss")  # which any suggestion betters
    async with house_open(dark, "d") as (app, _, pilot):
        await pilot.press("slash", *"lrv 60-90", "enter")
        await pilot.press("a")
        await settled(app, pilot)
        panel = panel_of(app)
        assert "shown" in panel.source.name
        shown = panel.shown
        assert shown is not None
        walls = [colour for colour in shown.colours if colour.chip and colour.use != "trim"]
        assert walls
        assert all(59 <= colour.swatch.lrv <= 91 for colour in walls)


async def test_picked_paints_are_kept_and_a_key_lets_them_go() -> None:
    async with house_open(small_house(), "d") as (app, _, pilot):
        await choose_fan(app, pilot)
        await pilot.press("x", "a")
        await settled(app, pilot)
        panel = panel_of(app)
        [chip] = panel.asked.chips
        for found in panel.found.found:
            assert chip in {colour.chip for colour in found.colours}
        assert "kept" in screen_text(app)
        assert panel.shown
        place = [one.chip for one in panel.shown.colours].index(chip)
        colours = [n for n, entry in enumerate(panel.items) if entry.kind == "colour"]
        panel.step(colours[place] - (panel.chosen_number or 0))
        await pilot.press("x")
        await settled(app, pilot)
        assert not panel_of(app).asked.chips


async def test_every_suggestion_is_shown_in_turn_and_the_house_as_it_is_by_one_key() -> None:
    house = small_house()
    async with house_open(house, "d", "a") as (app, session, pilot):
        first = session.shown
        await pilot.press("tab")
        second = session.shown
        assert second not in (first, house)
        await pilot.press("v")
        assert session.shown == house
        await pilot.press("v", "shift+tab")
        assert session.shown == first
        await pilot.press("escape")
        await settled(app, pilot)
        assert session.shown == session.house == house


async def test_what_cannot_be_is_said_in_words() -> None:
    async with house_open(small_house(), "a", "h") as (app, session, _):
        assert "no room to paint" in screen_text(app)
        assert session.shown == session.house


async def test_a_house_without_paints_gets_them_from_a_deck() -> None:
    bare = small_house().rooms["study"].__class__("Hall")
    house = small_house(paints={}, rooms={"hall": bare}, openings={}, sightlines={}, samples={},
                        visits={})  # fmt: skip
    async with house_open(house, "a") as (app, session, _):
        assert panel_of(app).source.name == "notation"
        assert session.shown.rooms["hall"].paints.walls


async def test_escape_leaves_while_a_search_runs() -> None:
    house = small_house()
    async with house_open(house, "d") as (app, session, pilot):
        await pilot.press("a")
        for _ in range(400):
            if panel_of(app).shown is not None:
                break
            await pilot.pause(0.02)
        await pilot.press("escape")
        await settled(app, pilot)
        assert session.house == session.shown == house
        assert not app.screen.query(SuggestPanel)


async def test_it_can_be_changed_while_it_runs() -> None:
    house = small_house()
    async with house_open(house) as (app, session, pilot):
        await pilot.press("a", "minus", "right", "v", "plus", "enter")
        await settled(app, pilot)
        await pilot.press("escape", "escape")
        await settled(app, pilot)
        assert session.house == house or session.history.undo_label
        assert not app.screen.query(SuggestPanel)
