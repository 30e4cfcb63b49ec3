"""Every rule that a suggestion is judged by is shown as a sentence."""

from dataclasses import replace

from housemap.checks import report_of
from housemap.choose.chips import all_chips
from housemap.choose.house_problem import house_problem
from housemap.choose.schemes.house_rules import (
    TITLES,
    Plan,
    broken_wishes,
    own_rule_costs,
    rules_shown,
)
from housemap.model.edits import assign
from housemap.model.house import Brief, Notation, Paint
from tests.support.houses import grid_house, small_house

WORD_OF = {
    "brief": "at most",
    "tier": "LRV",
    "aim": "follow",
    "around": "itself",
    "again": "suggestions before",
    "revision": "hue family",
    "strengths": "strength",
    "alike": "differ by",
    "variety": "wall colours differ clearly",
    "linked": "landings",
    "share": "like size",
}
"""By rule, a word of its sentence."""


def test_each_rule_that_costs_anything_has_a_sentence() -> None:
    report = report_of(grid_house(6, columns=3), deep=False)
    around = report.study.paint(next(iter(report.house.paints)))
    revised = dict.fromkeys(report.house.rooms, "blue")
    before = dict.fromkeys(report.house.rooms, (around,))
    made = house_problem(report, keep=(), plan=Plan(5, around, "tonal", revised, before))
    assert set(WORD_OF) == set(TITLES)
    assert len({rule.name for rule in made.rules}) > 5
    for rule in made.rules:
        assert any(WORD_OF[rule.name] in sentence for sentence in made.shown), rule.name


def test_the_first_accent_room_has_the_accent_that_the_kind_speaks_of() -> None:
    chips = all_chips({t: Paint(t, Notation(t)) for t in ("5PB 4/2", "7.5GY 6/2", "2.5Y 7/1")})
    house = grid_house(3, columns=3)
    rooms = {key: replace(room, role="accent") for key, room in house.rooms.items()}
    house = replace(house, rooms=rooms)
    first, second, _ = house.rooms
    plan = Plan(5, chips.swatch("2.5Y 7/1"), "counter")
    blue, green, own = own_rule_costs(house, first, chips, plan)["aim"].tolist()
    assert own == 0.0
    assert blue < green <= 1.5
    assert own_rule_costs(house, second, chips, plan)["aim"][1] < green


def test_a_trim_that_is_no_near_white_is_named() -> None:
    house = small_house()
    house = assign(house, "hall", "trim", "moss")
    study = report_of(house, deep=False).study
    assert any("Moss Bank as trim: LRV" in line for line in broken_wishes(study))
    assert not any("trim" in line for line in broken_wishes(study, {"study"}))


def test_wishes_of_the_client_are_among_them() -> None:
    brief = Brief(strength="moderate", like=("blue",), avoid=("pink",), lrv=(45.0, 70.0), colours=3)
    shown = " ".join(rules_shown(brief, Plan()))
    for words in ("at most moderate", "blue", "pink", "45 to 70", "3 wall colours"):
        assert words in shown
    assert "Trim" not in " ".join(rules_shown(replace(brief, white_trim=False), Plan()))


def test_no_sentence_is_longer_than_twenty_words() -> None:
    longest = max(rules_shown(Brief(lrv=(40, 70)), Plan()), key=lambda text: len(text.split()))
    assert len(longest.split()) <= 20, longest
