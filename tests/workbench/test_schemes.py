"""A scheme is built around a paint step by step, and schemes of a house stand beside each other."""

import datetime as dt
import re
from dataclasses import replace
from itertools import combinations

import pytest

from housemap.checks import report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.sets import ColourSet
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign, make_scheme, put
from housemap.model.house import (
    STRENGTHS,
    Brief,
    House,
    Notation,
    Opening,
    Paint,
    Room,
    RoomBrief,
    Sample,
    Use,
    Window,
)
from housemap.study import Swatch
from housemap.workbench.suggesting import (
    SchemeBuilder,
    Suggestion,
    Suggestions,
    beside_walls,
    best_set_first,
    laid_out,
    painted_in,
    schemes_of,
    suggested_sets,
)
from tests.choose.support.documented import apart
from tests.choose.support.schemes import with_scheme
from tests.support.houses import small_house
from tests.support.project import DEMO


def painted(house: House, shown: ColourSet, *, dark_doors: bool = True) -> House:
    """The house in a set, as it is laid out under the reference light."""
    walls = laid_out(report_of(house, deep=False), shown)
    assert walls is not None
    return painted_in(house, shown, walls, dark_doors=dark_doors)


def neutral() -> Swatch:
    return all_chips({"n": Paint("Greige", Notation("10YR 7/1"))}).swatches[0]


def test_without_paints_at_hand_colours_are_computed() -> None:
    builder = SchemeBuilder.around(neutral(), House())
    assert len(builder.sets) == 3
    shown = builder.shown
    assert shown is not None


def test_one_colour_is_swapped_and_the_swap_stays() -> None:
    builder = SchemeBuilder.around(neutral(), House()).look_at(1)
    before = builder.shown
    assert before is not None
    place = next(n for n, one in enumerate(before.colours) if one.part == "accent")
    builder = builder.choose(place).swap(1)
    after = builder.shown
    assert after is not None
    assert after.colours[place] != before.colours[place]
    assert builder.swap(-1).shown is before
    kept = builder.choose(0).shown
    assert kept is after
    assert builder.choose(0).swap(1).shown is after, "the neutral has no alternatives"


def test_more_like_this_begins_with_what_is_looked_at() -> None:
    builder = SchemeBuilder.around(neutral(), House())
    shown = builder.shown
    more = builder.more_like_this()
    assert more.sets[0] is shown
    assert len({found.kind for found in more.sets}) == 1
    assert len(more.sets) > 1


def test_a_deck_without_paints_has_nothing_to_choose_from_but_what_is_computed() -> None:
    assert SchemeBuilder.around(neutral(), small_house()).basis.chips.swatches[0].id == "chalk"
    empty = SchemeBuilder.around(neutral(), House(), all_chips({}))
    assert len(empty.basis.chips) > 1000


def test_every_set_is_shown_on_the_house_with_a_reason_a_colour() -> None:
    base = report_of(small_house(), deep=False)
    builder = SchemeBuilder.around(neutral(), House()).look_at(1).choose(2).swap(1)
    found = suggested_sets(builder, base).found
    assert len(found) == len(builder.sets)
    assert "Alternative 1" in found[1].summary
    for each in found:
        assert all(colour.reason.endswith(".") for colour in each.colours)
        assert each.house.rooms.keys() == base.house.rooms.keys()
        assert each.report.house is each.house


def test_an_accent_that_is_on_no_wall_says_so_and_no_other() -> None:
    for one in first_sets(small_house(samples={}), "10YR 7/1").found:
        walls = {swatch.entity for swatch in walls_of(one).values()}
        for colour in one.colours:
            if colour.use == "accent":
                assert ("Not used" in colour.reason) == (colour.swatch.entity not in walls)
        assert any("Not used" in colour.reason for colour in one.colours)


def doors_and_reason(house: House, *, dark_doors: bool = True) -> tuple[dict[str, str], str]:
    """In the first set: what doors have, by room; and what is said of its dark."""
    built = SchemeBuilder.around(neutral(), replace(house, paints={}))
    builder = replace(built, dark_doors=dark_doors)
    first = suggested_sets(builder, report_of(house, deep=False)).found[0]
    [reason] = [each.reason for each in first.colours if each.use == "dark"]
    shown = builder.shown
    assert shown is not None
    part = {one.swatch.entity: one.part for one in shown.colours}
    on = {key: room.paints.doors for key, room in first.house.rooms.items()}
    return {key: part[first.house.paints[p]] for key, p in on.items() if p}, reason


def test_doors_get_the_dark_of_a_set_and_its_reason_says_so() -> None:
    doors, reason = doors_and_reason(small_house())
    assert doors == {"kitchen": "dark", "study": "dark"}, "the hall is kept"
    assert reason.endswith("Doors in 2 rooms have it, to stand out from walls. Press 4 for trim.")
    doors, reason = doors_and_reason(small_house(), dark_doors=False)
    assert {*doors.values()} == {"trim"}
    assert "Press 4" in reason


def test_ceilings_trim_and_doors_that_change_are_listed_with_the_number_of_their_rooms() -> None:
    house = small_house()
    after = assign(assign(house, "hall", "doors", "moss"), "study", "doors", "moss")
    assert [*beside_walls(house, after)] == ["doors: Moss Bank in 2 rooms"]
    assert [*beside_walls(after, after)] == []


@pytest.mark.parametrize("eyes", ["usual", "low vision"])
def test_all_rooms_that_a_set_paints_have_one_door_and_one_trim_colour(
    eyes: str,
) -> None:
    """Also where the walls of some are as dark as the doors, which were black."""
    house = read_house(DEMO)
    house = put(house, "paints", "black", Paint("Soot", Notation("N 1")))
    for room in house.rooms:
        house = assign(house, room, "doors", "black")
    house = replace(house, low_vision=eyes == "low vision", samples={})
    for one in first_sets(house, "5Y 8.5/1").found:
        rooms = [room for room in one.house.rooms.values() if room.use != "outdoor"]
        for surface in ("ceiling", "trim", "doors"):
            assert len({getattr(room.paints, surface) for room in rooms}) == 1
        [dark] = [each for each in one.colours if each.use == "dark"]
        doors = one.report.study.paint(rooms[0].paints.doors or "")
        assert ("have it" in dark.reason) == (doors.entity == dark.swatch.entity)


def test_a_set_has_the_trim_of_kept_rooms_and_none_that_hardly_differs() -> None:
    house = replace(read_house(DEMO), samples={}, brief=Brief(rooms={"hall": RoomBrief(keep=True)}))
    for own, same in (("2.5Y 9.5/1", True), ("5B 6/2", False)):
        house = put(house, "paints", "mine", Paint("Mine", Notation(own)))
        for one in first_sets(assign(house, "hall", "trim", "mine"), "5Y 8.5/1").found:
            assert (one.house.rooms["living"].paints.trim == "mine") == same
            [trim] = [each for each in one.colours if each.use == "trim"]
            assert (trim.swatch.name == "Mine") == same


def test_doors_keep_the_trim_where_the_client_avoids_the_dark() -> None:
    avoid = ("black", "brown", "grey", "olive")
    doors, reason = doors_and_reason(replace(small_house(), brief=Brief(avoid=avoid)))
    assert {*doors.values()} == {"trim"}
    assert "Doors have the trim colour instead" in reason


def test_dark_doors_are_no_edge_that_is_hard_to_see() -> None:
    house = replace(read_house(DEMO), low_vision=True, samples={})
    for shown in SchemeBuilder.around(neutral(), House()).sets:
        found = report_of(painted(house, shown), deep=False).findings
        edges = [f for f in found if f.check == "edge" and "doors" in f.surfaces]
        plain = report_of(painted(house, shown, dark_doors=False), deep=False)
        assert len(edges) <= sum(
            f.check == "edge" and "doors" in f.surfaces for f in plain.findings
        )
        assert len([*found]) <= len(plain.findings)


def test_sets_are_offered_by_wishes_kept_then_by_fewest_findings_in_every_light() -> None:
    for brief in (Brief(avoid=("green",)), Brief()):
        base = report_of(replace(small_house(), brief=brief))
        built = SchemeBuilder.around(neutral(), base.house)
        turned = replace(built, sets=built.sets[::-1])
        for builder in (built, turned):
            found = best_set_first(builder, base)[1].found
            ranks = [(len(one.missed), one.report.tally.rank) for one in found]
            assert ranks == sorted(ranks)
            assert len(ranks) == len(built.sets)
            for one in found:  # as the house so painted is judged once it is taken
                assert len(one.report.causes) == len(report_of(one.house).causes)


def test_a_scheme_kept_with_unpainted_surfaces_is_the_house_as_it_was() -> None:
    bare = assign(assign(small_house(), "kitchen", "walls", None), "hall", "doors", None)
    kept = make_scheme(bare, "Kept")
    now = assign(assign(kept, "kitchen", "walls", "oat"), "hall", "doors", "oat")
    _, shown = schemes_of(report_of(now), dt.date(2026, 5, 2))
    assert shown.house.rooms == bare.rooms
    assert len(shown.report.causes) == len(report_of(kept).causes)


def test_schemes_have_a_price_where_paints_have() -> None:
    house = with_scheme(small_house(), assign(small_house(), "kitchen", "walls", "oat"), "Oat")
    now, oat = schemes_of(report_of(house), dt.date(2026, 5, 2))
    assert now.house == house
    found = [re.search(r"Paint and primer \D*([\d,.]*\d)\.", one.summary) for one in (now, oat)]
    paid = [float(each.group(1).replace(",", "")) for each in found if each]
    assert paid[1] > paid[0]
    assert oat.house.rooms["kitchen"].paints.walls == "oat"


def test_a_set_leaves_what_was_approved_and_puts_nothing_where_it_was_rejected() -> None:
    house = small_house(samples={})
    builder = SchemeBuilder.around(neutral(), house)
    shown = builder.shown
    assert shown is not None
    walls = painted(house, shown).rooms["study"].paints.walls
    assert walls is not None
    taken = painted(house, shown)
    approved = {"yes": Sample("oat", "study", verdict="keep")}
    assert painted(replace(house, samples=approved), shown).rooms["study"] is house.rooms["study"]
    rejected = {"no": Sample(walls, "study", verdict="reject")}
    after = painted(replace(taken, rooms=house.rooms, samples=rejected), shown)
    assert after.rooms["study"].paints.walls != walls


def openplan() -> House:
    """The demo with its kitchen open to the hall."""
    house = read_house(DEMO)
    way = replace(house.openings["hall-kitchen"], kind="open")
    return replace(house, openings={**house.openings, "hall-kitchen": way})


def test_a_set_gives_one_colour_to_rooms_in_open_plan_and_to_a_hall_with_its_stairs() -> None:
    house = replace(openplan(), samples={})
    base = report_of(house, deep=False)
    for neutral_ in ("2.5Y 7/1.5", "2.5Y 8/1"):
        [around] = all_chips({"n": Paint("Neutral", Notation(neutral_))}).swatches
        for one in suggested_sets(SchemeBuilder.around(around, House()), base).found:
            walls = {key: room.paints.walls for key, room in one.house.rooms.items()}
            assert len({walls[key] for key in ("hall", "kitchen", "stairs", "landing")}) == 1
            assert walls["living"] == walls["dining"]
            assert "stop" not in {f.check for f in one.report.findings}


DECK = all_chips(notation_deck())


def first_sets(house: House, text: str, chips: Chips | None = None) -> Suggestions:
    """Around a colour, in the house."""
    [around] = all_chips({"n": Paint("Neutral", Notation(text))}).swatches
    builder = SchemeBuilder.around(around, house, DECK if chips is None else chips)
    return best_set_first(builder, report_of(house, deep=False))[1]


def walls_of(one: Suggestion) -> dict[str, Swatch]:
    rooms = one.house.rooms.items()
    return {k: one.report.study.paint(r.paints.walls) for k, r in rooms if r.paints.walls}


@pytest.mark.parametrize("text", ["10YR 7.5/1", "2.5Y 7/1.5", "2.5Y 8/1", "5B 7/1"])
@pytest.mark.parametrize("kept", [(), ("living", "guest-room", "front-bedroom", "bathroom")])
def test_sets_are_different_houses_and_no_colour_takes_over_the_rooms_that_close(
    text: str, kept: tuple[str, ...]
) -> None:
    """A quarter of the walls to be painted, and no colour but the backbone on more than half."""
    stay = {room: RoomBrief(keep=True) for room in kept}
    house = replace(read_house(DEMO), samples={}, brief=Brief(rooms=stay))
    found = first_sets(house, text)
    study = found.found[0].report.study
    painted = house.rooms.keys() - stay.keys()
    areas = {k: a.wall_net_m2 for k in painted if house.rooms[k].use != "outdoor"
             if (a := study.rooms[k].areas)}  # fmt: skip
    houses = [walls_of(one) for one in found.found]
    assert len(houses) == 3
    for one, other in combinations(houses, 2):
        differ = sum(area for k, area in areas.items() if apart(one[k], other[k]) >= 8)
        assert differ >= 0.25 * sum(areas.values())
    for walls in houses:
        colours = {k: walls[k].entity for k in areas}
        assert len({*colours.values()}) >= (3 if kept else 4)
        for colour in {*colours.values()} - {colours["hall"]}:
            share = sum(area for k, area in areas.items() if colours[k] == colour)
            assert share <= 0.5 * sum(areas.values())


def flat() -> House:
    """A hall with a door to each of three rooms, all unpainted."""
    at: dict[Use, tuple[float, float]] = {
        "hall": (0.0, 0.0),
        "bedroom": (1.6, 0.0),
        "living": (1.6, 3.1),
        "kitchen": (-3.1, 0.0),
    }
    window = {"w": Window("s", 1.0, 1.2, 1.4, 0.9)}
    rooms: dict[str, Room] = {
        use: Room(use.title(), use=use, size_m=(1.5 if use == "hall" else 3.0, 3.0), height_m=2.5,
                  at_m=place, windows={} if use == "hall" else window)
        for use, place in at.items()
    }  # fmt: skip
    doors = {f"to-{key}": Opening(("hall", key), "doorway") for key in rooms if key != "hall"}
    return House(name="Flat", rooms=rooms, openings=doors)


def test_the_colour_that_gives_a_set_its_name_is_on_a_wall() -> None:
    """Though none of the rooms is there for an accent. Degrees of ASTM D1535 hue angle."""
    for text in ("5Y 8.5/1", "10YR 7/1"):
        names, own = set[str](), {"5Y": 25.0, "10YR": 20.0}[text.split()[0]]
        for one in first_sets(flat(), text).found:
            hues = [s.colour.notation.hue100 for s in walls_of(one).values()]
            turned = [((hue - own) * 3.6 + 180) % 360 - 180 for hue in hues]
            most = max(map(abs, turned))
            name = one.summary.partition(": ")[2].partition(".")[0]
            low, high = {"one hue in steps of depth and strength": (0, 20),
                         "accents of neighbouring hues": (20, 90),
                         "accents of the opposite hue": (150, 180)}[name]  # fmt: skip
            assert low <= most <= high
            names.add(name)
        assert len(names) == 3


def test_no_set_has_a_hue_to_avoid_and_a_wish_of_blue_is_no_blue_green() -> None:
    wish = {"bedroom": RoomBrief(like=("blue",), lrv=(5, 15))}
    brief = Brief(avoid=("green",), rooms=wish)
    for one in first_sets(replace(flat(), brief=brief), "5Y 8.5/1").found:
        assert not one.missed
        names = [each.swatch.colour.undertone.name for each in one.colours]
        assert not [name for name in names if "green" in name]
        tone = walls_of(one)["bedroom"].colour
        assert tone.undertone.name.endswith("blue")
        assert 68 <= tone.notation.hue100 <= 76, "10BG is 60, 10B is 70, 5PB is 75"


def test_a_set_is_said_to_be_what_is_on_the_walls() -> None:
    """A room that is to be blue among tones of a yellow grey."""
    house = replace(flat(), brief=Brief(rooms={"bedroom": RoomBrief(like=("blue",))}))
    for one in first_sets(house, "5Y 8.5/1").found:
        assert "one hue" not in one.summary


def test_sets_that_would_be_the_same_house_are_one_and_that_is_said() -> None:
    stay = {"kitchen": RoomBrief(keep=True), "study": RoomBrief(keep=True)}
    found = first_sets(small_house(samples={}, brief=Brief(rooms=stay)), "10YR 7/1")
    assert len(found.found) == 2
    assert found.note == "Only 2 sets: no other differs clearly on a quarter of the walls."
    assert not first_sets(small_house(samples={}), "10YR 7/1").note


def test_a_set_keeps_the_wishes_of_each_room() -> None:
    """Greens may be in a set, and no set has a strong blue green: it comes for its one room."""
    wishes = {
        "front-bedroom": RoomBrief(strength="strong", like=("blue green",)),
        "living": RoomBrief(avoid=("green", "blue"), lrv=(60, 75)),
        "bathroom": RoomBrief(keep=True),
    }
    house = replace(read_house(DEMO), samples={}, brief=Brief(rooms=wishes))
    for one in first_sets(house, "10YR 7.5/1").found:
        assert not one.missed
        walls = walls_of(one)
        tone = walls["front-bedroom"].colour
        assert (STRENGTHS[tone.strength], tone.undertone.family) == ("strong", "blue-green")
        assert 60 <= walls["living"].lrv <= 75
        assert one.house.rooms["bathroom"] is house.rooms["bathroom"]
        [brought] = [each for each in one.colours if each.use == "wish"]
        assert brought.swatch.entity == walls["front-bedroom"].entity
        assert brought.reason.endswith("by the wishes for Front bedroom.")


def test_a_wish_that_no_paint_at_hand_keeps_is_named() -> None:
    wishes = {"study": RoomBrief(strength="strong", like=("purple",))}
    house = small_house(samples={}, brief=Brief(rooms=wishes))
    few = all_chips(
        {"oat": Paint("Oat", Notation("10YR 8/1")), "sand": Paint("Sand", Notation("10YR 7/2"))}
    )
    for one in first_sets(house, "10YR 7/1", few).found:
        assert any(line.startswith("Study: ") and "purple" in line for line in one.missed)


def test_a_set_uses_a_paint_of_the_house_of_that_colour_whatever_its_name() -> None:
    own = neutral()
    assert isinstance(own.entity, Paint)
    house = put(small_house(), "paints", "greige", replace(own.entity, name="Client Greige"))
    builder = SchemeBuilder.around(own, house, computed_chips(own))
    assert builder.shown is not None
    after = painted(house, builder.shown)
    colours = [paint.colour for paint in after.paints.values()]
    assert colours.count(own.entity.colour) == 1
    assert "greige" in {room.paints.walls for room in after.rooms.values()}
