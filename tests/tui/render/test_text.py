"""Text of a house is made fit for one row: printable, and never wider than its place."""

import unicodedata

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from housemap.tui.render.cells import cut, fit, plain, text_of, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page

widths = st.integers(1, 30)


@given(st.text())
def test_nothing_that_a_terminal_obeys_is_left(text: str) -> None:
    categories = {unicodedata.category(char) for char in plain(text)}
    assert not categories & {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


@given(st.text(), widths)
def test_cut_text_fits(text: str, width: int) -> None:
    assert cell_len(cut(text, width)) <= width


@given(st.text(), widths)
def test_fitted_text_takes_its_width_exactly(text: str, width: int) -> None:
    assert cell_len(fit(text, width)) == width


@given(st.text(), st.integers(2, 30))
def test_wrapped_lines_fit_and_lose_nothing_but_spaces(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(cell_len(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == plain(text).replace(" ", "")


def test_wide_characters_count_two_cells() -> None:
    assert cut("台所と食堂", 5) == "台所…"
    assert fit("台所", 5) == "台所 "


def test_a_name_is_whole_beside_the_longest_words_that_leave_it_so() -> None:
    page = Page(Look(), 22)
    for words, shown in (
        (("✓A by day", "✓A"), " Clay Petal ✓A by day"),
        (("✓A by day only", "✓A"), " Clay Petal        ✓A"),
        (("by day and by lamplight",), " Clay Petal"),
    ):
        row = page.whole((page.run(" "),), "Clay Petal", *words)
        assert text_of([row]) == shown


def test_markup_stays_as_it_is() -> None:
    assert plain("[/] [red]Study[/red] [@click=app.quit]x") == (
        "[/] [red]Study[/red] [@click=app.quit]x"
    )


def test_words_are_kept_whole_where_they_fit() -> None:
    assert wrap("the dining room", 10) == ["the dining", "room"]
    assert wrap("conservatory", 6) == ["conser", "vatory"]
