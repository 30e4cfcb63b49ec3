"""Text from files and keyboards: legal characters only."""

import sys
import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from housemap.model.text import clean_text, shown, text_fault

REFUSED = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def test_every_code_point_of_the_refused_categories_is_refused_and_no_other() -> None:
    for code in range(sys.maxunicode + 1):
        letter = chr(code)
        fault = text_fault(letter)
        hidden = fault is not None and "hidden character" in fault
        assert hidden == (unicodedata.category(letter) in REFUSED), hex(code)


def test_newlines_are_legal_only_in_texts_of_several_lines() -> None:
    assert text_fault("two\nlines") == "must not hold the hidden character U+000A"
    assert text_fault("two\nlines", lines=True) is None
    assert text_fault("tab\t", lines=True) == "must not hold the hidden character U+0009"


def test_a_text_beyond_its_limit_is_refused() -> None:
    assert text_fault("x" * 200) is None
    assert text_fault("x" * 201) == "must be at most 200 characters long, found 201"


def test_a_tower_of_marks_is_refused_and_a_letter_with_its_marks_is_not() -> None:
    assert text_fault("x" + "\u0335" * 5) == "must not stack more than 4 marks on one letter"
    assert text_fault(unicodedata.normalize("NFC", "Phòng ngủ Việt")) is None


def test_a_decomposed_text_is_refused_as_it_would_not_compare_equal() -> None:
    assert text_fault("Cafe\u0301") == "must be in Unicode form NFC"


def test_what_is_typed_is_made_legal() -> None:
    assert clean_text("  Oat\tLadle \x1b[31m\u202e ") == "Oat Ladle [31m"
    assert clean_text("one\r\ntwo  three\u2028four", lines=True) == "one\ntwo three\nfour"
    assert clean_text("one\ntwo") == "one two"
    assert clean_text("Cafe\u0301") == "Caf\u00e9"


@given(st.text(), st.booleans(), st.integers(1, 30))
def test_cleaned_text_is_legal_and_stays_as_it_is(typed: str, lines: bool, limit: int) -> None:  # noqa: FBT001 - drawn
    clean = clean_text(typed, limit, lines=lines)
    assert text_fault(clean, limit, lines=lines) is None
    assert clean_text(clean, limit, lines=lines) == clean


def test_values_are_shown_short_and_harmless() -> None:
    assert shown("a\x1b]0;title\x07") == '"a\\u001b]0;title\\u0007"'
    assert len(shown("x" * 1000)) == 42
    assert shown(10**400) == "a very large number"
    assert shown(True) == "true"  # noqa: FBT003 - the value shown
