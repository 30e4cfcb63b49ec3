"""A form as rows, a field each, with a hint or what is wrong below it; the list of what has one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from housemap.tui.render.cells import Row, cut, fit, plain, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.shades import BARE, Coat
from housemap.workbench.forms.draft import Draft
from housemap.workbench.forms.fields import FormField
from housemap.workbench.forms.targets import Part

NOTES_ROWS = 5
"""So many rows has a field of several lines while it is typed into."""
MOST_OPTIONS = 60
"""Only so many options are looked at to fill a line."""


@dataclass(frozen=True, slots=True)
class FormView:
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
    changed = len(view.draft.typed)
    told = f"{changed} typed" if changed else ""
    page = Page(look, width)
    return [page.row((page.run(" "),), view.draft.title, told, strong=True)]


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
            yield page.run("  "), page.swatch(view.swatch), page.run(f" {line}")
        return
    last = field is view.draft.form.fields[-1]
    notes = f"enter makes a new line, {'ctrl+s saves' if last else 'tab goes on'}"
    hint = notes if field.lines else field.hint
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


# The list: the kind at the left, its name, and what tells it from others.

GROUP_COLUMNS = 10
LEAST_WORDS = 4
"""Columns below which words say nothing."""


def part_row(part: Part, page: Page) -> Row:
    lead = (page.mark(), page.run(f"{fit(part.group, GROUP_COLUMNS - 1)} ", quiet=True))
    room = page.width - GROUP_COLUMNS - 4 - cell_len(plain(part.title))
    words = whole_words(part.words, room) if room >= LEAST_WORDS else ""
    return page.row(lead, part.title, words, quiet=part.is_new)


def parts_head(title: str, scope: str, page: Page) -> Sequence[Row]:
    return [page.row((page.run(" "),), title, scope, strong=True), page.blank()]


def whole_words(text: str, room: int) -> str:
    """As many of its first words as there is room for: half a figure would mislead."""
    while cell_len(text) > room:
        text = text.rpartition(" ")[0].rstrip(" ,x")
    return text
