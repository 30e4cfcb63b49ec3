"""Forms in the program: typed by keys, shown live, taken as one edit, and never lost."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.tui.house_screen import Card, HouseScreen
from housemap.tui.questions import Question
from housemap.tui.tasks.edit import EditTask
from housemap.tui.tasks.start import StartScreen
from tests.support.editing import opened
from tests.support.houses import paint, room, small_house
from tests.support.terminal import Terminal

# Editing


async def test_a_room_is_edited_by_keys_as_one_edit() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.shows("Room Hall")
        await desk.to("use")
        await desk.type("liv")
        await desk.press("enter", "right")
        assert desk.form.field.key == "role"
        await desk.to("height_m")
        await desk.type("2,55")
        await desk.press("ctrl+s")
        hall = desk.house.rooms["hall"]
        assert (hall.use, hall.role, hall.height_m) == ("living", "room", 2.55)
        await desk.shows("Hall: use, role, height")
        assert isinstance(desk.screen.panel, Card)
        await desk.press("u")
        assert desk.house == small_house()


@pytest.mark.parametrize("command", ["edit-room", "new"])
async def test_page_keys_leave_the_house_where_it_is_while_a_panel_has_the_keys(
    command: str,
) -> None:
    async with opened() as desk:
        await desk.run(command)
        for key in ("pageup", "pagedown"):
            await desk.press(key)
            assert desk.session.selection.room == "hall"
            assert "no level" not in desk.text


@pytest.mark.parametrize("name", ["Oak boards, oiled", "A room longer than its field"])
async def test_of_a_text_too_long_for_its_field_the_beginning_is_shown(name: str) -> None:
    house = small_house()
    rooms = {**house.rooms, "hall": replace(house.rooms["hall"], name=name)}
    async with opened(replace(house, rooms=rooms)) as desk:
        await desk.run("edit-room")
        await desk.to("use")
        await desk.to("name")
        await desk.shows(f"name          {name[:17]}")


async def test_on_the_last_field_nothing_says_that_there_is_a_next_one() -> None:
    async with opened() as desk:
        await desk.run("wishes")
        await desk.to("colours")
        await desk.shows("how many the house", "next field")
        await desk.to("notes")
        await desk.shows("enter makes a new line, ctrl+s")
        assert "next field" not in desk.text
        assert "tab goes on" not in desk.text


async def test_enter_goes_on_and_takes_the_form_at_its_end() -> None:
    async with opened() as desk:
        await desk.press("e")
        await desk.choose("pendant")
        await desk.press("enter")
        assert desk.form.field.key == "lumens"
        await desk.type("900")
        for _ in desk.form.draft.form.fields:
            await desk.press("enter")
        assert desk.house.rooms["hall"].lamps["pendant"].lumens == 900
        assert desk.listed.item is not None
        assert desk.listed.item.title == "pendant"


async def test_choices_are_made_by_arrows_and_letters() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("use")
        await desk.press("right")
        assert desk.form.draft.text(desk.form.field) == "living"
        await desk.press("left", "left")
        assert desk.form.draft.text(desk.form.field) == "other"
        await desk.type("o")
        assert desk.form.draft.made.faults["use"] == "which one: office, outdoor, other?"
        await desk.shows("which one")
        await desk.type("f")
        await desk.press("tab")
        assert desk.form.draft.made.house is not None
        assert desk.form.draft.made.house.rooms["hall"].use == "office"


async def test_hues_to_like_are_stepped_through_and_may_have_a_hyphen() -> None:
    async with opened() as desk:
        await desk.run("wishes")
        await desk.to("like")
        await desk.shows("choices")
        await desk.press("right", "right")
        assert desk.form.draft.text(desk.form.field) == "red"
        await desk.type(", blue-green")
        assert desk.form.draft.value(desk.form.field) == ("red", "blue green")
        await desk.press("right")
        await desk.type("pink")
        assert desk.form.draft.value(desk.form.field) == ("red", "pink"), "typed in its place"
        await desk.to("notes")
        assert "choices" not in desk.text


async def test_the_map_shows_what_is_typed_before_it_is_taken() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.type("Long hall")
        await desk.to("size_m")
        await desk.type("1.9 x 5.2")
        await desk.wait_for_map()
        assert desk.session.shown.rooms["hall"].size_m == (1.9, 5.2)
        assert any("Long" in row[:40] for row in desk.text.split("\n"))
        assert desk.house == small_house()
        await desk.press("escape", "ctrl+d")
        assert desk.session.shown == small_house()


async def test_a_wrong_field_is_told_under_it_and_nothing_is_taken() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("height_m")
        await desk.type("tall")
        assert "must be a length" in " ".join(desk.text.split())
        await desk.to("name")
        await desk.press("ctrl+s")
        assert desk.form.field.key == "height_m"
        assert desk.house == small_house()


async def test_what_is_needed_is_told_when_the_form_is_taken() -> None:
    async with opened() as desk:
        await desk.press("e", "h")
        await desk.choose("+ add a finish")
        await desk.press("enter")
        assert "is needed" not in desk.text
        await desk.type("Reed")
        await desk.press("ctrl+s")
        assert desk.form.field.key == "colour"
        await desk.shows("is needed")
        await desk.type("#8a9a6b")
        await desk.press("ctrl+s")
        assert desk.house.finishes["reed"].name == "Reed"


async def test_what_no_longer_fits_elsewhere_is_told_at_the_foot() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("size_m")
        await desk.type("1 x 1")
        assert "front" in " ".join(desk.text.split())
        await desk.press("ctrl+s")
        assert desk.house == small_house()


@pytest.mark.parametrize(("key", "lrv"), [("c", None), ("l", 30.0)])
async def test_an_lrv_that_contradicts_the_colour_is_asked_about_at_once(
    key: str, lrv: float | None
) -> None:
    async with opened(size=(100, 30)) as desk:
        await desk.press("e", "h")
        await desk.choose("Oat Ladle")
        await desk.press("enter")
        await desk.to("lrv")
        await desk.type("30")
        await desk.press("ctrl+s")
        await desk.shows("you typed 30. Which is right?")
        await desk.press(key)
        assert desk.house.paints["oat"].lrv == lrv
        assert (desk.house.paints["oat"].colour == small_house().paints["oat"].colour) is (
            lrv is None
        )
        await desk.press("u")


async def test_notes_have_lines() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("notes")
        assert desk.form.area.has_focus
        await desk.type("damp")
        await desk.press("enter")
        await desk.type("north wall")
        await desk.press("up")
        assert desk.form.area.has_focus
        await desk.press("tab")
        assert desk.form.line.has_focus
        assert "ctrl+s apply" in desk.text
        await desk.press("ctrl+s")
        assert desk.house.rooms["hall"].notes == "damp\nnorth wall"


async def test_up_on_the_first_line_of_the_notes_goes_to_the_field_above() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("notes")
        await desk.type("a note that is longer than the few columns of the form are wide")
        notes = desk.form.field
        await desk.press("up")
        assert desk.form.field is notes
        await desk.press(*["up"] * 4)
        assert desk.form.line.has_focus
        assert desk.form.field is not notes
        await desk.press("ctrl+s")
        assert desk.house.rooms["hall"].notes.startswith("a note")


async def test_the_house_itself_has_a_form() -> None:
    async with opened() as desk:
        await desk.press("e", "h", "home", "enter")
        await desk.to("north_deg")
        await desk.type("20")
        await desk.press("ctrl+s")
        assert desk.house.north_deg == 20


# Nothing typed is lost


async def test_escape_asks_only_where_something_was_typed() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.press("escape")
        assert isinstance(desk.screen.panel, Card)
        await desk.run("edit-room")
        await desk.type("Entry")
        await desk.press("escape")
        assert isinstance(desk.app.screen, Question)
        await desk.press("escape")
        assert desk.form.draft.text(desk.form.field) == "Entry"


async def test_what_was_typed_waits_for_the_next_opening() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.type("Entry")
        await desk.press("escape", "l")
        assert desk.house == small_house()
        await desk.run("edit-room")
        await desk.shows("Entry")
        await desk.press("ctrl+s")
        assert desk.house.rooms["hall"].name == "Entry"


@pytest.mark.parametrize("other", ["wishes", "findings"])
async def test_what_was_typed_waits_where_another_page_is_opened_over_it(other: str) -> None:
    async with opened() as desk:
        await desk.run("wishes")
        await desk.to("notes")
        await desk.type("calm")
        await desk.run(other)
        if other != "wishes":
            await desk.run("wishes")
        await desk.shows("calm", "typed here before")


async def test_a_form_can_be_taken_from_the_question() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.type("Entry")
        await desk.press("escape", "ctrl+s")
        assert desk.house.rooms["hall"].name == "Entry"


async def test_leaving_the_program_says_what_was_typed_and_not_taken() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.type("Entry")
        await desk.press("escape", "l")
        await desk.press("ctrl+q")
        await desk.shows("Room Hall")
        await desk.shows("unfinished typing")
        await desk.press("escape")
        assert isinstance(desk.app.screen, HouseScreen)
        await desk.run("edit-room")
        await desk.press("escape", "ctrl+d")
        desk.screen.run("files.close")
        await desk.pilot.pause(0.1)
        assert isinstance(desk.app.screen, StartScreen)


async def test_what_is_typed_survives_a_redo_below_the_form() -> None:
    async with opened() as desk:
        await desk.run("edit-room")
        await desk.to("use")
        await desk.type("office")
        await desk.press("ctrl+s", "u")
        await desk.run("edit-room")
        await desk.type("Entry")
        await desk.press("ctrl+r")
        await desk.press("ctrl+s")
        hall = desk.house.rooms["hall"]
        assert (hall.name, hall.use) == ("Entry", "office")


# Names, sizes


@pytest.mark.parametrize("key", ["", "f", "e", "n"])
async def test_keys_come_back_after_the_terminal_was_too_small(key: str) -> None:
    async with opened() as desk:
        await desk.press(*filter(None, [key]))
        before = desk.app.focused
        assert before is not None
        await desk.pilot.resize_terminal(40, 10)
        await desk.pilot.resize_terminal(80, 24)
        await desk.pilot.pause(0.1)
        assert desk.app.focused is before


@pytest.mark.parametrize("name", ["[/]", "[red]x[/red]", "[@click=app.quit]go[/]", "浴室浴室浴室"])
async def test_names_from_a_file_are_shown_as_they_are(name: str) -> None:
    house = small_house(
        rooms={"hall": room(name, "oat")}, paints={"oat": paint(name=name)}, openings={},
        sightlines={}, samples={}, visits={},
    )  # fmt: skip
    async with opened(house) as desk:
        await desk.press("e", "enter")
        assert name in desk.text
        await desk.press("escape", "h", "delete")
        await desk.press("escape", "escape")


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (160, 48), (40, 10)])
async def test_every_form_opens_in_any_size_of_terminal(size: tuple[int, int]) -> None:
    async with opened(size=size) as desk:
        await desk.press("e", "h")
        for part in [*desk.listed.items]:
            desk.screen.find_task(EditTask).open_form(part.target, part.given)
            await desk.pilot.pause()
            for number in range(len(desk.form.draft.form.fields)):
                desk.form.go_to(number)
            await desk.pilot.pause()
            desk.screen.close_panel()


def test_a_room_is_edited_in_a_real_terminal_and_nothing_else_changes(tmp_path: Path) -> None:
    file = tmp_path / "house.toml"
    save_house(small_house(), file)
    command = [sys.executable, "-m", "housemap", str(file)]
    with Terminal(command, home=tmp_path) as terminal:
        terminal.wait_for("Hall")
        terminal.wait_for("choose paint")
        terminal.press("e", "enter")
        terminal.wait_for("Room Hall")
        terminal.press(*["down"] * 6)
        terminal.type("8'6\"")
        terminal.press("up", "up", "up", "right", "ctrl+s")
        terminal.wait_for("Hall: role, height")
        terminal.press("ctrl+s")
        terminal.wait_for("Saved as")
        terminal.press("ctrl+q")
        assert terminal.wait_exit() == 0
    hall = replace(small_house().rooms["hall"], role="room", height_m=2.5908)
    expected = replace(small_house(), rooms={**small_house().rooms, "hall": hall})
    assert read_house(file) == expected
