"""What the columns of a table mean, by their headers, else by what their cells look like."""

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.resources import files
from statistics import fmean

from housemap.deck.numbers import is_blank, is_number, rough_value
from housemap.errors import InputError, Problem
from housemap.model.notation import tidy_notation
from housemap.model.text import shown

SHOWN_HEADERS = 20

HEADERS = {
    meaning: tuple(words.split(", "))
    for line in files(__package__).joinpath("headers.txt").read_text("utf-8").splitlines()
    for meaning, _, words in [line.partition(": ")]
}
"""The headers of each meaning, as `plain` has them."""
MEANINGS = tuple(HEADERS)
"""Every meaning but wavelengths; these are the words a mapping uses."""
BY_HEADER = {word: key for key, words in HEADERS.items() for word in words}

WAVELENGTH = re.compile(
    r"(?:r|refl|reflectance|spec|spectral|spectrum|spectral (?:nm|pct|dec)|nm|wl|wavelength|"
    r"lambda|λ)? ?(\d{3}(?:\.\d+)?) ?(?:nm)?"
)
SHORTEST_NM, LONGEST_NM = 300.0, 1100.0
LONGEST_HEADER = 200
UNITS = re.compile(
    r"[(\[][^)\]]*[)\]]|\bin\s+\S+$|%|\b(?:m2|m²|sq\.? ?(?:m|ft)|sqm|sqft)?\s*"
    r"(?:/|\bper\s)\s*(?:\d[\d.,]*\s*)?(?:m?l|lit(?:re|er)|gal(?:lon)?|qt|quart|tin|can)\b"
)

WHICH_B = {"a*": "b*", "green": "blue"}
"""A bare "b" belongs to the nearest column of these before it."""

GROUPS = (
    ("L*", "a*", "b*"), ("L*", "C*", "h"), ("X", "Y", "Z"), ("x", "y", "Y"),
    ("hue", "value", "chroma"), ("red", "green", "blue"),
)  # fmt: skip
"""Columns that give a colour together, and none alone."""
WHOLE_COLOURS = {"hex", "rgb", "lab", "xyz", "notation"}
NM = " nm"
"""How the meaning of a spectral column ends."""


def plain(header: str) -> str:
    """A header without case, accents, units and marks: "L* (D65)" gives "l"."""
    if len(header) > LONGEST_HEADER:
        return ""
    text = unicodedata.normalize("NFKC", UNITS.sub(" ", header.casefold()))
    text = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    text = re.sub(r"[^\w.λ]+|_", " ", text).replace("color", "colour")
    return " ".join(text.split()).strip(". ")


def wavelength_nm(header: str) -> float | None:
    """The wavelength that a spectral column is headed by: "400", "R_400", "400nm", "nm 400"."""
    found = WAVELENGTH.fullmatch(plain(header))
    nm = float(found[1]) if found else 0.0
    return nm if SHORTEST_NM <= nm <= LONGEST_NM else None


def meanings_of(headers: Sequence[str]) -> tuple[str, ...]:
    """The meaning of each header, "" where there is none; each meaning is given once.

    The letters x, y, b, c, h, v and the words hue and chroma mean one thing or another by what
    stands beside them. A column that gives a colour only with others means nothing without them.
    """
    words = [plain(header) for header in headers]
    settled = settle_letters(headers, words, [BY_HEADER.get(word, "") for word in words])
    whole = {meaning for group in GROUPS if set(group) <= set(settled) for meaning in group}
    seen = {meaning for group in GROUPS for meaning in group} - whole
    result = []
    for header, meaning in zip(headers, settled, strict=True):
        nm = None if meaning else wavelength_nm(header)
        chosen = f"{nm:g}{NM}" if nm else meaning
        result.append("" if chosen in seen else chosen)
        seen.add(chosen)
    return tuple(result)


def gives_colour(meanings: Iterable[str]) -> bool:
    """Whether columns of these meanings say what colour a paint is."""
    found = set(meanings)
    spectral = any(meaning.endswith(NM) for meaning in found)
    return bool(found & WHOLE_COLOURS) or spectral or any(found >= set(g) for g in GROUPS)


def settle_letters(headers: Sequence[str], words: Sequence[str], first: Sequence[str]) -> list[str]:
    """The meanings with those of single letters by the columns beside them."""
    tidy = {header.strip() for header in headers}
    # Only their case parts y from Y.
    chromaticity = {"x", "y", "Y"} <= tidy and not {"Z", "z"} & tidy
    chroma, hue = ("C*", "h") if "L*" in first else ("chroma", "hue")
    x = "x" if chromaticity else "X"
    letters = {"c": chroma, "chroma": chroma, "h": hue, "hue": hue, "x": x}
    result: list[str] = []
    for i, word in enumerate(words):
        if word == "b":
            before = (WHICH_B[meaning] for meaning in reversed(result) if meaning in WHICH_B)
            result.append(next(before, ""))
        elif word != "y":
            result.append(letters.get(word, first[i]))
        elif chromaticity:
            result.append("y" if headers[i].strip() == "y" else "Y")
        else:
            # Y alone is the luminance factor, which is what LRV is.
            result.append("Y" if {"x", "z"} <= set(words) else "LRV")
    return result


HEX = re.compile(r"#?[0-9a-f]{6}|#[0-9a-f]{3}", re.IGNORECASE)
TRIPLE = re.compile(
    r"\D*?(-?\d+(?:[.,]\d+)?)[\s,;/]+(-?\d+(?:[.,]\d+)?)[\s,;/]+(-?\d+(?:[.,]\d+)?)\W*"
)
MOST = 0.9
"""The part of the cells that must look alike; the others are rejected later, one by one."""
SAMPLE_ROWS = 200
LARGEST_BYTE = 255
FULL_PERCENT = 100
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
                           (triple_in, "lab")):  # fmt: skip
        for i, cells in enumerate(columns):
            # Six digits alone may as well be numbers: of hex one cell must show a letter or a "#".
            tells = meaning != "hex" or any(re.search(r"[#a-f]", c, re.IGNORECASE) for c in cells)
            if not result[i] and meaning not in result and tells and mostly(looks, cells):
                result[i] = meaning


def guess_three(result: list[str], columns: Sequence[Cells]) -> None:
    """Three neighbouring columns of numbers: red, green, blue or L*, a*, b*."""
    for i in range(len(columns) - 2):
        three = columns[i : i + 3]
        if any(result[i : i + 3]) or not all(mostly(is_number, cells) for cells in three):
            continue
        if all(mostly(is_byte, cells) for cells in three):
            result[i : i + 3] = ["red", "green", "blue"]
            return
        if mostly(is_percentage, three[0]):
            result[i : i + 3] = ["L*", "a*", "b*"]
            return


def guess_words(result: list[str], columns: Sequence[Cells]) -> None:
    """The longest words are the name; short ones with digits in them the code.

    What says the same of every row, as one of measurement conditions does, is neither.
    """
    words = [
        i for i, cells in enumerate(columns)
        if not result[i] and mostly(has_letter, cells) and (len(cells) == 1 or len(set(cells)) > 1)
    ]  # fmt: skip
    codes = [i for i in words if mostly(is_code, columns[i])]
    if "code" not in result and codes and (len(words) > 1 or "name" in result):
        result[codes[0]] = "code"
        words.remove(codes[0])
    if "name" not in result and words:
        result[max(words, key=lambda i: fmean(map(len, columns[i])))] = "name"


def mostly(looks: Callable[[str], object], cells: Cells) -> bool:
    return bool(cells) and sum(map(bool, map(looks, cells))) >= MOST * len(cells)


def is_hex(cell: str) -> bool:
    return HEX.fullmatch(cell.strip()) is not None


def is_notation(cell: str) -> bool:
    return tidy_notation(cell) is not None


def triple_in(cell: str) -> tuple[str, ...] | None:
    """The three numbers of a cell such as "rgb(217, 208, 191)"."""
    found = TRIPLE.fullmatch(cell.strip()) if len(cell) <= LONGEST_TRIPLE else None
    return found.groups() if found else None


def is_rgb(cell: str) -> bool:
    return all(map(is_byte, triple_in(cell) or ("-",)))


def is_byte(cell: str) -> bool:
    return re.fullmatch(r"\s*[0-9]{1,3}\s*", cell) is not None and int(cell) <= LARGEST_BYTE


def is_percentage(cell: str) -> bool:
    return is_number(cell) and 0 <= rough_value(cell) <= FULL_PERCENT


def has_letter(cell: str) -> bool:
    return any(map(str.isalpha, cell))


def is_code(cell: str) -> bool:
    return len(cell) <= LONGEST_CODE and any(c.isdigit() for c in cell)


# What a caller says of columns


def check_columns(given: Mapping[str, str], labels: Sequence[str], name: str) -> None:
    """Raise InputError for a column that is not there and a meaning that there is not."""
    problems = []
    for label in given:
        if label not in labels:
            there = ", ".join(labels[:SHOWN_HEADERS])
            text = f"there is no column {shown(label)}; there are {there}"
            problems.append(Problem(text, file=name))
    for meaning in given.values():
        nm = wavelength_nm(meaning)
        is_wavelength = nm is not None and meaning == f"{nm:g}{NM}"
        if meaning and meaning not in MEANINGS and not is_wavelength:
            text = f"{shown(meaning)} is nothing a column can mean; use {', '.join(MEANINGS)}"
            problems.append(Problem(text, file=name))
    if problems:
        raise InputError(problems)
