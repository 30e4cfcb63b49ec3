"""The guide: a page of plain text a topic, for `housemap guide` and for the help of the program.

The pages are Markdown files beside this one. Those that list commands, keys or checks are made
from the program's own tables (`python -m tests.support.guide_tables`), and tested against them.
"""

from collections.abc import Mapping
from importlib.resources import files

TOPICS: Mapping[str, str] = {
    "keys": "Every key, by what you want to do",
    "survey": "Write a house down as you walk it",
    "decks": "Paints from fan decks, files and meters",
    "checks": "What is checked, and by which limits",
    "method": "How each figure is computed",
    "commands": "Commands that need no screen",
    "json": "What --json prints, command by command",
    "house-file": "The house file, table by table",
    "saving": "What a save promises, and what it cannot",
    "sharing": "Two people, one house",
    "changes": "What is new in each version",
}
"""By the name of its file, in the order in which the guide lists them."""


def page(topic: str) -> str:
    """The text of a topic. Raises KeyError for one that is not in TOPICS."""
    if topic not in TOPICS:
        raise KeyError(topic)
    return files(__package__).joinpath(f"{topic}.md").read_text("utf-8")
