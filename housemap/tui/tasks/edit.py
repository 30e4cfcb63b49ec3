"""The list of what has a form: the kind at the left, its name, and what tells it from others."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any, ClassVar

from rich.cells import cell_len
from textual.binding import BindingType

from housemap.model.edits import put, uses
from housemap.model.house import Finish, House, Paint
from housemap.model.schema import ATTR_OF
from housemap.tui.commands import PARTS
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.questions import Choice, Then
from housemap.tui.render.cells import Row, fit, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line, Page
from housemap.tui.task import Desk, Task
from housemap.tui.tasks.forms import FormPanel
from housemap.workbench.forms.draft import Draft, Form
from housemap.workbench.forms.targets import (
    WHOLE,
    WISHES,
    Part,
    Target,
    parts_of_house,
    parts_of_room,
)
from housemap.workbench.session import Session
from housemap.workbench.typed_paint import contradiction

GROUP_COLUMNS = 10
LEAST_WORDS = 4
"""Columns below which words say nothing."""


def part_row(part: Part, line: Line) -> Row:
    """One line of the list."""
    lead = (line.mark(), line.run(f"{fit(part.group, GROUP_COLUMNS - 1)} ", quiet=True))
    room = line.width - GROUP_COLUMNS - 4 - cell_len(plain(part.title))
    words = whole_words(part.words, room) if room >= LEAST_WORDS else ""
    return line.row(lead, part.title, words, quiet=part.is_new)


def whole_words(text: str, room: int) -> str:
    """As many of its first words as there is room for: half a figure would mislead."""
    while cell_len(text) > room:
        text = text.rpartition(" ")[0].rstrip(" ,x")
    return text


def parts_head(title: str, scope: str, look: Look, width: int) -> Sequence[Row]:
    line = Line(look, width)
    return [line.row((line.run(" "),), title, scope, strong=True), Page(look, width).blank()]


def nothing_rows(look: Look, width: int) -> Sequence[Row]:
    return [*Page(look, width).text("There is nothing here yet.", quiet=True)]


# The list of what has a form, of the selected room or of the whole house.


class PartsPanel(ListPanel):
    """What is in the room, or in the house."""

    CONTEXT: ClassVar[str] = PARTS
    BAR: ClassVar[tuple[str, ...]] = ("open", "new", "delete", "scope", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PARTS)]
    ENTRY_ROWS: ClassVar[int] = 1

    def __init__(self, owner: "EditTask", *, whole: bool = False, at: Target | None = None) -> None:
        super().__init__(owner.session, owner.look)
        self._owner, self.whole = owner, whole
        """Whether the whole house is listed."""
        self._wanted = at
        self._parts: Sequence[Part] = ()

    def follow(self, session: Session) -> None:
        room = session.selection.room
        if self.whole or room not in session.house.rooms:
            self._parts = parts_of_house(session.house, session.selection.level)
        else:
            self._parts = parts_of_room(session.house, str(room))
        chosen = self._wanted or self.chosen
        self._wanted = None
        self.show_entries([part.target for part in self._parts], chosen)
        self.redraw()

    @property
    def part(self) -> Part | None:
        number = self.chosen_number
        return None if number is None else self._parts[number]

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        house, room = self.session.house, self.session.selection.room
        if self.whole or room not in house.rooms:
            return parts_head(house.name or "House", "whole house", self.look, width)
        return parts_head(house.rooms[str(room)].name, "this room", self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        return [part_row(self._parts[number], Line(self.look, width, chosen))]

    def nothing(self, width: int) -> Sequence[Row]:
        return nothing_rows(self.look, width)

    # What the user does

    def picked(self) -> None:
        if self.part is not None:
            self._owner.open_part(self.part, whole=self.whole)

    def action_back(self) -> None:
        self._owner.desk.close_panel()

    def action_scope(self) -> None:
        self.whole = not self.whole
        self.follow(self.session)

    def action_new(self) -> None:
        """Open a form for another of the chosen kind, where there may be another."""
        kind = self.part.target.kind if self.part else ""
        new = next((p for p in self._parts if p.is_new and p.target.kind == kind), None)
        if new is not None:
            self._owner.open_part(new, whole=self.whole)

    def action_delete(self) -> None:
        if self.part is not None and not self.part.is_new:
            self._owner.delete(self.part.target)


# Editing by forms: what there is in a room or a house, a form for each, and deleting.

MOST_USES = 4
"""So many places are named that use what is to be deleted."""

BRINGS_BACK = "u brings it back"


class EditTask(Task):
    """Opens forms and lists; a form calls `take_form` and the others directly."""

    NAME: ClassVar[str] = "edit"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._drafts: dict[Target, Draft] = {}
        """What was typed into forms that were left."""
        self.back: Callable[[Target], None] | None = None
        """Opens the list again from which the form was opened, at what was edited."""

    # The list

    def open(self) -> None:
        self._open_parts(whole=not self.session.house.rooms)

    def _open_parts(self, *, whole: bool, at: Target | None = None) -> None:
        self.desk.open_list(PartsPanel(self, whole=whole, at=at))

    def open_part(self, part: Part, *, whole: bool) -> None:
        """Open a form that leads back to the list, of the whole house or of a room."""
        if part.is_new and part.target.kind == "paint":
            self.desk.run("decks.add_paint")
            return
        self.open_form(part.target, part.given)
        self.back = lambda target: self._open_parts(whole=whole, at=target)

    # The form

    def edit_room(self) -> None:
        room = self.session.selection.room
        if room in self.session.house.rooms:
            self.open_form(Target("room", room))

    def edit_house(self) -> None:
        self.open_form(Target(WHOLE))

    def edit_wishes(self) -> None:
        """What the client asked for in the house; a room's own wishes stand in its list."""
        self.open_form(Target(WISHES))

    def open_form(self, target: Target, given: dict[str, Any] | None = None) -> None:
        """Open a form, with what was typed into it before it was left."""
        waiting = self._drafts.pop(target, None)
        form = Form(target, self.session.house, given or {})
        draft = waiting.over(form) if waiting else Draft(form)
        panel = FormPanel(self.session, draft, self, self.look, self.desk.program.keymap)
        self.back = None
        self.desk.open_panel(panel)
        panel.enter()  # at once: the next key is meant for it
        if draft.typed:
            self.say("What you typed here before is here again.")

    def take_form(self, draft: Draft) -> None:
        made, target = draft.made, draft.form.target
        assert made.house is not None
        target = target.with_key(made.key or target.key)
        if not self._asks_about_lrv(target, made.house, draft):
            self._close_form(target, made.house, draft)

    def _asks_about_lrv(self, target: Target, house: House, draft: Draft) -> bool:
        """Ask where an LRV contradicts the colour beside it, and one of them was just typed."""
        if target.kind not in {"paint", "finish"} or not {"lrv", "colour"} & draft.typed.keys():
            return False
        found = contradiction(target.found_in(house))
        if found is None:
            return False

        def taken(entity: "Paint | Finish") -> Then:
            table = ATTR_OF[target.kind]
            return lambda: self._close_form(
                target, put(house, table, str(target.key), entity), draft
            )

        choices = (
            Choice("c", f"the colour: LRV {found.computed:.0f}", taken(found.by_colour())),
            Choice("l", f"the LRV: make the colour LRV {found.typed:.0f}", taken(found.by_lrv())),
        )
        self.desk.ask(found.question, choices, "go on typing")
        return True

    def _close_form(self, target: Target, house: Any, draft: Draft | None) -> None:
        """Make the edit, if there is one, and go back to the list where the form came from it."""
        back = self.back
        self.desk.close_panel()
        if draft is not None and self.desk.apply(house, draft.label) and target.kind == "room":
            self.desk.select(str(target.key))
        if back is not None:
            message = self.desk.message
            back(target)
            self.say(message)

    def leave_form(self, draft: Draft) -> None:
        """Close the form; ask where something was typed."""
        target, house = draft.form.target, self.session.house
        if not draft.typed:
            self._close_form(target, house, None)
            return
        choices = (
            Choice("ctrl+s", "save it", self._take_open_form),
            Choice("l", "leave it for later", lambda: self._wait(draft)),
            Choice("ctrl+d", "delete what was typed",
                   lambda: self._close_form(target, house, None)),
        )  # fmt: skip
        self.desk.ask(f"{draft.title}: what you typed is not saved.", choices, "go on typing")

    def _take_open_form(self) -> None:
        panel = self._form
        if panel is not None:
            panel.take()

    def _wait(self, draft: Draft) -> None:
        self._drafts[draft.form.target] = draft
        self._close_form(draft.form.target, self.session.house, None)
        self.say(f"{draft.title}: what you typed waits there.")

    def show_form(self, draft: Draft) -> None:
        """Show the house as it is being typed, where it is a whole one."""
        made, session = draft.made, self.session
        house = made.house if made.fits and made.house != session.house else None
        if self._form is not None and house is not session.tried:
            self.desk.try_out(house)

    @property
    def _form(self) -> FormPanel | None:
        return self.desk.panel if isinstance(self.desk.panel, FormPanel) else None

    # Deleting

    def delete(self, target: Target) -> None:
        """Delete at once what nothing uses; ask first about what is used."""
        house = self.session.house
        name = target.name_in(house)
        label = f"{target.kind.capitalize()} {name} deleted"
        used = [*_users(self.session, target)]

        def go() -> None:
            if self.desk.apply(lambda house: target.without(house, uses=bool(used)), label):
                self.say(f"{label}; {BRINGS_BACK}")

        if not used:
            go()
            return
        more = f" and {len(used) - MOST_USES} more" if len(used) > MOST_USES else ""
        text = f"{name} is used by {', '.join(used[:MOST_USES])}{more}."
        self.desk.ask(text, [Choice("ctrl+d", "delete it there as well", go)], "keep it")

    def unfinished(self) -> Iterator[str]:
        form = self._form
        drafts = [*self._drafts.values(), *([form.draft] if form is not None else [])]
        yield from (draft.title for draft in drafts if draft.typed)


def _users(session: Session, target: Target) -> Iterator[str]:
    """What uses an entity, each once, by its kind and name."""
    if target.is_part or not target.has_id:
        return
    house = session.house
    paths = uses(house, ATTR_OF[target.kind], target.key or "")
    for kind, key in dict.fromkeys((path[0], path[1]) for path in paths):
        name = Target(kind, key).name_in(house)
        yield name if kind == "room" else f"{kind} {name}"
