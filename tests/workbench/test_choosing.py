"""Where a choice applies, and what each paint would do there, without a screen."""

from dataclasses import replace
from threading import Event

import pytest

from housemap.checks import report_of
from housemap.model.edits import assign, replace_paint
from housemap.model.house import Brief, House, RoomBrief
from housemap.workbench.choosing import (
    HERE,
    Ranks,
    Scope,
    Target,
    left_out,
    painted,
    ranks_of,
    scopes_of,
)
from tests.support.houses import small_house

HOUSE = small_house()
WALLS = Target("hall", "walls")


def scope(words: str) -> Scope:
    return next(each for each in scopes_of(HOUSE, WALLS) if words in each.words)


def ranked(where: Scope, house: House = HOUSE) -> Ranks:
    *_, last = ranks_of(house, report_of(house), WALLS, where, Event())
    return last


def test_a_choice_is_for_the_surface_alone_at_first() -> None:
    assert next(scopes_of(HOUSE, WALLS)) == HERE
    assert painted(HOUSE, WALLS, HERE, "moss") == assign(HOUSE, "hall", "walls", "moss")


def test_a_paint_is_replaced_everywhere_on_a_level_or_as_walls_only() -> None:
    level = HOUSE.rooms["hall"].level
    for words, asked in (("everywhere", {}), ("on this level", {"level": level}),
                         ("as walls only", {"surfaces": ("walls",)})):  # fmt: skip
        made = painted(HOUSE, WALLS, scope(words), "moss")
        assert made == replace_paint(HOUSE, "oat", "moss", **asked)


def test_all_woodwork_of_a_level_is_painted_and_the_walls_stay() -> None:
    made = painted(HOUSE, WALLS, scope("trim, ceilings"), "moss")
    for key, room in made.rooms.items():
        before = HOUSE.rooms[key]
        assert room.paints.walls == before.paints.walls
        if before.level == HOUSE.rooms["hall"].level:
            assert (room.paints.trim, room.paints.ceiling, room.paints.doors) == ("moss",) * 3
        else:
            assert room == before


def test_kept_rooms_are_left_out_beyond_the_surface_itself() -> None:
    kept = replace(HOUSE, brief=Brief(rooms={"kitchen": RoomBrief(keep=True)}))
    chalk = Target("hall", "trim")
    kept = assign(assign(kept, "hall", "trim", "chalk"), "kitchen", "trim", "chalk")
    for where in [each for each in scopes_of(kept, chalk) if each != HERE]:
        made = painted(kept, chalk, where, "moss")
        assert made.rooms["hall"].paints.trim == "moss"
        assert made.rooms["kitchen"] == kept.rooms["kitchen"]
        assert left_out(kept, where) == " Left as they are, by wish: Kitchen."
    assert painted(kept, Target("kitchen", "trim"), HERE, "moss") != kept
    assert not left_out(HOUSE, scope("everywhere"))


def test_an_unpainted_surface_has_nothing_to_replace() -> None:
    bare = assign(HOUSE, "hall", "walls", None)
    assert [each.old for each in scopes_of(bare, WALLS)] == [None, None]


@pytest.mark.parametrize("words", ["", "everywhere", "trim, ceilings"])
def test_findings_are_counted_as_causes_of_the_whole_house(words: str) -> None:
    where = scope(words) if words else HERE
    found, base = ranked(where), report_of(HOUSE)
    assert {*found.causes} == {*HOUSE.paints, None}
    for paint, count in found.causes.items():
        assert count == len(base.after(painted(HOUSE, WALLS, where, paint)).causes)
    assert {*found.verdicts.values()} <= {"fits", "look again", "clashes"}
    assert found.order
