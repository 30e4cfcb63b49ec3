"""A house and its other copies: earlier saves of it, and what two people made of it, joined."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import NamedTuple

from housemap.colorimetry.facts import colour_facts
from housemap.errors import ColourError, EditError, HouseFileError
from housemap.file.earlier_saves import houses_before, keep_save
from housemap.file.merge import Change, Conflict, Side, diff
from housemap.file.paths import typed_path
from housemap.model.fieldtypes import KeyPath
from housemap.model.house import Finish, House, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.model.text import counted
from housemap.tui.background import work_beside
from housemap.tui.house_screen import Task
from housemap.tui.panels import ListPanel
from housemap.tui.render.cells import Row, wrap
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.shades import BARE, Coat
from housemap.workbench.folders import state_folder
from housemap.workbench.joining import (
    Joining,
    change_text,
    kept_text,
    names_paint,
    place_text,
    save_joined,
    side_text,
)


class Earlier(NamedTuple):
    """One earlier save, read, with its difference from the house as it is now in words."""

    when: datetime
    house: House
    changes: tuple[str, ...]
    """What has changed since, from there to here."""


# What both changed, and what came in: what is there on each side, with its colour.

Joined = Callable[[Joining], object]
"""What follows once the house has become both."""
NOT_KNOWN = "Where both copies began is not known."
NAMES: Mapping[Side, str] = {"base": "sent", "mine": "yours", "theirs": "theirs"}
_COLOURS = (Lab, Notation, Reflectance, Srgb, Xyz)


def _coat(value: object, path: KeyPath, house: House) -> Coat:
    if isinstance(value, str) and names_paint(path) and value in house.paints:
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
        return page.head("Earlier saves", saves, summary)

    def entry(self, item: Earlier, page: Page) -> Sequence[Row]:
        count = len(item.changes)
        since = f"{counted(count, 'change')} since" if count else "as it is now"
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
        desk, earlier = self.owner.desk, self.item
        desk.close_panel()
        if earlier is not None:
            when = f"{earlier.when.astimezone():%-d %B, %H:%M}"
            desk.apply(earlier.house, f"The save of {when} restored")


# What both changed as a list; each is chosen by one key and shown on the map.


class SettlingPanel(ListPanel[Conflict]):
    """Each thing that both changed, with what each side has."""

    owner: "ShareTask"
    CONTEXT = "settling"
    BAR = ("left", "right", "scope", "open", "back")
    ENTRY_ROWS = 5
    NOTHING = "Nothing is left to choose."

    def __init__(self, owner: "ShareTask", found: Joining, then: Joined) -> None:
        super().__init__(owner)
        self._found, self._then = found, then
        self._side: Side | None = None
        """The one decided on last."""
        self.show_entries(found.conflicts, None, [conflict.path for conflict in found.conflicts])

    def head(self, page: Page) -> Sequence[Row]:
        sent = self._found.sent
        origin = f"Sent means {sent.words}." if sent else NOT_KNOWN
        count = len(self.items)
        chosen = f"{count - self._found.left} of {count} chosen"
        summary = "Choose one for each; nothing is saved before. h: the same for the rest."
        return page.head("What differs", chosen, origin, summary)

    def entry(self, item: Conflict, page: Page) -> Sequence[Row]:
        """The place, then a row for what was sent, what is yours and what is theirs."""
        sides, chosen = self._found.sides, self._found.choices.get(item.path)
        place = place_text(item.path, sides.theirs if item.mine is None else sides.mine)
        rows = [page.row((page.mark(),), place, strong=True)]
        for side, name in NAMES.items():
            value, known = getattr(item, side), side != "base" or self._found.sent
            swatch = page.swatch(_coat(value, item.path, sides.of(side)) if known else BARE)
            tick = page.look.glyphs.tick if side == chosen else " "
            lead = (page.run(f" {tick} "), swatch, page.run(f" {name:9}", quiet=True))
            text = side_text(item, value, sides.of(side)) if known else "not known"
            rows.append(page.row(lead, text, strong=side == chosen))
        return [*rows, page.blank()]

    def moved(self) -> None:
        if self.item:
            self.owner.look_at(self.item.path)

    def step_aside(self, by: int) -> None:
        self.action_settle("theirs" if by > 0 else "mine")

    def action_settle(self, side: Side) -> None:
        """Decide the chosen one this way, show it on the map, and go to the next one."""
        if self.item and (side != "base" or self._found.sent):
            self._side = side
            self._choose(side, self.item.path)
            self.step(1)

    def action_scope(self) -> None:
        """Decide all that are left as the last one was."""
        left = [each.path for each in self.items if each.path not in self._found.choices]
        if self._side:
            self._choose(self._side, *left)
        else:
            self.owner.say("First choose one: left arrow yours, right arrow theirs.")

    def _choose(self, side: Side, *paths: KeyPath) -> None:
        try:
            self.owner.desk.try_out(self._found.choose(side, *paths))
        except EditError as error:
            self.owner.say(str(error).partition("\n")[0])
        self.redraw()

    def picked(self) -> None:
        """Go on as it was decided; a key that came twice at once finds the panel closed."""
        desk, left = self.owner.desk, self._found.left
        if desk.panel is not self:
            return
        if left:
            desk.say(f"{left} still to be chosen: left arrow yours, right arrow theirs.")
            return
        desk.close_panel()
        try:
            self._found.take()
        except (EditError, HouseFileError) as error:
            desk.say(str(error))
            return
        self.owner.show_joined(self._found, self._then)

    def action_back(self) -> None:
        self.owner.desk.close_panel()
        self.owner.say("Nothing was saved.")


# What came in from the other side, once both are joined: a list that esc leaves.


class CameInPanel(ListPanel[tuple[Change, str]]):
    """Each change that the house has from the other side, then each that theirs has not."""

    owner: "ShareTask"
    CONTEXT = "came-in"
    BAR = ("back", "undo", "open")

    def __init__(self, owner: "ShareTask", found: Joining) -> None:
        super().__init__(owner)
        self._sent, self._after = found.sent, self.session.house
        _, mine, theirs = found.sides
        came_in = [(each, change_text(each, mine, self._after)) for each in found.came_in]
        kept = [(each, kept_text(each, theirs, self._after)) for each in found.kept]
        self._counts = f"{counted(len(came_in), 'line')}, {len(kept)} kept"
        self.show_entries([*came_in, *kept], None, [text for _, text in (*came_in, *kept)])

    def follow(self) -> None:
        """A house that is another one by now no longer has them: undone, or edited since."""
        if self.session.house is self._after:
            super().follow()
        else:
            self.owner.desk.close_panel()

    def head(self, page: Page) -> Sequence[Row]:
        origin = f"Both began as {self._sent.words}." if self._sent else NOT_KNOWN
        done = "Not saved yet." if self.session.unsaved else "Both are saved."
        summary = f'"Was" means in your house. {origin} {done} u undoes it all.'
        return page.head("What came in", self._counts, summary)

    def entry(self, item: tuple[Change, str], page: Page) -> Sequence[Row]:
        change, text = item
        coat = _coat(change.after, change.path, self._after)
        blank = coat is BARE and not names_paint(change.path)
        swatch = page.run(" " * SWATCH) if blank else page.swatch(coat)
        lead = (page.mark(), swatch, page.run(" "))
        first, *rest = wrap(text, page.inner - SWATCH - 1)
        return (
            page.row(lead, first, strong=page.chosen),
            page.line(" ".join(rest), indent=SWATCH + 1) if rest else page.blank(),
        )

    def picked(self) -> None:
        if self.item:
            self.owner.look_at(self.item[0].path)


class ShareTask(Task):
    """Joins the house with other copies of it; keeps earlier saves and goes back to them."""

    def join_saved(self, then: Joined) -> None:
        """Join with what somebody else has saved; `then` follows once both are saved."""
        self._join(lambda: save_joined(self.session), then)

    def settle_file(self) -> None:
        """Show what is still to be chosen in a file that shows both sides."""

        def settled(_: Joining) -> None:
            self.say("Saved as chosen.")
            self.keep_save()

        found = Joining.in_file(self.session)
        if found is not None:
            self.desk.open_panel(SettlingPanel(self, found, settled))

    def bring_in(self) -> None:
        """Ask for a colleague's copy of the house, and join it with the house."""

        def joined(path: Path) -> Joining:
            found = Joining.with_copy(self.session, path)
            if not found.left:
                found.take()
            return found

        def brought_in(found: Joining) -> None:
            new = "Brought in. Press ctrl+s to save it, or u to undo it."
            self.say(new if found.came_in else "There is nothing in it that you do not have.")

        def answered(name: str) -> None:
            self._join(partial(joined, typed_path(name)), brought_in)

        self.desk.ask_line("Bring in which copy of this house? Its file:", "", answered)

    def _join(self, join: Callable[[], Joining], then: Joined) -> None:
        try:
            found = join()
        except HouseFileError as error:
            self.say(str(error))
            return
        if found.left:
            self.desk.open_panel(SettlingPanel(self, found, then))
        else:
            self.show_joined(found, then)

    def look_at(self, path: KeyPath) -> None:
        table, *rest = path
        if table == "room" and rest:
            self.desk.select(rest[0])

    def show_joined(self, found: Joining, then: Joined) -> None:
        self.desk.follow()
        if found.to_show:
            self.desk.open_list(CameInPanel(self, found))
        then(found)

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
        file = self.session.file
        if file is None:
            self.say("This house has no file yet, so no earlier save.")
            return
        house = self.session.house

        def read() -> list[Earlier]:
            """What is kept of the file, the newest first."""
            return [
                Earlier(when, then, tuple(change_text(c, then, house) for c in diff(then, house)))
                for when, then in houses_before(state_folder(), file.path)
            ]

        work_beside(
            self.desk, "revisions", read,
            lambda kept: self.desk.open_panel(RevisionsPanel(self, kept)),
        )  # fmt: skip
