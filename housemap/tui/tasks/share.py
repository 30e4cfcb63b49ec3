"""The earlier saves of a house: when each was made, and what differs from it now."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError, EditError, HouseFileError
from housemap.file.earlier_saves import houses_before, keep_save
from housemap.file.merge import Conflict, Side, diff, value_text
from housemap.file.reader import HouseFile
from housemap.model.fieldtypes import KeyPath
from housemap.model.house import Finish, House, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.tui.background import work_beside
from housemap.tui.house_screen import HouseScreen, Task
from housemap.tui.panels import ListPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import BARE, Coat
from housemap.workbench.folders import state_folder
from housemap.workbench.merge_conflicts import MergeConflicts
from housemap.workbench.session import OpenFile


@dataclass(frozen=True, slots=True)
class Earlier:
    """One earlier save, read, with its difference from the house as it is now in words."""

    when: datetime
    house: House
    changes: tuple[str, ...]
    """What has changed since, from there to here."""


# What both changed: the place, and what is there on each side, with its colour.

NAMES: Mapping[Side, str] = {"base": "sent", "mine": "yours", "theirs": "theirs"}
_COLOURS = (Lab, Notation, Reflectance, Srgb, Xyz)


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


class RevisionsPanel(ListPanel[Earlier]):
    """When each was made, and what has changed since."""

    owner: "ShareTask"
    CONTEXT = "revisions"
    BAR = ("open", "back")
    NOTHING = "No save of this file is kept yet: each save from now on is, the newest thirty."

    def __init__(self, owner: "ShareTask", kept: Sequence[Earlier]) -> None:
        super().__init__(owner)
        self.show_entries(kept, None, [each.when for each in kept])

    def head(self, page: Page) -> Sequence[Row]:
        summary = "The map shows the chosen one. enter restores it, and u undoes that."
        saves = f"{len(self.items)} kept" if self.items else "none kept"
        return [
            page.title_row("Earlier saves", saves),
            *page.text(summary, quiet=True),
            page.blank(),
        ]

    def entry(self, item: Earlier, page: Page) -> Sequence[Row]:
        count = len(item.changes)
        since = f"{count} change{'' if count == 1 else 's'} since" if count else "as it is now"
        when = f"{item.when.astimezone():%-d %b %Y, %H:%M}"
        first = item.changes[0] if item.changes else "nothing differs"
        return (
            page.row((page.mark(),), when, since, strong=page.chosen),
            page.row((page.run("  "),), first, quiet=True),
        )

    def moved(self) -> None:
        if self.item:
            self.owner.desk.try_out(self.item.house)

    def picked(self) -> None:
        self.owner.restore(self.item)

    def action_back(self) -> None:
        self.owner.desk.close_panel()


# What both changed as a list; each is chosen by one key and shown on the map.


class SettlingPanel(ListPanel[Conflict]):
    """Each thing that both changed, with what each side has."""

    owner: "ShareTask"
    CONTEXT = "settling"
    BAR = ("left", "right", "open", "back")
    ENTRY_ROWS = 5
    NOTHING = "Nothing is left to choose."

    def __init__(self, owner: "ShareTask", found: MergeConflicts) -> None:
        super().__init__(owner)
        self._found = found
        self.show_entries(found.conflicts, None, [conflict.path for conflict in found.conflicts])

    def head(self, page: Page) -> Sequence[Row]:
        summary = "Both changed these. Choose one for each: nothing is saved before."
        count = len(self.items)
        chosen = f"{count - self._found.left} of {count} chosen"
        head = page.title_row("Both changed it", chosen)
        return [head, *page.text(summary, quiet=True), page.blank()]

    def entry(self, item: Conflict, page: Page) -> Sequence[Row]:
        """The place, then a row for what was sent, what is yours and what is theirs."""
        sides, chosen = self._found.sides, self._found.choices.get(item.path)
        rows = [page.row((page.mark(),), place_of(item, sides.mine), strong=True)]
        for side, name in NAMES.items():
            value = getattr(item, side)
            swatch = page.swatch(_coat(value, item, sides.of(side)))
            tick = page.look.glyphs.tick if side == chosen else " "
            lead = (page.run(f" {tick} "), swatch, page.run(f" {name:9}", quiet=True))
            text = _text(value, item, sides.of(side))
            rows.append(page.row(lead, text, strong=side == chosen))
        return [*rows, page.blank()]

    def moved(self) -> None:
        if self.item:
            self.owner.look_at(self.item.path)

    def step_aside(self, by: int) -> None:
        self.action_settle("theirs" if by > 0 else "mine")

    def action_settle(self, side: Side) -> None:
        """Settle the chosen conflict, and go to the next one."""
        if self.item:
            self.owner.choose(self.item.path, side)
            self.step(1)

    def picked(self) -> None:
        self.owner.finish()

    def action_back(self) -> None:
        self.owner.desk.close_panel()
        self.owner.say("Nothing was saved.")


# The earlier saves of a house: kept with every save, looked at on the map, taken up again.


def _read(file: OpenFile, house: House) -> "Iterator[Earlier]":
    """What is kept of the file, the newest first."""
    for when, then in houses_before(state_folder(), file.path):
        yield Earlier(when, then, tuple(map(str, diff(then, house))))


# Settling what two edits of the file have in conflict, shown on the map as it is settled.


class ShareTask(Task):
    """Settles what two edits both changed; keeps earlier saves and goes back to them."""

    def __init__(self, desk: HouseScreen) -> None:
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
        """Keep a copy of the file that was just saved; a copy that fails is mentioned, no more."""
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
            self.desk, "revisions", lambda: tuple(_read(file, house)),
            lambda kept: self.desk.open_panel(RevisionsPanel(self, kept)),
        )  # fmt: skip

    def restore(self, earlier: Earlier | None) -> None:
        self.desk.close_panel()
        if earlier is not None:
            when = f"{earlier.when.astimezone():%-d %B, %H:%M}"
            self.desk.apply(earlier.house, f"The save of {when} restored")
