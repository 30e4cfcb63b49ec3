"""The earlier saves of a house: when each was made, and what differs from it now."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError
from housemap.file.merge import value_text
from housemap.model.fieldtypes import KeyPath
from housemap.model.house import Finish, House, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.tui.commands import REVISIONS, SETTLING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.tasks.choose_drawing import title_row
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.file.merge import Conflict, Side


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


# A conflict of two edits: the place, and what stood and stands there, each with its colour.

NAMES: "Mapping[Side, str]" = {"base": "1 was", "mine": "2 mine", "theirs": "3 theirs"}
_COLOURS = (Lab, Notation, Reflectance, Srgb, Xyz)


@dataclass(frozen=True, slots=True)
class Sides:
    """The house that both edits grew from, and what each has made of it."""

    base: House
    mine: House
    theirs: House

    def of(self, side: "Side") -> House:
        house: House = getattr(self, side)
        return house


def settling_head(count: int, settled: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    told = "Both have changed these. Nothing is saved until each is settled."
    return [
        title_row("Two edits meet", f"{settled} of {count} settled", line),
        *page.text(told, quiet=True),
        page.blank(),
    ]


def conflict_rows(
    conflict: "Conflict", sides: Sides, chosen: "Side | None", line: Line
) -> Sequence[Row]:
    """The place, then a row for what it was, what is mine and what is theirs."""
    rows: list[Row] = [line.row((line.mark(),), place_of(conflict, sides.mine), "", strong=True)]
    for side, name in NAMES.items():
        value = getattr(conflict, side)
        swatch = patch(_coat(value, conflict, sides.of(side)), SWATCH, line.look)
        tick = line.look.glyphs.tick if side == chosen else " "
        lead = (line.run(f" {tick} "), swatch, line.run(f" {name:9}", quiet=True))
        text = _text(value, conflict, sides.of(side))
        rows.append(line.row(lead, text, "", strong=side == chosen))
    return rows


def place_of(conflict: "Conflict", house: House) -> str:
    """As in "Hall, paints walls": a room by its name, other things by their keys."""
    table, *rest = conflict.path
    if table == "room" and rest and rest[0] in house.rooms:
        return ", ".join((house.rooms[rest[0]].name, " ".join(rest[1:]) or "the room"))
    return " ".join(conflict.path)


def _text(value: object, conflict: "Conflict", house: House) -> str:
    if value is None:
        return "not there"
    if isinstance(value, str) and value in house.paints and _names_paint(conflict):
        return house.paints[value].name
    return value_text(conflict.field, value)


def _names_paint(conflict: "Conflict") -> bool:
    return "paints" in conflict.path or conflict.path[-1] == "paint"


def _coat(value: object, conflict: "Conflict", house: House) -> Coat:
    if isinstance(value, str) and _names_paint(conflict) and value in house.paints:
        value = house.paints[value]
    if isinstance(value, Paint | Finish):
        value = value.colour
    if not isinstance(value, _COLOURS):
        return BARE
    try:
        return Coat("known", colour_facts([value])[0].srgb_hex)
    except ColourError:
        return BARE


# The earlier saves as a list: moving shows each on the map, enter takes it up.


class RevisionsPanel(ListPanel):
    """Reports which save is looked at or taken up."""

    CONTEXT: ClassVar[str] = REVISIONS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(REVISIONS)]

    @dataclass
    class Looked(Message):
        """The map is to show it."""

        earlier: Earlier

    @dataclass
    class Left(Message):
        """The list is to be closed; the save is to be taken up, or none."""

        taken: Earlier | None

    def __init__(self, session: Session, look: Look, kept: Sequence[Earlier]) -> None:
        super().__init__(session, look)
        self._kept = kept
        self.show_entries([each.when for each in kept], None)

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return revisions_head(len(self._kept), self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        return revision_rows(self._kept[number], Line(self.look, width, chosen))

    def nothing(self, width: int) -> Sequence[Row]:
        text = "No save of this file is kept yet: each save from now on is, the newest thirty."
        return [*Page(self.look, width).text(text)]

    def _chosen(self) -> Earlier | None:
        number = self.chosen_number
        return None if number is None else self._kept[number]

    def moved(self) -> None:
        if chosen := self._chosen():
            self.post_message(self.Looked(chosen))

    def picked(self) -> None:
        self.action_leave_revisions(1)

    def action_leave_revisions(self, take: int) -> None:
        self.post_message(self.Left(self._chosen() if take else None))


# The conflicts of two edits as a list; each is settled by one key and shown on the map.


class SettlingPanel(ListPanel):
    """Reports what is chosen; decides nothing by itself."""

    CONTEXT: ClassVar[str] = SETTLING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SETTLING)]
    ENTRY_ROWS: ClassVar[int] = 5

    @dataclass
    class Settled(Message):
        """One conflict was settled, this way."""

        path: KeyPath
        side: "Side"

    @dataclass
    class Finished(Message):
        """All is to be saved as settled, or to be left as it is on disk."""

        save: bool

    @dataclass
    class Looked(Message):
        """Another conflict is chosen."""

        path: KeyPath

    def __init__(
        self,
        session: Session,
        look: Look,
        conflicts: "Sequence[Conflict]",
        sides: Sides,
    ) -> None:
        super().__init__(session, look)
        self._conflicts, self._sides = conflicts, sides
        self.choices: Mapping[KeyPath, Side] = {}
        self.show_entries([conflict.path for conflict in conflicts], None)

    @property
    def unsettled(self) -> int:
        return len(self._conflicts) - len(self.choices)

    def show_choices(self, choices: "Mapping[KeyPath, Side]") -> None:
        self.choices = choices
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return settling_head(len(self._conflicts), len(self.choices), self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        conflict, line = self._conflicts[number], Line(self.look, width, chosen)
        settled = self.choices.get(conflict.path)
        return [
            *conflict_rows(conflict, self._sides, settled, line),
            Page(self.look, width).blank(),
        ]

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("Nothing is in conflict.")]

    def moved(self) -> None:
        number = self.chosen_number
        if number is not None:
            self.post_message(self.Looked(self._conflicts[number].path))

    def action_settle(self, side: "Side") -> None:
        """Settle the chosen conflict, and go to the next one."""
        number = self.chosen_number
        if number is not None:
            self.post_message(self.Settled(self._conflicts[number].path, side))
            self.step(1)

    def action_finish_settling(self, save: int) -> None:
        self.post_message(self.Finished(bool(save)))
