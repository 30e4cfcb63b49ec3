"""The number of wall colours in the brief is kept, or the first line says why it cannot be."""

from dataclasses import replace
from itertools import combinations

from housemap.checks import report_of
from housemap.choose.chips import all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.compare import too_few
from housemap.choose.schemes.shortlist import PaletteRequest, screen, usual_paints
from housemap.choose.schemes.suggestion import VARIANTS, Palette, palettes
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.house import Brief, House
from tests.choose.support.documented import apart, area
from tests.support.project import DEMO

KEPT = frozenset({"front-bedroom", "dressing-room", "garden-bedroom", "guest-room"})


def wished(colours: int) -> House:
    return replace(read_house(DEMO), brief=Brief("moderate", avoid=("pink",), colours=colours))


def search(problem: Problem) -> list[Progress]:
    return [solve(problem, seconds=2.0)]


def suggested(house: House, keep: frozenset[str]) -> tuple[Palette, tuple[str, ...]]:
    """The first palette, and what it could not keep to."""
    report = report_of(house, deep=False)
    chips = all_chips(notation_deck())
    screened = screen(report, chips, "notation", PaletteRequest(keep=keep))
    best = next(palette for palette in palettes(screened, search) if palette.done)
    return best, best.missed(report.after(best.house))


def wall_colours(house: House) -> set[str | None]:
    indoors = (room for room in house.rooms.values() if room.use != "outdoor")
    return {room.paints.walls for room in indoors} - {None}


def test_no_more_wall_colours_than_the_client_wants_those_of_kept_rooms_counted() -> None:
    best, missed = suggested(wished(5), KEPT)
    assert len(wall_colours(best.house)) <= 5
    assert not any("rooms you keep" in line for line in missed)
    passages = {best.house.rooms[room].paints.walls for room in ("hall", "stairs", "landing")}
    assert len(passages) == 1, "a hall, its stairs and their landing are one space"


def test_where_kept_rooms_have_more_the_first_line_says_so() -> None:
    house = wished(2)
    best, missed = suggested(house, KEPT)
    kept = {house.rooms[room].paints.walls for room in KEPT}
    assert wall_colours(best.house) == kept
    start = f"{len(kept)} wall colours"
    assert missed[0].startswith(start)
    assert missed[0].endswith(f"{len(kept)} of them in 4 rooms left as painted; at most 2 wished")


def test_the_number_to_begin_with_is_the_clients() -> None:
    assert usual_paints(wished(4), KEPT) == 4
    assert usual_paints(wished(2), KEPT) == 3
    assert usual_paints(replace(wished(2), brief=Brief()), KEPT) == 5


def test_suggestions_differ_on_a_quarter_of_the_walls_or_there_are_fewer_and_that_is_said() -> None:
    """With four rooms kept and five colours only one colour is left to choose."""
    report = report_of(wished(5), deep=False)
    screened = screen(report, all_chips(notation_deck()), "notation", PaletteRequest(5, KEPT))
    found = [palette for palette in palettes(screened, search) if palette.done]
    assert 1 < len(found) < VARIANTS
    assert too_few(len(found), VARIANTS, "suggestion").startswith(
        f"Only {len(found)} suggestions: "
    )
    assert [palette.number for palette in found] == [*range(len(found))]
    for one, other in combinations(found, 2):
        walls = [{r: p.screened.report.study.paint(x) for r, x in p.walls.items()}
                 for p in (one, other)]  # fmt: skip
        areas = {room: area(report, room) for room in walls[0]}
        apart_m2 = sum(areas[r] for r in areas if apart(walls[0][r], walls[1][r]) >= 8)
        assert apart_m2 >= 0.25 * sum(areas.values())
    assert not too_few(VARIANTS, VARIANTS, "suggestion")
