"""The earlier saves of a house: when each was made, and what differs from it now."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from housemap.model.house import House
from housemap.tui.render.choosing import title_row
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row


@dataclass(frozen=True, slots=True)
class Earlier:
    """One earlier save, read, with its difference from the house as it is now in words."""

    when: datetime
    house: House
    changes: tuple[str, ...]
    """What has changed since, from there to here."""


def revisions_head(count: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    told = "The map shows the chosen one. Taking it up is an edit like any other: u takes it back."
    saves = f"{count} kept" if count else "none kept"
    return [title_row("Earlier saves", saves, line), *page.text(told, quiet=True), page.blank()]


def revision_rows(earlier: Earlier, line: Line) -> Sequence[Row]:
    """When it was, how much has changed since, and the first of that."""
    count = len(earlier.changes)
    since = f"{count} change{'' if count == 1 else 's'} since" if count else "as it is now"
    when = f"{earlier.when.astimezone():%-d %b %Y, %H:%M}"
    first = earlier.changes[0] if earlier.changes else "nothing differs"
    return (
        line.row((line.mark(),), when, since, strong=line.chosen),
        line.row((line.run("  "),), first, "", quiet=True),
    )
