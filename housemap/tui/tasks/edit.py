"""Editing by forms: what there is in a room or a house, a form for each, and deleting."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

from rich.cells import cell_len
from textual.events import Click
from textual.timer import Timer

from housemap.colorimetry.facts import colour_facts
from housemap.model.edits import put, uses
from housemap.model.house import Finish, House, Paint
from housemap.model.schema import ATTR_OF
from housemap.tui.background import work_beside
from housemap.tui.house_screen import HouseScreen, Task
from housemap.tui.panels import ListPanel, RowsPanel
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row, cut, fit, plain, width_of, wrap
from housemap.tui.render.page import SWATCH, Page, Parts
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.text_fields import Area, Field
from housemap.workbench.forms.draft import Draft, Form
from housemap.workbench.forms.fields import Chosen, FormField, notes_on
from housemap.workbench.forms.targets import Part, Target, parts_of_house, parts_of_room
from housemap.workbench.typed_paint import Contradiction, contradiction

NOTES_ROWS = 5
"""So many rows has a field of several lines while it is typed into."""
MOST_OPTIONS = 60
"""Only so many options are looked at to fill a line."""


def label_columns(width: int) -> int:
    return 14 if width < 40 else 17  # noqa: PLR2004 - as `page.NARROW`


FEW_OPTIONS, OPTION_ROWS = 8, 2


def _options(text: str, choice: Chosen, page: Page) -> Iterator[Row]:
    """The options on two lines, those that fit the text marked; of many from just before these."""
    names = [option.name for option in choice.options]
    fitting = {option.name for option in choice.fitting(text)} if text.strip() else set()
    if len(names) > FEW_OPTIONS:
        first = next((i for i, name in enumerate(names) if name in fitting), 0)
        names = names[max(first - 1, 0) :][:MOST_OPTIONS]
    rows = [[page.run("  ")]]
    for name in names:
        fits, shown = name in fitting, cut(name, page.inner - 4, page.more)
        mark = page.look.glyphs.here if fits else " "
        if len(rows[-1]) > 1 and width_of(rows[-1]) + cell_len(shown) + 3 > page.width:
            rows.append([page.run("  ")])
        rows[-1].append(page.run(f"{mark}{shown} ", quiet=not fits, strong=fits))
    yield from map(tuple, rows[:OPTION_ROWS])


# A form beside the map: all its fields as rows, and one field to type into that goes with them.
#
# As with the survey line, what a key does is done before the next key: the field calls the form.

PAUSE_S = 0.12
"""How long after a key the map shows the house as it is typed."""


class ColourSeen(NamedTuple):
    text: str
    """As it was typed."""
    swatch: Coat
    facts: str


class FormPanel(RowsPanel):
    """Shows a draft; the task takes it."""

    owner: "EditTask"
    CONTEXT = "form"

    def __init__(
        self, owner: "EditTask", draft: Draft, back: Callable[[Target], None] | None
    ) -> None:
        """`back` opens the list again from which the form was opened, at what was edited."""
        super().__init__(owner)
        self.draft, self._back = draft, back
        keymap = owner.desk.program.keymap
        self.line = Field("", self.CONTEXT, keymap, self.typed)
        self.area = Area(self._lines_typed, self.CONTEXT, keymap)
        self.done = False
        """Whether what was typed is applied, deleted, or left for later."""
        self._at = 0
        self._loud = False
        self._writing = False
        self._stepped = ""
        """What the arrows have just put there: a letter typed next replaces its last name."""
        self._seen: ColourSeen | None = None
        self._asked = ""
        self._timer: Timer | None = None
        self._places: Sequence[range] = ()
        """Of the fields, among the rows."""

    def enter(self) -> None:
        if self.line.parent is None:
            self.mount(self.line, self.area)
            self.go_to(0)
        self.screen.set_focus(self._typed_into)

    def follow(self) -> None:
        """Where the house has been changed under the form, keep what was typed over it."""
        form, house = self.draft.form, self.session.house
        if house is form.house:
            return
        now = Form(form.target, house, form.given)
        if form.target.key is not None and now.is_new:
            self._close()
        else:
            self.draft = self.draft.over(now)
            self._fill()
            self.redraw()

    @property
    def field(self) -> FormField:
        return self.draft.form.fields[self._at]

    @property
    def _typed_into(self) -> Field | Area:
        return self.area if self.field.lines else self.line

    @property
    def _is_last(self) -> bool:
        return self._at == len(self.draft.form.fields) - 1

    @property
    def bar(self) -> Sequence[str]:
        if self.field.lines:
            return ("next", "save", "back")[self._is_last :]
        return ("open", "right", "save", "back") if self.field.names else ("open", "save", "back")

    def action_open(self) -> None:
        """Go to the next field; from the last one the form is taken."""
        if self._is_last:
            self.action_save()
        else:
            self.action_next(1)

    def action_next(self, by: int) -> None:
        self.go_to(min(max(self._at + by, 0), len(self.draft.form.fields) - 1))

    def action_go(self, way: str) -> None:
        """Go to the next field, or to the next option of a choice; else move along the text.

        In a list of names only "right" at its end does, and changes the last of them.
        """
        by, names = -1 if way in {"up", "left"} else 1, self.field.names
        at_end = by > 0 and self.line.cursor_position == len(self.line.value)
        if way in {"up", "down"}:
            self.action_next(by)
        elif names is not None and (self.field.choice or at_end):
            self._stepped = names.stepped(self.line.value, by)
            self.line.write(self._stepped)
            if self.field.choice:
                self.line.action_select_all()
        elif by > 0:
            self.line.action_cursor_right()
        else:
            self.line.action_cursor_left()

    def action_back(self) -> None:
        draft = self.draft
        if not draft.typed:
            self._close()
            return

        def keep() -> None:
            self.owner.drafts[draft.form.target] = draft
            self._close()
            self.owner.say(f"{draft.title}: what you typed waits there.")

        choices = (
            Choice("ctrl+s", "apply it", self.action_save),
            Choice("l", "leave it for later", keep),
            Choice("ctrl+d", "delete what was typed", self._close),
        )
        text = f"{draft.title}: what you typed is not applied."
        self.owner.desk.ask(text, choices, "go on typing")

    def _close(self, house: House | None = None, target: Target | None = None) -> None:
        """Make the edit, if there is one, and go back to the list where the form came from it."""
        desk, target = self.owner.desk, target or self.draft.form.target
        self.done = True
        desk.close_panel()
        if house is not None and desk.apply(house, self.draft.label) and target.kind == "room":
            desk.select(str(target.key))
        desk.safekeeping.follow()
        if self._back is not None:
            message = desk.message
            self._back(target)
            desk.say(message)

    def go_to(self, number: int) -> None:
        self._leave_field()
        self._at = number
        self._fill()
        self.screen.set_focus(self._typed_into)
        self._look_at_colour()
        self.redraw()

    def _leave_field(self) -> None:
        """Write a choice out in full; take lines whose event has not come yet."""
        if self.field.lines and self.area.is_mounted:
            self.draft = self.draft.with_text(self.field, self.area.text)
        self.draft = self.draft.tidied(self.field)

    def _fill(self) -> None:
        """Put the text of the field into what is typed into, wholly selected."""
        text = self.draft.text(self.field)
        self._writing, self._stepped = True, ""
        if self.field.lines:
            self.area.write(text)
        else:
            self.line.write(text)
            self.line.action_select_all()
        self._writing = False
        self.line.display, self.area.display = not self.field.lines, self.field.lines

    def _lines_typed(self, text: str) -> None:
        if self.field.lines:
            self.typed(text)

    def typed(self, text: str) -> None:
        if self._writing or text == self.draft.text(self.field):
            return
        more = text.removeprefix(self._stepped)
        if more != text and more.isalpha():
            text = self._stepped[: self._stepped.rfind(",") + 1] + more
            self.line.write(text)
        self._stepped = "" if more else self._stepped
        self.draft = self.draft.with_text(self.field, text)
        self._look_at_colour()
        self.redraw()
        self._stop_timer()
        self._timer = self.set_timer(PAUSE_S, self._show)

    def _show(self) -> None:
        """Show the house as it is being typed, where it is a whole one."""
        made, desk = self.draft.made, self.owner.desk
        house = made.house if made.fits and made.house != self.session.house else None
        desk.safekeeping.follow()
        if desk.panel is self and house is not self.session.tried:
            desk.try_out(house)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.stop()

    def action_save(self) -> None:
        """Take the form, or go to the first field that is wrong."""
        self._leave_field()
        made = self.draft.made
        self._stop_timer()
        if made.fits:
            self._take()
            return
        self._loud = True
        fields = enumerate(self.draft.form.fields)
        self.go_to(next((i for i, of in fields if of.key in made.faults), self._at))

    def _take(self) -> None:
        """Make the edit; first ask where an LRV contradicts the colour, and one was just typed."""
        draft, made, house = self.draft, self.draft.made, self.draft.made.house
        assert house is not None
        target = draft.form.target._replace(key=made.key or draft.form.target.key)
        is_coloured = target.kind in {"paint", "finish"} and {"lrv", "colour"} & draft.typed.keys()
        found = contradiction(target.found_in(house)) if is_coloured else None
        if found is None:
            self._close(house, target)
            return

        def take(entity: Paint | Finish) -> None:
            self._close(put(house, ATTR_OF[target.kind], str(target.key), entity), target)

        self.owner.desk.ask(found.question, lrv_choices(found, take), "go on typing")

    def _look_at_colour(self) -> None:
        """Have its facts computed beside the screen: the first ones bring in a large library."""
        if self.field.attr != "colour" or self.draft.fault(self.field):
            return
        source, text = self.draft.value(self.field), self.draft.text(self.field)
        if source is None or text == self._asked:
            return
        self._asked = text

        def seen() -> ColourSeen:
            (facts,) = colour_facts([source])
            words = f"LRV {facts.lrv:.0f}, {facts.undertone.words}, {facts.notation.text}"
            shown = "" if facts.in_srgb else "; more colourful than a screen can show"
            return ColourSeen(text, Coat("known", facts.srgb_hex), f"{words}{shown}")

        def see(seen: ColourSeen) -> None:
            self._seen = seen
            self.redraw()

        # Of a colour that no surface can have the fault is shown; the form may still be filled in.
        work_beside(self, "facts", seen, see, lambda fault: see(ColourSeen(text, BARE, fault)))

    def parts(self, page: Page) -> Parts:
        """The title, a part a field, and what is wrong with the house beyond these."""
        draft, mark = self.draft, page.look.glyphs.marks["fault"]
        count = f"{len(draft.typed)} typed" if draft.typed else ""
        title = page.row((page.run(" "),), draft.title, count, strong=True)
        every = enumerate(draft.form.fields)
        fields = (self._field_rows(each, page, chosen=n == self._at) for n, each in every)
        others = page.texts(f"{mark} {each}" for each in draft.made.others[:2])
        return Parts.of(((title,), *fields, others))

    def draw(self, width: int) -> Sequence[Row]:
        drawn = self.parts(Page(self.look, width))
        self._places = drawn.places[1:-1]
        return drawn.rows

    def _field_rows(self, field: FormField, page: Page, *, chosen: bool) -> Iterator[Row]:
        """Its label and text; below it what is wrong, and what may be typed."""
        glyphs, columns, draft = page.look.glyphs, label_columns(page.width), self.draft
        label = f"{glyphs.here if chosen else ' '}{fit(field.label, columns - 1)} "
        first, *more = draft.text(field).split("\n")
        text = cut(f"{first} {page.more}" if more else first, page.width - columns - 2, page.more)
        typed = field.key in draft.typed
        yield page.run(label, quiet=not chosen, strong=chosen), page.run(text, strong=typed)
        if chosen and field.lines:
            yield from [page.blank()] * (NOTES_ROWS - 1)
        fault = draft.made.faults.get(field.key, "")
        if fault and (typed or self._loud):
            mark = glyphs.marks["fault"]
            yield from page.text(f"{mark} {fault}", strong=not chosen, indent=1)
        if chosen and field.choice:
            yield from _options(draft.text(field), field.choice, page)
        elif chosen and not fault:
            yield from self._hint_rows(field, page)

    def _hint_rows(self, field: FormField, page: Page) -> Iterator[Row]:
        """What may be typed; of a colour what it is."""
        text, seen = self.draft.text(field), self._seen
        if field.attr == "colour" and seen and seen.text == text:
            facts = "; ".join((seen.facts, *notes_on(text)))
            for line in wrap(facts, page.inner - SWATCH - 3):
                yield page.run("  "), page.swatch(seen.swatch), page.run(f" {line}")
            return
        notes = f"enter makes a new line, {'ctrl+s applies it' if self._is_last else 'tab goes on'}"
        needed = "needed; " if field.needed and not text else ""
        if hint := f"{needed}{notes if field.lines else field.hint}".removesuffix("; "):
            yield from page.text(hint, quiet=True, indent=1)

    def fit(self) -> None:
        """Draw it with the field, and what is below it, above the line that says what is left."""
        super().fit()
        place, (width, height) = self._places[self._at], self.size
        self.show_from(min(max(self._top, place.stop - height + 1), place.start))
        column = label_columns(width) + 1
        for typed_into in (self.line, self.area):
            typed_into.styles.offset = (column, place.start - self._top)
            typed_into.styles.width = max(width - column - 1, 1)
        self.area.styles.height = NOTES_ROWS

    def wheel(self, by: int) -> None:
        """What is typed into has its place among the rows, so they stay."""

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        row = at.y + self._top if at else -1
        under = [i for i, place in enumerate(self._places) if row in place]
        if under:
            self.go_to(under[0])


# The list of what has a form, of the selected room or of the whole house: the kind at the left, its
# name, and what sets it apart from others.

GROUP_COLUMNS = 10
LEAST_WORDS = 4
"""Columns below which words say nothing."""


class PartsPanel(ListPanel[Part]):
    owner: "EditTask"
    CONTEXT = "parts"
    BAR = ("open", "new", "delete", "scope", "back")
    ENTRY_ROWS = 1
    NOTHING = "There is nothing here yet."

    def __init__(self, owner: "EditTask", *, whole: bool = False, at: Target | None = None) -> None:
        super().__init__(owner)
        self.whole = whole
        """Whether the whole house is listed."""
        self._first = at

    @property
    def _room(self) -> str | None:
        """The one whose parts are listed; None for the whole house."""
        room = self.session.selection.room
        return room if room in self.session.house.rooms and not self.whole else None

    def follow(self) -> None:
        house = self.session.house
        parts = parts_of_house(house, self.session.selection.level)
        if self._room is not None:
            parts = parts_of_room(house, self._room)
        at, self._first = self._first or self.chosen, None
        self.show_entries(parts, at, [part.target for part in parts])

    def head(self, page: Page) -> Sequence[Row]:
        house, room = self.session.house, self._room
        title = house.rooms[room].name if room else house.name or "House"
        scope = "this room" if room else "whole house"
        return [page.row((page.run(" "),), title, scope, strong=True), page.blank()]

    def entry(self, item: Part, page: Page) -> Sequence[Row]:
        """With as much of what is said of it as there is room for: half a size would mislead."""
        lead = (page.mark(), page.run(f"{fit(item.group, GROUP_COLUMNS - 1)} ", quiet=True))
        room = page.width - GROUP_COLUMNS - 4 - cell_len(plain(item.title))
        words = item.words if room >= LEAST_WORDS else ""
        while words and cell_len(words) > room:
            words = words.rpartition(", ")[0]
        return [page.row(lead, item.title, words, quiet=item.is_new)]

    def picked(self) -> None:
        if self.item is not None:
            self.owner.open_part(self.item, whole=self.whole)

    def action_scope(self) -> None:
        self.whole = not self.whole
        self.follow()

    def action_new(self) -> None:
        kind = self.item.target.kind if self.item else ""
        new = next((p for p in self.items if p.is_new and p.target.kind == kind), None)
        if new is not None:
            self.owner.open_part(new, whole=self.whole)

    def action_delete(self) -> None:
        if self.item is not None and not self.item.is_new:
            self.owner.delete(self.item.target)


def lrv_choices(
    found: Contradiction, take: Callable[[Paint | Finish], None]
) -> tuple[Choice, Choice]:
    """What to do where an LRV contradicts the colour beside it."""
    by_colour, by_lrv = f"LRV {found.computed:.0f}", f"make the colour LRV {found.typed:.0f}"
    return (
        Choice("c", f"the colour: {by_colour}", lambda: take(found.by_colour())),
        Choice("l", f"the LRV: {by_lrv}", lambda: take(found.by_lrv())),
    )


# The task

MOST_USES = 4
"""So many places are named that use what is to be deleted."""


class EditTask(Task):
    """Opens forms and lists."""

    def __init__(self, desk: HouseScreen) -> None:
        super().__init__(desk)
        self.drafts: dict[Target, Draft] = {}
        """What was typed into forms that were left."""

    def open(self) -> None:
        self._open_parts(whole=not self.session.house.rooms)

    def _open_parts(self, *, whole: bool, at: Target | None = None) -> None:
        self.desk.open_list(PartsPanel(self, whole=whole, at=at))

    def open_part(self, part: Part, *, whole: bool) -> None:
        """Open a form that leads back to the list, of the whole house or of a room."""
        if part.is_new and part.target.kind == "paint":
            self.desk.run("decks.add_paint")
            return
        back = partial(self._open_parts, whole=whole)
        self.open_form(part.target, part.given, lambda target: back(at=target))

    def edit_room(self) -> None:
        room = self.session.selection.room
        if room in self.session.house.rooms:
            self.open_form(Target("room", room))

    def edit(self, kind: str) -> None:
        """The house, or the client's wishes; a room's own wishes stand in its list."""
        self.open_form(Target(kind))

    def open_form(
        self, target: Target, given: dict[str, Any] | None = None,
        back: Callable[[Target], None] | None = None,
    ) -> None:  # fmt: skip
        """Open a form, with what was typed into it before it was left."""
        self.desk.close_panel()
        waiting = self.drafts.pop(target, None)
        form = Form(target, self.session.house, given or {})
        panel = FormPanel(self, waiting.over(form) if waiting else Draft(form), back)
        self.desk.open_panel(panel)
        panel.enter()  # at once: the next key is meant for it
        if panel.draft.typed:
            self.say("What you typed here before is here again.")

    def delete(self, target: Target) -> None:
        """Delete at once what nothing uses; ask first about what is used."""
        house = self.session.house
        name = target.name_in(house)
        label = f"{target.kind.capitalize()} {name} deleted"
        used = [*_users(house, target)]

        def go() -> None:
            if self.desk.apply(lambda house: target.without(house, uses=bool(used)), label):
                self.say(f"{label}; u brings it back")

        if not used:
            go()
            return
        more = f" and {len(used) - MOST_USES} more" if len(used) > MOST_USES else ""
        text = f"{name} is in use: {', '.join(used[:MOST_USES])}{more}."
        self.desk.ask(text, [Choice("ctrl+d", "delete it there as well", go)], "keep it")

    def closing(self) -> None:
        """What is typed waits where another panel takes the place of its form."""
        form = self.desk.panel
        if isinstance(form, FormPanel) and form.draft.typed and not form.done:
            self.drafts[form.draft.form.target] = form.draft

    @property
    def _typed_drafts(self) -> Sequence[Draft]:
        form = self.desk.panel
        open_now = [form.draft] if isinstance(form, FormPanel) else []
        return [draft for draft in (*self.drafts.values(), *open_now) if draft.typed]

    def unfinished(self) -> Iterator[str]:
        yield from (draft.title for draft in self._typed_drafts)

    def typed(self) -> object:
        return [[*draft.form.target, dict(draft.typed)] for draft in self._typed_drafts]

    def retype(self, kept: Sequence[Any]) -> None:
        """Take what an earlier run kept of forms: each opens with what was typed into it."""
        for kind, key, room, typed in kept:
            target = Target(kind, key, room)
            self.drafts[target] = Draft(Form(target, self.session.house), typed)


def _users(house: House, target: Target) -> Iterator[str]:
    """What uses an entity, each once, by its kind and name."""
    if target.is_part or not target.has_id:
        return
    paths = uses(house, ATTR_OF[target.kind], target.key or "")
    for kind, key in dict.fromkeys((path[0], path[1]) for path in paths):
        name = Target(kind, key).name_in(house)
        yield name if kind == "room" else f"{kind} {name}"
