"""What a source is, is told by what stands in it; reading a file from the disk."""

import json
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from housemap.colorimetry.facts import colour_facts
from housemap.deck.reading import LARGEST_BYTES, Format
from housemap.deck.sources import read_bytes, sniff
from housemap.errors import InputError
from housemap.model.house import Lab, Reflectance
from housemap.workbench.deck_import import read_paints
from tests.support.decks import (
    SOURCES,
    cgats_source,
    csv_source,
    cxf_lab,
    cxf_object,
    cxf_source,
    cxf_spectra,
)
from tests.support.science import cie_test_colours

DECK = b'format = 1\n\n[paint.oat]\nname = "Oat Ladle"\nsrgb = "#d9d0bf"\n'


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (csv_source(), "csv"),
        (csv_source().replace(b",", b"\t"), "csv"),
        (cgats_source(), "cgats"),
        (b"MY METER 1.0\r\n" + cgats_source().partition(b"\r\n")[2], "cgats"),
        (cxf_source(), "cxf"),
        (b"\xef\xbb\xbf" + cxf_source(), "cxf"),
        (cxf_source().decode().encode("utf-16"), "cxf"),
        (csv_source().decode().encode("utf-16"), "csv"),
        (DECK, "deck"),
        (b"[paint.oat]\nname = 1\n", "deck"),
        (b"", "csv"),
    ],
)
def test_the_kind_is_told_by_the_content(data: bytes, kind: Format) -> None:
    assert sniff(data) == kind


@pytest.mark.parametrize("name", ["deck.csv", "deck.txt", "deck.cxf", "no ending"])
@pytest.mark.parametrize("kind", SOURCES)
def test_the_name_of_a_file_does_not_matter(tmp_path: Path, name: str, kind: str) -> None:
    path = tmp_path / name
    path.write_bytes(SOURCES[kind])
    reading = read_paints(path)
    assert reading.format == kind
    assert [paint.name for paint in reading.paints.values()] == ["Oat Ladle", "Moss"]
    assert {paint.deck for paint in reading.paints.values()} == {path.stem}


@pytest.mark.parametrize("kind", SOURCES)
def test_the_same_source_gives_the_same_paints(kind: str) -> None:
    assert read_bytes(SOURCES[kind], "a") == read_bytes(SOURCES[kind], "b")


@pytest.mark.parametrize(
    ("encoding", "note"),
    [("utf-8", ""), ("utf-8-sig", ""), ("utf-16", "read as UTF-16"),
     ("cp1252", "not UTF-8: read as Windows-1252 (Latin-1)"),
     ("latin-1", "not UTF-8: read as Windows-1252 (Latin-1)")],
)  # fmt: skip
def test_the_encoding_is_found_and_told(encoding: str, note: str) -> None:
    data = "Name;Hex\nCr\xe8me br\xfbl\xe9e;#e8d9b5\n".encode(encoding)
    reading = read_bytes(data, "deck.csv")
    assert [paint.name for paint in reading.paints.values()] == ["Cr\xe8me br\xfbl\xe9e"]
    assert [n for n in reading.notes if "read as" in n] == ([note] if note else [])


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "the file is empty"),
        (b" \n\r\n", "the file is empty"),
        (DECK, "a deck or house file already"),
        (b"Name,Hex\nOat\0,#d9d0bf\n", "it holds NUL bytes"),
        (csv_source().decode().encode("utf-16")[2:], "it holds NUL bytes"),
        (csv_source().decode().encode("utf-16") + b"x", "cut off in the middle of a character"),
        ("Name,Hex\nOat,#d9d0bf\nCr\xe8".encode()[:-1], "cut off in the middle of a character"),
        (b"Name,Hex\n\x81\x8d,#d9d0bf\n", r"deck:2: neither UTF-8 nor Windows-1252"),
        (b"PK\x03\x04" + bytes(50), "workbook or archive: save the sheet as CSV"),
        (b"\xd0\xcf\x11\xe0" + bytes(50), "an old workbook"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"ASEF\0\1\0\0" + bytes(50), "never published: export it as .gpl, CSV or CxF 3"),
        (b"\x1f\x8b\x08\x00", "compressed: unpack it first"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"Name,Hex\n" + b"x" * 1_000_001, "a line is far too long"),
        (b"," * 2_000 + b"\n" + b"a," * 2_000, "more than 1,000 columns"),
        (b"Name,Hex\n" + b"Oat,#d9d0bf\n" * 50_001, "more than 50,000 rows"),
        ((b"a," * 999 + b"a\n") * 4_001, "more than 4,000,000 cells"),
        (b"a" + b"\n" * 500_001, "more than 500,000 lines"),
        (
            b"CGATS.17\n" + b"ILLUMINANT D50\n" * 10_001 + b"BEGIN_DATA\n",
            "more than 10,000 keywords",
        ),
        (b"CGATS.17\n" + b"BEGIN_DATA " * 100_000, "a line is far too long"),
        (cxf_source("<cc:Object>" + "x" * 100_001 + "</cc:Object>"), "a value is far too long"),
    ],
)
def test_what_cannot_be_read_is_told_in_one_clear_line(data: bytes, message: str) -> None:
    with pytest.raises(InputError, match=message) as error:
        read_bytes(data, "deck")
    assert len(error.value.problems) == 1


@pytest.mark.parametrize("start", [b"Name,Hex\n", cgats_source(), cxf_source()])
def test_a_hundred_megabytes_are_refused_before_they_are_read(tmp_path: Path, start: bytes) -> None:
    path = tmp_path / "large"
    with path.open("wb") as file:
        file.write(start)
        file.truncate(100 * 2**20)
    with pytest.raises(InputError, match="larger than 32 MB"):
        read_paints(path)
    with pytest.raises(InputError, match="larger than 32 MB"):
        read_bytes(start + bytes(LARGEST_BYTES), "large")


def test_a_path_that_is_no_readable_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="nothing: cannot be read: No such file"):
        read_paints(tmp_path / "nothing")
    with pytest.raises(InputError, match="not a file"):
        read_paints(tmp_path)
    with pytest.raises(InputError, match="not the name of a file"):
        read_paints(tmp_path / "a\0b")


def test_a_pipe_is_read_like_a_file(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with ThreadPoolExecutor(1) as other:
        other.submit(pipe.write_bytes, csv_source())
        assert list(read_paints(pipe).paints) == ["a-102", "a-7"]


def published_lrv() -> dict[str, float]:
    path = Path(__file__).parent.parent / "data" / "lrv_of_test_colours.json"
    cases = json.loads(path.read_text("utf-8"))["cases"]
    return {case["sample"]: case["Y_D65_10deg"] for case in cases}


@pytest.mark.parametrize("kind", ["cgats", "cxf"])
def test_cie_test_colours_come_out_with_their_light_reflectance(kind: str) -> None:
    """The CIE 13.3 samples through a file and colorimetry: LRV as in the published check values.

    Their source stands in tests/data/lrv_of_test_colours.json.
    """
    spectra = {name: values[2:33].tolist() for name, values in cie_test_colours().items()}
    data = cgats_source(spectra) if kind == "cgats" else cxf_source(cxf_spectra(spectra))
    paints = read_bytes(data, kind).paints.values()
    facts = colour_facts([paint.colour for paint in paints])
    for paint, found in zip(paints, facts, strict=True):
        assert isinstance(paint.colour, Reflectance)
        assert found.lrv == pytest.approx(published_lrv()[paint.name], abs=0.05)
    assert len(facts) == 14


def test_what_the_caller_tells_is_checked() -> None:
    data = b"Name,L*,a*,b*\nOat,84,1,9\n"
    reading = read_bytes(data, "deck", observed="d50, 2 degree")
    assert reading.paints["oat"].colour == Lab((84.0, 1.0, 9.0), "D50/2")
    with pytest.raises(InputError, match='"moonlight" is no CIE illuminant and observer'):
        read_bytes(data, "deck", observed="moonlight")
    told = read_bytes(cgats_source(), "deck", columns={"SAMPLE_ID": "notes"})
    assert told.paints["moss"].notes == "2"
    with pytest.raises(InputError, match='no column "SAMPLE"'):
        read_bytes(cgats_source(), "deck", columns={"SAMPLE": "name"})
    with pytest.raises(InputError, match="--column is for tables only"):
        read_bytes(cxf_source(), "deck", columns={"SAMPLE_ID": "name"})
    with pytest.raises(InputError, match='"grey nm" is nothing a column can mean'):
        read_bytes(data, "deck", columns={"L*": "grey nm"})


def test_the_caller_may_say_under_which_light_a_cxf_file_was_measured() -> None:
    data = cxf_source(cxf_object("Oat", "o1", cxf_lab(84, 1, 9, "none")))
    reading = read_bytes(data, "deck", observed="D65/10")
    assert reading.paints["oat"].colour == Lab((84.0, 1.0, 9.0), "D65/10")
