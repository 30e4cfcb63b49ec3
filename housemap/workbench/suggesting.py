"""Suggestions for a house: palettes out of a deck, as they are found."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from housemap.errors import HousemapError
from housemap.file.deck_file import DeckFile

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.chips import Chips
    from housemap.choose.optimiser.problem import Problem, Progress
    from housemap.choose.schemes.shortlist import PaletteRequest
    from housemap.choose.schemes.suggestion import Palette
    from housemap.model.house import House
    from housemap.study import Swatch


@dataclass(frozen=True, slots=True)
class Part:
    """One paint of a palette."""

    paint: str
    """Its id in the palette's house."""
    chip: str | None
    """Its id in the deck; None for a paint that the house had."""
    name: str
    hex: str
    """Under the reference light."""
    lrv: float
    share: float
    """Of the wall area."""
    rooms: int
    """Whose walls have it."""
    trim: bool = False


@dataclass(frozen=True, slots=True)
class Offer:
    """One palette, as far as it has come."""

    progress: "Progress"
    house: "House"
    parts: tuple[Part, ...]
    findings: tuple[int, int] | None = None
    """Before and after, once reported."""
    report: "Report | None" = None
    """Of the house so painted."""


@dataclass(frozen=True, slots=True)
class Offers:
    """All palettes that are known."""

    deck: str = ""
    told: str = ""
    """What was screened."""
    offers: tuple[Offer, ...] = ()
    fault: str = ""
    """Why there is nothing to choose."""
    running: bool = True

    def shown(self, number: int) -> Offer | None:
        return self.offers[number] if number < len(self.offers) else None


class Stoppable(Protocol):
    """A search that may be stopped meanwhile."""

    @property
    def stopped(self) -> bool: ...

    def __call__(self, problem: "Problem") -> "Iterable[Progress]": ...


def offers_of(
    base: "Report",
    deck: DeckFile,
    chips: "Chips | None",
    asked: "PaletteRequest",
    search: "Stoppable",
) -> Iterator[Offers]:
    """Every palette as it comes; the last is told as not running, or says what is wrong."""
    from housemap.choose.schemes.shortlist import screen  # noqa: PLC0415
    from housemap.choose.schemes.suggestion import palettes  # noqa: PLC0415 - in the thread

    offers = Offers(deck.name)
    try:
        screened = screen(base, chips or chips_of(deck), deck.name, asked)
        yield (offers := Offers(deck.name, screened.told))
        for palette in palettes(screened, search, stopped=lambda: search.stopped):
            known = (*offers.offers[: palette.number], _offer(base, palette))
            yield (offers := Offers(deck.name, palette.screened.told, known))
    except HousemapError as error:
        yield Offers(deck.name, fault=str(error).partition("\n")[0], running=False)
        return
    fault = "" if offers.offers else "no palette keeps to what is asked"
    yield Offers(deck.name, offers.told, offers.offers, fault, running=False)


def chips_of(deck: DeckFile) -> "Chips":
    """The paints of a deck with their colours; a second for some thousand. Raises InputError."""
    from housemap.choose.chips import all_chips  # noqa: PLC0415 - in the thread
    from housemap.deck.notation_deck import notation_deck  # noqa: PLC0415
    from housemap.file.deck_file import read_deck_file  # noqa: PLC0415

    return all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))


def _offer(base: "Report", palette: "Palette") -> Offer:
    parts = tuple(_parts(palette))
    if not palette.done:
        return Offer(palette.progress, palette.house, parts)
    report = base.after(palette.house)
    findings = len(base.causes), len(report.causes)
    return Offer(
        palette.progress, palette.house, parts, findings, report
    )  # fmt: skip


def _parts(palette: "Palette") -> Iterator[Part]:
    screened = palette.screened
    for paint, share in palette.shares.items():
        yield _part(palette, paint, screened.report.study.paint(paint), share)
    if palette.trim is not None:
        swatch = screened.source.chips.swatch(palette.from_deck[palette.trim])
        yield _part(palette, palette.trim, swatch, 0.0, trim=True)


def _part(
    palette: "Palette", paint: str, swatch: "Swatch", share: float, *, trim: bool = False
) -> Part:
    rooms = sum(room.paints.walls == paint for room in palette.house.rooms.values())
    chip, tone = palette.from_deck.get(paint), swatch.colour.srgb_hex
    return Part(paint, chip, swatch.name, tone, swatch.lrv, share, rooms, trim)
