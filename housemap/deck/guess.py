"""What columns without a telling header mean, by what their cells look like."""

import re
from collections.abc import Callable, Sequence

from housemap.deck.columns import gives_colour
from housemap.deck.notation import tidy_notation
from housemap.deck.numbers import is_blank, is_number, rough_value

HEX = re.compile(r"#?[0-9a-f]{6}|#[0-9a-f]{3}", re.IGNORECASE)
TRIPLE = re.compile(
    r"\D*?(-?\d+(?:[.,]\d+)?)[\s,;/]+(-?\d+(?:[.,]\d+)?)[\s,;/]+(-?\d+(?:[.,]\d+)?)\W*"
)
MOST = 0.9
"""The part of the cells that must look alike; the others are rejected later, one by one."""
SAMPLE_ROWS = 200
LARGEST_BYTE = 255
HUNDRED = 100
LONGEST_CODE = 12
LONGEST_TRIPLE = 100

Cells = Sequence[str]


def guesses(columns: Sequence[Cells], known: Sequence[str]) -> tuple[str, ...]:
    """Meanings for the columns that have none yet; those in `known` stay as they are.

    Colours are guessed only where none is known, a name and a code only where they are missing.
    """
    result = list(known)
    shown = [[cell for cell in column[:SAMPLE_ROWS] if not is_blank(cell)] for column in columns]
    if not gives_colour(known):
        guess_single(result, shown)
    if not gives_colour(result):
        guess_three(result, shown)
    guess_words(result, shown)
    return tuple(result)


def guess_single(result: list[str], columns: Sequence[Cells]) -> None:
    for looks, meaning in ((is_hex, "hex"), (is_notation, "notation"), (is_rgb, "rgb"),
                           (is_lab, "lab")):  # fmt: skip
        for i, cells in enumerate(columns):
            if not result[i] and meaning not in result and looks(cells):
                result[i] = meaning


def guess_three(result: list[str], columns: Sequence[Cells]) -> None:
    """Three neighbouring columns of numbers: red, green, blue or L*, a*, b*."""
    for i in range(len(columns) - 2):
        if any(result[i : i + 3]) or not all(map(are_numbers, columns[i : i + 3])):
            continue
        if all(mostly(is_byte, cells) for cells in columns[i : i + 3]):
            result[i : i + 3] = ["red", "green", "blue"]
            return
        if mostly(is_percentage, columns[i]):
            result[i : i + 3] = ["L*", "a*", "b*"]
            return


def guess_words(result: list[str], columns: Sequence[Cells]) -> None:
    """The most telling words are the name; short ones with digits in them the code."""
    words = [i for i, cells in enumerate(columns) if not result[i] and mostly(has_letter, cells)]
    codes = [i for i in words if mostly(is_code, columns[i])]
    if "code" not in result and codes and (len(words) > 1 or "name" in result):
        result[codes[0]] = "code"
        words.remove(codes[0])
    if "name" not in result and words:
        result[max(words, key=lambda i: mean_length(columns[i]))] = "name"


def mostly(looks: Callable[[str], bool], cells: Cells) -> bool:
    return bool(cells) and sum(map(looks, cells)) >= MOST * len(cells)


def mean_length(cells: Cells) -> float:
    return sum(map(len, cells)) / len(cells)


def is_hex(cells: Cells) -> bool:
    """Six digits alone may as well be numbers: one cell must show a letter or a "#"."""
    telling = any(re.search(r"[#a-f]", cell, re.IGNORECASE) for cell in cells)
    return telling and mostly(lambda cell: HEX.fullmatch(cell.strip()) is not None, cells)


def is_notation(cells: Cells) -> bool:
    return mostly(lambda cell: tidy_notation(cell) is not None, cells)


def is_rgb(cells: Cells) -> bool:
    return mostly(lambda cell: all(map(is_byte, triple_in(cell) or ("-",))), cells)


def is_lab(cells: Cells) -> bool:
    return mostly(lambda cell: triple_in(cell) is not None, cells)


def triple_in(cell: str) -> tuple[str, ...] | None:
    """The three numbers of a cell such as "rgb(217, 208, 191)"."""
    found = TRIPLE.fullmatch(cell.strip()) if len(cell) <= LONGEST_TRIPLE else None
    return found.groups() if found else None


def are_numbers(cells: Cells) -> bool:
    return mostly(is_number, cells)


def is_byte(cell: str) -> bool:
    return re.fullmatch(r"\s*[0-9]{1,3}\s*", cell) is not None and int(cell) <= LARGEST_BYTE


def is_percentage(cell: str) -> bool:
    return is_number(cell) and 0 <= rough_value(cell) <= HUNDRED


def has_letter(cell: str) -> bool:
    return any(c.isalpha() for c in cell)


def is_code(cell: str) -> bool:
    return len(cell) <= LONGEST_CODE and any(c.isdigit() for c in cell)
