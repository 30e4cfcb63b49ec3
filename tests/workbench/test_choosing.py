"""Where a choice applies, and what each paint would do there, without a screen."""

from dataclasses import replace
from threading import Event

import pytest

from housemap.checks import report_of
from housemap.choose.rank import bared, candidates, in_place
from housemap.file.reader import read_house
from housemap.model.edits import assign, replace_paint
from housemap.model.house import Brief, House, Notation, RoomBrief, Surface
from housemap.model.severity import change_order
from housemap.workbench.choosing import (
    HERE,
    NOT_AS_WISHED,
    REJECTED_HERE,
    WISHES,
    Ranks,
    Scope,
    Target,
    approved_before,
    left_out,
    painted,
    raised_by,
    ranks_of,
    scopes_of,
    verdict_of,
)
from tests.support.houses import small_house
from tests.support.project import DEMO

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
        assert left_out(kept, where) == "Kept by wish: Kitchen."
    assert painted(kept, Target("kitchen", "trim"), HERE, "moss") != kept
    assert not left_out(HOUSE, scope("everywhere"))
    kept = assign(kept, "kitchen", "trim", "moss")
    [trim_only] = [each for each in scopes_of(kept, chalk) if "as trim only" in each.words]
    assert not left_out(kept, trim_only), "another paint is there"


def test_an_unpainted_surface_has_nothing_to_replace() -> None:
    bare = assign(HOUSE, "hall", "walls", None)
    assert [each.old for each in scopes_of(bare, WALLS)] == [None, None]


@pytest.mark.parametrize("words", ["", "everywhere", "trim, ceilings"])
def test_findings_are_counted_as_causes_of_the_whole_house(words: str) -> None:
    where = scope(words) if words else HERE
    found, base = ranked(where), report_of(HOUSE)
    assert {*found.tallies} == {*HOUSE.paints, None}
    for paint, tally in found.tallies.items():
        assert tally == base.after(painted(HOUSE, WALLS, where, paint)).tally
    assert {*found.verdicts.values()} <= {"fits", "look again", "clashes", "not as wished"}
    assert found.order


def test_what_a_paint_raises_here_is_what_the_report_of_the_house_with_it_says() -> None:
    """In the light that it leaves in the rooms in view, not in the one that they have now."""
    house = read_house(DEMO)
    base, target = report_of(house), Target("front-bedroom", "walls")
    *_, last = ranks_of(house, base, target, HERE, Event())
    bare = bared(base, *target)
    for paint in [each for each in last.tallies if each][:4]:
        after = base.after(painted(house, target, HERE, paint))
        exact = raised_by(in_place(after, *target), bare)
        assert {k: v for k, v in last.raised[paint].items() if k != "brief"} == exact


def test_a_verdict_everywhere_is_that_here_where_only_this_room_has_the_paint() -> None:
    """What is there now and remains is held against a paint, and nothing that others cause."""
    house = read_house(DEMO)
    base, target = report_of(house), Target("living", "walls")
    *_, here = ranks_of(house, base, target, HERE, Event())
    assert here.verdicts["clay-petal"] == "clashes"
    for words in ("everywhere", "walls only"):
        [where] = [each for each in scopes_of(house, target) if each.words.endswith(words)]
        *_, beyond = ranks_of(house, base, target, where, Event())
        counted = here.tallies.keys() & beyond.tallies.keys() - {None}
        assert len(counted) > 3
        for paint in counted:
            assert beyond.verdicts[paint] == here.verdicts[paint], (words, paint)
            assert beyond.raised[paint] == here.raised[paint], (words, paint)


@pytest.mark.parametrize(
    ("room", "words"), [("hall", ""), ("guest-room", ""), ("hall", "everywhere")]
)
def test_paints_are_in_the_order_of_what_the_list_says_of_them(room: str, words: str) -> None:
    """More serious findings behind all else, then by how many, then by what they weigh."""
    house = read_house(DEMO)
    base, target = report_of(house), Target(room, "walls")
    where = next(each for each in scopes_of(house, target) if words in each.words)
    *_, last = ranks_of(house, base, target, where, Event())
    assert last.counted
    fits = [p for p in house.paints if last.verdicts[p] not in {REJECTED_HERE, NOT_AS_WISHED}]
    shown = sorted((p for p in fits if p in last.tallies), key=last.order.__getitem__)
    changes = [change_order(base.tally, last.tallies[paint]) for paint in shown]
    assert len(changes) > 5
    assert changes == sorted(changes)


def test_that_a_sample_was_approved_where_another_paint_is_tried_is_said() -> None:
    house = read_house(DEMO)
    target = Target("guest-room", "walls")
    said = "A sample of Gull Chute was approved here on 19 April."
    assert approved_before(house, target, HERE, "barley-tin") == said
    own = target.paint_in(house)
    assert approved_before(house, target, HERE, own) == ""
    assert approved_before(replace(house, samples={}), target, HERE, "barley-tin") == ""
    everywhere = next(each for each in scopes_of(house, target) if "everywhere" in each.words)
    assert "approved in " in approved_before(house, target, everywhere, "barley-tin")


@pytest.mark.parametrize(
    ("raised", "word"),
    [
        ({}, "fits"),
        ({"undertone": 8.0}, "clashes"),
        ({"fixed": 4.0}, "clashes"),
        ({"jar": 12.0, "stop": 12.0}, "clashes"),
        ({"jar": 5.0}, "look again"),
        ({"stop": 24.0}, "look again"),  # a missing corner is no clash of colours
        ({"near-miss": 15.0, "trim": 2.0}, "look again"),
        ({"backbone": 13.0, "undertone": 1.0}, "look again"),
        ({"trim": 1.0}, "look again"),
    ],
)
def test_only_colours_that_disagree_clash(raised: dict[str, float], word: str) -> None:
    assert verdict_of(raised) == word


@pytest.mark.parametrize(
    ("brief", "surface", "paint", "words"),
    [
        (Brief(), "walls", "10R 5/8", "Stronger than usual"),
        (Brief(like=("blue",)), "walls", "10R 5/8", "Stronger than usual"),
        (Brief(like=("blue",), strength="vivid"), "walls", "10R 5/8", ""),
        (Brief(), "trim", "5Y 5/2", "Not near-white"),
        (Brief(white_trim=False), "trim", "5Y 5/2", ""),
    ],
)
def test_nobody_is_said_to_have_wished_what_is_only_usual(
    brief: Brief, surface: Surface, paint: str, words: str
) -> None:
    """Of the paint that is there now as of any other."""
    own = replace(HOUSE.paints["oat"], colour=Notation(paint), lrv=None)
    house = replace(HOUSE, paints={**HOUSE.paints, "own": own}, brief=brief)
    house, target = assign(house, "hall", surface, "own"), Target("hall", surface)
    *_, last = ranks_of(house, report_of(house), target, HERE, Event())
    assert (last.unkept.get("own", "") if WISHES in last.raised["own"] else "") == words


def test_what_is_there_without_the_paint_is_not_held_against_it() -> None:
    """Walls that jar are no fault of the trim."""
    walls = replace(HOUSE.paints["oat"], colour=Notation("N 2/"))
    house = replace(HOUSE, paints={**HOUSE.paints, "soot": walls})
    report = report_of(assign(house, "hall", "walls", "soot"))
    bare = bared(report, "hall", "trim")
    assert bare.parts
    clean = []
    for one in candidates(report, "hall", "trim"):
        raised = {c: cost for c, cost in raised_by(one, bare).items() if c != WISHES}
        assert all(cost <= one.parts[check] for check, cost in raised.items())
        clean += [one] if verdict_of(raised) == "fits" else []
    assert clean
    assert all(one.parts for one in clean)


def test_trim_is_painted_on_one_level_alone() -> None:
    trim = Target("hall", "trim")
    where = next(s for s in scopes_of(HOUSE, trim) if s.words == "All trim on this level")
    made = painted(HOUSE, trim, where, "moss")
    for key, room in made.rooms.items():
        before = HOUSE.rooms[key]
        here = before.level == HOUSE.rooms["hall"].level
        trimmed = replace(before.paints, trim="moss") if here else before.paints
        assert room.paints == trimmed
