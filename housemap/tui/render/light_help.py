"""The part of the help that tells what the light is and where it comes from."""

import re
from collections.abc import Iterator

from housemap.light.explanation import LIGHT_HELP
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row

ENTRY, DEEPER = " " * 2, " " * 8
"""How a line of a table begins, and one that goes on with it."""
COLUMN = re.compile(r"(?<=\S) {2,}")


def light_help_rows(page: Page) -> Iterator[Row]:
    yield from page.heading("Light and colours as seen")
    for number, text in enumerate(LIGHT_HELP):
        if number:
            yield page.blank()
        for line in _paragraphs(text):
            indent = len(ENTRY) if line.startswith(ENTRY) else 0
            yield from page.text(COLUMN.sub(": ", line.strip()), indent=indent)


def _paragraphs(text: str) -> list[str]:
    """Each paragraph, and each entry of a table, as one line."""
    lines: list[str] = []
    for line in text.splitlines():
        if lines and _goes_on(lines[-1], line):
            lines[-1] = f"{lines[-1]} {line.strip()}"
        else:
            lines.append(line)
    return lines


def _goes_on(before: str, line: str) -> bool:
    if line.startswith(DEEPER):
        return True
    return not (line.startswith(ENTRY) or before.startswith(ENTRY) or before.endswith(":"))
