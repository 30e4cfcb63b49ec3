"""`housemap diff`: what differs between two house files, by meaning, not by line."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from housemap.cli.command import DONE, FOUND, Command
from housemap.cli.output import print_json


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("before", metavar="A", type=Path, help="a house file")
    parser.add_argument("after", metavar="B", type=Path, help="another, or the same one later")
    parser.add_argument("--json", action="store_true", help="print JSON and nothing else")


def _run(arguments: Namespace) -> int:
    from housemap.cli.reading import each_house
    from housemap.file.merge import diff, value_text

    (_, before), (_, after) = each_house([arguments.before, arguments.after], lambda house: house)
    changes = diff(before, after)
    if arguments.json:
        texts = [
            {
                "path": list(change.path),
                "before": None
                if change.before is None
                else value_text(change.field, change.before),
                "after": None if change.after is None else value_text(change.field, change.after),
            }
            for change in changes
        ]
        print_json({"changes": texts})
    else:
        print("\n".join(map(str, changes)) or "no difference")
    return FOUND if changes else DONE


DIFF = Command(
    name="diff",
    summary="Tell what differs between two house files, by meaning.",
    examples=("housemap diff sent.toml house.toml", "housemap diff --json a.toml b.toml"),
    arguments=_arguments,
    run=_run,
)
