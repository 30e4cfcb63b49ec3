"""`housemap fill`: the best wall paint for every room that has none, with a proof where it can.

With `--deck` the paints come from a deck: a palette of wall paints and a trim.
"""

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from housemap.cli.command import DONE, Command
from housemap.cli.output import print_json, rounded, table
from housemap.cli.written import add_force, check_free, remember
from housemap.errors import InputError, Problem

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.optimiser import problem as asked
    from housemap.choose.optimiser.problem import Progress

_SECONDS = 30.0


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a house file")
    parser.add_argument(
        "--paints", type=whole_number, metavar="N", help="at most so many distinct wall paints"
    )
    parser.add_argument(
        "--keep",
        nargs="+",
        metavar="ROOM",
        help="fill every room but these (default: only the rooms without a wall paint)",
    )
    parser.add_argument(
        "--deck",
        metavar="DECK",
        help="choose the paints, and a trim, from a deck: its name, or the path of a file; tells"
        " up to three palettes that differ",
    )
    parser.add_argument(
        "--pin",
        nargs="+",
        default=[],
        metavar="PAINT",
        help="with --deck: paints of the file or the deck, by id, that the palette has in any case",
    )
    parser.add_argument("-o", dest="out", metavar="OUT", type=Path, help="write the filled house")
    add_force(parser)
    parser.add_argument(
        "--seconds",
        type=whole_number,
        default=_SECONDS,
        metavar="S",
        help="stop by then (default: 30)",
    )
    parser.add_argument("--json", action="store_true", help="print JSON and nothing else")


def whole_number(text: str) -> int:
    if text.isascii() and text.isdigit() and int(text) > 0:
        return int(text)
    raise ArgumentTypeError(f"must be a whole number above 0, found {text!r}")


def _run(arguments: Namespace) -> int:
    if arguments.out:
        check_free(arguments.out, force=arguments.force)
    if arguments.deck is not None:
        from housemap.cli.fill_from_deck import run_deck

        return run_deck(arguments)
    if arguments.pin:
        raise InputError([Problem("--pin needs --deck: without one, --keep keeps rooms")])
    from housemap.checks import report_of
    from housemap.choose.house_problem import filled, problem_of
    from housemap.choose.optimiser.problem import answer_json
    from housemap.choose.optimiser.solve import solve
    from housemap.cli.reading import one_house

    report = one_house(arguments.file, report_of)
    problem = problem_of(report, arguments.keep, arguments.paints)
    solution = solve(problem, seconds=arguments.seconds)
    house = filled(report.house, solution.assignment)
    if arguments.out:
        from housemap.file import save_house

        save_house(house, arguments.out)
        remember(arguments.out)
    if arguments.json:
        print_json(rounded(answer_json(problem, solution)))
    else:
        print("\n".join(_lines(report, report.after(house), problem, solution)))
        if arguments.out:
            print(f"written to {arguments.out}", file=sys.stderr)
    return DONE


def _lines(
    before: "Report", after: "Report", problem: "asked.Problem", solution: "Progress"
) -> Iterator[str]:
    house = before.house
    rows = (
        (house.rooms[room].name, house.paints[paint].name)
        for room, paint in solution.assignment.items()
        if house.rooms[room].paints.walls != paint
    )
    yield from table(rows)
    yield told_of(solution)
    yield f"findings {len(before.causes)} -> {len(after.causes)}"
    if problem.paints is not None:
        yield f"{len(set(solution.assignment.values()))} wall paints of at most {problem.paints}"


def told_of(solution: "Progress") -> str:
    """The cost, and how good it provably is."""
    if not solution.assignment:
        return "no choice found that keeps to the limit in the time given"
    if solution.gap == 0.0:
        return f"cost {solution.cost:.1f}: no choice of these paints costs less (proven)"
    return (
        f"cost {solution.cost:.1f}, at most {100 * solution.gap:.1f} % above the least possible"
        f" (none can cost below {solution.bound:.1f}); stopped after {solution.seconds:.1f} s"
    )


FILL = Command(
    name="fill",
    summary="Choose the best wall paints for the rooms that have none, or for all but some.",
    examples=(
        "housemap fill house.toml",
        "housemap fill house.toml --keep hall landing --paints 5 -o filled.toml",
        "housemap fill house.toml --keep hall --deck notation --paints 5 -o palette.toml",
        "housemap fill --json house.toml",
    ),
    arguments=_arguments,
    run=_run,
)
