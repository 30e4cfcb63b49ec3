"""`housemap scheme`: sets of colours built around one paint."""

from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.card import card, reason, strength_of
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.kinds import KINDS
from housemap.choose.schemes.sets import Basis, ColourSet, sets_around
from housemap.cli.command import DONE, FORCE, Command, arg, whole_number
from housemap.cli.deck_paints import deck_chips
from housemap.cli.output import note, show, table
from housemap.cli.reading import one_house
from housemap.cli.written import check_free, write_made
from housemap.errors import InputError
from housemap.model.fieldtypes import nearest
from housemap.model.house import House, Notation, Paint, Srgb
from housemap.study import Swatch


def _run(arguments: Namespace) -> int:
    if arguments.out:
        check_free(arguments.out, force=arguments.force)
    basis = _basis(arguments)
    kinds = tuple(kind for kind in KINDS if arguments.kind in {None, kind})
    sets = sets_around(basis, kinds, arguments.sets)
    if arguments.out:
        write_made(card(sets, basis.neutral.name).encode(), arguments.out, "a card")
    show(arguments, lambda: _as_json(basis, sets), _lines(basis, sets))
    if arguments.out:
        note(arguments, f"written to {arguments.out}")
    return DONE


def _basis(arguments: Namespace) -> Basis:
    """What to build from: a deck, else the paints of the house, else computed colours."""
    house = one_house(arguments.house, lambda house: house) if arguments.house else House(name="")
    chips = deck_chips(arguments.deck)[1] if arguments.deck else all_chips(house.paints)
    neutral = _neutral(arguments.paint, house, chips)
    return Basis(neutral, chips if len(chips) else computed_chips(neutral), house.brief)


def _neutral(text: str, house: House, chips: Chips) -> Swatch:
    """The paint that is meant. Raises InputError where there is none."""
    if text in house.paints:
        return all_chips({text: house.paints[text]}).swatches[0]
    asked = text.strip().casefold()
    for swatch in chips.swatches:
        code = swatch.entity.code if isinstance(swatch.entity, Paint) else ""
        if asked in {swatch.id.casefold(), swatch.name.casefold(), code.casefold()}:
            return swatch
    colour = Srgb(asked) if asked.startswith("#") else Notation(text.strip().upper())
    made = all_chips({text: Paint(text, colour)})
    if not made.swatches:
        known = [*house.paints, *(swatch.name for swatch in chips.swatches)]
        near = f"; the nearest is {nearest(text, known)}" if known else ""
        line = f'no paint "{text}" in the house or deck, and no notation or "#rrggbb"{near}'
        raise InputError.of(line)
    return made.swatches[0]


def _lines(basis: Basis, sets: tuple[ColourSet, ...]) -> Iterator[str]:
    neutral = basis.neutral
    yield f"around {neutral.name}: {neutral.colour.notation.text}, LRV {neutral.lrv:.0f}"
    for number, found in enumerate(sets, 1):
        compared = f"the best of the {found.compared} paints compared, under these rules"
        yield f"set {number}: {found.kind}, {compared}"
        yield from table(
            (f"  {one.part}", one.swatch.name, f"LRV {one.swatch.lrv:.0f}",
             strength_of(one.swatch), reason(one, found))
            for one in found.colours
        )  # fmt: skip
        yield from (f"  not kept: {words}" for words in found.broken)
    if not sets:
        yield "nothing to choose from: name a deck with --deck, or leave --house out"
    yield f"chosen from {len(basis.chips):,} colours; put up samples before anything is bought"


def _as_json(basis: Basis, sets: tuple[ColourSet, ...]) -> dict[str, Any]:
    return {
        "around": _colour(basis.neutral),
        "compared": len(basis.chips),
        "sets": [_set_json(found) for found in sets],
    }


def _colour(swatch: Swatch) -> dict[str, Any]:
    colour = swatch.colour
    return {"notation": colour.notation.text, "lrv": swatch.lrv, "lab": list(colour.lab100)}


def _set_json(found: ColourSet) -> dict[str, Any]:
    return {
        "kind": found.kind,
        "score": found.score,
        "bound": found.solution.bound,
        "proven": found.solution.proven,
        "parts": dict(found.parts),
        "compared": found.compared,
        "colours": [
            {
                "role": one.part,
                "paint": None if set("/#") & set(one.swatch.id) else one.swatch.id,
                "name": one.swatch.name,
                **_colour(one.swatch),
                "strength": strength_of(one.swatch),
                "hue": one.swatch.colour.undertone.words,
                "reason": reason(one, found),
            }
            for one in found.colours
        ],
        "broken": list(found.broken),
    }


SCHEME = Command(
    name="scheme",
    summary="Build sets of colours around one paint, with a reason for each colour.",
    examples=(
        'housemap scheme "10YR 7/1"',
        'housemap scheme "10YR 7/1" --kind counter --sets 2 -o card.html',
        "housemap scheme oat --house house.toml --deck notation",
        'housemap scheme --json "#d9d0bf"',
    ),
    arguments=(
        arg("paint PAINT",
            'a paint of the house or deck, or its code; a notation such as "5Y 7/1"; "#rrggbb"'),
        arg("--house FILE", "a house: its brief, and its paints to choose from", type=Path),
        arg("--deck DECK", "choose from a deck: its name, or a file"),
        arg("--kind", "one kind only (default: each in turn)", choices=KINDS),
        arg("--sets N", "so many sets (default: 3)", type=whole_number, default=3),
        arg("-o CARD.html", "write a card", dest="out", type=Path),
        FORCE,
    ),
    run=_run,
)  # fmt: skip
