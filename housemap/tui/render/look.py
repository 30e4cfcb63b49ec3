"""The look of everything that is not paint: greys with r = g = b, and the characters in use.

Chrome in neutral greys does not tint the paints beside it (ISO 3664 asks for a neutral surround).
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal, NamedTuple, get_args

from housemap.tui.render.cells import Hex
from housemap.tui.terminal import Depth
from housemap.workbench.folders import recalled, remember


class Greys(NamedTuple):
    """The chrome's greys; None is the terminal's own colour."""

    ground: Hex | None
    """Under the map."""
    panel: Hex | None
    bar: Hex | None
    """Under the head line, the status line and the key bar."""
    text: Hex | None
    quiet: Hex | None
    faint: Hex | None
    strong: Hex | None
    chosen: Hex | None
    """Behind a chosen line."""
    bare: Hex | None
    """The body of a room without a paint."""


DARK = Greys(
    ground="#3c3c3c", panel="#1e1e1e", bar="#141414", text="#d4d4d4", quiet="#9a9a9a",
    faint="#5c5c5c", strong="#ffffff", chosen="#454545", bare="#6a6a6a",
)  # fmt: skip
LIGHT = Greys(
    ground="#bdbdbd", panel="#e9e9e9", bar="#d6d6d6", text="#222222", quiet="#565656",
    faint="#9a9a9a", strong="#000000", chosen="#c4c4c4", bare="#a4a4a4",
)  # fmt: skip
NO_GREYS = Greys(None, None, None, None, None, None, None, None, None)


class Glyphs(NamedTuple):
    """The characters that mean something; each takes one cell."""

    lines: str
    """By 1 north + 2 east + 4 south + 8 west: which neighbours a line joins."""
    frame: str
    """The same, heavy, for what is selected."""
    hatch: str
    dots: str
    shut: tuple[str, str]
    """A shut door in a wall that runs across, and in one that runs up."""
    leaf: tuple[str, str]
    """Of an open door, in colour."""
    leaf_line: str
    """Of an open door, as a line."""
    open_plan: tuple[str, str]
    glazed: tuple[str, str]
    stairs: str
    more: str
    here: str
    marks: dict[str, str]
    """By severity."""
    down: str
    dot: str
    tick: str
    visited: str
    """Of a room that was ticked off on the walk; it must look unlike an approved sample."""
    note: str
    """The same, with a note of the visit."""
    sun: str
    ways: str
    """Arrows: as many as there are, the first up, then clockwise."""
    minus: str
    tried: dict[str, str]
    """By what the samples of a paint in a room came to: a sign and a letter."""
    ascii: bool = False


_BACKSLANT = "\N{BOX DRAWINGS LIGHT DIAGONAL UPPER LEFT TO LOWER RIGHT}"
_SLANT = "\N{BOX DRAWINGS LIGHT DIAGONAL UPPER RIGHT TO LOWER LEFT}"

UNICODE = Glyphs(
    lines=" ╵╶└╷│┌├╴┘─┴┐┤┬┼", frame=" ╹╺┗╻┃┏┣╸┛━┻┓┫┳╋",
    hatch=_SLANT, dots="·", shut=("━", "┃"), leaf=("▌", "▀"), leaf_line=_BACKSLANT,
    open_plan=("┄", "┆"), glazed=("═", "║"), stairs="≡", more="…", here="▸",
    marks={"fault": "✗", "warn": "▲", "note": "○"}, down="↓", dot="·",
    tick="✓", visited="⌂", note="¶", sun="☼", ways="↑↗→↘↓↙←↖", minus="\N{MINUS SIGN}",
    tried={"kept": "✓A", "rejected": "✗R", "unsure": "?U", "put up": "·P", "untried": ""},
)  # fmt: skip
ASCII = Glyphs(
    lines=" |-+||++-+-+++++", frame=" #=#####=#=#####",
    hatch="/", dots=".", shut=("=", "H"), leaf=("'", "-"), leaf_line="\\",
    open_plan=(".", ":"), glazed=('"', '"'), stairs="%", more="~", here=">",
    marks={"fault": "x", "warn": "!", "note": "o"}, down="v", dot="*",
    minus="-", tick="+", visited="@", note="&", sun="*", ways="^>v<",
    tried={"kept": "+A", "rejected": "xR", "unsure": "?U", "put up": ".P", "untried": ""},
    ascii=True,
)  # fmt: skip


Eyes = Literal["", "protan", "deutan", "tritan", "greys"]
EYES: tuple[Eyes, ...] = get_args(Eyes)
"""Whose eyes the screen shows colours to: usual ones, then others, in the order of the command."""
EYES_SENTENCES: Mapping[Eyes, str] = {
    "": "The usual eyes again.",
    "protan": "As people with red blindness see it (protanopia).",
    "deutan": "As people with green blindness see it (deuteranopia).",
    "tritan": "As people with blue blindness see it (tritanopia).",
    "greys": "Lightness alone: by this low vision finds edges.",
}


class Look(NamedTuple):
    """Greys and characters, and whether colours can be shown at all."""

    greys: Greys = DARK
    glyphs: Glyphs = UNICODE
    eyes: Eyes = ""

    @property
    def colour(self) -> bool:
        return self.greys is not NO_GREYS

    @property
    def blocks(self) -> bool:
        """Whether edges are drawn as coloured blocks rather than as lines."""
        return self.colour and self.glyphs is UNICODE


@lru_cache(maxsize=4096)
def luminance(colour: Hex) -> float:
    """Relative luminance 0..1 (WCAG 2.2, "relative luminance")."""
    value = int(colour[1:], 16)
    red, green, blue = (
        _linear(part / 255) for part in (value >> 16, value >> 8 & 255, value & 255)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(srgb1: float) -> float:
    return srgb1 / 12.92 if srgb1 <= _KNEE else ((srgb1 + 0.055) / 1.055) ** 2.4


_KNEE = 0.04045
"""Where the two parts of the sRGB curve meet (IEC 61966-2-1)."""


def contrast(first: Hex, second: Hex) -> float:
    """Contrast ratio 1..21 (WCAG 2.2, "contrast ratio")."""
    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


@lru_cache(maxsize=4096)
def text_on(ground: Hex) -> Hex:
    """Black or white, whichever stands out more from `ground`."""
    return max(("#000000", "#ffffff"), key=lambda text: contrast(text, ground))


# What the user chose of the screen, remembered between runs.

FILE = "screen.json"


class Settings(NamedTuple):
    light: bool = False
    """Whether the surround is light."""
    steps: bool = True
    """Whether the next step is shown below the map."""


def read_settings() -> Settings:
    """As remembered; the defaults where nothing, or nothing sensible, is."""
    found = recalled(FILE)
    if not isinstance(found, dict):
        return Settings()
    return Settings(found.get("light") is True, found.get("steps") is not False)


def write_settings(settings: Settings) -> None:
    """Remember; where the folder cannot be written, nothing is."""
    remember(FILE, settings._asdict())


def look_for(depth: Depth, *, ascii_only: bool, light: bool) -> Look:
    greys = NO_GREYS if depth.name == "none" else LIGHT if light else DARK
    return Look(greys, ASCII if ascii_only else UNICODE)
