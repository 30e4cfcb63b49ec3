"""`housemap rank`: the paints of the file, or of a deck, for one room, best first."""

import os
from argparse import Namespace
from collections.abc import Callable, Iterator
from typing import Any

from housemap.checks import Report, check_of, report_of
from housemap.choose.rank import bared, check_place, in_place, rank, rank_deck
from housemap.choose.surface_trial import Candidate
from housemap.cli.command import DONE, HOUSE, Command, arg, reads
from housemap.cli.deck_paints import deck_chips
from housemap.cli.output import picked, show, swatch, table
from housemap.cli.reading import one_house
from housemap.file.processes import begin_apart
from housemap.light.house_light import Solved
from housemap.model.house import SURFACES
from housemap.model.severity import Tally, change_text
from housemap.study import Swatch
from housemap.workbench.choosing import raised_by, verdict_of


@reads(f'must be {", ".join(SURFACES)} or "accent WALL"')
def _surface(text: str) -> str:
    """Whether the room has such a wall is checked later."""
    if text not in SURFACES and not text.startswith("accent "):
        raise ValueError(text)
    return text


BEHIND = 10


def _run(arguments: Namespace) -> int:
    room, surface = arguments.room, arguments.surface
    words = {"room": room, "surface": surface}

    def judged() -> tuple[Report, list[Solved], Candidate]:
        made = one_house(arguments.file, report_of)
        check_place(made.house, room, surface)
        return made, made.study.lighting.light.solved, bared(made, room, surface)

    def judged_behind() -> tuple[Report, list[Solved], Candidate]:
        os.nice(BEHIND)  # reading the deck takes longer, and has the cores first
        return judged()

    begun = begin_apart(judged_behind) if arguments.deck else lambda: None
    deck = arguments.deck and deck_chips(arguments.deck)
    report, solved, bare = begun() or judged()
    report.study.lighting.light.know(solved)
    swatch_of: Callable[[str], Swatch] = report.study.paint
    if deck:
        ranking = rank_deck(report, room, surface, deck[1], deck[0].name)
        candidates, swatch_of, words["told"] = ranking.best, deck[1].swatch, ranking.summary
    else:
        candidates = rank(report, room, surface)
    named = [(swatch_of(one.paint), one) for one in candidates if one.paint]
    show(
        arguments,
        lambda: {**words, "candidates": [_as_json(candidate) for candidate in candidates]},
        (
            *table(_rows(named, bare, in_place(report, room, surface), surface)),
            *filter(None, [words.get("told")]),
        ),
    )
    return DONE


def _as_json(candidate: Candidate) -> dict[str, Any]:
    found = picked(candidate, "paint", "cost", "parts", "findings_after", "harmony")
    return {**found, "parts": parts_of(candidate)}


def parts_of(candidate: Candidate) -> dict[str, float]:
    """By check; wishes that are not kept as "brief", how far it is off the scheme as "aim"."""
    beside = {"brief": candidate.wishes, "aim": candidate.scheme}
    return {**candidate.parts, **{name: cost for name, cost in beside.items() if cost}}


OFF = "Off the scheme around the house's neutral"
MOST_NAMED = 3
"""Of the checks that count most against a paint."""


def _rows(
    named: list[tuple[Swatch, Candidate]], bare: Candidate, now: Candidate, surface: str
) -> Iterator[tuple[str, ...]]:
    """`bare`: the surface without paint; `now`: as it is."""
    before = Tally(now.findings_after, now.cost)
    yield "paint", "LRV", "colour", "", "penalty", "findings", "most of them"
    for paint, one in named:
        yield (
            f"{swatch(paint.colour.srgb_hex)}{paint.name}",
            f"{paint.lrv:.0f}",
            paint.colour.undertone.words,
            verdict_of(raised_by(one, bare)),
            f"{one.cost:.1f}",
            f"{one.findings_after}, {change_text(before, Tally(one.findings_after, one.cost))}",
            "; ".join(_most(one, surface)) or "none",
        )


def _most(candidate: Candidate, surface: str) -> Iterator[str]:
    """The checks that count most, in words, with their part of the penalty."""
    parts = sorted(parts_of(candidate).items(), key=lambda part: -part[1])
    for check, cost in parts[:MOST_NAMED]:
        usual = check == "brief" and surface == "trim"
        title = "Not near-white" if usual else OFF if check == "aim" else check_of(check).title
        yield f"{title[0].lower()}{title[1:]} {cost:.1f}"


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
        arg("room ROOM", "the id of a room in it"),
        arg("--surface", f'{", ".join(SURFACES)}, or one wall: "accent n" (default: walls)',
            type=_surface, default="walls"),
        arg("--deck DECK",
            "rank the paints of a deck instead: its name, or the path of a deck or house file"),
    ),
    run=_run,
)  # fmt: skip
