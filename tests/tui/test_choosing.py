"""Choosing a paint: moving shows it, enter puts it on, escape leaves all as it was."""

import re
from dataclasses import replace
from math import dist

import pytest

from housemap.choose.rank import in_place, rank
from housemap.model.edits import assign, paint_on
from housemap.model.house import Brief, RoomBrief, SurfacePaints
from housemap.tui.house_screen import HouseScreen
from housemap.tui.tasks.choose import ChoosingPanel, count_text
from housemap.workbench.choosing import HERE, Ranks
from tests.support.choosing import HOUSE, ChoosingDesk, choosing
from tests.support.houses import paint, small_house
from tests.support.screens import app_on, screen_text


async def test_it_opens_with_the_paint_that_is_on_the_surface() -> None:
    async with choosing() as desk:
        assert desk.panel.chosen == "oat"
        await desk.shows("Hall walls")
        await desk.shows("as it is")
        await desk.ranked()
        assert desk.panel.chosen == "oat"


async def test_moving_shows_the_paint_and_escape_puts_the_old_one_back() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("down")
        tried = desk.session.tried
        assert tried is not None
        assert tried == assign(HOUSE, "hall", "walls", str(desk.panel.chosen))
        assert desk.session.house is HOUSE
        await desk.press("escape")
        await desk.until(lambda: not desk.open)
        assert desk.session.tried is None
        assert desk.session.history.undo_label is None


async def test_enter_puts_it_on_in_one_step_that_can_be_undone() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("down")
        wanted = desk.panel.chosen
        await desk.press("enter")
        assert desk.walls() == wanted != "oat"
        assert not desk.open
        await desk.shows("sample it on the wall")
        await desk.press("u")
        assert desk.session.house == HOUSE
        assert desk.session.history.undo_label is None


async def test_a_paint_for_a_room_that_the_client_keeps_is_asked_about_first() -> None:
    kept = replace(HOUSE, brief=Brief(rooms={"hall": RoomBrief(keep=True)}))
    app = app_on(kept)
    async with app.run_test(size=(120, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.shows("Kept as it is: the client's wish.")
        for answer, walls in (("escape", "oat"), ("p", "moss")):
            await desk.press("enter")
            await desk.ranked()
            while desk.panel.chosen != "moss":
                await desk.press("down")
            await desk.press("enter")
            await desk.shows("The client keeps the Hall as it is. Paint it all the same?")
            assert desk.walls() == "oat"
            await desk.press(answer)
            assert desk.walls() == walls


async def test_a_paint_is_replaced_in_every_room_in_one_step() -> None:
    app = app_on(HOUSE)
    async with app.run_test(size=(120, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.run("replace-paint")
        await desk.shows("Choose a paint for: Oat Ladle everywhere.")
        await desk.ranked()
        await desk.press("home" if desk.panel.chosen != "oat" else "down")
        new = str(desk.panel.chosen)
        assert new not in {"oat", "None"}
        await desk.press("enter")
        rooms = [key for key, room in HOUSE.rooms.items() if room.paints.walls == "oat"]
        assert len(rooms) == 2
        assert {desk.house.rooms[key].paints.walls for key in rooms} == {new}
        name = HOUSE.paints[new].name
        await desk.shows(f"Oat Ladle everywhere (2 rooms): {name}")
        await desk.press("u")
        assert desk.house == HOUSE
        await desk.press("enter")
        await desk.ranked()
        await desk.press("end", "up", "enter")
        assert desk.house.rooms["study"] == HOUSE.rooms["study"], "there alone, as before"


async def test_a_room_that_is_kept_is_named_where_its_old_paint_would_go_everywhere() -> None:
    house = replace(HOUSE, brief=Brief(rooms={"study": RoomBrief(keep=True)}))
    app = app_on(house)
    async with app.run_test(size=(80, 24)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.run("replace-paint")
        await desk.shows("Choose a paint for: Oat Ladle everywhere. Kept by wish: Study.")
        await desk.press("down", "enter")
        await desk.shows("Kept by wish: Study. Oat Ladle everywhere (1 room)")
        assert desk.house.rooms["study"] == HOUSE.rooms["study"]


async def test_one_key_widens_the_choice_from_here_to_everywhere_and_the_level() -> None:
    app = app_on(HOUSE)
    async with app.run_test(size=(120, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.press("enter")
        await desk.ranked()
        await desk.press("home" if desk.panel.chosen != "oat" else "down")
        new = desk.panel.chosen
        await desk.press("h")
        await desk.shows("Oat Ladle everywhere")
        await desk.until(lambda: desk.session.shown.rooms["study"].paints.walls == new)
        for words in ("on this level", "Oat Ladle as walls only", "All trim, ceilings, doors"):
            await desk.press("h")
            await desk.shows(words)
        await desk.press("enter")
        level = [r for r in desk.house.rooms.values() if r.level == HOUSE.rooms["hall"].level]
        assert {(r.paints.trim, r.paints.ceiling, r.paints.doors) for r in level} == {(new,) * 3}
        assert desk.walls() == "oat"
        await desk.press("u")
        assert desk.house == HOUSE


async def test_the_list_keeps_its_order_until_the_wider_choice_is_ranked() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("home")
        before = [option.paint for option in desk.panel.items]
        assert before != sorted(before, key=str)
        while desk.panel.scope == HERE or desk.panel.scope.old:
            desk.panel.action_scope()
        assert [option.paint for option in desk.panel.items] == before
        desk.panel.show_ranks(Ranks(desk.session.base))  # the first that the work yields
        assert [option.paint for option in desk.panel.items] == before
        assert desk.panel.chosen == before[0]


async def test_what_is_to_replace_a_paint_is_listed_by_how_near_it_comes() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.run("replace-paint")
        await desk.shows("nearest first")
        base = desk.session.base
        assert base is not None
        own = base.study.paint("oat")
        apart = [
            dist(own.colour.ucs, base.study.paint(option.paint).colour.ucs)
            for option in desk.panel.items
            if option.paint
        ]
        assert len(apart) == len(HOUSE.paints)
        assert apart == sorted(apart)


async def test_the_findings_of_an_entry_are_counted_as_the_head_counts_them() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("down")
        await desk.until(lambda: desk.panel.chosen in desk.panel.ranks.tallies)
        paint = desk.panel.chosen
        assert isinstance(paint, str)
        house = assign(HOUSE, "hall", "walls", paint)
        base = desk.panel.ranks.base
        assert base is not None
        assert desk.panel.ranks.tallies[paint] == base.after(house).tally


async def test_where_no_paint_is_there_is_none_to_replace() -> None:
    app = app_on(assign(HOUSE, "hall", "walls", None))
    async with app.run_test(size=(120, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.run("replace-paint")
        await desk.shows("No paint is here to replace.")


async def test_keys_typed_faster_than_the_panel_opens_are_for_the_panel() -> None:
    app = app_on(HOUSE)
    async with app.run_test(size=(100, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.press("enter", "end", "enter")
        assert desk.walls() is None, "the last in the list is no paint"


async def test_no_paint_takes_the_paint_off() -> None:
    async with choosing() as desk:
        await desk.press("end", "enter")
        assert desk.walls() is None
        assert desk.session.history.undo_label == "Hall walls: no paint"


async def test_the_keys_of_the_surfaces_change_what_is_chosen_for() -> None:
    async with choosing() as desk:
        await desk.press("3")
        await desk.until(lambda: "Hall trim" in desk.text)
        await desk.press("home")
        wanted = desk.panel.chosen
        await desk.press("enter")
        paints = desk.session.house.rooms["hall"].paints
        assert paints.trim == wanted
        assert replace(paints, trim=None) == HOUSE.rooms["hall"].paints


async def test_ranks_sort_the_best_first() -> None:
    many = {f"p{i:02}": paint(f"#{200 - i * 5:02x}c0{90 + i * 5:02x}", f"Paint {i:02}")
            for i in range(24)}  # fmt: skip
    house = replace(HOUSE, paints={**HOUSE.paints, **many})
    async with choosing(house) as desk:
        await desk.ranked()
        base = desk.session.base
        assert base is not None
        await desk.press("home")
        assert desk.panel.chosen == rank(base, "hall", "walls")[0].paint
        costs = []
        for _ in range(6):  # of the house so painted, which a quick trial may miss near a limit
            after = base.after(paint_on(base.house, "hall", "walls", desk.panel.chosen))
            costs.append(in_place(after, "hall").cost)
            await desk.press("down")
        assert costs == sorted(costs)


async def test_one_wall_gets_a_paint_of_its_own_and_loses_it_again() -> None:
    async with choosing(HOUSE, "escape", "5") as desk:
        await desk.until(lambda: "Which wall of Hall?" in desk.text)
        await desk.press("n")
        await desk.until(lambda: "Hall north wall" in desk.text)
        await desk.press("home")
        wanted = desk.panel.chosen
        await desk.press("enter")
        accents = desk.session.house.rooms["hall"].accents
        assert accents["n"].paint == wanted
        assert desk.walls() == "oat"
        await desk.press("5", "n", "end", "enter")
        assert set(desk.session.house.rooms["hall"].accents) == {"w"}


async def test_the_sheen_of_the_surface_is_set_by_two_keys() -> None:
    async with choosing(HOUSE, "escape", "g") as desk:
        await desk.until(lambda: "Sheen of Hall walls" in desk.text)
        await desk.press("e")
        assert desk.sheen() == "eggshell"
        await desk.press("g", "g", "escape")  # the key that asks answers nothing
        assert desk.sheen() == "eggshell"
        await desk.press("g", "n")
        assert desk.sheen() is None
        assert desk.session.history.undo_label == "Hall walls: no sheen"


async def test_a_click_chooses_and_another_takes_it() -> None:
    async with choosing() as desk:
        await desk.ranked()
        assert desk.panel.chosen_number == 0
        third = 8, len(desk.panel._head) + 4
        await desk.pilot.click(ChoosingPanel, offset=third)
        clicked = desk.panel.chosen
        assert clicked != "oat"
        await desk.pilot.click(ChoosingPanel, offset=third)
        await desk.until(lambda: not desk.open)
        assert desk.walls() == clicked


# Limits of what can happen


async def test_a_house_without_paints_says_so() -> None:
    bare = replace(HOUSE, paints={}, samples={}, rooms={
        key: replace(room, paints=SurfacePaints(), accents={}) for key, room in HOUSE.rooms.items()
    })  # fmt: skip
    async with choosing(bare) as desk:
        await desk.shows("No paints yet: d opens a deck, n adds one.")
        assert "enter" not in desk.text.splitlines()[-1]
        assert "Next: enter" not in desk.text


@pytest.mark.parametrize("name", ["[/]", "[red]x[/red]", "[@click=app.quit]go[/]", "[Study]"])
async def test_a_name_is_never_more_than_text(name: str) -> None:
    house = replace(HOUSE, paints={**HOUSE.paints, "oat": paint("#d9d0bf", name)})
    async with choosing(house) as desk:
        await desk.ranked()
        assert name in desk.text


async def test_a_room_clicked_on_the_map_is_chosen_for() -> None:
    async with choosing() as desk:
        await desk.press("up")
        screen = desk.app.screen
        assert isinstance(screen, HouseScreen)
        screen.select("kitchen")
        await desk.until(lambda: "Kitchen walls" in desk.text)
        assert desk.panel.chosen == "moss"


async def test_undo_while_choosing_begins_anew() -> None:
    async with choosing() as desk:
        await desk.press("end", "enter", "enter")
        await desk.until(lambda: desk.open and desk.panel.chosen is None)
        await desk.press("u")
        await desk.until(lambda: desk.panel.chosen == "oat")
        await desk.ranked()


async def test_the_best_that_the_whole_house_can_be_is_told_while_rooms_are_bare() -> None:
    house = assign(small_house(), "kitchen", "walls", None)
    app = app_on(house)
    async with app.run_test(size=(150, 44)) as pilot:
        await pilot.pause()
        await pilot.press("enter")
        for _ in range(4):
            await app.workers.wait_for_complete()
            await pilot.pause(0.02)
        text = screen_text(app)
        assert re.search(r"With this here, the .*unpainted room", text)


async def test_findings_are_not_opened_over_a_paint_on_trial() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("down", "f")
        await desk.shows("only tried", "then f")
        assert desk.open
        assert desk.session.tried is not None
        await desk.press("escape", "f")
        await desk.shows("To look at")


async def test_a_search_that_finds_nothing_gives_the_chosen_paint_back() -> None:
    async with choosing() as desk:
        await desk.ranked()
        before = desk.panel.chosen
        await desk.press("slash", *"violet")
        await desk.shows("No paint here is violet.")
        await desk.press("escape")
        assert desk.panel.chosen == before is not None
        await desk.until(lambda: desk.session.tried is None)


def test_one_paint_is_no_several() -> None:
    assert count_text(1, 1, " by findings") == "1 paint by findings"
    assert count_text(2, 2, " by name") == "2 paints by name"


async def test_once_one_moves_in_the_list_its_rows_keep_their_places() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("down")
        before, chosen = [option.paint for option in desk.panel.items], desk.panel.chosen
        order = {paint: (place,) for place, paint in enumerate(reversed(before))}
        desk.panel.show_ranks(replace(desk.panel.ranks, order=order))
        assert [option.paint for option in desk.panel.items] == before
        assert desk.panel.chosen == chosen
        await desk.shows(f"{len(HOUSE.paints)} paints, compared")
        await desk.press("home")
        assert [option.paint for option in desk.panel.items] != before
