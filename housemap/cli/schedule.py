"""`housemap schedule`: the paint schedule with quantities, as Markdown, CSV or HTML."""

import datetime as dt
import sys
from argparse import ArgumentParser, Namespace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from housemap.cli.command import DONE, Command
from housemap.errors import InputError, Problem

if TYPE_CHECKING:
    from housemap.model.house import House
    from housemap.schedule.document import Schedule

_FORMS = (".md", ".csv", ".html")


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a house file")
    parser.add_argument(
        "-o",
        dest="out",
        metavar="OUT",
        type=Path,
        help="write here, in the form that its ending names: .md .csv .html (default: print .md)",
    )
    parser.add_argument(
        "--before",
        metavar="FILE",
        type=Path,
        help="the house as it is painted now, for the number of coats",
    )


def _run(arguments: Namespace) -> int:
    from housemap.cli.reading import one_house

    form = arguments.out.suffix if arguments.out else ".md"
    if form not in _FORMS:
        raise InputError([Problem(f"the ending must be .md, .csv or .html, found {form!r}")])
    schedule = one_house(arguments.file, partial(_schedule, before=_before(arguments)))
    text = _as(form, schedule)
    if arguments.out:
        from housemap.file.save import save_bytes

        save_bytes(text.encode(), arguments.out)
    else:
        sys.stdout.write(text)
    return DONE


def _before(arguments: Namespace) -> "House | None":
    from housemap.file import read_house

    return read_house(arguments.before) if arguments.before else None


def _schedule(house: "House", before: "House | None") -> "Schedule":
    from housemap.checks import report_of
    from housemap.schedule.document import schedule_of
    from housemap.study import study_of

    old = study_of(before) if before else None
    today = dt.datetime.now().astimezone().date()
    return schedule_of(report_of(house), today, old)


def _as(form: str, schedule: "Schedule") -> str:
    match form:
        case ".csv":
            from housemap.schedule.as_csv import as_csv

            return as_csv(schedule)
        case ".html":
            from housemap.schedule.page import as_html

            return as_html(schedule)
    from housemap.schedule.as_markdown import as_markdown

    return as_markdown(schedule)


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
