"""Text from a house made fit for a row: nothing but printable characters, cut by cells."""

from collections.abc import Iterator
from functools import lru_cache

from rich.cells import cell_len, set_cell_size

from housemap.model.text import NOTES_LENGTH, clean_text


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """Text without control or hidden characters, on one line, single spaces between words."""
    return clean_text(text, NOTES_LENGTH)


def cut(text: str, width: int, more: str = "…") -> str:
    """`plain` text in at most `width` cells, with `more` at the end where some was left out."""
    text = plain(text)
    if cell_len(text) <= width:
        return text
    room = width - cell_len(more)
    return set_cell_size(text, room).rstrip() + more if room > 0 else set_cell_size(text, width)


def fit(text: str, width: int, more: str = "…") -> str:
    """`cut`, then filled with spaces to exactly `width` cells."""
    return set_cell_size(cut(text, width, more), max(width, 0))


def wrap(text: str, width: int) -> list[str]:
    """Lines of at most `width` cells, broken between words where that is possible."""
    lines = [""]
    for word in plain(text).split(" "):
        joined = f"{lines[-1]} {word}".strip()
        if cell_len(joined) <= width:
            lines[-1] = joined
            continue
        if lines[-1]:
            lines.append("")
        *full, lines[-1] = _pieces(word, width)
        lines[-1:-1] = full
    return lines


def _pieces(word: str, width: int) -> Iterator[str]:
    piece = ""
    for char in word:
        if piece and cell_len(piece + char) > width:
            yield piece
            piece = ""
        piece += char
    yield piece
