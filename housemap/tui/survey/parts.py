"""The parts of openings, windows and lamps, as a survey line says them."""

from collections.abc import Mapping
from itertools import pairwise

from housemap.model.house import AIMS
from housemap.model.illuminants import ILLUMINANTS
from housemap.tui.survey.clauses import Hint
from housemap.tui.survey.items import (
    FROM_AN_END,
    Item,
    along,
    flag,
    items,
    number_to,
    sides,
)
from housemap.tui.survey.reader import Parts, Reader
from housemap.tui.survey.tokens import Token
from housemap.tui.survey.words import (
    AT,
    DOWN,
    HIGH,
    KINDS,
    SHUT,
    SILL,
    STOP,
    UP,
    WIDE,
)

SPECTRA: Mapping[str, str] = {each.casefold(): each for each in ILLUMINANTS}

_WIDTH = Hint("0.8", "how wide", example=True)
_AT = Hint("at 1.2", "how far from the end of the wall", example=True)

# Openings

_OPENING: Mapping[str, Item] = {
    "0": sides, AT: along, WIDE: number_to("width_m", "0.8", "how wide"),
    HIGH: number_to("height_m", "2.0", "how high"),
    SHUT: flag("shut", value=True), STOP: flag("stop", value=True),
    UP: flag("rise", value=1), DOWN: flag("rise", value=-1),
    **{name: flag("kind", value=kind) for name, kind in KINDS.items()},
}  # fmt: skip
_OPENING_WORDS = "an opening is doorway, cased, open, glazed or stairs, then > and a room"


def opening_items(reader: Reader, parts: Parts) -> None:
    """Up to the > before the room behind it."""
    items(reader, parts, _OPENING, _OPENING_WORDS, stop=">")
    if "kind" not in parts:
        kinds = (Hint(kind) for kind in ("doorway", "cased", "open", "glazed", "stairs"))
        reader.offer(*kinds)
    if len(parts.values) == 1 and "wall" in parts:
        reader.offer(Hint("window", "in this wall"))
    if "width_m" not in parts:
        reader.offer(_WIDTH)
    if "along" not in parts:
        reader.offer(_AT)
    elif parts.values["along"].end is None:
        reader.offer(FROM_AN_END)
    if parts.values.get("kind", "doorway") == "doorway":
        reader.offer(Hint("shut", "how it usually stands"))
    if parts.values.get("kind") == "stairs":
        reader.offer(Hint("up", "to the level above"), Hint("down", "to the level below"))
    reader.offer(Hint(">", "the room behind it"))


# Windows and lamps

_WINDOW: Mapping[str, Item] = {
    "0": sides, AT: along, WIDE: number_to("width_m", "1.2", "how wide"),
    HIGH: number_to("height_m", "1.1", "how high"),
    SILL: number_to("sill_m", "0.9", "how far above the floor"),
}  # fmt: skip


def window_items(reader: Reader, parts: Parts) -> None:
    items(reader, parts, _WINDOW, "a window has a size, at and sill: 1.2 x 1.1 at 0.6 sill 0.9")
    if "width_m" not in parts:
        reader.offer(Hint("1.2 x 1.1", "its width and height", example=True))
    elif "height_m" not in parts:
        reader.offer(Hint("x", "1.1, its height"))
    if "along" not in parts:
        reader.offer(_AT)
    if "sill_m" not in parts:
        reader.offer(Hint("sill 0.9", "its sill above the floor", example=True))


def _brightness(reader: Reader, parts: Parts, token: Token) -> None:
    """Lumens first, then kelvin, unless their units say which."""
    if token.unit == "length":
        reader.fail(token, "a lamp has lumens and kelvin, 1400 lm 2700 K")
    reader.take()
    kelvin = token.unit == "K" or (token.unit == "" and "lumens" in parts)
    parts.say("kelvin" if kelvin else "lumens", token.value, token)


def _place(reader: Reader, parts: Parts, token: Token) -> None:
    east = reader.length_m("0.9", "from the west wall")
    north = reader.length_m("2.6", "from the south wall")
    parts.say("at_m", (east, north, reader.length_m("2.4", "above the floor")), token)


_LAMP: Mapping[str, Item] = {
    "0": _brightness, AT: _place,
    **{aim: flag("aim", value=aim) for aim in AIMS},
}  # fmt: skip


def lamp_items(reader: Reader, parts: Parts) -> None:
    while (token := reader.next_part((*_LAMP, *SPECTRA))) is not None:
        spectrum = _takes_spectrum(reader)
        if spectrum:
            parts.say("spectrum", spectrum, token)
        elif token.kind == "number":
            _brightness(reader, parts, token)
        elif reader.word in _LAMP:
            name = reader.word
            reader.take()
            _LAMP[name](reader, parts, token)
        else:
            known = (*AIMS, AT, *(key for key in SPECTRA if len(key) > 1))
            reader.fail_word(known, "a lamp has lumens, kelvin and an aim: 1400 lm 2700 K down")
    if "lumens" not in parts:
        reader.offer(Hint("1400 lm", "how bright", example=True))
    if "kelvin" not in parts:
        reader.offer(Hint("2700 K", "how warm", example=True))
    if "aim" not in parts:
        reader.offer(*(Hint(aim) for aim in AIMS))


def _takes_spectrum(reader: Reader) -> str | None:
    """Take the name of an illuminant, which may be written in several tokens: LED-B1, FL3.15."""
    rest = reader.rest_of_clause()
    for count in (3, 2, 1):
        pieces = rest[:count]
        joined = all(a.end == b.start for a, b in pairwise(pieces))
        if len(pieces) == count and joined:
            known = SPECTRA.get(reader.text[pieces[0].start : pieces[-1].end].casefold())
            if known and pieces[0].kind == "word":
                reader.place += count
                return known
    return None
