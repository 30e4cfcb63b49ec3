"""An edition of the schedule as Markdown."""

import re
from collections.abc import Iterable, Iterator, Sequence

from housemap.model.house import Edition
from housemap.schedule import sections
from housemap.schedule.blocks import Block, Bullets, Facts, Figures, Section, SignOff, Table, Text
from housemap.schedule.document import Schedule
from housemap.schedule.editions import TITLES, sections_of

_SPECIAL = re.compile(r"[\\`*_\[\]<>#|&~]")
_LIST = re.compile(r"^(\d*)([-+.)] )")
"""What Markdown takes for markup within a line, and for a list at its start."""


def as_markdown(schedule: Schedule, edition: Edition = "full") -> str:
    return "\n".join(_lines(schedule, edition)) + "\n"


def plain(text: str) -> str:
    """Text that Markdown shows as it is: no markup, no link, no HTML of a house file's own."""
    escaped = _SPECIAL.sub(r"\\\g<0>", text.replace("\n", " "))
    return _LIST.sub(r"\1\\\2", escaped)


def _lines(schedule: Schedule, edition: Edition) -> Iterator[str]:
    yield f"# {TITLES[edition]}: {plain(schedule.house.name or 'house')}"
    yield ""
    yield from _block(sections.parties(schedule))
    yield from _block(sections.totals(schedule, edition))
    for section in sections_of(schedule, edition):
        yield from _section(section, "##")


def _section(section: Section, marks: str) -> Iterator[str]:
    yield f"{marks} {plain(section.title)}"
    yield ""
    for block in section.blocks:
        yield from _block(block)
    for part in section.parts:
        yield from _section(part, f"{marks}#")


def _block(block: Block) -> Iterator[str]:
    """Drawings are left to the page; their captions say which there are."""
    match block:
        case Table():
            yield from _table([column.name for column in block.columns], block)
        case Text():
            yield plain(block.text)
        case Bullets():
            yield from (f"- {plain(item)}" for item in block.items)
        case Facts():
            yield from (f"- {name}: {plain(value)}" for name, value in block.pairs)
        case Figures():
            yield from _captions(block)
        case SignOff():
            yield from _table(("for", "name", "signature", "date"), _blank(block.parties))
    yield ""


def _captions(block: Figures) -> Iterator[str]:
    yield from (
        f"- {plain(figure.caption)}" for figure in block.figures if figure.kind == "elevation"
    )


def _blank(parties: Iterable[str]) -> list[list[str]]:
    return [[party, "", "", ""] for party in parties]


def _table(head: Sequence[str], body: Table | list[list[str]]) -> Iterator[str]:
    """Nothing where there are no rows."""
    if isinstance(body, Table):
        rows = [[cell.text for cell in row.cells] for row in body.rows]
    else:
        rows = body
    if rows:
        yield "| " + " | ".join(head) + " |"
        yield "|" + "---|" * len(head)
        yield from ("| " + " | ".join(map(plain, row)) + " |" for row in rows)
