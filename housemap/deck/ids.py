"""Ids for the paints of a deck, from what they are called."""

import zlib
from collections.abc import Iterable

from housemap.model.edits import free_id
from housemap.model.house import Paint


def with_ids(paints: Iterable[Paint]) -> dict[str, Paint]:
    """Paints by id: from the code, else the name; "-2", "-3" where an id is taken.

    A code of digits alone says nothing to a reader: then the name is taken. A name without a
    Latin letter or digit gives "paint-" and a checksum, so that it gives the same id every time.
    """
    result: dict[str, Paint] = {}
    reached: dict[str, int] = {}
    for paint in paints:
        stem = stem_of(paint)
        number = reached.get(stem, 0) + 1
        while (id_ := numbered(stem, number)) in result:
            number += 1
        reached[stem] = number
        result[id_] = paint
    return result


def stem_of(paint: Paint) -> str:
    by_name = free_id(paint.name, (), f"paint-{zlib.crc32(paint.name.encode()):08x}")
    return free_id(paint.code, (), by_name) if telling(paint.code) else by_name


def telling(code: str) -> bool:
    return any(c.isalpha() for c in code)


def numbered(stem: str, number: int) -> str:
    return stem if number == 1 else f"{stem}-{number}"
