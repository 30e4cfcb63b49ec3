"""A reading is told in plain lines before its paints are taken."""

from housemap.deck.report import lines_about
from housemap.deck.sources import read_bytes
from tests.support.decks import cgats_source, csv_source


def test_mapping_notes_and_rejected_rows_are_told() -> None:
    data = csv_source() + b"Chalk,A-9,930,0,2,88\r\n"
    assert list(lines_about(read_bytes(data, "fan.csv"))) == [
        "2 paints, read as csv",
        "Name -> name, such as Oat Ladle",
        "Code -> code, such as A-102",
        "L* -> L*, such as 84.1",
        "a* -> a*, such as 1.2",
        "b* -> b*, such as 9.8",
        "LRV -> LRV, such as 64.5",
        "nothing says under which light: taken as D65/10",
        "2 paints: colour from CIELAB",
        "line 4: L* 930 is not between 0 and 100 | Chalk,A-9,930,0,2,88",
    ]


def test_a_guess_is_told_as_one() -> None:
    told = list(lines_about(read_bytes(b"Oat;#d9d0bf\nMoss;#405030\n", "fan")))
    assert "column 2 -> hex (a guess from its cells), such as #d9d0bf" in told


def test_spectral_columns_share_a_line() -> None:
    told = list(lines_about(read_bytes(cgats_source(), "meter")))
    assert "nm400 .. nm700 -> spectrum, 400 nm to 700 nm (31 columns)" in told
    assert "SAMPLE_ID -> left out, such as 1" in told
    assert not any(line.startswith("nm410") for line in told)


def test_many_rejected_rows_are_counted() -> None:
    data = b"Name,Hex\nOat,#d9d0bf\n" + b"".join(b"Bad,x%d\n" % n for n in range(30))
    told = list(lines_about(read_bytes(data, "fan"), most_rejected=3))
    assert told[-2:] == ['line 5: "x2" is not a colour such as #d9d0bf | Bad,x2',
                         "and 27 more rejected rows"]  # fmt: skip


def test_rows_rejected_for_one_reason_share_a_line() -> None:
    data = b"Name,Hex\nOat,#d9d0bf\n" + b"Bad,x\n" * 30
    assert list(lines_about(read_bytes(data, "fan")))[-1] == (
        '30 rows: "x" is not a colour such as #d9d0bf; lines 3, 4, 5, 6, 7, 8, 9, 10, ... | Bad,x'
    )
