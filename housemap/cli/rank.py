"""`housemap rank`: the paints of the file, or of a deck, for one room, best first."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from housemap.checks import report_of
from housemap.choose.rank import Candidate, rank, rank_deck
from housemap.cli.command import DONE, Command
from housemap.cli.output import print_json, rounded, swatch, table
from housemap.cli.reading import deck_chips, one_house
from housemap.model.house import SURFACES
from housemap.study import Swatch


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a house file")
    parser.add_argument("room", metavar="ROOM", help="the id of a room in it")
    parser.add_argument(
        "--surface",
        type=_surface,
        default="walls",
        help=f'{", ".join(SURFACES)}, or one wall: "accent n" (default: walls)',
    )
    parser.add_argument(
        "--deck",
        metavar="DECK",
        help="rank the paints of a deck instead: its name, or the path of a deck or house file",
    )


def _surface(text: str) -> str:
    """Whether the room has such a wall is told later."""
    if text in SURFACES or text.startswith("accent "):
        return text
    raise ArgumentTypeError(f'must be {", ".join(SURFACES)} or "accent WALL", found {text!r}')


def _run(arguments: Namespace) -> int:

    if arguments.deck is not None:
        return _run_deck(arguments)
    report = one_house(arguments.file, report_of)
    candidates = rank(report, arguments.room, arguments.surface)
    if arguments.json:
        found = [_as_json(candidate) for candidate in candidates]
        words = {"room": arguments.room, "surface": arguments.surface}
        print_json(rounded({**words, "candidates": found}))
    else:
        study = report.study
        named = [(_shown(study.paint(one.paint)), one) for one in candidates if one.paint]
        print("\n".join(table(_rows(named, len(report.findings)))))
    return DONE


def _run_deck(arguments: Namespace) -> int:

    deck, chips = deck_chips(arguments.deck)
    report = one_house(arguments.file, report_of)
    ranking = rank_deck(report, arguments.room, arguments.surface, chips, deck.name)
    if arguments.json:
        found = [_as_json(one) for one in ranking.best]
        words = {"room": arguments.room, "surface": arguments.surface, "told": ranking.told}
        print_json(rounded({**words, "candidates": found}))
    else:
        named = [(_shown(chips.swatch(one.paint)), one) for one in ranking.best if one.paint]
        print("\n".join(table(_rows(named, len(report.findings)))))
        print(ranking.told)
    return DONE


def _shown(paint: "Swatch") -> str:
    return f"{swatch(paint.colour.srgb_hex)}{paint.name}"


def _as_json(candidate: "Candidate") -> dict[str, Any]:
    return {
        "paint": candidate.paint,
        "cost": candidate.cost,
        "parts": parts_of(candidate),
        "findings_after": candidate.findings_after,
        "harmony": candidate.harmony,
    }


def parts_of(candidate: "Candidate") -> dict[str, float]:
    """What each check costs, and the client's wishes that are not kept, as "brief"."""
    wishes = candidate.effect.wishes
    return {**candidate.parts, **({"brief": wishes} if wishes else {})}


def _rows(named: "list[tuple[str, Candidate]]", before: int) -> Iterator[tuple[str, ...]]:
    yield "paint", "cost", "findings", "harmony", "what it costs"
    for name, one in named:
        parts = ", ".join(f"{check} {cost:.1f}" for check, cost in parts_of(one).items())
        yield (
            name,
            f"{one.cost:.1f}",
            f"{before} -> {one.findings_after}",
            "-" if one.harmony is None else f"{one.harmony:.2f}",
            parts or "nothing",
        )


RANK = Command(
    name="rank",
    summary="Rank the paints of the file, or of a deck, for one surface of a room, best first.",
    examples=(
        "housemap rank house.toml kitchen",
        "housemap rank --surface trim --json house.toml hall",
        "housemap rank --surface 'accent n' house.toml hall",
        "housemap rank --deck notation house.toml hall",
    ),
    arguments=_arguments,
    run=_run,
)
