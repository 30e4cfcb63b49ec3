"""Neutrals, each the start of a scheme in several houses: what a suggestion from a deck comes to.

    python -m tests.benchmarks.neutrals          ten neutrals in five houses, the built-in deck
    python -m tests.benchmarks.neutrals odd      twelve others in seven odd houses, five odd decks
    python -m tests.benchmarks.neutrals chance 30 7    thirty by chance, of seed 7, in the five

Prints a line for each: problems, whether that is proven, trim, wall paints; then each bar that is
not kept and each wish that the program itself says is not kept. A bar counts as forced where an
exhaustive look, made here and not by the program, finds that nothing could have kept it: the
neutral on every wall in turn, every paint of the deck, every way to colour the rooms.
"""

import random
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from itertools import combinations, islice, product
from math import cos, radians, sin

import networkx as nx

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.sets import distinct_colours
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import Palette, palettes
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import (
    STRENGTHS,
    Brief,
    House,
    Lab,
    Lamp,
    Notation,
    Opening,
    Paint,
    Role,
    Sightline,
    SurfacePaints,
)
from housemap.study import Swatch
from tests.benchmarks.blind_sets import neutrals
from tests.choose.support.documented import apart, open_plan
from tests.support.chips import random_paints
from tests.support.houses import grid_house, small_house
from tests.support.project import ROOT

NEUTRALS = (
    "10YR 7/1", "5Y 8/1", "2.5Y 7.5/1.5", "5YR 6.5/1", "10R 7/1", "5PB 7/1", "5B 7.5/1",
    "10G 6.5/1", "N 7/", "5RP 8.5/1",
)  # fmt: skip
OTHERS = (
    "7.5YR 7.2/1.3", "2.5Y 8.7/1.2", "10BG 7.4/0.9", "7.5B 8/1.3", "7.5GY 7/0.9", "2.5G 8.3/1",
    "7.5R 7.8/1.1", "2.5YR 6.7/1.4", "2.5P 7.6/0.8", "10PB 6.6/0.9", "N 7.4/", "7.5Y 6.6/1.6",
)  # fmt: skip
FIVE: Sequence[Role | None] = ("backbone", "room", "room", "accent", "room")
EIGHT: Sequence[Role | None] = ("backbone", "room", None, "room", "room", "accent", "room", "room")
STAR: Sequence[Role | None] = ("backbone", "backbone", None, "room", None, "accent")
FOURTEEN: Sequence[Role | None] = ("backbone", "room", "room", "accent", "room", None, "room")
SECONDS = 5.0
FINE = {"backbone": (55, 75), "room": (40, 55), "accent": (5, 45), None: (40, 75)}


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


def odd_houses() -> Mapping[str, House]:
    one = with_roles(grid_house(1), (None,))
    lamps = {"pendant": Lamp(1400.0, 2700.0)}
    warm = with_roles(grid_house(6, columns=3), EIGHT)
    row = with_roles(grid_house(8, columns=8), EIGHT)
    dark = replace(row.rooms["r0001"], role="backbone", use="hall", windows={}, lamps=lamps)
    return {
        "open star": replace(with_roles(star(), STAR), brief=Brief(colours=4)),
        "row of eight": replace(row, brief=Brief(colours=5)),
        "two storeys": storeys(),
        "one room": replace(one, brief=Brief(colours=1)),
        "fourteen, three accents": with_roles(grid_house(14, columns=4), (*FOURTEEN, *FOURTEEN)),
        "hall without a window": replace(row, rooms={**row.rooms, "r0001": dark}),
        "lamps of 2700 K": replace(
            warm, rooms={key: replace(room, lamps=lamps) for key, room in warm.rooms.items()}
        ),
    }


def star() -> House:
    """One room with four around it, without a door or a place to stop."""
    house = grid_house(6, columns=3)
    return replace(
        house,
        openings={
            key: replace(each, kind="open", width_m=2.0) if "r0001" in each.between else each
            for key, each in house.openings.items()
        },
    )


def storeys() -> House:
    """Three rooms below, three above; a stair, and a void through which two more see each other."""
    house = grid_house(6, columns=3)
    rooms = {
        key: replace(room, level=number // 3, at_m=(0.0, 0.0) if number % 3 == 0 else None)
        for number, (key, room) in enumerate(house.rooms.items())
    }
    flat = {
        key: each for key, each in house.openings.items()
        if rooms[each.between[0]].level == rooms[each.between[1]].level
    }  # fmt: skip
    stairs = Opening(("r0000", "r0003"), "stairs")
    void = Sightline(("r0004", "r0001"), share=0.2)
    house = replace(house, rooms=rooms, openings={**flat, "stairs": stairs})
    asks = Brief(colours=4)
    return with_roles(replace(house, sightlines={"void": void}, brief=asks), FIVE)


@cache
def odd_decks() -> Mapping[str, Chips]:
    every, dice = list(notation_deck().values()), random.Random(11)
    paints = {
        "60 paints": dice.sample(every, 60),
        "only strong": [p for p in every if _chroma(p) >= 6.0],
        "no paint above LRV 75": [p for p in every if float(p.name.split("/")[0].split()[-1]) < 9],
        "900 by chance": list(random_paints(900, seed=7).values()),
        "lattice of CIELAB": list(lattice()),
    }
    return {
        name: all_chips({f"d{number}": paint for number, paint in enumerate(some)})
        for name, some in paints.items()
    }


def _chroma(paint: Paint) -> float:
    return float(paint.name.split("/")[1] or 0.0)


def lattice() -> Iterator[Paint]:
    """Lightness and chroma by tens, with a step of 5 near grey, hue by 20 degrees."""
    for light in (*range(20, 90, 10), 85, 90, 93):
        yield Paint(f"L{light} grey", Lab((light, 0.0, 0.0)))
        for chroma in (2, 5, 10, 20, 30):
            for hue in range(0, 360, 20):
                a, b = chroma * cos(radians(hue)), chroma * sin(radians(hue))
                if chroma < min(light, (100 - light) * 1.4):
                    yield Paint(
                        f"L{light} C{chroma} h{hue}", Lab((light, round(a, 1), round(b, 1)))
                    )


def search(problem: Problem) -> Iterator[Progress]:
    yield solve(problem, seconds=SECONDS)


def suggestion(report: Report, chips: Chips, neutral: Swatch) -> Palette:
    """The first palette around a paint, for all rooms."""
    asked = PaletteRequest(keep=frozenset(), around=neutral)
    made = palettes(screen(report, chips, "deck", asked), search)
    return next(palette for palette in made if palette.done)


def above_a_note(report: Report) -> Counter[str]:
    """Findings above a note, by check; a printed LRV, or a measure, is not the suggestion's."""
    found = (f for cause in report.causes for f in cause.findings)
    return Counter(f.check for f in found if f.severity != "note" and f.check not in NOT_OF_PAINT)


@dataclass(frozen=True)
class Suggested:
    """A suggestion around a neutral, and what it was made from."""

    before: Report
    chips: Chips
    neutral: Swatch
    best: Palette
    after: Report

    @cached_property
    def walls(self) -> Mapping[str, Swatch]:
        rooms = self.after.house.rooms.items()
        return {key: self.after.study.paint(r.paints.walls) for key, r in rooms if r.paints.walls}

    def off(self) -> Iterator[tuple[str, bool]]:
        """Each bar that it does not keep, in words, and whether that was forced."""
        house = self.after.house
        for key, own in self.walls.items():
            room, allowed = house.rooms[key], [*self.allowed(house.rooms[key].role)]
            low, high = FINE[room.role]
            if not low <= own.lrv <= high and own.name != self.neutral.name:
                yield f"{room.name} LRV {own.lrv:.0f}", not allowed
            if own.colour.strength > STRONGEST[room.role]:
                yield f"{room.name} {STRENGTHS[own.colour.strength]}", not allowed
        asked = min(house.brief.colours or 0, len(self.walls))
        if (found := distinct_colours([*self.walls.values()])) < asked:
            yield f"{found} of {asked} colours", found >= self.most_colours
        if self.neutral.name not in {own.name for own in self.walls.values()}:
            yield "the neutral is on no wall", False
        trim = self.best.trim and self.after.study.paint(self.best.trim)
        if not trim or not is_white(trim):
            yield "trim", not any(map(is_white, self.chips.swatches))
        for check, count in above_a_note(self.after).items():
            forced = {"fixed": self.fights_everywhere, "crowd": self.crowds_anyhow}
            yield f"{count} {check}", check in forced and forced[check]()

    def allowed(self, role: Role | None) -> Iterator[Swatch]:
        """Of the deck what is in the tier, and no stronger than usual."""
        low, high = FINE[role]
        for swatch in self.chips.swatches:
            if low <= swatch.lrv <= high and swatch.colour.strength <= STRONGEST[role]:
                yield swatch

    @property
    def most_colours(self) -> int:
        """That can differ: open plan is one colour, and so many paints that differ are allowed."""
        house = self.after.house
        spaces = {frozenset(open_plan(house, room)) for room in self.walls}
        roles = {house.rooms[room].role for room in self.walls}
        paints = {each.id: each for role in roles for each in self.allowed(role)}
        paints[self.neutral.id] = self.neutral
        if len(paints) > FEW_PAINTS:
            return len(spaces)
        differ: nx.Graph[str] = nx.Graph()
        differ.add_nodes_from(paints)
        differ.add_edges_from(
            (a, b) for a, b in combinations(paints, 2) if apart(paints[a], paints[b]) >= 8
        )
        return min(len(spaces), max(map(len, nx.find_cliques(differ))))

    def fights_everywhere(self) -> bool:
        """The neutral alone in a bare house fights with what is kept, whichever room it is in.

        And nothing else fights with it here.
        """
        house = self.before.house
        reports = (
            self.before.after(assign(house, room, "walls", "neutral")) for room in self.walls
        )
        around = {k for k, own in self.after.house.paints.items() if own.name == self.neutral.name}
        here = (
            p.paint for f in self.after.findings if f.check == "fixed" and f.severity != "note"
            for p in f.places if p.paint
        )  # fmt: skip
        return all(above_a_note(each)["fixed"] for each in reports) and around.issuperset(here)

    def crowds_anyhow(self) -> bool:
        """Every way to give the rooms so many colours has too many of them in some view."""
        house, rooms = self.after.house, [*self.walls]
        views = [[rooms.index(s.id) for s in v.rooms if s.id in rooms]
                 for v in self.after.study.views.values()]  # fmt: skip
        asked = house.brief.colours or 0
        return asked > CROWD and len(rooms) <= FEW_ROOMS and all(
            len({*ways}) < asked or any(len({ways[i] for i in view}) > CROWD for view in views)
            for ways in product(range(asked), repeat=len(rooms))
        )  # fmt: skip


NOT_OF_PAINT = {"label", "closing"}
CROWD, FEW_ROOMS, FEW_PAINTS = 4, 8, 60
STRONGEST = {role: STRENGTHS.index("moderate" if role == "accent" else "greyish") for role in FINE}


def is_white(swatch: Swatch) -> bool:
    return swatch.lrv >= 80 and swatch.colour.notation.chroma <= 1.5


def line(report: Report, chips: Chips, neutral: str, counts: Counter[str]) -> str:
    """What a suggestion around a neutral comes to; the neutral is a paint of the house."""
    best = suggestion(report, chips, report.study.paint("neutral"))
    after = report.after(best.house)
    assert best.trim is not None
    trim = after.study.paint(best.trim)
    proven = "" if best.progress.gap else " proven"
    figures = f"trim {trim.lrv:.0f}/{trim.colour.notation.chroma:.1f}, {len(best.shares)} paints"
    off = [*Suggested(report, chips, report.study.paint("neutral"), best, after).off()]
    bars = "; ".join(f"{bar}{' (forced)' if forced else ''}" for bar, forced in off)
    missed = [*filter(None, (*best.missed(after), best.unusual()))]
    kept = "kept" if not off else "forced" if all(forced for _, forced in off) else "missed"
    counts[f"{kept}, and said" if off and missed else kept] += 1
    said = "; ".join(missed) or "nothing"
    return f"{neutral}: {best.progress.cost:.1f}{proven}, {figures}: {bars or 'all'}. Said: {said}"


def main() -> None:
    what, *figures = sys.argv[1:] or ["ten"]
    odd, counts = what == "odd", Counter[str]()
    some: Sequence[str] = OTHERS if odd else NEUTRALS
    if figures:
        count, seed = map(int, figures)
        some = [*islice(neutrals(random.Random(seed)), count)]
    turns = list((odd_decks() if odd else {"notation": all_chips(notation_deck())}).items())
    for name, house in (odd_houses() if odd else houses()).items():
        for number, neutral in enumerate(some):
            own = Paint(neutral, Notation(neutral))
            report = report_of(replace(bare(house), paints={"neutral": own}))
            deck, chips = turns[number % len(turns)]
            print(f"{name}, {deck}, {line(report, chips, neutral, counts)}", flush=True)
    print("Bars: " + ", ".join(f"{count} {what}" for what, count in counts.most_common()))


if __name__ == "__main__":
    main()
