"""A room that names its hues gets one of them; nothing serious is brought in for a few warnings."""

from dataclasses import replace

from housemap.checks import report_of
from housemap.checks.wishes import liked
from housemap.choose.chips import all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import palettes
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import Brief, RoomBrief
from housemap.model.wishes import Wishes
from tests.support.project import DEMO

HUES = ("bluish green", "greenish blue")


def search(problem: Problem) -> list[Progress]:
    return [solve(problem, seconds=2.0)]


def test_a_room_that_names_its_hues_gets_one_out_of_a_shortlist_that_has_each_of_them() -> None:
    own = RoomBrief(strength="strong", like=HUES)
    house = replace(read_house(DEMO), brief=Brief(avoid=("pink",), rooms={"nursery": own}))
    chips = all_chips(notation_deck())
    screened = screen(
        report_of(house, deep=False), chips, "notation", PaletteRequest(keep=frozenset())
    )
    rows = [*screened.rows["nursery"]]
    for hue in HUES:
        some = [row for row in rows if liked(chips.colours, Wishes(like=frozenset({hue})))[row]]
        assert {2, 3} <= {int(chips.colours.strengths[row]) for row in some}, "moderate and strong"
    best = next(palette for palette in palettes(screened, search) if palette.done)
    after = screened.report.after(best.house)
    assert not [words for words in best.missed(after) if words.startswith("Nursery")]


def test_no_serious_finding_is_brought_in_to_be_rid_of_warnings() -> None:
    """A kept room in open plan without a place to stop has its colour, whatever that costs."""
    house = read_house(DEMO)
    rooms = {"living": RoomBrief(keep=True)}
    house = replace(assign(house, "dining", "walls", None), brief=Brief(rooms=rooms))
    assert any(
        {*way.between} == {"living", "dining"} and way.kind == "open" and not way.stop
        for way in house.openings.values()
    )
    chips = all_chips(notation_deck())
    screened = screen(report_of(house), chips, "notation", PaletteRequest())
    best = next(palette for palette in palettes(screened, search) if palette.done)
    found = screened.report.after(best.house)
    assert not [f for f in found.findings if f.severity == "fault" and "dining" in f.rooms]
