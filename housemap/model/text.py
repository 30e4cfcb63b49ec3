"""What text may hold: people's words, and nothing that a terminal or a reader would obey.

Refused are control characters (C0 and C1), format characters (bidi controls, zero-width
characters), surrogates, private-use and unassigned code points, line and paragraph separators:
the Unicode general categories Cc, Cf, Cs, Co, Cn, Zl and Zp. Text is kept in Unicode form NFC.
"""

import unicodedata

TO = r"\s*(?:-|–|to|\.\.)\s*"  # noqa: RUF001 - as typed
"""Between the ends of a range."""
NAME_LENGTH = 200
"""The longest name or code, in characters."""
NOTES_LENGTH = 10_000
"""The longest notes, in characters."""
MARKS_IN_A_ROW = 4
"""The most combining marks on one letter: more would run over the lines around it."""


def text_fault(text: str, limit: int = NAME_LENGTH, *, lines: bool = False) -> str | None:
    """Say what is wrong with a text, as "must ..."; None if nothing is. `lines` allows newlines."""
    if len(text) > limit:
        return f"must be at most {limit} characters long, found {len(text)}"
    if text.isascii() and text.isprintable():
        return None
    marks = 0
    for letter in text:
        if is_hidden(letter) and not (lines and letter == "\n"):
            return f"must not hold the hidden character {codepoint(letter)}"
        marks = marks + 1 if is_mark(letter) else 0
        if marks > MARKS_IN_A_ROW:
            return f"must not stack more than {MARKS_IN_A_ROW} marks on one letter"
    if not unicodedata.is_normalized("NFC", text):
        return "must be in Unicode form NFC"
    return None


def normal(text: str) -> str:
    """Return the text in Unicode form NFC."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def clean_text(typed: str, limit: int = NAME_LENGTH, *, lines: bool = False) -> str:
    """Make a legal text of what somebody typed or pasted, dropping what is not allowed.

    Tabs and newlines become spaces (with `lines`, newlines are kept) and runs of spaces become one.
    """
    rows = unicodedata.normalize("NFC", typed).splitlines()
    clean = [" ".join(_kept(row.replace("\t", " ")).split()) for row in rows]
    joined = "\n".join(clean) if lines else " ".join(filter(None, clean))
    return unicodedata.normalize("NFC", joined)[:limit].strip()


GROUPED = 10_000
"""From here on thousands are grouped."""


def number_text(value: float) -> str:
    """As people write it: 2700, 1,000,000, never 1e+06."""
    return f"{value:{',' if abs(value) >= GROUPED else ''}.12g}"


def counted(number: int, what: str) -> str:
    """As in "1 paint" or "50,000 paints"."""
    return f"{number:,} {what}{'' if number == 1 else 's'}"


def shown(value: object, limit: int = 40) -> str:
    """Quote a value for a message: short, and with hidden characters spelled out."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        letters = (f"\\u{ord(c):04x}" if is_hidden(c) else c for c in _cut(value, limit))
        return f'"{"".join(letters)}"'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, int) and value.bit_length() > 64:  # noqa: PLR2004 - a machine word
        return "a very large number"
    return _cut(str(value), limit)


def codepoint(letter: str) -> str:
    return f"U+{ord(letter):04X}"


def is_hidden(letter: str) -> bool:
    """Whether a character is of a category that is refused."""
    return not letter.isprintable() and unicodedata.category(letter) != "Zs"


def is_mark(letter: str) -> bool:
    """Whether it combines with the letter before it."""
    return unicodedata.category(letter) in {"Mn", "Me"}


def _kept(row: str) -> str:
    kept, marks = [], 0
    for letter in row:
        marks = marks + 1 if is_mark(letter) else 0
        if marks <= MARKS_IN_A_ROW and not is_hidden(letter):
            kept.append(letter)
    return "".join(kept)


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1] + "…"
