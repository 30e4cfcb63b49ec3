"""Everything written round the chips of a deck fits its place and says what it has to."""

from itertools import combinations

import pytest

from housemap.choose.chips import all_chips
from housemap.choose.metameric_pairs import MetamericPair, metameric_pairs, nearest
from housemap.choose.surface_trial import Candidate
from housemap.deck.sources import read_bytes
from housemap.file.deck_file import DeckFile
from housemap.model.house import Reflectance
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.tasks.deck_drawing import (
    Beside,
    BesideView,
    DeckCardView,
    Now,
    asked_row,
    beside_rows,
    chip_row,
    count_text,
    deck_card_rows,
    does_text,
    heading_row,
    warning,
)
from housemap.tui.tasks.deck_files import intake_rows
from housemap.tui.tasks.paint_form import PaintFormView, paint_form_rows
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.typed_paint import typed_paint
from tests.support.chips import chips_of, random_paints

LOOKS = [Look(), Look(DARK, ASCII), Look(NO_GREYS, UNICODE)]
CHIPS = all_chips(random_paints(40))
ONE, TWO = CHIPS.swatches[:2]
MEASURED = chips_of(
    flat=Reflectance(400.0, 10.0, (0.5,) * 31),
    wavy=Reflectance(400.0, 10.0, (*((0.48, 0.52) * 15), 0.48)),
)
SOURCE = b"Name;L;a;b;Wert\nOat;84,1;1,2;9,8;64\nBad;x;1;2;3\n"


def coat(index: int) -> Coat:
    return Coat("known", CHIPS.swatches[index].colour.srgb_hex)


DOES = does_text(Candidate("oat", {"jar": 5.0}, 18, None), {"jar": "jarring step"})


def test_what_a_chip_would_do_is_told_in_words() -> None:
    assert DOES == "Penalty here 5.0 (less is better): jarring step 5.0."
    nothing = does_text(Candidate("oat", {}, 18, None), {})
    assert nothing == "Penalty here 0.0 (less is better): none."


def metameric(known: str = "measured", de00: float = 1.0, lamp: float = 3.0) -> MetamericPair:
    return MetamericPair(de00, -4.0, {"A": lamp, "LED-B1": 0.2}, known)  # type: ignore[arg-type]  # as given


def card(now: Now | None, picked: int = 2, light: str = "") -> DeckCardView:
    others = [Beside(CHIPS.swatches[i], coat(i), metameric(), 2.5) for i in range(picked)]
    return DeckCardView(ONE, coat(0), now, others, others, "Oat", DOES, light)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(("width", "height"), [(30, 20), (46, 44), (30, 14)])
def test_the_card_fits_and_tells_what_the_chip_would_replace(
    look: Look, width: int, height: int
) -> None:
    for now in (None, Now("Hall walls", "no paint yet", BARE), OAT_NOW):
        rows = deck_card_rows(card(now), Page(look, width), height)
        assert all(width_of(row) <= width for row in rows)
    assert "LRV" in text_of(deck_card_rows(card(None), Page(look, 46), 44))


OAT_NOW = Now("Hall walls", "Oat", coat(1), metameric(), 2.5)


def test_what_is_on_the_wall_is_named_apart_from_what_is_tried_there() -> None:
    text = text_of(deck_card_rows(card(OAT_NOW), Page(Look(), 60), 44))
    assert "Hall walls now: Oat" in text
    tried = OAT_NOW._replace(tried="Clay Petal")
    text = text_of(deck_card_rows(card(tried), Page(Look(), 60), 44))
    assert "Hall walls: trying Clay Petal; on the wall Oat" in text
    on_trim = tried._replace(place="Hall trim")
    text = text_of(deck_card_rows(card(on_trim), Page(Look(), 60), 44))
    assert "Hall trim: trying Clay Petal; there now Oat" in text


@pytest.mark.parametrize(
    ("lrv", "words"), [(-4.0, "LRV \N{MINUS SIGN}4 points"), (0.2, "LRV as before")]
)
def test_a_difference_is_named_by_its_measure(lrv: float, words: str) -> None:
    now = OAT_NOW._replace(metameric=metameric()._replace(lrv=lrv))
    text = text_of(deck_card_rows(card(now), Page(Look(), 60), 44))
    assert f"difference 2.5 (CIEDE2000), {words}\n" in text


def test_differences_name_the_light_that_is_shown() -> None:
    text = text_of(deck_card_rows(card(OAT_NOW, light="by lamplight"), Page(Look(), 46), 44))
    assert "difference 2.5 (CIEDE2000) by lamplight\n" in text
    for heading in ("picked", "nearest"):
        [row] = [line for line in text.splitlines() if line.strip().startswith(heading)]
        assert row.split() == [heading, "by", "lamplight", "difference"]
    assert "by lamplight" not in text_of(deck_card_rows(card(OAT_NOW), Page(Look(), 46), 44))


def test_a_match_that_parts_under_a_lamp_is_warned_of() -> None:
    assert warning(metameric()) == "Metameric: under A they part by 3.0."
    assert "an estimate" in warning(metameric("estimate"))
    assert warning(metameric("unknown")) == ""
    assert warning(metameric(de00=8.0)) == ""
    assert warning(metameric(lamp=0.5)) == ""


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", [30, 46, 49, 60, 90, 113])
@pytest.mark.parametrize("figure", [None, "12.34", "9.8+"])
def test_a_line_of_the_list_is_as_wide_as_the_list(
    look: Look, width: int, figure: str | None
) -> None:
    for chosen in (False, True):
        row = chip_row(ONE, coat(0), figure, "3", Page(look, width, chosen))
        assert width_of(row) == width
    for lit in (False, True):
        heading = heading_row("hue", "Oat" if figure else "", Page(look, width), lit=lit)
        assert width_of(heading) == width
        assert ("D65" in text_of([heading])) == (lit and figure is not None)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(("width", "height"), [(60, 12), (80, 21), (160, 45)])
@pytest.mark.parametrize("count", [2, 6])
def test_paints_side_by_side_fit_with_every_difference(
    look: Look, width: int, height: int, count: int
) -> None:
    picks = CHIPS.swatches[:count]
    pairs = list(combinations(range(count), 2))
    found = metameric_pairs([picks[i] for i, _ in pairs], [picks[j] for _, j in pairs])
    apart = [[float(abs(i - j)) for j in range(count)] for i in range(count)]
    view = BesideView(
        picks, [coat(i) for i in range(count)], apart, dict(zip(pairs, found, strict=True)),
        "by day",
    )  # fmt: skip
    rows = beside_rows(view, Page(look, width), height)
    assert all(width_of(row) <= width for row in rows)
    text = text_of(rows)
    assert text.count("from ") == count
    assert f"{count - 1}.0 LRV" in text
    assert "nobody can tell" in text


def test_metamers_side_by_side_are_named_by_their_numbers() -> None:
    view = BesideView(
        MEASURED.swatches, [coat(0), coat(1)], [[0, 1], [1, 0]], {(0, 1): metameric()}, "by day",
    )  # fmt: skip
    text = text_of(beside_rows(view, Page(Look(), 100), 30))
    assert "1 and 2 match by daylight (1.0), and lamps part them more" in text
    assert "A 3.0, LED-B1 0.2" in text
    quiet = BesideView(
        MEASURED.swatches, view.coats, view.apart, {(0, 1): metameric(lamp=0.3)}, "by day"
    )
    assert "No two of them part" in text_of(beside_rows(quiet, Page(Look(), 100), 30))


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(("width", "height"), [(38, 20), (60, 44), (38, 14)])
@pytest.mark.parametrize(
    "text", ["", "62 1 8", "62 1 8\n63 1 8", "62 1 8\nnonsense", "62 1 8\n5Y 7/1"]
)
def test_readings_fit_whatever_they_come_to(look: Look, width: int, height: int, text: str) -> None:
    typed = typed_paint(text, "Oat")
    near = nearest(ONE, CHIPS, 5)
    asked = "Oat: the hex gives LRV 41, you typed 52. Which is right?"
    view = PaintFormView(typed, typed.readings.colour, asked, "fan", near, near)
    rows = paint_form_rows(view, Page(look, width), height)
    assert all(width_of(row) <= width for row in rows)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", [20, 60, 160])
def test_what_a_file_holds_fits_its_page(look: Look, width: int) -> None:
    reading = read_bytes(SOURCE, "fan.csv")
    rows = [*intake_rows(reading, Page(look, width))]
    assert all(width_of(row) <= width for row in rows)


def test_what_a_file_holds_tells_mapping_rejected_rows_and_assumptions() -> None:
    text = text_of(intake_rows(read_bytes(SOURCE, "fan.csv"), Page(Look(), 100)))
    assert "Wert -> left out" in text
    assert "Rejected: 1 row" in text
    assert 'line 3: "x" is not a number' in text
    assert "decimals are marked by a comma" in text


def test_the_lines_above_a_deck_tell_what_is_asked() -> None:
    desk = DeckBrowser(DeckFile("fan", None), paints=40)
    desk.take_chips(CHIPS, done=False)
    assert count_text(desk) == "40 of 40 paints so far"
    desk.take_chips(CHIPS, done=True)
    assert count_text(desk) == "40 paints"
    desk.search("lrv>50")
    desk.turn_near()
    text = text_of([asked_row(desk, Page(Look(), 80))])
    assert " / lrv>50" in text
    assert "near" in text
    assert count_text(desk).endswith("of 40 paints")
    for width in (20, 40, 80, 160):
        assert width_of(asked_row(desk, Page(Look(), width))) <= max(width, 30)
