"""Forms and lists of what has one fit any width, whatever stands in them."""

from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.house import House
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, NO_GREYS, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Coat
from housemap.tui.tasks.edit import ColourSeen, FormPanel, PartsPanel
from housemap.workbench.forms.draft import Draft, Form
from housemap.workbench.forms.targets import Target, parts_of_house, parts_of_room
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.strategies import houses

LOOKS = (Look(), Look(glyphs=ASCII), Look(NO_GREYS, ASCII))
widths = st.integers(24, 160)
looks = st.sampled_from(LOOKS)


def panel_on(draft: Draft, look: Look | None = None) -> FormPanel:
    """A form without a program."""
    desk = SimpleNamespace(program=SimpleNamespace(keymap={}))
    session = Session.of(draft.form.house)
    owner: Any = SimpleNamespace(session=session, look=look or Look(), desk=desk)
    return FormPanel(owner, draft, None)


def panel_of(target: Target, at: str, **typed: str) -> FormPanel:
    draft = Draft(Form(target, small_house()))
    keys = [of.key for of in draft.form.fields]
    for key, text in typed.items():
        draft = draft.with_text(draft.form.fields[keys.index(key)], text)
    panel = panel_on(draft)
    panel._at = keys.index(at)
    return panel


def text(panel: FormPanel, width: int = 48) -> str:
    return text_of(panel.parts(Page(Look(), width)).rows)


@given(houses(), st.data(), widths, looks)
def test_every_row_of_a_form_fits(
    house: House, data: st.DataObject, width: int, look: Look
) -> None:
    part = data.draw(st.sampled_from(parts_of_house(house, 0)))
    draft = Draft(Form(part.target, house, part.given))
    at = data.draw(st.integers(0, len(draft.form.fields) - 1))
    typed = data.draw(st.text(max_size=50))
    panel = panel_on(draft.with_text(draft.form.fields[at], typed), look)
    panel._at, panel._loud = at, True
    page = Page(look, width)
    drawn = panel.parts(page)
    assert all(width_of(row) <= width for row in drawn.rows)
    _title, *fields, _others = drawn.places
    assert len(fields) == len(draft.form.fields)
    assert all(fields)


@given(houses(), widths, looks)
def test_every_row_of_the_list_fits(house: House, width: int, look: Look) -> None:
    parts = parts_of_house(house, 0)
    for room in house.rooms:
        parts += parts_of_room(house, room)
    owner: Any = SimpleNamespace(session=Session.of(house), look=look)
    panel = PartsPanel(owner, whole=True)
    rows = [*panel.head(Page(look, width))]
    rows += [row for part in parts for row in panel.entry(part, Page(look, width, chosen=True))]
    assert all(width_of(row) <= width for row in rows)


def test_a_hint_stands_below_the_field_typed_into_and_nowhere_else() -> None:
    assert "0 at the ground" in text(panel_of(Target("room", "hall"), "level"))
    assert "0 at the ground" not in text(panel_of(Target("room", "hall"), "name"))


def test_a_fault_stands_below_its_field_also_when_it_was_left() -> None:
    told = text(panel_of(Target("room", "hall"), "name", height_m="-1"))
    lines = told.split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith(" height"))
    assert "✗ must be above 0, found -1" in lines[at + 1]


def test_what_is_needed_is_quiet_until_the_form_is_to_be_taken() -> None:
    panel = panel_of(Target("paint"), "code")
    assert "is needed" not in text(panel)
    panel._loud = True
    assert text(panel).count("is needed") == 2


def test_the_options_of_a_choice_are_shown_with_those_that_fit_marked() -> None:
    told = text(panel_of(Target("room", "hall"), "use", use="li"))
    assert "▸living" in told
    assert "▸hall" not in told


@pytest.mark.parametrize("width", [34, 48])
def test_a_colour_shows_its_swatch_and_figures(width: int) -> None:
    panel = panel_of(Target("paint", "oat"), "colour")
    typed, swatch = panel.draft.text(panel.field), Coat("known", "#d9d0bf")
    panel._seen = ColourSeen(typed, swatch, "LRV 64, yellowish white")
    rows = panel.parts(Page(Look(), width)).rows
    assert any(run.ink.bg == "#d9d0bf" for row in rows for run in row)
    assert "LRV 64" in text_of(rows)
