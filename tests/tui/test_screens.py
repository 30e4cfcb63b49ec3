"""The program driven by keys: what they reach, what is asked, and what no name can do."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.timer import Timer

from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.tui.questions import Question
from housemap.tui.tasks.help import HelpScreen
from tests.support.houses import grid_house, paint, room, small_house
from tests.support.science import SCIENCE
from tests.support.screens import (
    app_on,
    house_screen,
    opened,
    paint_hall,
    run_command,
    screen_text,
    until,
    until_shown,
)

HOSTILE = (
    "[/]",
    "[red]x[/red]",
    "[@click=app.quit]go[/]",
    "\x1b]0;title\x07",
    "a\u202eb",
    "[Study]",
)


def selected(app: HousemapApp) -> str | None:
    assert app.session
    return app.session.selection.room


async def test_arrows_move_from_room_to_room() -> None:
    async with opened(grid_house(9, columns=3)) as (app, pilot):
        for keys, room_id in (
            (("right",), "r0001"), (("up",), "r0004"), (("left",), "r0003"), (("down",), "r0000"),
            (("tab",), "r0001"), (("shift+tab",), "r0000"),
        ):  # fmt: skip
            await pilot.press(*keys)
            assert selected(app) == room_id


async def test_tab_walks_through_every_room_of_every_level() -> None:
    async with opened(small_house()) as (app, pilot):
        walked = []
        for _ in range(3):
            walked.append(selected(app))
            await pilot.press("tab")
        assert sorted(map(str, walked)) == ["hall", "kitchen", "study"]
        assert selected(app) == walked[0]


async def test_page_keys_show_the_other_levels() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("pageup")
        assert selected(app) == "study"
        assert "[1]" in screen_text(app)
        await pilot.press("pageup")
        assert "no level above" in screen_text(app)
        await pilot.press("pagedown")
        assert selected(app) == "hall"


async def test_a_click_selects_a_room() -> None:
    async with opened(small_house()) as (app, pilot):
        house_map = house_screen(app).map
        geometry = house_map.geometry
        assert geometry
        column, row = min(geometry.cells["kitchen"])
        await pilot.click("#map", offset=(column, row))
        assert selected(app) == "kitchen"


async def test_the_selection_is_drawn_without_waiting_for_the_next_tick(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async with opened(small_house()) as (app, pilot):
        drawn: list[object] = []
        monkeypatch.setattr(Timer, "resume", lambda _: None)
        monkeypatch.setattr(app, "_display", lambda *what: drawn.append(what))
        await pilot.press("up")
        assert selected(app) == "kitchen"
        assert drawn


async def test_the_card_follows_the_selection() -> None:
    async with opened(small_house()) as (app, pilot):
        assert "2 ceiling" in screen_text(app)
        await pilot.press("up")
        await pilot.pause(0.1)
        assert "kitchen" in screen_text(app)
        assert "4.00 m x 3.00 m" in screen_text(app)


async def test_findings_come_to_the_screen_by_themselves() -> None:
    async with opened(small_house()) as (app, pilot):
        for _ in range(100):
            if "finding" in screen_text(app):
                break
            await pilot.pause(0.05)
        assert "finding" in screen_text(app)


async def test_zooming_keeps_the_selected_room_in_view() -> None:
    async with opened(grid_house(60)) as (app, pilot):
        await pilot.press("plus", "plus", "plus", "plus")
        for _ in range(12):
            await pilot.press("tab")
            geometry = house_screen(app).map.geometry
            assert geometry
            assert selected(app) in geometry.boxes
        await pilot.press("0")
        assert not house_screen(app).map.steps


async def test_undo_and_redo_tell_what_they_did() -> None:
    async with opened(small_house()) as (app, pilot):
        house_screen(app).apply(paint_hall, "Hall walls: Moss Bank")
        assert "not saved" in screen_text(app)
        await pilot.press("u")
        assert "Undone: Hall walls are Oat Ladle again" in screen_text(app)
        assert "not saved" not in screen_text(app)
        await pilot.press("U")
        assert "Done again" in screen_text(app)
        await pilot.press("u", "u")
        assert "nothing to undo" in screen_text(app)


async def test_a_house_tried_out_is_drawn_and_told() -> None:
    async with opened(small_house()) as (app, pilot):
        screen = house_screen(app)
        screen.try_out(paint_hall(small_house()))
        await pilot.pause()
        assert "trying out" in screen_text(app)
        assert app.session
        assert not app.session.unsaved


async def test_help_and_back() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("question_mark")
        assert isinstance(app.screen, HelpScreen)
        assert "Go to the room there" in screen_text(app)
        await pilot.press("question_mark")
        await pilot.pause()
        assert "Everything" in screen_text(app)
        await pilot.press("escape")
        assert isinstance(app.screen, HouseScreen)


async def test_the_finder_runs_a_command_and_goes_to_a_room() -> None:
    async with opened(small_house()) as (app, pilot):
        for query, room_id in (("Kitchen", "kitchen"), ("level above", "study")):
            await pilot.press("ctrl+p")
            await pilot.press(*["space" if char == " " else char for char in query])
            await pilot.pause(0.3)
            await pilot.press("enter")
            await pilot.pause(0.1)
            assert selected(app) == room_id


async def test_the_finder_says_where_what_it_finds_works() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("ctrl+p", *"seen")
        await pilot.press("space", *"from", "space", *"here")
        await until_shown(app, pilot, "in the walk")
        await pilot.press("enter")
        await until_shown(app, pilot, "That works in the walk: press w on the map first.")


async def test_the_finder_opens_a_page_of_the_guide() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("ctrl+p", *"sharing")
        await until_shown(app, pilot, "two people, one house")
        await pilot.press("enter")
        await until_shown(app, pilot, "housemap merge")
        await pilot.press("escape")
        assert isinstance(app.screen, HouseScreen)


@pytest.mark.parametrize("keys", [("ctrl+p",), ("ctrl+p", "x"), ("o",)])
async def test_ctrl_q_quits_from_a_question_and_from_the_finder_too(keys: tuple[str, ...]) -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press(*keys, "ctrl+q")
        await pilot.pause()
        assert app._exit


async def test_ctrl_q_keeps_what_is_typed_into_a_question() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("o", *"note", "ctrl+q")
        await until_shown(app, pilot, "What you typed is kept")
        assert not app._exit


async def test_an_empty_house_says_what_to_do_next() -> None:
    async with opened(House(name="New")) as (app, pilot):
        assert "The first room" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause(0.05)
        assert "No rooms yet. Press n" in " ".join(screen_text(app).split())
        await pilot.press("left", "tab", "plus", "1", "pageup", "v")
        assert isinstance(app.screen, HouseScreen)


@pytest.mark.parametrize("name", HOSTILE)
async def test_no_name_is_more_than_text(name: str) -> None:
    house = House(
        name=name,
        rooms={"a": room(name, "p", size_m=(4.0, 4.0), notes=name), "b": room(name)},
        paints={"p": paint(name=name, code=name)},
    )
    async with opened(house) as (app, pilot):
        house_screen(app).apply(replace(house, notes="x"), name)
        await pilot.press("tab")
        await pilot.press("ctrl+p", "x")
        await pilot.pause(0.2)
        await pilot.press("escape")
        text = screen_text(app)
        assert all(char.isprintable() or char == "\n" for char in text)
        await pilot.press("ctrl+q")
        assert isinstance(app.screen, Question)


@pytest.mark.parametrize("size", [(1, 1), (20, 5), (59, 24), (80, 17)])
async def test_a_terminal_that_is_too_small_is_told(size: tuple[int, int]) -> None:
    async with opened(small_house(), size) as (app, pilot):
        if size[0] > 20:
            assert "60 columns and 18 rows" in " ".join(screen_text(app).split())
        await pilot.resize_terminal(80, 24)
        await pilot.pause(0.1)
        assert "Kitchen" in screen_text(app)


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (100, 30), (160, 48), (200, 60)])
async def test_the_map_is_complete_at_every_size(size: tuple[int, int]) -> None:
    async with opened(small_house(), size) as (app, _):
        text = screen_text(app)
        for words in ("Kitchen", "Hall", "1 walls", "? help"):
            assert words in text
        assert size[0] < 80 or "colours exact" in text  # the next step comes first


async def test_one_key_turns_the_plan_into_the_graph_and_back() -> None:
    async with opened(small_house()) as (app, pilot):
        legend = "Line: an opening. Dots: seen from there."
        for shown in (True, False, True):
            await pilot.press("v")
            assert (legend in screen_text(app)) is shown


async def test_the_lines_to_what_is_seen_are_hidden_and_shown_again() -> None:
    async with opened(small_house()) as (app, pilot):
        shown = house_screen(app).map
        await until(pilot, lambda: shown.looking.sights)
        await run_command(app, pilot, "picture")
        await until_shown(app, pilot, "The plan, without lines")
        assert not shown.looking.sights
        await run_command(app, pilot, "picture")
        assert shown.looking.sights


async def test_a_screen_is_said_to_be_a_poor_judge_of_paint() -> None:
    async with opened(small_house()) as (app, pilot):
        await run_command(app, pilot, "next-step")  # off: its line is free
        await pilot.pause()
        assert "Judge paint by a sample" in screen_text(app)


@pytest.mark.parametrize("key", ["enter", "a", "b"])
async def test_where_a_colour_is_decided_the_foot_asks_for_a_sample_and_says_what_is_next(
    key: str,
) -> None:
    async with opened(small_house(), (80, 24)) as (app, pilot):
        await pilot.press(key)
        line = "Judge paint by a sample, not by a screen. Next: enter, then s."
        await until_shown(app, pilot, line)


@pytest.mark.parametrize("key", ["f", "s", "e", "l", "p", "w", "r"])
async def test_elsewhere_the_foot_says_what_is_next(key: str) -> None:
    async with opened(small_house(), (80, 24)) as (app, pilot):
        step = screen_text(app).splitlines()[-2]
        assert step.startswith(" Next: ")
        await pilot.press(key)
        await until(pilot, lambda: screen_text(app).splitlines()[-2].startswith(" Next: "))


def grounds(app: HousemapApp) -> set[str]:
    """Every colour behind a character of the screen."""
    return {
        segment.style.bgcolor.triplet.hex
        for strip in app.screen._compositor.render_strips() for segment in strip
        if segment.style and segment.style.bgcolor and segment.style.bgcolor.triplet
    }  # fmt: skip


def without_green_cones(colour: str) -> str:
    """Machado, Oliveira & Fernandes 2009, deuteranopia, on linear sRGB, by colour-science."""
    linear = SCIENCE.models.eotf_sRGB([b / 255 for b in bytes.fromhex(colour[1:])])
    seen = SCIENCE.blindness.matrix_cvd_Machado2009("Deuteranomaly", 1.0) @ linear
    encoded = SCIENCE.models.eotf_inverse_sRGB(seen.clip(0, 1))
    return f"#{bytes(round(each * 255) for each in encoded).hex()}"


async def test_the_house_is_seen_with_other_eyes_one_after_the_other() -> None:
    async with opened(small_house(), (120, 30)) as (app, pilot):
        usual, moss = grounds(app), "#7c8468"
        assert moss in usual
        heads = []
        for eyes in ("protan", "deutan", "tritan", "greys"):
            await run_command(app, pilot, "eyes")
            heads.append(screen_text(app).splitlines()[0])
            assert f"eyes: {eyes}" in heads[-1]
            shown = grounds(app)
            assert moss not in shown
            assert {"#1e1e1e", "#3c3c3c"} <= shown, "greys look the same to everyone"
            if eyes == "deutan":
                assert without_green_cones(moss) in shown
            if eyes == "greys":
                assert all(each[1:3] == each[3:5] == each[5:] for each in shown)
        await run_command(app, pilot, "eyes")
        assert usual <= grounds(app)
        assert "eyes:" not in screen_text(app).splitlines()[0]


async def test_the_walk_is_seen_with_other_eyes() -> None:
    async with opened(small_house(), (120, 30)) as (app, pilot):
        await run_command(app, pilot, "walk")
        await pilot.pause(0.3)
        for _ in range(4):
            await run_command(app, pilot, "eyes")
        await pilot.pause(0.3)
        assert all(each[1:3] == each[3:5] == each[5:] for each in grounds(app))


async def test_changing_the_greys_leaves_the_paints_alone_and_is_remembered() -> None:
    async with opened(small_house()) as (app, pilot):
        dark = app.look
        app.action_greys()
        await pilot.pause()
        assert app.look != dark
        shown = grounds(app)
        assert "#7c8468" in shown
        assert "#1e1e1e" not in shown
    assert app_on(small_house()).look == app.look


async def test_a_page_follows_another_surround() -> None:
    async with opened(small_house()) as (app, pilot):
        await run_command(app, pilot, "legend")
        await until_shown(app, pilot, "Signs on the map")
        app.action_greys()
        await pilot.pause()
        assert "#1e1e1e" not in grounds(app)


def test_a_fault_of_ours_ends_with_two_plain_lines_and_its_traceback_is_kept() -> None:
    app = app_on(small_house())
    try:
        _ = 1 / len(HOSTILE[:0])
    except ZeroDivisionError:
        app._fatal_error()
    (said,) = app._exit_renderables
    first, second = str(said).splitlines()
    assert "ZeroDivisionError" in first
    kept = Path(second.rpartition(" is in ")[2])
    assert "in test_a_fault_of_ours" in kept.read_text("utf-8")
