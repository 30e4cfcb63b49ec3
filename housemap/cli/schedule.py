"""`housemap schedule`: the paint schedule with quantities, as Markdown, CSV or HTML."""

import sys
from argparse import ArgumentParser, Namespace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from housemap.cli.command import DONE, Command
from housemap.cli.written import add_force, check_free, remember

if TYPE_CHECKING:
    from housemap.model.house import House
    from housemap.schedule.document import Before, Schedule


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a house file")
    parser.add_argument(
        "-o",
        dest="out",
        metavar="OUT",
        type=Path,
        help="write here, in the form that its ending names: .md .csv .html (default: print .md)",
    )
    add_force(parser)
    parser.add_argument(
        "--before",
        metavar="FILE",
        type=Path,
        help="the house as it is painted now, for the number of coats",
    )


def _run(arguments: Namespace) -> int:
    from housemap.cli.reading import one_house
    from housemap.schedule.publishing import form_of, write_schedule

    form_of(arguments.out.suffix if arguments.out else ".md")
    if arguments.out:
        check_free(arguments.out, force=arguments.force)
    schedule = one_house(arguments.file, partial(_schedule, before=_before(arguments)))
    if arguments.out:
        write_schedule(schedule, arguments.out)
        remember(arguments.out)
    else:
        sys.stdout.write(form_of(".md")(schedule))
    return DONE


def _before(arguments: Namespace) -> "Before | None":
    from housemap.file import read_house
    from housemap.schedule.document import Before

    path = arguments.before
    return Before(read_house(path), path.name) if path else None


def _schedule(house: "House", before: "Before | None") -> "Schedule":
    from housemap.checks import report_of
    from housemap.schedule.document import schedule_of
    from housemap.schedule.publishing import today

    return schedule_of(report_of(house), today(), before)


SCHEDULE = Command(
    name="schedule",
    summary="Write the paint schedule with areas, coats, litres, tins and cost.",
    examples=(
        "housemap schedule house.toml",
        "housemap schedule house.toml -o schedule.html",
        "housemap schedule house.toml --before as-found.toml -o schedule.csv",
    ),
    arguments=_arguments,
    run=_run,
)
