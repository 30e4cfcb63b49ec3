"""Ten neutrals, each the start of a scheme in five houses: what a suggestion from a deck comes to.

    python -m tests.benchmarks.neutrals

Prints a line for each: problems, whether that is proven, findings above a note, LRV and chroma of
the trim, how many wall paints, and each wish that is not kept.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.house_rules import broken_wishes
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import Palette, palettes
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.house import House, Role, SurfacePaints
from tests.support.houses import grid_house, small_house
from tests.support.project import ROOT

NEUTRALS = (
    "10yr-7-1", "5y-8-1", "2-5y-7-5-1-5", "5yr-6-5-1", "10r-7-1", "5pb-7-1", "5b-7-5-1",
    "10g-6-5-1", "n-7", "5rp-8-5-1",
)  # fmt: skip
FIVE: Sequence[Role | None] = ("backbone", "room", "room", "accent", "room")
EIGHT: Sequence[Role | None] = ("backbone", "room", None, "room", "room", "accent", "room", "room")
SECONDS = 5.0


def bare(house: House) -> House:
    """Without paint and samples."""
    rooms = {k: replace(r, paints=SurfacePaints(), accents={}) for k, r in house.rooms.items()}
    return replace(house, samples={}, rooms=rooms)


def with_roles(house: House, roles: Sequence[Role | None]) -> House:
    rooms = enumerate(house.rooms.items())
    return replace(house, rooms={k: replace(r, role=roles[i % len(roles)]) for i, (k, r) in rooms})


def houses() -> Mapping[str, House]:
    demo = read_house(ROOT / "demo_house.toml")
    dark = {key: replace(room, lamps={}) for key, room in demo.rooms.items()}
    return {
        "two rooms": small_house(),
        "five rooms": with_roles(grid_house(5, columns=3), FIVE),
        "eight rooms": with_roles(grid_house(8, columns=4), EIGHT),
        "demo": demo,
        "demo by day": replace(demo, rooms=dark),
    }


def search(problem: Problem) -> Iterator[Progress]:
    yield solve(problem, seconds=SECONDS)


def suggestion(report: Report, chips: Chips, neutral: str) -> Palette:
    """The first palette around a paint of the deck, for all rooms."""
    asked = PaletteRequest(keep=frozenset(), around=chips.swatch(neutral))
    *_, best = palettes(screen(report, chips, "notation", asked), search, most=1)
    return best


def above_a_note(report: Report) -> Counter[str]:
    """Findings above a note, by check; a printed LRV is not the suggestion's."""
    found = (f for cause in report.causes for f in cause.findings)
    return Counter(f.check for f in found if f.severity != "note" and f.check != "label")


def main() -> None:
    chips = all_chips(notation_deck())
    for name, house in houses().items():
        report = report_of(bare(house))
        for neutral in NEUTRALS:
            best = suggestion(report, chips, neutral)
            after = report.after(best.house)
            assert best.trim is not None
            trim = after.study.paint(best.trim)
            proven = "" if best.progress.gap else " proven"
            figures = f"trim {trim.lrv:.0f}/{trim.colour.notation.chroma:.1f}"
            print(
                f"{name}, {neutral}: {best.progress.cost:.1f}{proven}, {dict(above_a_note(after))},"
                f" {figures}, {len(best.shares)} paints, {broken_wishes(after.study)}",
                flush=True,
            )


if __name__ == "__main__":
    main()
