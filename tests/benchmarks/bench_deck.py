"""10,000 paints read from every kind of source, against the least that reading could cost.

Each reader stands under the standard library's own way through the same bytes: csv, str.split,
expat, tomllib. Times are of the processor, as the readers wait for nothing. The last line is the
memory of the whole run.
"""

import csv
import io
import random
import resource
import time
import tomllib
from collections.abc import Callable
from xml.parsers import expat

from housemap.deck.notation_deck import notation_deck
from housemap.deck.report import deck_report
from housemap.deck.sources import read_bytes
from housemap.file.deck_file import dump_deck, parse_deck
from tests.benchmarks.measuring import show_ratios
from tests.support.decks import BANDS_NM, cgats_source, cxf_source, cxf_spectra

PAINTS = 10_000
RUNS = 5


def spectra() -> dict[str, list[float]]:
    chance = random.Random(1)
    return {f"Paint {i}": [round(chance.random(), 4) for _ in BANDS_NM] for i in range(PAINTS)}


def screen_table() -> bytes:
    chance = random.Random(1)
    rows = (
        f"Paint {i},A-{i},#{chance.randrange(1 << 24):06x},{chance.randrange(50, 900) / 10},12,"
        '"0.75, 2.5, 5",18.5\n'
        for i in range(PAINTS)
    )
    return ("Name,Code,Hex,LRV,Coverage,Tins,Price\n" + "".join(rows)).encode()


def spectral_table(measured: dict[str, list[float]]) -> bytes:
    rows = (f"{name}," + ",".join(map(str, values)) for name, values in measured.items())
    return ("Name," + ",".join(f"R{nm}" for nm in BANDS_NM) + "\n" + "\n".join(rows)).encode()


def works() -> dict[str, Callable[[], object]]:
    measured = spectra()
    hexes, table = screen_table(), spectral_table(measured)
    meter, document = cgats_source(measured), cxf_source(cxf_spectra(measured))
    screen_deck = dump_deck(read_bytes(hexes, "hex").paints)
    spectral_deck = dump_deck(read_bytes(table, "table").paints)
    return {
        "csv.reader, screen colours": lambda: list(csv.reader(io.StringIO(hexes.decode()))),
        "housemap, the same": lambda: read_bytes(hexes, "hex"),
        "csv.reader, spectra": lambda: list(csv.reader(io.StringIO(table.decode()))),
        "housemap, the same table": lambda: read_bytes(table, "table"),
        "str.split, CGATS": lambda: [line.split() for line in meter.decode().split("\n")],
        "housemap, the same CGATS": lambda: read_bytes(meter, "meter"),
        "expat without handlers, CxF": lambda: expat.ParserCreate().Parse(document, True),  # noqa: FBT003 (expat takes no keyword)
        "housemap, the same CxF": lambda: read_bytes(document, "document"),
        "tomllib, deck of screen colours": lambda: tomllib.loads(screen_deck),
        "housemap, the same deck": lambda: parse_deck(screen_deck),
        "tomllib, deck of spectra": lambda: tomllib.loads(spectral_deck),
        "housemap, the same deck of spectra": lambda: parse_deck(spectral_deck),
        "the notation deck": notation_deck.__wrapped__,
        "report on it": lambda: deck_report(notation_deck()),
    }


def processor_seconds(work: Callable[[], object]) -> float:
    began = time.process_time()
    work()
    return time.process_time() - began


def main() -> None:
    times: dict[str, list[float]] = {}
    for name, work in works().items():
        times[name] = [processor_seconds(work) for _ in range(RUNS)]
    show_ratios(times)
    largest = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"memory of the run, sources and all: {largest:.0f} MB")


if __name__ == "__main__":
    main()
