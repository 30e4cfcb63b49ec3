"""A palette from a deck: least costly of what was screened, pins kept, nothing overwritten."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.checks import report_of
from housemap.choose.deck.chips import all_chips
from housemap.choose.deck.ranking import options_of
from housemap.choose.house_problem import PAINT_COST
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.palettes.asked import Asked
from housemap.choose.palettes.palette import Palette, palettes
from housemap.choose.palettes.screened import APART, Screened, screen
from housemap.choose.palettes.trim import CALM_WORTH, LIGHT, LIGHT_WORTH, best_trim
from housemap.choose.sweep.group import GroupTrial
from housemap.colorimetry.facts import colour_facts
from housemap.deck.notation_deck import notation_deck
from housemap.errors import EditError, InputError
from housemap.model.edits import assign, put
from housemap.model.house import House, Lab, Notation, Paint
from tests.choose.support.repainted import repainted_house
from tests.support.chips import chips_of, paints_of, random_paints
from tests.support.houses import grid_house, small_house

FEW = {
    "chalk": Notation("5Y 9/0.5"), "rose": Notation("5R 7/1.5"), "sage": Notation("5GY 7/1.5"),
    "slate": Notation("5B 5/1"), "clay": Notation("5YR 6/3"),
}  # fmt: skip
NOTHING = frozenset[str]()


def house_of(count: int = 4) -> House:
    house = grid_house(count, columns=2)
    return replace(house, rooms={k: replace(r, windows={}) for k, r in house.rooms.items()})


def screened(house: House, asked: Asked, **more: Any) -> Screened:
    return screen(report_of(house, deep=False), chips_of(**FEW), "fan", asked, **more)


def solved(problem: Problem) -> Iterator[Progress]:
    yield solve(problem)


def done(screened_: Screened) -> list[Palette]:
    return [palette for palette in palettes(screened_, solved) if palette.done]


def allowed_costs(screened_: Screened) -> Iterator[float]:
    """Of every choice of the screened paints that keeps to the limit and has the pinned ones."""
    problem = screened_.problem()
    assert problem is not None
    for paints in product(*(problem.candidates[room] for room in problem.rooms)):
        assignment = dict(zip(problem.rooms, paints, strict=True))
        if problem.allows(assignment):
            yield problem.cost(assignment)


@pytest.mark.parametrize("paints", [1, 2, 3, None])
@pytest.mark.parametrize("chips", [NOTHING, frozenset({"rose"})])
def test_no_choice_of_the_screened_paints_costs_less(
    paints: int | None, chips: frozenset[str]
) -> None:
    found = screened(house_of(), Asked(paints, keep=NOTHING, chips=chips))
    best = done(found)[0]
    assert best.progress.cost == pytest.approx(min(allowed_costs(found)))
    assert best.progress.bound <= min(allowed_costs(found)) + 1e-9


@settings(max_examples=20, deadline=None)
@given(
    chosen=st.sets(st.sampled_from(sorted(FEW)), min_size=2),
    pins=st.sets(st.sampled_from(sorted(FEW)), max_size=2),
    own=st.sets(st.sampled_from(["p00", "p05"]), max_size=1),
    limit=st.integers(3, 5),
    steps=st.integers(1, 4),
)
def test_bounds_hold_pins_are_kept_and_the_paints_of_the_house_stay(
    chosen: set[str], pins: set[str], own: set[str], limit: int, steps: int
) -> None:
    pins &= chosen
    house = house_of(3)
    house = put(house, "paints", "rose", Paint("Not that rose", Lab((50.0, 0.0, 0.0))))
    chips = all_chips(paints_of(**{name: FEW[name] for name in chosen}))
    asked = Asked(limit, NOTHING, frozenset(own), frozenset(pins))
    found = screen(report_of(house, deep=False), chips, "fan", asked)

    def hasty(problem: Problem) -> Iterator[Progress]:
        told: list[Progress] = []
        solve(problem, progress=told.append)
        yield from told[-steps:]

    least = min(allowed_costs(found))
    for palette in palettes(found, hasty):
        if palette.number == 0:
            assert palette.progress.bound <= least + 1e-9 <= palette.progress.cost + 2e-9
        assert {*found.pinned} <= {*palette.shares}
        assert len(palette.shares) <= limit
        assert sum(palette.shares.values()) == pytest.approx(1.0)
        assert {k: palette.house.paints[k] for k in house.paints} == house.paints


def test_a_pinned_paint_is_in_the_palette_and_counts_even_where_no_wall_wants_it() -> None:
    found = screened(house_of(), Asked(1, keep=NOTHING, chips=frozenset({"slate"})))
    best = done(found)[0]
    assert [best.from_deck[paint] for paint in best.shares] == ["slate"]
    two = screened(house_of(), Asked(2, NOTHING, frozenset({"p03"}), frozenset({"slate"})))
    assert {*done(two)[0].shares} == {"p03", "slate"}


def test_more_pinned_paints_than_are_allowed_are_refused() -> None:
    pins = frozenset({"slate", "rose"})
    with pytest.raises(InputError):
        done(screened(house_of(), Asked(1, keep=NOTHING, chips=pins)))


def test_the_house_gets_the_paints_that_are_used_and_no_others() -> None:
    house = house_of()
    best = done(screened(house, Asked(2, keep=NOTHING)))[0]
    new = {*best.house.paints} - {*house.paints}
    assert new == ({*best.shares} | {best.trim}) - {*house.paints}
    assert all(best.house.paints[paint].deck == "fan" for paint in new)
    used = {room.paints.walls for room in best.house.rooms.values()}
    assert used <= {*best.shares}
    assert {room.paints.trim for room in best.house.rooms.values()} == {best.trim}


def test_kept_rooms_stay_as_they_are_and_count() -> None:
    house = assign(house_of(), "r0001", "trim", "p02")
    asked = Asked(2, keep=frozenset({"r0001"}))
    best = done(screened(house, asked))[0]
    assert best.house.rooms["r0001"] == house.rooms["r0001"]
    assert house.rooms["r0001"].paints.walls in best.shares
    assert len(best.shares) <= 2


def test_the_trim_stays_where_none_is_asked_for() -> None:
    house = assign(house_of(), "r0001", "trim", "p02")
    best = done(screened(house, Asked(2, keep=NOTHING, trim=False)))[0]
    assert best.trim is None
    assert best.house.rooms["r0001"].paints.trim == "p02"


def test_every_variant_differs_from_those_before_in_each_paint_that_it_brings_in() -> None:
    chips = all_chips(random_paints(300))
    asked = Asked(3, keep=NOTHING, chips=frozenset({"a-7"}))
    found = done(screen(report_of(house_of(), deep=False), chips, "fan", asked))
    assert len(found) == 3
    sets = []
    for palette in found:
        new = [p for p, share in palette.shares.items() if share and palette.from_deck[p] != "a-7"]
        facts = colour_facts([palette.house.paints[paint].colour for paint in new])
        sets.append(np.array([one.ucs for one in facts]).reshape(-1, 3))
    for number, later in enumerate(sets):
        for earlier in sets[:number]:
            apart = np.linalg.norm(later[:, None] - earlier, axis=-1)
            assert (apart >= APART).all()


def test_no_variant_is_made_up_where_the_deck_has_no_more_colours() -> None:
    found = screen(
        report_of(house_of(), deep=False), chips_of(one=FEW["sage"]), "fan", Asked(1, NOTHING)
    )
    assert len(done(found)) == 1


def test_roles_are_served_by_their_own_paints_and_the_screening_is_told() -> None:
    house = small_house()
    chips = all_chips(notation_deck())
    found = screen(report_of(house, deep=False), chips, "notation", Asked(4, NOTHING), 8)
    assert {role: len(rows) for role, rows in found.shortlist.rows.items()} == {
        "backbone": 8, None: 8,
    }  # fmt: skip
    lrvs = chips.lrv[list(found.shortlist.rows["backbone"])]
    assert ((lrvs >= 55) & (lrvs < 75)).all()
    assert found.told.startswith(f"weighed of {len(chips):,} paints: 8 of")


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (Asked(own=frozenset({"nope"})), "no paint"),
        (Asked(keep=frozenset({"attic"})), "no room"),
        (Asked(keep=frozenset({"r0000", "r0001", "r0002", "r0003"})), "no room to paint"),
    ],
)
def test_what_cannot_be_is_told(asked: Asked, words: str) -> None:
    with pytest.raises(EditError, match=words):
        screened(house_of(), replace(asked, keep=asked.keep or NOTHING))


@pytest.mark.parametrize("deep", [False, True])
def test_no_light_trim_of_the_deck_costs_less_than_the_one_chosen(deep: bool) -> None:  # noqa: FBT001 - drawn
    report, chips = report_of(house_of(), deep=deep), all_chips(random_paints(200))
    best = best_trim(report, [*report.house.rooms], chips, "fan")
    assert best is not None
    options = options_of(report.house, chips, "fan")
    costs = GroupTrial(report, (*report.house.rooms,), "trim").costs(options, deep=deep)
    light = chips.colours.near_neutral & (chips.lrv >= LIGHT)
    chosen = chips.rows[best.chip]
    assert costs[chosen] == pytest.approx(best.cost)
    assert costs[chosen] + LIGHT_WORTH * 4 * (not light[chosen]) <= costs[light].min() + CALM_WORTH


def roleless_house(seed: int) -> House:
    """The demo house with other floors and trim, and rooms that may all have any paint."""
    house = repainted_house(seed)
    rooms = {key: replace(room, role=None, accents={}) for key, room in house.rooms.items()}
    rooms = {k: replace(r, paints=replace(r.paints, walls=None)) for k, r in rooms.items()}
    return replace(house, rooms=rooms)


@pytest.mark.parametrize("seed", range(4))
def test_one_paint_for_all_rooms_is_the_best_of_the_whole_deck_however_few_were_screened(
    seed: int,
) -> None:
    """Each colour is held against every paint of the deck; with one colour that is a proof."""
    report, chips = report_of(roleless_house(seed)), all_chips(random_paints(150))
    found = screen(report, chips, "fan", Asked(1, keep=NOTHING, trim=False), 2)
    best = done(found)[0]
    options = options_of(found.report.house, chips, "fan")
    every = GroupTrial(found.report, found.source.rooms, "walls").costs(options, deep=True)
    assert best.settled
    assert best.progress.cost == pytest.approx(every.min() + PAINT_COST, abs=0.05)


def test_paints_that_join_make_the_palette_cheaper_than_the_screened_ones_can() -> None:
    chips, cheaper = all_chips(random_paints(200)), []
    for seed in range(4):
        report = report_of(roleless_house(seed), deep=False)
        found = screen(report, chips, "fan", Asked(3, keep=NOTHING), 3)
        best, problem = done(found)[0], found.problem()
        assert problem is not None
        assert best.progress.cost <= solve(problem).cost + 1e-9
        cheaper.append(best.progress.cost < solve(problem).cost)
        ids = [*best.screened.ids.values()]
        assert len(set(ids)) == len(ids)
    assert any(cheaper)


def test_a_search_that_is_stopped_keeps_its_first_choice_and_gets_a_trim() -> None:
    report, chips = report_of(roleless_house(1)), all_chips(random_paints(200))
    found, state = screen(report, chips, "fan", Asked(3, keep=NOTHING), 3), {"stopped": False}

    def once(problem: Problem) -> Iterator[Progress]:
        if not state["stopped"]:
            state["stopped"] = True
            yield solve(problem)

    [best] = [p for p in palettes(found, once, stopped=lambda: state["stopped"]) if p.done]
    assert not best.settled
    assert best.trim is not None
    assert best.screened is found, "nothing joined"
