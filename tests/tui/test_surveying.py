"""The survey line: the map follows what is typed, nothing typed is lost, every step is undone."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace

import pytest
from textual.events import Paste

from housemap.model.house import House, Opening, Room, Sightline
from housemap.tui.tasks.survey import PAUSE_S, LineField
from housemap.workbench.session import Session
from housemap.workbench.survey.surveyor import Past, Surveyor
from tests.support.desks import Desk
from tests.support.houses import small_house
from tests.support.screens import app_on

HALL = Room("Hall", use="hall", size_m=(1.8, 5.2), height_m=2.4)
HOUSE = House(name="New", rooms={"hall": HALL})

LOOP = House(
    name="Loop",
    rooms={
        name: Room(name.capitalize(), size_m=(3.0, 3.0), height_m=2.4) for name in ("a", "b", "c")
    },
    openings={
        "a-b": Opening(("a", "b"), "doorway", wall="e", along_m=1, to_wall="w", to_along_m=1,
                       width_m=0.8),
        "b-c": Opening(("b", "c"), "doorway", wall="n", along_m=1, to_wall="s", to_along_m=1,
                       width_m=0.8),
    },
)  # fmt: skip
"""b lies east of a, c north of b."""


class Survey(Desk):
    """The program with its survey line open."""

    @property
    def field(self) -> LineField:
        return self.screen.query_one(LineField)

    async def type(self, text: str) -> None:
        """Type a line, and wait until the map has followed."""
        self.field.insert_text_at_cursor(text)
        await self.pilot.pause(PAUSE_S * 2)

    async def enter(self, text: str) -> None:
        await self.type(text)
        await self.press("enter")


@asynccontextmanager
async def surveying(
    house: House = HOUSE, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Survey]:
    app = app_on(house)
    async with app.run_test(size=size) as pilot:
        await pilot.pause(0.05)
        if house.rooms:
            await pilot.press("n")
        await pilot.pause()
        yield Survey(app, pilot)


async def test_a_new_house_waits_for_its_first_room() -> None:
    async with surveying(House()) as survey:
        assert "first room" in survey.text
        await survey.enter("Hall 1.8 x 5.2")
        assert survey.session.house.rooms["hall"].size_m == (1.8, 5.2)
        assert survey.session.selection.room == "hall"
        assert "Hall ▸" in survey.text


async def test_the_map_and_the_words_follow_before_anything_is_entered() -> None:
    async with surveying() as survey:
        await survey.type("n 0.8 at 0.4 > Study 3.1 x 2.8")
        assert "north wall of Hall: doorway, 0.80 m wide" in survey.text
        rows = survey.text.split("\n")
        assert any("Study" in row[:46] for row in rows[:18])  # on the map
        assert survey.session.house == HOUSE
        assert "study" in survey.session.shown.rooms
        await survey.press("enter")
        assert "study" in survey.session.house.rooms
        assert survey.session.selection.room == "hall"
        assert survey.field.value == ""


async def test_the_next_words_are_offered_and_tab_writes_one_out() -> None:
    async with surveying(small_house()) as survey:
        await survey.type("n ")
        assert "doorway" in survey.text
        assert "at 1.2" in survey.text
        await survey.type("> kit")
        await survey.press("tab")
        assert survey.field.value == "n > Kitchen "


async def test_a_mistake_is_marked_under_its_word_and_enters_nothing() -> None:
    async with surveying() as survey:
        await survey.enter("n dorway 0.8 > Study 3 x 3")
        rows = survey.text.split("\n")
        at = next(i for i, row in enumerate(rows) if "dorway 0.8" in row)
        column = rows[at].index("dorway")
        assert rows[at + 1][column : column + 6] == "^" * 6
        assert "did you mean doorway?" in rows[at + 1]
        assert survey.session.house == HOUSE
        assert survey.field.value == "n dorway 0.8 > Study 3 x 3"


async def test_every_line_of_a_pasted_text_is_taken_up_to_one_with_a_fault() -> None:
    async with surveying() as survey:
        survey.field.post_message(Paste("Hall height 2.5\nn winow 1.2\ne > Study 3 x 3\n\n"))
        await survey.shows("did you mean window?", "1 more pasted")
        assert survey.session.house.rooms["hall"].height_m == 2.5
        assert survey.field.value == "n winow 1.2"
        survey.field.write("")
        await survey.enter("n window 1.2")
        assert survey.session.house.rooms["hall"].windows
        assert "study" in survey.session.house.rooms
        assert survey.field.value == ""


async def test_enter_on_an_unfinished_line_says_what_is_missing() -> None:
    async with surveying() as survey:
        await survey.enter("n 0.8 at 0.4")
        assert "into which room?" in survey.text
        assert "^" in survey.text
        assert survey.session.house == HOUSE


async def test_escape_loses_nothing() -> None:
    async with surveying() as survey:
        await survey.type("n 0.8 at 0.4 > Stu")
        await survey.press("escape")
        assert survey.session.shown == HOUSE
        assert not survey.screen.query(LineField)
        await survey.press("n")
        assert survey.field.value == ""
        await survey.press("up")
        assert survey.field.value == "n 0.8 at 0.4 > Stu"
        await survey.enter("dy 3 x 3")
        assert "study" in survey.session.house.rooms


async def test_every_line_is_one_step_that_can_be_taken_back() -> None:
    async with surveying() as survey:
        await survey.enter("n at 0.4 > Study 3 x 3; s window; lamp")
        await survey.enter("lamp")
        await survey.press("ctrl+t")
        assert not survey.session.house.rooms["hall"].lamps
        assert "study" in survey.session.house.rooms
        await survey.press("ctrl+t")
        assert survey.session.house == HOUSE
        await survey.press("ctrl+r")
        assert survey.session.house.rooms["study"].lamps


async def test_lines_entered_before_come_back() -> None:
    async with surveying() as survey:
        await survey.enter("lamp 900")
        await survey.enter("lamp 1400")
        await survey.type("hei")
        await survey.press("up")
        assert survey.field.value == "lamp 1400"
        await survey.press("up", "up")
        assert survey.field.value == "lamp 900"
        await survey.press("down", "down")
        assert survey.field.value == "hei"


async def test_on_an_empty_line_tab_goes_to_the_next_room() -> None:
    async with surveying(small_house()) as survey:
        first = survey.session.selection.room
        await survey.press("tab")
        assert survey.session.selection.room != first
        await survey.press("shift+tab")
        assert survey.session.selection.room == first
        await survey.enter("Study")
        assert survey.session.selection.room == "study"
        assert survey.session.selection.level == 1


async def test_a_loop_that_does_not_close_is_told_while_it_is_typed() -> None:
    async with surveying(LOOP) as survey:
        await survey.type("n 0.8 at 1 > C at 2")  # c lies to the north-east, not to the north
        assert "do not add up" in " ".join(survey.text.split("does not fit", 1)[1].split())
        await survey.press("enter")
        assert "▲ Measurements around" in survey.text
        assert "a-c" in survey.session.house.openings
        await survey.press("ctrl+t")
        assert "does not fit" not in survey.text


async def test_rooms_in_each_other_are_told_while_they_are_typed() -> None:
    async with surveying(LOOP) as survey:
        await survey.type("n at 0 > D 9 x 3 at 0")
        assert "overlap on the plan" in survey.text


async def test_a_sightline_that_measures_deny_is_told_at_once() -> None:
    house = replace(LOOP, sightlines={"a-c": Sightline(("a", "c"))})
    shut = replace(house.openings["a-b"], door="shut")
    house = replace(house, openings={**house.openings, "a-b": shut})
    async with surveying(house) as survey:
        assert "sightline is" in survey.text


async def test_f1_shows_by_example_all_that_a_line_may_say() -> None:
    async with surveying() as survey:
        assert "walls now 10YR 9/1" in survey.text
    async with surveying(size=(80, 60)) as survey:
        await survey.press("f1")
        for said in ("A line may say", "floor oak", "ceiling now white", "less 1 x 2 ne", "Keys"):
            assert said in survey.text
        await survey.press("escape")
        assert "A line may say" not in survey.text


async def test_saving_works_from_the_line_and_keys_that_write_are_not_offered() -> None:
    async with surveying() as survey:
        bar = survey.text.split("\n")[-1]
        assert "enter add it" in bar
        assert "esc back" in bar
        assert "f findings" not in bar
        assert "f1 help" in bar
        await survey.press("f", "q")
        assert survey.field.value == "fq"


@pytest.mark.parametrize("name", ["[/]", "[red]x[/red]", "[@click=app.quit]go[/]", "\u6d74\u5ba4"])
async def test_names_are_shown_as_they_are_typed(name: str) -> None:
    async with surveying() as survey:
        await survey.enter(f'n at 0.4 > "{name}" 3 x 3')
        assert name in [room.name for room in survey.session.house.rooms.values()]
        assert name in survey.text


async def test_hidden_characters_are_not_taken_into_a_name() -> None:
    async with surveying() as survey:
        await survey.enter('n at 0.4 > "a\u202eb\x1b]0;t\x07" 3 x 3')
        assert "ab]0;t" in [room.name for room in survey.session.house.rooms.values()]


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (160, 48), (40, 10)])
async def test_any_size_of_terminal_will_do(size: tuple[int, int]) -> None:
    async with surveying(size=size) as survey:
        await survey.enter("n at 0.4 > Study 3 x 3; s window; lamp 900 down")
        assert "study" in survey.session.house.rooms


# Without a screen


def test_the_line_being_typed_waits_while_the_past_is_walked() -> None:
    past = Past()
    assert past.step(-1, "new") == "new"
    past.add("one")
    past.add("one")
    past.add("two")
    assert past.lines == ("one", "two")
    assert [past.step(-1, "new"), past.step(-1, "two"), past.step(1, "one")] == [
        "two",
        "one",
        "two",
    ]
    assert past.step(1, "two") == "new"
    assert past.step(1, "new") == "new"


@pytest.mark.parametrize(
    ("text", "whole"),
    [("n > kit", "n > Kitchen "), ("n doorw", "n doorway "), ("win", "window "), ("stu", "Study "),
     ("n > Kitchen", None), ("n 0.8", None), ("", None), ("lamp d", "lamp down "),
     ("n > living r", "n > Living room ")],
)  # fmt: skip
def test_the_last_word_can_be_written_out(text: str, whole: str | None) -> None:
    house = small_house()
    rooms = {**house.rooms, "living": Room("Living room")}
    surveyor = Surveyor(Session.of(replace(house, rooms=rooms)))
    assert surveyor.completed(text) == whole
