"""`housemap fill --deck`: palettes for the house out of a deck."""

import sys
from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from housemap.cli.command import DONE
from housemap.cli.fill import told_of
from housemap.cli.output import print_json, rounded, table
from housemap.cli.written import remember

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.palettes.asked import Asked
    from housemap.choose.palettes.palette import Palette
    from housemap.model.house import House


def run_deck(arguments: Namespace) -> int:
    from housemap.checks import report_of
    from housemap.choose.optimiser.solve import solve
    from housemap.choose.palettes.palette import palettes
    from housemap.choose.palettes.screened import screen
    from housemap.cli.reading import deck_chips, one_house

    deck, chips = deck_chips(arguments.deck)
    report = one_house(arguments.file, report_of)
    screened = screen(report, chips, deck.name, _asked(arguments, report.house))
    search = lambda problem: [solve(problem, seconds=arguments.seconds)]  # noqa: E731 - of one line
    found = [palette for palette in palettes(screened, search) if palette.done]
    if arguments.out and found:
        from housemap.file import save_house

        save_house(found[0].house, arguments.out)
        remember(arguments.out)
    if arguments.json:
        each = [_as_json(palette) for palette in found]
        told = found[-1].screened.told if found else screened.told
        print_json(rounded({"told": told, "palettes": each}))
    else:
        print("\n".join(_lines(report, found)))
        if arguments.out and found:
            print(f"palette 1 written to {arguments.out}", file=sys.stderr)
    return DONE


def _asked(arguments: Namespace, house: "House") -> "Asked":
    """A pin names a paint of the file, else one of the deck."""
    from housemap.choose.palettes.asked import Asked

    own = frozenset(arguments.pin) & house.paints.keys()
    keep = None if arguments.keep is None else frozenset(arguments.keep)
    return Asked(arguments.paints, keep, own, frozenset(arguments.pin) - own)


def _lines(report: "Report", found: "list[Palette]") -> Iterator[str]:
    for palette in found:
        yield f"palette {palette.number + 1}: {told_of(palette.progress)}"
        yield from table(_rows(palette))
        after = report.after(palette.house)
        yield f"  findings {len(report.causes)} -> {len(after.causes)}"
        yield f"  {palette.screened.told}"
        if palette.settled:
            yield "  no paint of the deck that suits its rooms costs less in place of one of these"
    if not found:
        yield "no choice found that keeps to the limit in the time given"
    yield "a bound holds for the paints that were weighed, not for the whole deck"


def _rows(palette: "Palette") -> Iterator[tuple[str, ...]]:
    house = palette.house
    for paint, share in palette.shares.items():
        rooms = [r.name for r in house.rooms.values() if r.paints.walls == paint]
        yield f"  {house.paints[paint].name}", f"{100 * share:.0f} %", ", ".join(rooms) or "pinned"
    if palette.trim is not None:
        yield f"  {house.paints[palette.trim].name}", "", "trim"


def _as_json(palette: "Palette") -> dict[str, Any]:
    from housemap.choose.optimiser.problem import to_json

    progress = palette.progress
    return {
        "assignment": {room: progress.assignment[room] for room in palette.house.rooms
                       if room in progress.assignment},
        "trim": palette.trim,
        "names": {p: palette.house.paints[p].name for p in (*palette.shares, palette.trim) if p},
        "shares": dict(palette.shares),
        "cost": progress.cost,
        "bound": progress.bound,
        "proven": progress.gap == 0.0,
        "settled": palette.settled,
        "seconds": progress.seconds,
        "problem": to_json(palette.problem),
    }  # fmt: skip
