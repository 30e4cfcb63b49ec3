"""`housemap deck`: turns files of paints into a deck, and lists what looks wrong in it."""

import sys
from argparse import Namespace
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from housemap.choose.deck_faults import deck_faults
from housemap.cli.command import DONE, FORCE, Command, arg, reads
from housemap.cli.output import note, picked, print_json, show, table
from housemap.cli.reading import each_of
from housemap.cli.written import check_free, remember
from housemap.deck.notation_deck import NAME, notation_deck
from housemap.deck.reading import DeckReading
from housemap.deck.records import with_ids
from housemap.deck.report import lines_about
from housemap.errors import InputError
from housemap.file.deck_file import deck_files, deck_path, save_deck
from housemap.file.reader import printable
from housemap.model.grouping import grouped
from housemap.model.house import Paint
from housemap.model.text import counted
from housemap.workbench.deck_import import read_paints
from housemap.workbench.folders import data_folder

Paints = Mapping[str, Paint]
Readings = Mapping[Path, DeckReading]

_SHOWN_PAINTS = 3
_SHOWN_ODDITIES = 20


@reads("a column is given as HEADER=MEANING")
def _column(text: str) -> tuple[str, str]:
    header, equals, meaning = text.rpartition("=")
    if not equals or not header:
        raise ValueError(text)
    return header, meaning


def _run(arguments: Namespace) -> int:
    if arguments.list:
        decks = {deck.name: str(deck.path or "built in, by ASTM D1535 notation")
                 for deck in deck_files(data_folder(), NAME)}  # fmt: skip
        show(arguments, lambda: {"decks": decks}, table(decks.items()))
        return DONE
    target = _target(arguments)
    readings = _readings(arguments)
    paints = _paints(arguments, readings)
    if not arguments.json:
        for source, reading in readings.items():
            note(arguments, f"{source}:")
            for line in lines_about(reading, most_rejected=len(reading.rejected)):
                note(arguments, f"  {line}")
        print("\n".join(_report(paints, everything=arguments.all)))
    if target is not None:
        _save(paints, target)
    if arguments.json:
        odd = [picked(each, "kind", "paints", "text") for each in deck_faults(paints)]
        print_json({
            "sources": [_source_json(source, reading) for source, reading in readings.items()],
            "paints": len(paints),
            "looks_wrong": odd,
            "written": None if target is None else str(target),
        })  # fmt: skip
    return DONE


def _source_json(source: Path, reading: DeckReading) -> dict[str, Any]:
    return {
        "file": str(source),
        "kind": reading.format,
        "paints": len(reading.paints),
        "columns": {column.header: column.meaning for column in reading.mapping},
        "notes": reading.notes,
        "rejected": [picked(row, "line", "reason", "text") for row in reading.rejected],
    }


# Where it goes


def _target(arguments: Namespace) -> Path | None:
    """The file to write. Raises InputError before anything is read where it cannot be."""
    target: Path | None = arguments.out
    if arguments.keep is not None:
        target = deck_path(data_folder(), arguments.keep, NAME)
    if target is not None:
        check_free(target, force=arguments.force)
    return target


def _save(paints: Paints, target: Path) -> None:
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError.of(f"could not be saved: {error.strerror}", file=str(target)) from error
    save_deck(paints, target)
    remember(target)
    print(f"{counted(len(paints), 'paint')} written to {printable(str(target))}", file=sys.stderr)


# What it holds


def _paints(arguments: Namespace, readings: Readings) -> Paints:
    found = [reading.paints for reading in readings.values()]
    if arguments.notation:
        found.append(notation_deck())
    if len(found) == 1:
        return found[0]
    return with_ids(paint for paints in found for paint in paints.values())


def _readings(arguments: Namespace) -> Readings:
    """By source; InputError with all that is wrong with any of them."""
    if not (arguments.sources or arguments.notation):
        raise InputError.of("name a source of paints, or --notation for the built-in deck")

    def read(source: Path) -> DeckReading:
        return read_paints(
            source, columns=dict(arguments.column), observed=arguments.observed, deck=arguments.name
        )

    return dict(zip(arguments.sources, each_of(arguments.sources, read), strict=True))


# What looks wrong in it


def _report(paints: Paints, *, everything: bool) -> Iterator[str]:
    by_kind = grouped((oddity.kind, oddity) for oddity in deck_faults(paints))
    count = sum(map(len, by_kind.values()))
    yield f"{len(paints):,} paints, {count:,} look{'s' if count == 1 else ''} wrong"
    for kind, oddities in by_kind.items():
        most = len(oddities) if everything else _SHOWN_ODDITIES
        yield from table(
            (f"  {kind}", _names(paints, oddity.paints), oddity.text) for oddity in oddities[:most]
        )
        if len(oddities) > most:
            yield f"  {kind}  and {len(oddities) - most:,} more (--all lists them)"


def _names(paints: Paints, ids: Sequence[str]) -> str:
    names = ", ".join(paints[id_].name for id_ in ids[:_SHOWN_PAINTS])
    return f"{names}, ..." if len(ids) > _SHOWN_PAINTS else names


DECK = Command(
    name="deck",
    summary="Turn files of paints into a deck, and list what looks wrong in it.",
    examples=(
        "housemap deck fan.csv",
        "housemap deck fan.csv -o fan.toml",
        "housemap deck --observed D50/2 --column Wert=LRV meter.txt fan.csv --keep fan",
        "housemap deck --notation -o notation.toml",
        "housemap rank house.toml kitchen --deck fan",
    ),
    arguments=(
        arg("sources SOURCE", "CSV or TSV, ISO 28178 / CGATS text, CxF 3, a deck or a house file",
            nargs="*", type=Path),
        arg("--notation", "take the built-in deck"),
        arg("--list", "list the decks that there are"),
        (
            arg("-o --out DECK.toml", "the file to write", type=Path),
            arg("--keep NAME", "keep it among your decks, by that name"),
        ),
        FORCE,
        arg("--column HEADER=MEANING",
            "what a column of a table means, such as Wert=LRV, L=L* or Nr= to leave it out",
            action="append", default=[], type=_column),
        arg("--observed D50/2",
            "illuminant and observer of Lab and XYZ, where the source does not say"),
        arg("--name NAME", "what its paints say they come from (default: the file)"),
        arg("--all", "list all that looks wrong"),
    ),
    run=_run,
)  # fmt: skip
