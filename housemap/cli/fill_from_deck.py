"""`housemap fill --deck`: palettes for the house out of a deck."""

import sys
import time
from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from housemap.cli.command import DONE
from housemap.cli.fill import (
    LEAST_SECONDS,
    describe,
    findings_line,
    rules_json,
    show_progress,
)
from housemap.cli.output import print_json, rounded, table
from housemap.cli.written import remember
from housemap.errors import InputError, Problem

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.deck.chips import Chips
    from housemap.choose.optimiser import problem as asked
    from housemap.choose.optimiser.problem import Progress
    from housemap.choose.palettes.palette import Palette
    from housemap.choose.palettes.request import PaletteRequest


LAST_SECONDS = 1.0
"""So shortly before the end no further palette is begun, and the trim is chosen quickly."""


def run_deck(arguments: Namespace) -> int:
    from housemap.checks import report_of
    from housemap.choose.palettes.palette import palettes
    from housemap.choose.palettes.screened import screen
    from housemap.cli.reading import deck_chips, one_house

    end = time.monotonic() + arguments.seconds
    deck, chips = deck_chips(arguments.deck)
    report = one_house(arguments.file, report_of)
    screened = screen(report, chips, deck.name, _request(arguments, report, chips))
    over = lambda: time.monotonic() >= end - LAST_SECONDS  # noqa: E731 - of one line
    made = palettes(screened, _Search(end), stopped=over)
    found = [palette for palette in made if palette.done]
    if arguments.out and found:
        from housemap.file import save_house

        save_house(found[0].house, arguments.out)
        remember(arguments.out)
    if arguments.json:
        told = found[-1].screened.told if found else screened.told
        each = [_as_json(report, palette) for palette in found]
        print_json(rounded({"told": told, "palettes": each}))
    else:
        print("\n".join(_lines(report, found)))
        if arguments.out and found:
            print(f"palette 1 written to {arguments.out}", file=sys.stderr)
    return DONE


class _Search:
    """Searches that share the time: each may take half of what is left."""

    def __init__(self, end: float) -> None:
        self.end = end

    def __call__(self, problem: "asked.Problem") -> "list[Progress]":
        from housemap.choose.optimiser.solve import solve

        left = (self.end - time.monotonic()) / 2
        seconds = max(left, LEAST_SECONDS)
        return [solve(problem, seconds=seconds, progress=show_progress)]


def _request(arguments: Namespace, report: "Report", chips: "Chips") -> "PaletteRequest":
    """A pin, or the paint to build around, is one of the file, else one of the deck."""
    from housemap.choose.palettes.request import PaletteRequest

    own = frozenset(arguments.pin) & report.house.paints.keys()
    keep = None if arguments.keep is None else frozenset(arguments.keep)
    around = None
    if arguments.around is not None:
        if arguments.around in report.house.paints:
            around = report.study.paint(arguments.around)
        elif arguments.around in chips.rows:
            around = chips.swatch(arguments.around)
        else:
            raise InputError([Problem(f'there is no paint "{arguments.around}" to build around')])
    return PaletteRequest(
        paints=arguments.paints,
        keep=keep,
        own=own,
        chips=frozenset(arguments.pin) - own,
        around=around,
        kind=arguments.kind,
    )


def _lines(report: "Report", found: "list[Palette]") -> Iterator[str]:
    from housemap.choose.schemes.house_rules import broken_wishes

    for palette in found:
        yield f"palette {palette.number + 1}: {describe(palette.progress, palette.compared)}"
        yield from table(_rows(palette))
        after = report.after(palette.house)
        yield f"  {findings_line(report, after)}"
        yield from (f"  not kept: {words}" for words in broken_wishes(after.study))
        yield f"  {palette.screened.told}"
    if not found:
        yield "no suggestion in the time given: allow more seconds, or more wall paints"


def _rows(palette: "Palette") -> Iterator[tuple[str, ...]]:
    house = palette.house
    for paint, share in palette.shares.items():
        rooms = [r.name for r in house.rooms.values() if r.paints.walls == paint]
        yield (
            f"  {house.paints[paint].name}",
            f"{100 * share:.0f} %",
            ", ".join(rooms) or "not used",
        )
    if palette.trim is not None:
        yield f"  {house.paints[palette.trim].name}", "", "trim"


def _as_json(report: "Report", palette: "Palette") -> dict[str, Any]:
    from housemap.choose.optimiser.problem import to_json
    from housemap.choose.schemes.house_rules import broken_wishes

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
        "seconds": progress.seconds,
        "problem": to_json(palette.problem),
        "brief": {"broken": list(broken_wishes(report.after(palette.house).study))},
        "rules": rules_json(palette.rules),
    }  # fmt: skip
