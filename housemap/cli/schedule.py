"""`housemap schedule`: the paint schedule, for whom it is for, as Markdown, CSV, HTML or PDF."""

import sys
from argparse import Namespace
from pathlib import Path

from housemap.checks import report_of
from housemap.cli.command import DONE, FORCE, HOUSE, Command, arg
from housemap.cli.output import note, print_json
from housemap.cli.reading import one_house
from housemap.cli.written import check_free, remember
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.house import EDITIONS, Edition, House
from housemap.schedule.as_text import as_markdown
from housemap.schedule.document import Schedule, issued, schedule_of
from housemap.schedule.existing import Before
from housemap.schedule.publishing import files_of, write_schedule
from housemap.workbench.session import today


def _run(arguments: Namespace) -> int:
    edition: Edition = arguments.edition
    if arguments.out:
        for path in files_of(arguments.out, edition):
            check_free(path, force=arguments.force)
    found = arguments.before
    before = Before(read_house(found), found.name) if found else None

    def make(house: House) -> Schedule:
        # Only the full edition has findings, and they take the light of every room.
        return schedule_of(report_of(house, deep=edition == "full"), today(), before)

    schedule = one_house(arguments.file, make)
    house = schedule.house
    if arguments.issue:
        house, schedule = issued(schedule, edition, arguments.to)
    written = write_schedule(schedule, arguments.out, edition) if arguments.out else ()
    for path in written:
        remember(path)
        note(arguments, f"written: {path}")
    text = "" if arguments.out else as_markdown(schedule, edition)
    if arguments.json:
        print_json({"edition": edition, "written": [str(path) for path in written], "text": text})
    else:
        sys.stdout.write(text)
    if arguments.issue:
        save_house(house, arguments.file)
    return DONE


SCHEDULE = Command(
    name="schedule",
    summary="Write the paint schedule: for the painter, the client or the supplier.",
    examples=(
        "housemap schedule house.toml",
        "housemap schedule house.toml --for painter -o specification.html",
        "housemap schedule house.toml --for client --issue --to Ann -o scheme.pdf",
        "housemap schedule house.toml --before as-found.toml -o schedule.csv",
    ),
    arguments=(
        HOUSE,
        arg("-o OUT",
            "write here, in the form that its ending names: .html .pdf .md .csv"
            " (default: print Markdown)", dest="out", type=Path),
        arg("--for", "who reads it (default: full, all in one)",
            dest="edition", choices=EDITIONS, default="full"),
        FORCE,
        arg("--before FILE", "the house as it is painted now, for the number of coats", type=Path),
        arg("--issue", "number it, and note in the house file that it was handed out"),
        arg("--to NAME", "with --issue: who gets it", default=""),
    ),
    run=_run,
)  # fmt: skip
