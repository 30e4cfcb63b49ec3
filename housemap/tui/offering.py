"""Palettes for a house looked for in a deck, beside the screen. No Textual."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Protocol

from housemap.errors import HousemapError
from housemap.file.decks import DeckFile
from housemap.tui.render.proposing import Offer, Offers, Part

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.deck.chips import Chips
    from housemap.choose.optimiser.problem import Problem, Progress
    from housemap.choose.palettes.asked import Asked
    from housemap.choose.palettes.palette import Palette
    from housemap.study import Swatch


class Stoppable(Protocol):
    """A search that may be stopped meanwhile."""

    @property
    def stopped(self) -> bool: ...

    def __call__(self, problem: "Problem") -> "Iterable[Progress]": ...


def offers_of(
    base: "Report",
    deck: DeckFile,
    chips: "Chips | None",
    asked: "Asked",
    search: "Stoppable",
) -> Iterator[Offers]:
    """Every palette as it comes; the last is told as not running, or says what is wrong."""
    from housemap.choose.palettes.palette import palettes  # noqa: PLC0415 - in the thread
    from housemap.choose.palettes.screened import screen  # noqa: PLC0415

    offers = Offers(deck.name)
    try:
        screened = screen(base, chips or _chips_of(deck), deck.name, asked)
        yield (offers := Offers(deck.name, screened.told))
        for palette in palettes(screened, search, stopped=lambda: search.stopped):
            known = (*offers.offers[: palette.number], _offer(base, palette))
            yield (offers := Offers(deck.name, palette.screened.told, known))
    except HousemapError as error:
        yield Offers(deck.name, fault=str(error).partition("\n")[0], running=False)
        return
    fault = "" if offers.offers else "no palette keeps to what is asked"
    yield Offers(deck.name, offers.told, offers.offers, fault, running=False)


def _chips_of(deck: DeckFile) -> "Chips":
    from housemap.choose.deck.chips import all_chips  # noqa: PLC0415 - in the thread
    from housemap.deck.notation_deck import notation_deck  # noqa: PLC0415
    from housemap.file.decks import read_deck_file  # noqa: PLC0415

    return all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))


def _offer(base: "Report", palette: "Palette") -> Offer:
    parts = tuple(_parts(palette))
    if not palette.done:
        return Offer(palette.progress, palette.house, parts)
    report = base.after(palette.house)
    findings = len(base.findings), len(report.findings)
    return Offer(
        palette.progress, palette.house, parts, findings, report, palette.settled
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
