"""The earlier saves of a house: when each was made, and what differs from it now."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from textual.binding import BindingType

from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError, EditError, HouseFileError
from housemap.file.earlier_saves import earlier_saves, keep_save
from housemap.file.merge import Conflict, Side, diff, value_text
from housemap.file.reader import HouseFile
from housemap.model.fieldtypes import KeyPath
from housemap.model.house import Finish, House, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.tui.background import work_beside
from housemap.tui.commands import REVISIONS, SETTLING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch, title_row
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.task import Desk, Task
from housemap.workbench.folders import state_folder
from housemap.workbench.merge_conflicts import MergeConflicts, Sides
from housemap.workbench.session import OpenFile, Session


@dataclass(frozen=True, slots=True)
class Earlier:
    """One earlier save, read, with its difference from the house as it is now in words."""

    when: datetime
    house: House
    changes: tuple[str, ...]
    """What has changed since, from there to here."""


def revisions_head(count: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    told = "The map shows the chosen one. enter restores it, and u undoes that."
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


# What both changed: the place, and what is there on each side, with its colour.

NAMES: Mapping[Side, str] = {"base": "sent", "mine": "yours", "theirs": "theirs"}
_COLOURS = (Lab, Notation, Reflectance, Srgb, Xyz)


def settling_head(count: int, settled: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    told = "Both changed these. Choose one for each: nothing is saved before."
    return [
        title_row("Both changed it", f"{settled} of {count} chosen", line),
        *page.text(told, quiet=True),
        page.blank(),
    ]


def conflict_rows(
    conflict: Conflict, sides: Sides, chosen: Side | None, line: Line
) -> Sequence[Row]:
    """The place, then a row for what was sent, what is yours and what is theirs."""
    rows: list[Row] = [line.row((line.mark(),), place_of(conflict, sides.mine), "", strong=True)]
    for side, name in NAMES.items():
        value = getattr(conflict, side)
        swatch = patch(_coat(value, conflict, sides.of(side)), SWATCH, line.look)
        tick = line.look.glyphs.tick if side == chosen else " "
        lead = (line.run(f" {tick} "), swatch, line.run(f" {name:9}", quiet=True))
        text = _text(value, conflict, sides.of(side))
        rows.append(line.row(lead, text, "", strong=side == chosen))
    return rows


def place_of(conflict: Conflict, house: House) -> str:
    """As in "Hall, paints walls": a room by its name, other things by their keys."""
    table, *rest = conflict.path
    if table == "room" and rest and rest[0] in house.rooms:
        return ", ".join((house.rooms[rest[0]].name, " ".join(rest[1:]) or "the room"))
    return " ".join(conflict.path)


def _text(value: object, conflict: Conflict, house: House) -> str:
    if value is None:
        return "not there"
    if isinstance(value, str) and value in house.paints and _names_paint(conflict):
        return house.paints[value].name
    return value_text(conflict.field, value)


def _names_paint(conflict: Conflict) -> bool:
    return "paints" in conflict.path or conflict.path[-1] == "paint"


def _coat(value: object, conflict: Conflict, house: House) -> Coat:
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
    """When each was made, and what has changed since."""

    CONTEXT: ClassVar[str] = REVISIONS
    BAR: ClassVar[tuple[str, ...]] = ("open", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(REVISIONS)]

    def __init__(self, owner: "ShareTask", kept: Sequence[Earlier]) -> None:
        super().__init__(owner.session, owner.look)
        self._owner, self._kept = owner, kept
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
            self._owner.desk.try_out(chosen.house)

    def picked(self) -> None:
        self._owner.restore(self._chosen())

    def action_back(self) -> None:
        self._owner.desk.close_panel()


# What both changed as a list; each is chosen by one key and shown on the map.


class SettlingPanel(ListPanel):
    """Each thing that both changed, with what each side has."""

    CONTEXT: ClassVar[str] = SETTLING
    BAR: ClassVar[tuple[str, ...]] = ("left", "right", "open", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SETTLING)]
    ENTRY_ROWS: ClassVar[int] = 5

    def __init__(self, owner: "ShareTask", found: MergeConflicts) -> None:
        super().__init__(owner.session, owner.look)
        self._owner, self._found = owner, found
        self.show_entries([conflict.path for conflict in found.conflicts], None)

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        count = len(self._found.conflicts)
        return settling_head(count, count - self._found.left, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        conflict, line = self._found.conflicts[number], Line(self.look, width, chosen)
        settled = self._found.choices.get(conflict.path)
        return [
            *conflict_rows(conflict, self._found.sides, settled, line),
            Page(self.look, width).blank(),
        ]

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("Nothing is left to choose.")]

    def moved(self) -> None:
        number = self.chosen_number
        if number is not None:
            self._owner.look_at(self._found.conflicts[number].path)

    def step_aside(self, by: int) -> None:
        self.action_settle("theirs" if by > 0 else "mine")

    def action_settle(self, side: Side) -> None:
        """Settle the chosen conflict, and go to the next one."""
        number = self.chosen_number
        if number is not None:
            self._owner.choose(self._found.conflicts[number].path, side)
            self.step(1)

    def picked(self) -> None:
        self._owner.finish()

    def action_back(self) -> None:
        self._owner.desk.close_panel()
        self._owner.say("Nothing was saved.")


# The earlier saves of a house: kept with every save, looked at on the map, taken up again.


def _read(file: OpenFile, house: House) -> "Iterator[Earlier]":
    """What is kept of the file, the newest first; a copy that no longer reads is passed over."""
    for kept in earlier_saves(state_folder(), file.path):
        try:
            then = kept.house()
        except HouseFileError:
            continue
        yield Earlier(kept.when, then, tuple(map(str, diff(then, house))))


# Settling what two edits of the file have in conflict, shown on the map as it is settled.


class ShareTask(Task):
    """Settles what two edits both changed; keeps earlier saves and goes back to them."""

    NAME: ClassVar[str] = "share"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._open: MergeConflicts | None = None
        self._settled_then: Callable[[], object] = lambda: None

    def settle(self, theirs: HouseFile, then: Callable[[], object]) -> None:
        """Show what the house and `theirs` both changed; `then` follows once it is saved."""
        self._choose(MergeConflicts.with_file(self.session, theirs), then)

    def settle_file(self) -> None:
        """Show what is still to be chosen in a file that shows both sides."""
        found = MergeConflicts.in_file(self.session)
        if found is not None:
            self._choose(found, lambda: None)

    def _choose(self, found: MergeConflicts, then: Callable[[], object]) -> None:
        self._open, self._settled_then = found, then
        self.desk.open_panel(SettlingPanel(self, found))

    def choose(self, path: KeyPath, side: Side) -> None:
        """Decide one of them this way, and show it on the map."""
        assert self._open is not None
        try:
            self.desk.try_out(self._open.choose(path, side))
        except EditError as error:
            self.say(str(error).partition("\n")[0])
            return
        if isinstance(self.desk.panel, SettlingPanel):
            self.desk.panel.redraw()

    def look_at(self, path: KeyPath) -> None:
        """Select the room that it is about."""
        table, *rest = path
        if table == "room" and rest:
            self.desk.select(rest[0])

    def finish(self) -> None:
        """Save all as it was decided; a key that came twice at once finds the panel closed."""
        if self._open is None or not isinstance(self.desk.panel, SettlingPanel):
            return
        if self._open.left:
            self.say(f"{self._open.left} still to be chosen: left arrow yours, right arrow theirs.")
            return
        self._save_settled(self._open)

    def _save_settled(self, chosen: MergeConflicts) -> None:
        self.desk.close_panel()
        try:
            chosen.save()
        except HouseFileError as error:
            self.say(str(error))
            return
        self.desk.follow()
        self.say("Saved as chosen.")
        self._settled_then()

    # Earlier saves

    def keep_save(self) -> None:
        """Keep a copy of the file that was just saved; a copy that fails is told, no more."""
        file = self.session.file
        if file is None:
            return

        try:
            keep_save(state_folder(), file.path)
        except HouseFileError as error:
            self.say(str(error))

    def open_revisions(self) -> None:
        """Read the earlier saves, and list them."""
        file = self.session.file
        if file is None:
            self.say("This house has no file yet, so no earlier save.")
            return
        house = self.session.house
        work_beside(
            self.desk.screen, REVISIONS, lambda: tuple(_read(file, house)),
            lambda kept: self.desk.open_panel(RevisionsPanel(self, kept)),
        )  # fmt: skip

    def restore(self, earlier: Earlier | None) -> None:
        self.desk.close_panel()
        if earlier is not None:
            when = f"{earlier.when.astimezone():%-d %B, %H:%M}"
            self.desk.apply(earlier.house, f"The save of {when} restored")
