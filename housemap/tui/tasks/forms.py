"""A form as rows: a field each, with a hint or what is wrong below it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import ClassVar, Protocol

from rich.cells import cell_len
from textual.binding import BindingType
from textual.events import Click
from textual.strip import Strip
from textual.timer import Timer
from textual.widgets import TextArea

from housemap.colorimetry.facts import colour_facts
from housemap.errors import InputError
from housemap.model.house import ColourSource
from housemap.tui.background import work_beside
from housemap.tui.commands import FORM, Keymap
from housemap.tui.keys import bindings_of
from housemap.tui.panel import Panel
from housemap.tui.render.cells import Ink, Row, Run, cut, fit, width_of, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch, scrollbar
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.scroller import Drawn
from housemap.tui.strips import strip_of
from housemap.tui.text_fields import Area, Field
from housemap.workbench.forms.draft import Draft, Form
from housemap.workbench.forms.fields import FormField, notes_on
from housemap.workbench.session import Session

NOTES_ROWS = 5
"""So many rows has a field of several lines while it is typed into."""
MOST_OPTIONS = 60
"""Only so many options are looked at to fill a line."""


@dataclass(frozen=True, slots=True)
class FormView:
    """Everything that a form shows."""

    draft: Draft
    at: int
    """The number of the field being typed into."""
    loud: bool = False
    """Whether also empty fields tell that they are needed."""
    facts: str = ""
    """What is known of the colour being typed."""
    swatch: Coat = BARE

    @property
    def field(self) -> FormField:
        return self.draft.form.fields[self.at]


@dataclass(frozen=True, slots=True)
class FormRows:
    """The rows of all fields, and where each field begins."""

    rows: Sequence[Row]
    starts: Sequence[int]
    column: int
    """Where texts begin."""


def label_columns(width: int) -> int:
    return 14 if width < 40 else 17  # noqa: PLR2004 - as `page.NARROW`


def form_rows(view: FormView, look: Look, width: int) -> FormRows:
    page = Page(look, width)
    rows: list[Row] = []
    starts: list[int] = []
    for number, field in enumerate(view.draft.form.fields):
        starts.append(len(rows))
        rows += _field_rows(view, field, page, chosen=number == view.at)
    return FormRows(rows, starts, label_columns(width) + 1)


def head_rows(view: FormView, look: Look, width: int) -> list[Row]:
    """The title, and how many fields have been changed."""
    changed = len(view.draft.typed)
    told = f"{changed} typed" if changed else ""
    line = Line(look, width)
    return [line.row((line.run(" "),), view.draft.title, told, strong=True)]


def foot_rows(view: FormView, look: Look, width: int) -> list[Row]:
    """What is wrong with the house beyond the fields of the form."""
    page = Page(look, width)
    others = view.draft.made.others
    mark = look.glyphs.marks["fault"]
    return [row for each in others[:2] for row in page.text(f"{mark} {each}")]


def _field_rows(view: FormView, field: FormField, page: Page, *, chosen: bool) -> Iterator[Row]:
    yield _text_row(view, field, page, chosen=chosen)
    if chosen and field.lines:
        yield from [page.blank()] * (NOTES_ROWS - 1)
    fault = view.draft.made.faults.get(field.key, "")
    if fault and (field.key in view.draft.typed or view.loud):
        yield from _below(f"{page.look.glyphs.marks['fault']} {fault}", page, strong=not chosen)
    if chosen and (field.choice or not fault):
        yield from _hint_rows(view, field, page)


def _text_row(view: FormView, field: FormField, page: Page, *, chosen: bool) -> Row:
    mark = page.look.glyphs.here if chosen else " "
    columns = label_columns(page.width)
    label = fit(field.label, columns - 1)
    first, *more = view.draft.text(field).split("\n")
    text = f"{first} {page.more}" if more else first
    typed = field.key in view.draft.typed
    return (
        page.run(f"{mark}{label} ", quiet=not chosen, strong=chosen),
        page.run(cut(text, page.width - columns - 2, page.more), strong=typed),
    )


def _hint_rows(view: FormView, field: FormField, page: Page) -> Iterator[Row]:
    """What may be typed; of a choice what there is, of a colour what it is."""
    if field.choice:
        yield from _options(view.draft, field, page)
        return
    if view.facts and field.attr == "colour":
        words = wrap(view.facts, page.inner - SWATCH - 3)
        for line in words:
            yield page.run("  "), patch(view.swatch, SWATCH, page.look), page.run(f" {line}")
        return
    hint = "enter makes a new line, tab goes on" if field.lines else field.hint
    needed = "needed; " if field.needed and not view.draft.text(field) else ""
    if needed or hint:
        yield from _below(f"{needed}{hint}".removesuffix("; "), page, quiet=True)


def _below(text: str, page: Page, *, quiet: bool = False, strong: bool = False) -> Iterator[Row]:
    for line in wrap(text, page.inner - 2):
        yield page.run("  "), page.run(line, quiet=quiet, strong=strong)


def _options(draft: Draft, field: FormField, page: Page) -> Iterator[Row]:
    """The options that fit on two lines, from the chosen one on, which is marked."""
    choice = field.choice
    assert choice is not None
    text = draft.text(field)
    names = [option.name for option in choice.options]
    fitting = {option.name for option in choice.fitting(text)} if text.strip() else set()
    start = _start(names, fitting)
    yield from _flow(names[start : start + MOST_OPTIONS], fitting, page)


def _start(names: Sequence[str], fitting: set[str]) -> int:
    """Lists of many begin a little before what fits."""
    if len(names) <= 8:  # noqa: PLR2004 - they fit on two lines
        return 0
    first = next((i for i, name in enumerate(names) if name in fitting), 0)
    return max(first - 1, 0)


def _flow(names: Sequence[str], fitting: set[str], page: Page) -> Iterator[Row]:
    row, used, rows = [page.run("  ")], 2, 0
    for name in names:
        shown = cut(name, page.inner - 4, page.more)
        if used + cell_len(shown) + 2 > page.width - 1 and used > 2:  # noqa: PLR2004 - the indent
            yield tuple(row)
            row, used, rows = [page.run("  ")], 2, rows + 1
            if rows == 2:  # noqa: PLR2004 - two lines
                return
        mark = page.look.glyphs.here if name in fitting else " "
        row.append(page.run(f"{mark}{shown} ", quiet=not fitting or name not in fitting,
                            strong=name in fitting))  # fmt: skip
        used += cell_len(shown) + 2
    yield tuple(row)


# What is typed into on a form: a field of one line, and one of several.


class FormKeys:
    """The keys of a form, for whatever is typed into."""

    bar = ("open", "right", "save", "back")

    form: "FormPanel"

    def action_open(self) -> None:
        self.form.go_on()

    def action_next(self, step: int) -> None:
        self.form.step(step)

    def action_go(self, way: str) -> None:
        step = -1 if way in {"up", "left"} else 1
        if way in {"up", "down"}:
            self.form.step(step)
        else:
            self.step_option(step)

    def step_option(self, by: int) -> None:
        """Go to the next choice of the field (above 0), or the one before."""
        raise NotImplementedError

    def action_save(self) -> None:
        self.form.take()

    def action_back(self) -> None:
        self.form.forms.leave_form(self.form.draft)


class FormLine(FormKeys, Field):
    """The field of one line."""

    CONTEXT: ClassVar[str] = FORM
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FORM)]

    def __init__(self, form: "FormPanel", keymap: Keymap) -> None:
        self.form = form
        super().__init__(keymap=keymap)

    def watch_value(self, value: str) -> None:
        self.form.typed(value)

    def step_option(self, by: int) -> None:
        """Go to the next option of a choice; elsewhere move along the text."""
        choice = self.form.field.choice
        if choice is not None:
            self.write(choice.stepped(self.value, by))
            self.action_select_all()
        elif by > 0:
            self.action_cursor_right()
        else:
            self.action_cursor_left()


class FormArea(FormKeys, Area):
    """The field of several lines: enter and the arrows are its own."""

    CONTEXT: ClassVar[str] = FORM
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FORM)]
    OWN_KEYS: ClassVar[frozenset[str]] = frozenset({"enter", "up", "down", "left", "right"})

    def __init__(self, form: "FormPanel", keymap: Keymap) -> None:
        self.form = form
        super().__init__(keymap=keymap)

    def step_option(self, by: int) -> None:
        """Arrows move along the text."""

    def on_text_area_changed(self, message: TextArea.Changed) -> None:
        message.stop()
        if self.form.field.lines:
            self.form.typed(self.text)


# A form beside the map: all its fields as rows, and one field to type into that goes with them.
#
# As with the survey line, what a key does is done before the next key: the field calls the form,
# and the form calls the screen's `Forms`.

PAUSE_S = 0.12
"""How long after a key the map shows the house as it is typed."""


class Forms(Protocol):
    """What a form asks of its screen."""

    def take_form(self, draft: Draft) -> None:
        """Make the edit of a draft that fits."""

    def leave_form(self, draft: Draft) -> None: ...
    def show_form(self, draft: Draft) -> None:
        """Show the house as it is being typed."""


@dataclass(frozen=True, slots=True)
class ColourSeen:
    """What a typed colour is."""

    source: ColourSource
    swatch: Coat
    facts: str


class FormPanel(Panel, Drawn):
    """Shows a draft; the screen takes it."""

    def __init__(
        self, session: Session, draft: Draft, forms: Forms, look: Look, keymap: Keymap
    ) -> None:
        super().__init__()
        self.session, self.draft, self.forms, self.look = session, draft, forms, look
        self.line, self.area = FormLine(self, keymap), FormArea(self, keymap)
        self._at = self._top = 0
        self._loud = False
        self._writing = False
        self._seen: ColourSeen | None = None
        self._asked: ColourSource | None = None
        self._timer: Timer | None = None
        self._drawn: FormRows = FormRows((), (), 0)
        self._head: Sequence[Row] = ()
        self._foot: Sequence[Row] = ()

    # Opening, following

    def enter(self) -> None:
        if self.line.parent is None:
            self.mount(self.line, self.area)
            self.go_to(0)
        self.screen.set_focus(self._typed_into)

    def follow(self, session: Session) -> None:
        """Where the house has been changed under the form, keep what was typed over it."""
        form = self.draft.form
        if session.house is form.house:
            return
        now = Form(form.target, session.house, form.given)
        if form.target.key is not None and now.is_new:
            self.forms.leave_form(Draft(form))
        else:
            self.draft = self.draft.over(now)
            self._fill()
            self.redraw()

    @property
    def field(self) -> FormField:
        return self.draft.form.fields[self._at]

    @property
    def _typed_into(self) -> FormLine | FormArea:
        return self.area if self.field.lines else self.line

    # Moving from field to field

    def step(self, by: int) -> None:
        self.go_to(min(max(self._at + by, 0), len(self.draft.form.fields) - 1))

    def go_on(self) -> None:
        """To the next field; from the last one the form is taken."""
        if self._at == len(self.draft.form.fields) - 1:
            self.take()
        else:
            self.step(1)

    def go_to(self, number: int) -> None:
        self._leave_field()
        self._at = number
        self._fill()
        self.screen.set_focus(self._typed_into)
        self._look_at_colour()
        self.redraw()

    def _leave_field(self) -> None:
        """Write a choice out in full; take lines that have not been told yet."""
        if self.field.lines and self.area.is_mounted:
            self.draft = self.draft.with_text(self.field, self.area.text)
        self.draft = self.draft.tidied(self.field)

    def _fill(self) -> None:
        """Put the text of the field into what is typed into, wholly selected."""
        text = self.draft.text(self.field)
        self._writing = True
        if self.field.lines:
            self.area.write(text)
        else:
            self.line.write(text)
            self.line.action_select_all()
        self._writing = False
        self.line.display, self.area.display = not self.field.lines, self.field.lines

    def typed(self, text: str) -> None:
        if self._writing or text == self.draft.text(self.field):
            return
        self.draft = self.draft.with_text(self.field, text)
        self._look_at_colour()
        self.redraw()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE_S, lambda: self.forms.show_form(self.draft))

    def take(self) -> None:
        """Take the form, or go to the first field that is wrong."""
        self._leave_field()
        made = self.draft.made
        if self._timer is not None:
            self._timer.stop()
        if made.fits:
            self.forms.take_form(self.draft)
            return
        self._loud = True
        fields = self.draft.form.fields
        wrong = next((i for i, of in enumerate(fields) if of.key in made.faults), self._at)
        self.go_to(wrong)

    # The colour being typed

    def _look_at_colour(self) -> None:
        """Have its facts computed beside the screen: the first ones bring in a large library."""
        if self.field.attr != "colour" or self.draft.fault(self.field):
            return
        source = self.draft.value(self.field)
        if source is None or source == self._asked:
            return
        self._asked = source

        def seen() -> ColourSeen:
            (facts,) = colour_facts([source])
            words = f"LRV {facts.lrv:.0f}, {facts.undertone.words}, {facts.notation.text}"
            shown = "" if facts.in_srgb else "; more colourful than a screen can show"
            return ColourSeen(source, Coat("known", facts.srgb_hex), f"{words}{shown}")

        # Of a colour that no surface can have the fault is shown; the form may still be filled in.
        work_beside(
            self, "facts", seen, self._see,
            lambda fault: self._see(ColourSeen(source, BARE, fault)),
        )  # fmt: skip

    def _see(self, seen: ColourSeen) -> None:
        self._seen = seen
        self.redraw()

    def _view(self) -> FormView:
        seen = self._seen
        try:
            source = self.draft.value(self.field) if self.field.attr == "colour" else None
        except InputError:
            source = None
        if seen is None or source is None or seen.source != source:
            return FormView(self.draft, self._at, self._loud)
        notes = "; ".join(notes_on(self.draft.text(self.field)))
        facts = f"{seen.facts}; {notes}" if notes else seen.facts
        return FormView(self.draft, self._at, self._loud, facts, seen.swatch)

    # Drawing

    def fit(self) -> None:
        width, height = self.size
        view = self._view()
        self._head = head_rows(view, self.look, width)
        self._foot = foot_rows(view, self.look, width)
        self._drawn = form_rows(view, self.look, width - 1)
        self._reveal(max(height - len(self._head) - len(self._foot), 1))
        row = self._drawn.starts[self._at] - self._top + len(self._head)
        for typed_into in (self.line, self.area):
            typed_into.styles.offset = (self._drawn.column, row)
            typed_into.styles.width = max(width - self._drawn.column - 2, 1)
        self.area.styles.height = NOTES_ROWS

    def _reveal(self, height: int) -> None:
        """Scroll until the field and what stands below it are on show."""
        starts, rows = self._drawn.starts, len(self._drawn.rows)
        end = starts[self._at + 1] if self._at + 1 < len(starts) else rows
        top = min(max(self._top, end - height), starts[self._at])
        self._top = min(max(top, 0), max(rows - height, 0))

    def render_line(self, y: int) -> Strip:
        return strip_of(self._row(y), self.size.width, self._fill_ink)

    def _row(self, y: int) -> Row:
        head, foot, height = self._head, self._foot, self.size.height
        if y < len(head):
            return head[y]
        if y >= height - len(foot):
            return foot[y - height + len(foot)]
        space = height - len(head) - len(foot)
        rows, place = self._drawn.rows, y - len(head)
        row = rows[place + self._top] if place + self._top < len(rows) else ()
        blank = Run(" " * max(self.size.width - 1 - width_of(row), 0), self._fill_ink)
        return *row, blank, scrollbar(place, space, self._top, len(rows), self.look)

    @property
    def _fill_ink(self) -> Ink:
        return Ink(self.look.greys.text, self.look.greys.panel)

    # The mouse

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        row = at.y - len(self._head) + self._top if at else -1
        under = [i for i, start in enumerate(self._drawn.starts) if 0 <= start <= row]
        if row >= 0 and under:
            self.go_to(under[-1])
