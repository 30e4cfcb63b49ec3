"""A palette from a deck: least costly of what was screened, pins kept, nothing overwritten."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.rank import options_of
from housemap.choose.schemes import shortlist
from housemap.choose.schemes.shortlist import APART, PaletteRequest, Screened, screen
from housemap.choose.schemes.suggestion import Palette, best_trim, palettes
from housemap.choose.surface_trial import group_costs
from housemap.colorimetry.facts import colour_facts
from housemap.deck.notation_deck import notation_deck
from housemap.errors import EditError, InputError
from housemap.model.edits import assign, put
from housemap.model.house import Brief, House, Lab, Notation, Paint
from tests.choose.support.oracles import allows
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


def screened(house: House, asked: PaletteRequest) -> Screened:
    return screen(report_of(house, deep=False), chips_of(**FEW), "fan", asked)


def narrowed(most: int, report: Report, chips: Chips, asked: PaletteRequest) -> Screened:
    """With so few paints compared for a room."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(shortlist, "SHORTLIST", most)
        return screen(report, chips, "fan", asked)


def solved(problem: Problem) -> Iterator[Progress]:
    yield solve(problem)


def done(screened_: Screened) -> list[Palette]:
    return [palette for palette in palettes(screened_, solved) if palette.done]


def allowed_costs(screened_: Screened) -> Iterator[float]:
    """Of every choice of the screened paints that keeps to the limit and has the pinned ones."""
    made = screened_.problem(screened_.report)
    assert made is not None
    problem = made.problem
    for paints in product(*(problem.candidates[room] for room in problem.rooms)):
        assignment = dict(zip(problem.rooms, paints, strict=True))
        if allows(problem, assignment):
            yield problem.cost(assignment)


@pytest.mark.parametrize("paints", [1, 2, 3, None])
@pytest.mark.parametrize("chips", [NOTHING, frozenset({"rose"})])
def test_no_choice_of_the_screened_paints_costs_less(
    paints: int | None, chips: frozenset[str]
) -> None:
    found = screened(house_of(), PaletteRequest(paints, keep=NOTHING, chips=chips))
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
    asked = PaletteRequest(limit, NOTHING, frozenset(own), frozenset(pins))
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
    found = screened(house_of(), PaletteRequest(1, keep=NOTHING, chips=frozenset({"slate"})))
    best = done(found)[0]
    assert [best.from_deck[paint] for paint in best.shares] == ["slate"]
    two = screened(house_of(), PaletteRequest(2, NOTHING, frozenset({"p03"}), frozenset({"slate"})))
    assert {*done(two)[0].shares} == {"p03", "slate"}


def test_more_pinned_paints_than_are_allowed_are_refused() -> None:
    pins = frozenset({"slate", "rose"})
    with pytest.raises(InputError):
        done(screened(house_of(), PaletteRequest(1, keep=NOTHING, chips=pins)))


def test_the_house_gets_the_paints_that_are_used_and_no_others() -> None:
    house = house_of()
    best = done(screened(house, PaletteRequest(2, keep=NOTHING)))[0]
    new = {*best.house.paints} - {*house.paints}
    assert new == ({*best.shares} | {best.trim}) - {*house.paints}
    assert all(best.house.paints[paint].deck == "fan" for paint in new)
    used = {room.paints.walls for room in best.house.rooms.values()}
    assert used <= {*best.shares}
    assert {room.paints.trim for room in best.house.rooms.values()} == {best.trim}


def test_kept_rooms_stay_as_they_are_and_count() -> None:
    house = assign(house_of(), "r0001", "trim", "p02")
    asked = PaletteRequest(2, keep=frozenset({"r0001"}))
    best = done(screened(house, asked))[0]
    assert best.house.rooms["r0001"] == house.rooms["r0001"]
    assert house.rooms["r0001"].paints.walls in best.shares
    assert len(best.shares) <= 2


def test_the_trim_stays_where_none_is_asked_for() -> None:
    house = assign(house_of(), "r0001", "trim", "p02")
    best = done(screened(house, PaletteRequest(2, keep=NOTHING, trim=False)))[0]
    assert best.trim is None
    assert best.house.rooms["r0001"].paints.trim == "p02"


def test_every_variant_differs_from_those_before_in_each_paint_that_it_brings_in() -> None:
    """But for the paint that all are built around, and for the backbone."""
    chips = all_chips(random_paints(300))
    asked = PaletteRequest(4, keep=NOTHING)
    house = house_of()
    house = replace(house, rooms={k: replace(r, role="room") for k, r in house.rooms.items()})
    found = done(screen(report_of(house, deep=False), chips, "fan", asked))
    assert [palette.screened.plan.kind for palette in found] == [*found[0].screened.source.kinds]
    around = found[0].screened.source.around
    assert around is not None
    sets = []
    for palette in found:
        new = [p for p in palette.shares if palette.house.paints[p].name != around.name]
        facts = colour_facts([palette.house.paints[paint].colour for paint in new])
        sets.append(np.array([one.ucs for one in facts]).reshape(-1, 3))
    for number, later in enumerate(sets):
        for earlier in sets[:number]:
            apart = np.linalg.norm(later[:, None] - earlier, axis=-1)
            assert (apart >= APART).all()


def test_no_variant_is_made_up_where_the_deck_has_no_more_colours() -> None:
    found = screen(
        report_of(house_of(), deep=False),
        chips_of(one=FEW["sage"]),
        "fan",
        PaletteRequest(1, NOTHING),
    )
    assert len(done(found)) == 1


def test_roles_are_served_by_their_own_paints_and_what_was_compared_is_said() -> None:
    chips = all_chips(notation_deck())
    report = report_of(small_house(), deep=False)
    found = narrowed(8, report, chips, PaletteRequest(4, NOTHING))
    for room, rows in found.rows.items():
        assert len(rows) == 8
        lrvs = chips.lrv[list(rows)[1:]]  # the first is what the scheme is built around
        low = 55 if report.house.rooms[room].role == "backbone" else 40
        assert ((lrvs >= low) & (lrvs <= 75)).all()
    assert found.summary.startswith(f"Shortlisted {len(found.ids)} of {len(chips):,} paints")


def test_a_palette_is_built_around_the_paint_asked_for_in_the_kind_asked_for() -> None:
    chips = all_chips(notation_deck())
    around = chips.swatch("2-5y-7-5-1-5")
    asked = PaletteRequest(4, NOTHING, around=around, kind="tonal")
    found = screen(report_of(house_of(), deep=False), chips, "notation", asked)
    best = done(found)[0]
    assert found.source.kinds == ("tonal",)
    assert all(chips.rows[around.id] in rows for rows in found.rows.values())
    for paint in best.shares:
        notation = colour_facts([best.house.paints[paint].colour])[0].notation
        assert notation.chroma < 0.5 or abs(notation.hue100 - 22.5) * 3.6 <= 20


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (PaletteRequest(own=frozenset({"nope"})), "no paint"),
        (PaletteRequest(keep=frozenset({"attic"})), "no room"),
        (PaletteRequest(keep=frozenset({"r0000", "r0001", "r0002", "r0003"})), "no room to paint"),
    ],
)
def test_what_cannot_be_is_told(asked: PaletteRequest, words: str) -> None:
    with pytest.raises(EditError, match=words):
        screened(house_of(), replace(asked, keep=asked.keep or NOTHING))


@pytest.mark.parametrize("deep", [False, True])
def test_no_trim_that_was_compared_costs_less_than_the_one_chosen(deep: bool) -> None:  # noqa: FBT001 - drawn
    report, chips = report_of(house_of(), deep=deep), all_chips(notation_deck())
    rooms = [*report.house.rooms]
    best = best_trim(report, rooms, chips, "fan")
    assert best is not None
    _, chip, _ = best
    chosen = chips.swatch(chip)
    assert chosen.lrv >= 80
    assert chosen.colour.notation.chroma <= 1.5
    near = np.flatnonzero((chips.lrv >= 80) & (chips.hvc[:, 2] <= 1.5))[::9]
    options = options_of(report.house, chips, "fan").rows(np.append(near, chips.rows[chip]))
    costs = group_costs(report, rooms, "trim", options, grave=0.0)
    assert costs[-1] <= costs.min() + 0.5 * len(rooms) + 1e-6  # off the best of the tier at most


def test_trim_does_not_lean_to_a_hue_to_avoid() -> None:
    whites = {key: Paint(text, Notation(text)) for key, text in WHITES.items()}
    for avoid, wanted in ((("pink",), "yellowish"), (("yellow",), "pinkish")):
        house = replace(house_of(), brief=Brief(avoid=avoid))
        best = best_trim(report_of(house, deep=False), [*house.rooms], all_chips(whites), "fan")
        assert best is not None
        assert best[1] == wanted


WHITES = {"pinkish": "7.5R 9/1", "yellowish": "5Y 9/1"}
"""Pinkish white and yellowish white (NBS SP 440)."""


def test_trim_may_have_any_colour_where_the_brief_says_so() -> None:
    house = replace(house_of(), brief=Brief(white_trim=False))
    best = best_trim(report_of(house, deep=False), [*house.rooms], chips_of(**FEW), "fan")
    assert best is not None


def roleless_house(seed: int) -> House:
    """The demo house with other floors and trim, and rooms that may all have any paint."""
    house = repainted_house(seed)
    rooms = {key: replace(room, role=None, accents={}) for key, room in house.rooms.items()}
    rooms = {k: replace(r, paints=replace(r.paints, walls=None)) for k, r in rooms.items()}
    return replace(house, rooms=rooms)


@pytest.mark.parametrize("paints", [1, 2])
def test_so_few_paints_as_asked_for(paints: int) -> None:
    report, chips = report_of(roleless_house(1), deep=False), all_chips(random_paints(150))
    found = narrowed(6, report, chips, PaletteRequest(paints, keep=NOTHING, trim=False))
    best = done(found)[0]
    assert len({*best.walls.values()}) <= paints
    assert best.progress.gap == 0


def test_a_painted_house_keeps_the_hue_family_of_its_rooms_where_it_can() -> None:
    chips = all_chips(notation_deck())
    house = put(house_of(), "paints", "rose", Paint("Rose", FEW["rose"]))
    report = report_of(assign(house, "r0001", "walls", "rose"), deep=False)
    found = screen(report, chips, "notation", PaletteRequest(None, NOTHING))
    rules = {rule.name: rule for rule in done(found)[0].made.rules}
    assert found.plan.revised == {"r0001": "pink"}
    for room, costs in rules["revision"].own.items():
        assert set(costs.tolist()) <= {0.0, 1.0}
        assert room in found.plan.revised


def test_a_search_that_is_stopped_keeps_its_first_choice_and_gets_a_trim() -> None:
    report, chips = report_of(roleless_house(1)), all_chips(random_paints(200))
    found, state = (
        narrowed(3, report, chips, PaletteRequest(3, keep=NOTHING)),
        {"stopped": False},
    )

    def once(problem: Problem) -> Iterator[Progress]:
        if not state["stopped"]:
            state["stopped"] = True
            yield solve(problem)

    [best] = [p for p in palettes(found, once, stopped=lambda: state["stopped"]) if p.done]
    assert best.trim is not None
    assert best.screened is found


def test_a_palette_whose_time_is_over_is_not_bettered_and_the_next_has_time_of_its_own() -> None:
    report, chips = report_of(house_of(3)), all_chips(random_paints(200))
    found, searched, begun = narrowed(4, report, chips, PaletteRequest(3, keep=NOTHING)), [], []

    def search(problem: Problem) -> Iterator[Progress]:
        searched.append(problem)
        yield solve(problem)

    def begin() -> Callable[[], bool]:
        begun.append(len(searched))
        return lambda: True

    made = [p for p in palettes(found, search, begin=begin) if p.done]
    assert len(made) > 1
    assert all(palette.trim for palette in made)
    assert begun == [*range(len(begun))], "one search each"
