"""`housemap rank`: the paints of the file for one room, best first."""

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from housemap.cli.command import DONE, Command
from housemap.cli.output import print_json, rounded, table
from housemap.model.house import SURFACES

if TYPE_CHECKING:
    from housemap.choose.rank import Candidate
    from housemap.model.house import House


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a house file")
    parser.add_argument("room", metavar="ROOM", help="the id of a room in it")
    parser.add_argument("--surface", choices=SURFACES, default="walls", help="default: walls")
    parser.add_argument("--json", action="store_true", help="print JSON and nothing else")


def _run(arguments: Namespace) -> int:
    from housemap.checks import report_of
    from housemap.choose.rank import rank
    from housemap.cli.reading import one_house

    report = one_house(arguments.file, report_of)
    candidates = rank(report, arguments.room, arguments.surface)
    if arguments.json:
        found = [_as_json(candidate) for candidate in candidates]
        words = {"room": arguments.room, "surface": arguments.surface}
        print_json(rounded({**words, "candidates": found}))
    else:
        print("\n".join(table(_rows(report.house, candidates, len(report.findings)))))
    return DONE


def _as_json(candidate: "Candidate") -> dict[str, Any]:
    return {
        "paint": candidate.paint,
        "cost": candidate.cost,
        "parts": dict(candidate.parts),
        "findings_after": candidate.findings_after,
        "harmony": candidate.harmony,
    }


def _rows(
    house: "House", candidates: "tuple[Candidate, ...]", before: int
) -> Iterator[tuple[str, ...]]:
    yield "paint", "cost", "findings", "harmony", "what it costs"
    for one in candidates:
        parts = ", ".join(f"{check} {cost:.1f}" for check, cost in one.parts.items())
        yield (
            house.paints[one.paint].name if one.paint else "no paint",
            f"{one.cost:.1f}",
            f"{before} -> {one.findings_after}",
            "-" if one.harmony is None else f"{one.harmony:.2f}",
            parts or "nothing",
        )


RANK = Command(
    name="rank",
    summary="Rank the paints of the file for one surface of a room, best first.",
    examples=(
        "housemap rank house.toml kitchen",
        "housemap rank --surface trim --json house.toml hall",
    ),
    arguments=_arguments,
    run=_run,
)
