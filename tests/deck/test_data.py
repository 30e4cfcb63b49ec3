"""Files as people are sent them: each opens with these paints, or says in one line why not.

The files are our own, made to the published grammars; names and colours are invented.
"""

from pathlib import Path

import pytest

from housemap.errors import InputError
from housemap.workbench.deck_import import read_paints

DATA = Path(__file__).parent / "data"

OPENS = {
    "calibration-then-lab.txt": ("cgats", ["Dune"], "the table at line 6 gives no colour"),
    "colours.json": ("json", ["#d9d0bf", "#405030"], "colour from hex"),
    "hex-alone.txt": ("csv", ["#d9d0bf", "#405030"], "colour from hex"),
    "hex-behind.txt": ("list", ["Dune", "Fern"], "colour from hex"),
    "hex-lines.txt": ("list", ["Dune", "Fern", "Stone wall"], "colour from hex"),
    "ids-only.txt": ("cgats", ["101", "102", "103"], "taken as D50/2"),
    "lab-cr.txt": ("cgats", ["Dune", "Fern"], "colour from CIELAB"),
    "lab-crlf-utf16.csv": ("csv", ["Düne", "Farn"], "read as UTF-16"),
    "lrv-alone.csv": ("csv", ["Cloud", "Bark"], "a grey by its LRV alone"),
    "meter-down.csv": ("csv", ["Dune", "Fern"], "each column is a paint"),
    "meter.csv": ("csv", ["Dune", "Fern"], "colour from CIELAB"),
    "named.json": ("json", ["Dune", "Fern"], "colour from hex"),
    "nested.json": ("json", ["Dune", "Fern"], "colour from rgb"),
    "objects.json": ("json", ["Dune", "Fern"], "colour from hex"),
    "palette.gpl": ("palette", ["Dune", "Fern", "colour 7"], "colour from rgb"),
    "sample-loc.txt": ("cgats", ["A1", "A2"], "colour from CIELAB"),
    "spectra-380-680.txt": ("cgats", ["Dune", "Fern"], "the missing ends are held level"),
    "spectra-too-short-with-lab.csv": ("csv", ["Dune", "Fern"], "the spectrum is not used"),
    "xyz-above-white.txt": ("cgats", ["Fern"], "say so with --observed D65/2"),
    "xyz-of-d65.txt": ("cgats", ["White", "Fern"], "say so with --observed D65/2"),
}
REFUSED = {
    "broken.json": "cannot be read as such",
    "cmyk-cr.txt": "RGB and CMYK are a device's own values",
    "display-matrix.ccmx": "which shines and is no paint",
    "display-spectra.ccss": "which shines and is no paint",
    "display.txt": "which shines and is no paint",
    "emissive.txt": "not a surface",
    "empty.csv": "the file is empty",
    "names-alone.csv": "no column gives a colour",
    "no-list.json": "no column gives a colour",
    "sheet.xlsx": "save the sheet as CSV",
}


def test_every_file_has_something_that_must_come_out() -> None:
    assert {path.name for path in DATA.iterdir()} == {*OPENS, *REFUSED}


@pytest.mark.parametrize("name", OPENS)
def test_it_opens(name: str) -> None:
    kind, names, note = OPENS[name]
    reading = read_paints(DATA / name)
    assert reading.format == kind
    assert [paint.name for paint in reading.paints.values()] == names
    assert any(note in each for each in reading.notes)


@pytest.mark.parametrize("name", REFUSED)
def test_it_says_why_not_in_one_line(name: str) -> None:
    with pytest.raises(InputError) as error:
        read_paints(DATA / name)
    assert REFUSED[name] in str(error.value)
    assert len(str(error.value).splitlines()) == 1


@pytest.mark.parametrize(("rows", "opens"), [(50_000, True), (50_001, False)])
def test_exactly_so_many_rows_open(rows: int, opens: bool, tmp_path: Path) -> None:  # noqa: FBT001 - a column
    file = tmp_path / "many.csv"
    file.write_text("name,hex\n" + "".join(f"Paint {i},#{i:06x}\n" for i in range(rows)))
    if opens:
        assert len(read_paints(file).paints) == rows
    else:
        with pytest.raises(InputError, match="more than 50,000 rows"):
            read_paints(file)
