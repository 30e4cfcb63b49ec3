"""`housemap guide`: the pages of the guide."""

from argparse import Namespace

from housemap.cli.command import DONE, Command, arg
from housemap.cli.output import show, table
from housemap.errors import InputError
from housemap.guide import TOPICS, page
from housemap.model.fieldtypes import nearest
from housemap.model.text import shown


def _run(arguments: Namespace) -> int:
    topic = arguments.topic
    if topic is None:
        show(arguments, lambda: {"topics": dict(TOPICS)}, table(TOPICS.items()))
    elif topic in TOPICS:
        text = page(topic)
        show(arguments, lambda: {"topic": topic, "text": text}, text.splitlines())
    else:
        near = nearest(topic, TOPICS)
        raise InputError.of(f"the guide has no page {shown(topic)}; the nearest is {near}")
    return DONE


GUIDE = Command(
    "guide",
    "Show a page of the guide: keys, checks, the house file and more.",
    ("housemap guide", "housemap guide keys"),
    _run,
    (arg("topic", "one of: " + ", ".join(TOPICS), nargs="?"),),
)
