"""`housemap guide`: the pages of the guide."""

import sys
from argparse import ArgumentParser, Namespace

from housemap.cli.command import DONE, Command
from housemap.cli.output import print_json, table
from housemap.errors import InputError, Problem
from housemap.guide import TOPICS, page
from housemap.model.fieldtypes import nearest
from housemap.model.text import shown


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("topic", nargs="?", help="one of: " + ", ".join(TOPICS))
    parser.add_argument("--json", action="store_true", help="print JSON and nothing else")


def _run(arguments: Namespace) -> int:
    topic = arguments.topic
    if topic is None:
        _list(as_json=arguments.json)
    elif topic not in TOPICS:
        raise InputError([Problem(_unknown(topic))])
    elif arguments.json:
        print_json({"topic": topic, "text": page(topic)})
    else:
        sys.stdout.write(page(topic))
    return DONE


def _list(*, as_json: bool) -> None:
    if as_json:
        print_json({"topics": dict(TOPICS)})
    else:
        print("\n".join(table(TOPICS.items())))


def _unknown(topic: str) -> str:
    return f"the guide has no page {shown(topic)}; the nearest is {nearest(topic, TOPICS)}"


GUIDE = Command(
    "guide",
    "Show a page of the guide: keys, checks, the house file and more.",
    ("housemap guide", "housemap guide keys"),
    _arguments,
    _run,
)
