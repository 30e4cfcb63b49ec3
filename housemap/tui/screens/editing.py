"""Editing by forms: what there is in a room or a house, a form for each, and deleting."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from housemap.model.edits import uses
from housemap.model.schema import ATTR_OF
from housemap.tui.questions import Choice
from housemap.tui.screens.filing import Then
from housemap.tui.screens.surveying import Surveying
from housemap.workbench.forms.targets import WHOLE, Target
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.tui.tasks.edit import PartsPanel
    from housemap.tui.tasks.forms import FormPanel
    from housemap.workbench.forms.draft import Draft

MOST_USES = 4
"""So many places are named that use what is to be deleted."""

BRINGS_BACK = "u brings it back"


class Editing(Surveying):
    """Actions that open forms and lists; a form calls `take_form` and the others directly."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._drafts: dict[Target, Draft] = {}
        """What was typed into forms that were left."""
        self._back: Callable[[Target], None] | None = None
        """Opens the list again from which the form was opened, at what was edited."""

    # The list

    def action_parts(self) -> None:
        self._open_parts(whole=not self.session.house.rooms)

    def _open_parts(self, *, whole: bool, at: Target | None = None) -> None:
        from housemap.tui.tasks.edit import PartsPanel  # noqa: PLC0415 - when first needed

        self.open_panel(PartsPanel(self.session, self.look, whole=whole, at=at))

    def on_parts_panel_opened(self, message: "PartsPanel.Opened") -> None:
        message.stop()
        whole = message.whole
        self.open_form(message.part.target, message.part.given)
        self._back = lambda target: self._open_parts(whole=whole, at=target)

    def on_parts_panel_left(self) -> None:
        self.close_panel()

    # The form

    def action_edit_room(self) -> None:
        room = self.session.selection.room
        if room in self.session.house.rooms:
            self.open_form(Target("room", room))

    def action_edit_house(self) -> None:
        self.open_form(Target(WHOLE))

    def open_form(self, target: Target, given: dict[str, Any] | None = None) -> None:
        """Open a form, with what was typed into it before it was left."""
        from housemap.tui.tasks.forms import FormPanel  # noqa: PLC0415 - the same
        from housemap.workbench.forms.draft import Draft, Form  # noqa: PLC0415 - when first needed

        waiting = self._drafts.pop(target, None)
        form = Form(target, self.session.house, given or {})
        draft = waiting.over(form) if waiting else Draft(form)
        panel = FormPanel(self.session, draft, self, self.look, self.program.keymap)
        self._back = None
        self.open_panel(panel)
        panel.enter()  # at once: the next key is meant for it
        if draft.typed:
            self.say("What you typed here before is here again.")

    def take_form(self, draft: "Draft") -> None:
        made, target = draft.made, draft.form.target
        assert made.house is not None
        self._close_form(target.with_key(made.key or target.key), made.house, draft)

    def _close_form(self, target: Target, house: Any, draft: "Draft | None") -> None:
        """Make the edit, if there is one, and go back to the list where the form came from it."""
        back = self._back
        self.close_panel()
        if draft is not None and self.apply(house, draft.label) and target.kind == "room":
            self.select(str(target.key))
        if back is not None:
            message = self._message
            back(target)
            self.say(message)

    def leave_form(self, draft: "Draft") -> None:
        """Close the form; ask where something was typed."""
        target, house = draft.form.target, self.session.house
        if not draft.typed:
            self._close_form(target, house, None)
            return
        choices = (
            Choice("t", "take it", "take"),
            Choice("l", "leave it waiting", "wait"),
            Choice("d", "drop it", "drop"),
        )
        steps: dict[str, Then] = {
            "take": self._take_open_form,
            "wait": lambda: self._wait(draft),
            "drop": lambda: self._close_form(target, house, None),
        }
        count = len(draft.typed)
        text = f"{draft.title}: {count} field{'s' if count > 1 else ''} typed and not taken."
        self._ask(text, choices, "go on typing", steps)

    def _take_open_form(self) -> None:
        panel = self._form
        if panel is not None:
            panel.take()

    def _wait(self, draft: "Draft") -> None:
        self._drafts[draft.form.target] = draft
        self._close_form(draft.form.target, self.session.house, None)
        self.say(f"{draft.title}: what you typed waits there.")

    def show_form(self, draft: "Draft") -> None:
        """Show the house as it is being typed, where it is a whole one."""
        made, session = draft.made, self.session
        house = made.house if made.fits and made.house != session.house else None
        if self._form is not None and house is not session.tried:
            self.try_out(house)

    @property
    def _form(self) -> "FormPanel | None":
        from housemap.tui.tasks.forms import FormPanel  # noqa: PLC0415 - a form has been opened

        return self.panel if isinstance(self.panel, FormPanel) else None

    # Deleting

    def on_parts_panel_doomed(self, message: "PartsPanel.Doomed") -> None:
        message.stop()
        self.delete(message.target)

    def delete(self, target: Target) -> None:
        """Delete at once what nothing uses; ask first about what is used."""
        house = self.session.house
        name = target.name_in(house)
        label = f"{target.kind.capitalize()} {name} deleted"
        used = [*_users(self.session, target)]

        def go() -> None:
            if self.apply(lambda house: target.without(house, uses=bool(used)), label):
                self.say(f"{label}; {BRINGS_BACK}")

        if not used:
            go()
            return
        more = f" and {len(used) - MOST_USES} more" if len(used) > MOST_USES else ""
        text = f"{name} is used by {', '.join(used[:MOST_USES])}{more}."
        choices = (Choice("d", "delete it there as well", "delete"),)
        self._ask(text, choices, "keep it", {"delete": go})

    # Leaving the house

    def leave(self, then: Then) -> None:
        """Say first what has been typed and not taken."""
        left = [*self._not_taken()]
        if not left:
            super().leave(then)
            return
        text = f"Typed and not taken: {', '.join(left)}."
        choices = (Choice("d", "leave without it", "drop"),)
        self._ask(text, choices, "stay", {"drop": lambda: super(Editing, self).leave(then)})

    def _not_taken(self) -> Iterator[str]:
        form = self._form if self._panel is not None else None
        drafts = [*self._drafts.values(), *([form.draft] if form is not None else [])]
        yield from (draft.title for draft in drafts if draft.typed)
        if self.line_waits:
            yield "a survey line"


def _users(session: Session, target: Target) -> Iterator[str]:
    """What uses an entity, each once, by its kind and name."""
    if target.is_part or target.kind == WHOLE:
        return
    house = session.house
    paths = uses(house, ATTR_OF[target.kind], target.key or "")
    for kind, key in dict.fromkeys((path[0], path[1]) for path in paths):
        name = Target(kind, key).name_in(house)
        yield name if kind == "room" else f"{kind} {name}"
