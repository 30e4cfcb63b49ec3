"""`housemap rank`: the paints of the file, or of a deck, for one room, best first."""

from argparse import Namespace
from collections.abc import Callable, Iterator
from typing import Any

from housemap.checks import report_of
from housemap.choose.rank import Candidate, rank, rank_deck
from housemap.cli.command import DONE, HOUSE, Command, arg, reads
from housemap.cli.deck_paints import deck_chips
from housemap.cli.output import picked, show, swatch, table
from housemap.cli.reading import one_house
from housemap.model.house import SURFACES
from housemap.study import Swatch


@reads(f'must be {", ".join(SURFACES)} or "accent WALL"')
def _surface(text: str) -> str:
    """Whether the room has such a wall is told later."""
    if text not in SURFACES and not text.startswith("accent "):
        raise ValueError(text)
    return text


def _run(arguments: Namespace) -> int:
    room, surface = arguments.room, arguments.surface
    words = {"room": room, "surface": surface}
    deck = arguments.deck and deck_chips(arguments.deck)
    report = one_house(arguments.file, report_of)
    swatch_of: Callable[[str], Swatch] = report.study.paint
    if deck:
        ranking = rank_deck(report, room, surface, deck[1], deck[0].name)
        candidates, swatch_of, words["told"] = ranking.best, deck[1].swatch, ranking.told
    else:
        candidates = rank(report, room, surface)
    named = [(_shown(swatch_of(one.paint)), one) for one in candidates if one.paint]
    show(
        arguments,
        lambda: {**words, "candidates": [_as_json(candidate) for candidate in candidates]},
        (*table(_rows(named, len(report.findings))), *filter(None, [words.get("told")])),
    )
    return DONE


def _shown(paint: Swatch) -> str:
    return f"{swatch(paint.colour.srgb_hex)}{paint.name}"


def _as_json(candidate: Candidate) -> dict[str, Any]:
    found = picked(candidate, "paint", "cost", "parts", "findings_after", "harmony")
    return {**found, "parts": parts_of(candidate)}


def parts_of(candidate: Candidate) -> dict[str, float]:
    """What each check costs, and the client's wishes that are not kept, as "brief"."""
    wishes = candidate.effect.wishes
    return {**candidate.parts, **({"brief": wishes} if wishes else {})}


def _rows(named: list[tuple[str, Candidate]], before: int) -> Iterator[tuple[str, ...]]:
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
    arguments=(
        HOUSE,
        arg("room", "the id of a room in it", metavar="ROOM"),
        arg(
            "--surface",
            f'{", ".join(SURFACES)}, or one wall: "accent n" (default: walls)',
            type=_surface,
            default="walls",
        ),
        arg(
            "--deck",
            "rank the paints of a deck instead: its name, or the path of a deck or house file",
            metavar="DECK",
        ),
    ),
    run=_run,
)
