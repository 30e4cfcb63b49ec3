"""Suggestions for a house: out of its own paints or a deck, as they are found."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from threading import Event

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import Run
from housemap.choose.schemes.card import reason_for
from housemap.choose.schemes.house_rules import TITLES, broken_wishes
from housemap.choose.schemes.shape import Part
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import Palette, palettes
from housemap.deck.notation_deck import notation_deck
from housemap.errors import HousemapError
from housemap.file.deck_file import DeckFile, read_deck_file
from housemap.model.house import House
from housemap.study import Swatch
from housemap.workbench.schemes import LINKING

UNSAID = frozenset({"brief", "aim"})
"""Rules that are not listed where they are not kept: wishes are named each, and an aim is only
what is looked for."""


@dataclass(frozen=True, eq=False)
class PaintSource:
    """Where paints are suggested from."""

    name: str = ""
    """Of the deck; empty for the house's own paints."""
    deck: DeckFile | None = None
    chips: Chips | None = None
    """Some or all of the deck's paints, where they are known already."""

    def read(self, house: House) -> Chips:
        """The paints with their colours; a second for some thousand. Raises InputError."""
        if self.chips is not None:
            return self.chips
        return all_chips(house.paints) if self.deck is None else chips_of(self.deck)


def chips_of(deck: DeckFile) -> Chips:
    """The paints of a deck with their colours. Raises InputError."""
    return all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))


@dataclass(frozen=True, slots=True)
class SuggestedColour:
    """One paint of a suggestion."""

    paint: str
    """Its id in the suggested house."""
    chip: str | None
    """Its id in the deck; None for a paint that the house had."""
    swatch: Swatch
    part: Part
    share: float
    """Of the wall area."""
    rooms: tuple[str, ...]
    """Names of the rooms whose walls have it."""
    reason: str


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One suggestion, as far as it has come."""

    progress: Progress
    report: Report
    """Of the house so painted; by the reference light alone until it is done."""
    colours: tuple[SuggestedColour, ...]
    compared: int
    """How many paints."""
    told: str
    """What they were shortlisted from."""
    missed: tuple[str, ...] = ()
    """What it could not keep to, in words; known once it is done."""

    @property
    def house(self) -> House:
        return self.report.house


@dataclass(frozen=True, slots=True)
class Suggestions:
    """All that are known."""

    found: tuple[Suggestion, ...] = ()
    fault: str = ""
    """Why there is none."""
    running: bool = True


class Searching:
    """One search after the other in a process of its own; any thread may stop them."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._run: Run | None = None
        self._stopped = Event()

    @property
    def stopped(self) -> bool:
        return self._stopped.is_set()

    def __call__(self, problem: Problem) -> Iterator[Progress]:
        """How far the search has come, at last its answer; nothing once all was stopped."""
        if self.stopped:
            return
        with Run(problem, self._seconds) as run:
            self._run = run
            if self._stopped.is_set():  # meanwhile
                run.stop()
            yield from run.reports()

    def stop(self) -> None:
        """Keep the best so far, and begin no further search."""
        self._stopped.set()
        if self._run is not None:
            self._run.stop()

    def close(self) -> None:
        """Give all up."""
        self._stopped.set()
        if self._run is not None:
            self._run.close()


def suggest(
    base: Report, source: PaintSource, asked: PaletteRequest, search: Searching
) -> Iterator[Suggestions]:
    """Every suggestion as it comes; the last says that nothing runs any more, or what is wrong."""
    found: tuple[Suggestion, ...] = ()
    try:
        screened = screen(base, source.read(base.house), source.name, asked)
        for palette in palettes(screened, search, stopped=lambda: search.stopped):
            found = (*found[: palette.number], _suggestion(base, palette))
            yield Suggestions(found)
    except HousemapError as error:
        yield Suggestions(fault=str(error).partition("\n")[0], running=False)
        return
    yield Suggestions(found, "" if found else "No choice keeps to what is asked.", running=False)


def _suggestion(base: Report, palette: Palette) -> Suggestion:
    if palette.done:
        report = base.after(palette.house)
        missed = (*broken_wishes(report.study), *_broken_rules(palette))
    else:
        report, missed = report_of(palette.house, base, deep=False), ()
    colours = tuple(_colours(palette, report))
    told = palette.screened.told
    return Suggestion(palette.progress, report, colours, palette.compared, told, missed)


def _broken_rules(palette: Palette) -> Iterator[str]:
    """Each rule of a scheme that is not kept, and how often."""
    chosen, problem = palette.progress.assignment, palette.problem
    row = {room: problem.candidates[room].index(paint) for room, paint in chosen.items()}
    for rule in palette.rules:
        alone = sum(costs[row[room]] > 0 for room, costs in rule.own.items())
        pairs = sum(pair.cost[row[pair.rooms[0]], row[pair.rooms[1]]] > 0 for pair in rule.pairs)
        if rule.name not in UNSAID and alone + pairs:
            yield f"{TITLES[rule.name]} ({alone + pairs})"


def _colours(palette: Palette, report: Report) -> Iterable[SuggestedColour]:
    around = palette.screened.source.around
    shares = {**palette.shares, **({palette.trim: 0.0} if palette.trim else {})}
    swatches = {paint: report.study.paint(paint) for paint in shares}
    neutral = around or next(iter(swatches.values()))
    for paint, swatch in swatches.items():
        own = [room for room in report.house.rooms.values() if room.paints.walls == paint]
        part: Part = "room"
        if not own and paint == palette.trim:
            part = "trim"
        elif around and swatch.colour == around.colour:
            part = "neutral"
        elif any(room.role == "backbone" or room.use in LINKING for room in own):
            part = "backbone"
        elif own and all(room.role == "accent" for room in own):
            part = "accent"
        yield SuggestedColour(
            paint, palette.from_deck.get(paint), swatch, part, shares[paint],
            tuple(room.name for room in own), reason_for(part, swatch, neutral),
        )  # fmt: skip
