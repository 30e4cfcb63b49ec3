"""What goes out of the house: every form tells the same, and no text in it is ever run."""

import csv
import datetime as dt
import io
import re
import shutil
import subprocess
from dataclasses import replace
from html import unescape
from pathlib import Path

import html5lib
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from housemap.checks import report_of
from housemap.cli import main
from housemap.colorimetry.spaces import hex_to_srgb
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.edits import assign, change_entity, put
from housemap.model.house import Edition, House, Srgb, Units
from housemap.schedule.as_text import SURFACES, as_markdown, inert, plain, sheet
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.drawings import ink_on
from housemap.schedule.editions import TITLES
from housemap.schedule.publishing import as_html, css_text
from tests.support.houses import paint, small_house
from tests.support.papers import papers
from tests.support.strategies import houses

DAY = dt.date(2026, 5, 2)
HOSTILE = "<script>alert(1)</script> =1+1 [x](javascript:y) | &"
EDITIONS: tuple[Edition, ...] = ("full", "painter", "client", "supplier")
CHROMIUM = shutil.which("chromium")


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house), DAY)


def hostile() -> House:
    house = replace(small_house(), name=HOSTILE)
    house = change_entity(house, "rooms", "hall", name=HOSTILE)
    return change_entity(house, "paints", "oat", name=HOSTILE, code="=2+3")


@pytest.fixture(scope="module")
def demo() -> Schedule:
    return schedule(read_house("demo_house.toml"))


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_page_is_valid_html(demo: Schedule, edition: Edition) -> None:
    """By html5lib, the parser of the WHATWG standard, which stops at the first error."""
    html5lib.HTMLParser(strict=True).parse(as_html(demo, edition))
    html5lib.HTMLParser(strict=True).parse(as_html(papers(), edition))


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_page_has_no_script_and_asks_for_nothing(demo: Schedule, edition: Edition) -> None:
    page = as_html(demo, edition)
    assert "<script" not in page
    assert "default-src 'none'" in unescape(page)
    addresses = re.findall(r'(?:src|href|url)\s*[=(]\s*"?([^")]{0,40})', page)
    assert bool(addresses) is (edition in {"full", "client"})
    assert all(address.startswith("data:image/png") for address in addresses)


@pytest.mark.parametrize("edition", EDITIONS)
def test_hostile_text_is_text_in_every_form(edition: Edition) -> None:
    made = schedule(hostile())
    page = as_html(made, edition)
    html5lib.HTMLParser(strict=True).parse(page)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert page.count("</style>") == 1
    assert "\\<script\\>" in as_markdown(made, edition)
    for name in ("surfaces", "paint", "primer", "samples"):
        rows = list(csv.reader(io.StringIO(sheet(made, name))))
        assert not [cell for row in rows for cell in row if cell.startswith("=")]


def possible(house: House) -> House:
    """The house in colours that surfaces can have."""
    paints = {key: replace(paint, colour=Srgb("#8899aa")) for key, paint in house.paints.items()}
    finishes = {key: replace(f, colour=Srgb("#aa9988")) for key, f in house.finishes.items()}
    rooms = {
        key: replace(
            room,
            states={
                surface: replace(state, colour=state.colour and Srgb("#445566"))
                for surface, state in room.states.items()
            },
        )
        for key, room in house.rooms.items()
    }
    return replace(house, paints=paints, finishes=finishes, rooms=rooms)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(houses(3), st.sampled_from(EDITIONS))
def test_any_legal_house_makes_every_form(house: House, edition: Edition) -> None:
    made = schedule_of(report_of(possible(house), deep=False), DAY)
    html5lib.HTMLParser(strict=True).parse(as_html(made, edition))
    assert as_markdown(made, edition).startswith("# ")
    for name in ("surfaces", "paint", "primer", "samples"):
        rows = list(csv.reader(io.StringIO(sheet(made, name))))
        assert len({len(row) for row in rows}) == 1


def test_every_table_has_a_caption_column_heads_and_row_heads(demo: Schedule) -> None:
    """WCAG 2.2, success criterion 1.3.1, techniques H39, H51 and H63."""
    page = html5lib.parse(as_html(demo, "painter"), namespaceHTMLElements=False)
    tables = list(page.iter("table"))
    assert tables
    for table in tables:
        assert table[0].tag == "caption"
        assert table[0].text
        assert all(head.get("scope") == "col" for head in table.iterfind("thead/tr/th"))
        for row in table.iterfind("tbody/tr"):
            assert [cell.get("scope") for cell in row.iterfind("th")] == ["row"]


def test_house_and_issue_run_along_every_printed_page_and_pages_are_numbered() -> None:
    """CSS Paged Media Module Level 3, margin boxes."""
    page = as_html(papers(), "painter")
    assert '@top-left { content: "Painting specification: Papers" }' in page
    assert '@top-right { content: "draft, 2 May 2026, ' in page
    assert 'content: "Page " counter(page) " of " counter(pages)' in page


@pytest.mark.parametrize(
    ("country", "units", "paper"),
    [("GB", "m", "A4"), ("US", "ft", "letter"), ("", "ft", "letter"), ("", "m", "A4")],
)
def test_the_paper_is_that_of_the_country(country: str, units: Units, paper: str) -> None:
    house = replace(small_house(), country=country, units=units)
    assert f"@page {{ size: {paper};" in as_html(schedule(house), "supplier")


def test_a_text_in_the_style_sheet_cannot_leave_its_string() -> None:
    """CSS Syntax Module Level 3, escaping."""
    assert css_text('a"; } </style>') == '"a\\22 \\3b  \\7d  \\3c \\2f style\\3e "'


def test_no_typeface_of_a_maker_is_named() -> None:
    page = as_html(papers())
    named = set(re.findall(r"font(?:-family)?:([^;}]*)", page))
    assert named
    for family in named:
        words = re.sub(r"[\d./%]+(?:rem|pt)?", " ", family).replace(",", " ").split()
        assert set(words) <= {"system-ui", "sans-serif"}


FORMULAS = ("=1+1", "+cmd", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "\uff1d1+1", "\uff20SUM(A1)")


@pytest.mark.parametrize("cell", FORMULAS)
def test_a_cell_that_a_spreadsheet_would_run_is_made_text(cell: str) -> None:
    """The starts named by OWASP under CSV injection (from memory)."""
    assert inert(cell) == "'" + cell


@pytest.mark.parametrize("cell", ["-1.5", "12", "+3", "Oat Ladle", ""])
def test_a_number_or_a_name_stays_as_it_is(cell: str) -> None:
    assert inert(cell) == cell


def test_numbers_come_back_from_the_csv(demo: Schedule) -> None:
    rows = list(csv.DictReader(io.StringIO(sheet(demo))))
    assert tuple(rows[0]) == SURFACES
    for row, line in zip(rows, demo.quantities.lines, strict=True):
        assert int(row["coats"]) == line.coats
        assert float(row["area_m2"]) == pytest.approx(line.area_m2, abs=5e-4)
        assert float(row["litres_without_waste"]) == pytest.approx(line.litres, abs=5e-5)


def test_markdown_is_escaped_only_where_it_must_be() -> None:
    assert plain("2.5 m2 - two coats (oat)") == "2.5 m2 - two coats (oat)"
    assert plain("1. hall") == "1\\. hall"
    assert plain("a|b_c") == "a\\|b\\_c"


@pytest.mark.parametrize("hex_", ["#ffffff", "#808080", "#767676", "#39424f", "#d9a500", "#000000"])
def test_text_on_a_swatch_has_the_contrast_of_wcag(hex_: str) -> None:
    """WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1."""

    def luminance(colour: str) -> float:
        linear = (
            c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in hex_to_srgb(colour)
        )
        return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))

    high, low = sorted((luminance(hex_), luminance(ink_on(hex_))), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 4.5


def test_an_old_house_warns_of_lead_and_a_new_one_does_not() -> None:
    """US EPA, 40 CFR 745: built before 1978."""
    for built, warned in ((1936, True), (None, True), (1977, True), (1978, False), (2011, False)):
        text = as_markdown(schedule(replace(small_house(), built=built, country="US")))
        assert ("lead" in text) is warned


def test_the_revision_is_that_of_the_house_alone() -> None:
    house = small_house()
    assert schedule(house).revision == schedule(replace(house)).revision
    assert schedule(house).revision != schedule(replace(house, notes="other")).revision


@pytest.mark.parametrize("ending", [".md", ".csv", ".html"])
def test_the_command_writes_each_form(ending: str, tmp_path: Path) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    out = tmp_path / f"schedule{ending}"
    assert main(["schedule", str(tmp_path / "house.toml"), "-o", str(out)]) == 0
    assert "Oat Ladle" in out.read_text("utf-8")


def test_the_command_goes_by_the_colours_before(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dark = put(small_house(), "paints", "peat", paint("#3a3630", "Peat"))
    save_house(assign(dark, "hall", "walls", "peat"), tmp_path / "found.toml")
    save_house(small_house(), tmp_path / "house.toml")
    words = ["schedule", str(tmp_path / "house.toml")]
    assert main(words) == 0
    plain = capsys.readouterr().out
    assert main([*words, "--before", str(tmp_path / "found.toml")]) == 0
    stepped = capsys.readouterr().out
    assert "| 3 |" in stepped
    assert "| 3 |" not in plain
    assert "(from found.toml)" in stepped


def test_another_ending_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    assert main(["schedule", str(tmp_path / "house.toml"), "-o", "x.docx"]) == 2
    assert ".html, .pdf, .md or .csv" in capsys.readouterr().err


def test_a_spreadsheet_has_a_file_for_each_list(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    words = ["schedule", str(tmp_path / "house.toml"), "-o", str(tmp_path / "list.csv")]
    assert main(words) == 0
    written = sorted(path.name for path in tmp_path.glob("*.csv"))
    assert written == ["list-paint.csv", "list-primer.csv", "list-samples.csv", "list.csv"]
    told = capsys.readouterr().err
    assert all(name in told for name in written)
    assert (tmp_path / "list-paint.csv").read_text("utf-8").startswith("paint,code,product")


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_command_writes_each_edition(
    tmp_path: Path, edition: Edition, capsys: pytest.CaptureFixture[str]
) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    assert main(["schedule", str(tmp_path / "house.toml"), "--for", edition]) == 0
    assert capsys.readouterr().out.startswith(f"# {TITLES[edition]}: Alder Row 12")


def test_an_issue_is_noted_in_the_house_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    assert main(["schedule", str(path), "--for", "painter", "--issue", "--to", "Ann"]) == 0
    assert "issue: 1, " in capsys.readouterr().out
    assert read_house(path).issues["1"].to == "Ann"


def test_without_a_browser_a_pdf_is_refused_with_how_to_print(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("housemap.schedule.publishing.browser", lambda: None)
    save_house(small_house(), tmp_path / "house.toml")
    out = tmp_path / "schedule.pdf"
    assert main(["schedule", str(tmp_path / "house.toml"), "-o", str(out)]) == 2
    told = capsys.readouterr().err
    assert "Write the schedule as .html" in told
    assert not out.exists()


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")
def test_a_browser_makes_a_pdf_of_several_pages(tmp_path: Path) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    out = tmp_path / "schedule.pdf"
    words = ["schedule", str(tmp_path / "house.toml"), "--for", "painter", "-o", str(out)]
    assert main(words) == 0
    data = out.read_bytes()
    assert data.startswith(b"%PDF")
    assert len(re.findall(rb"/Type /Page\b", data)) > 1


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")
def test_a_browser_shows_and_prints_the_page(demo: Schedule, tmp_path: Path) -> None:
    page = tmp_path / "schedule.html"
    page.write_text(as_html(demo), "utf-8")
    dom = _chromium(tmp_path, "--dump-dom", page.as_uri())
    assert "<h1>Alder Row 12</h1>" in dom
    pdf = tmp_path / "schedule.pdf"
    _chromium(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri())
    assert pdf.read_bytes().startswith(b"%PDF")


def _chromium(home: Path, *arguments: str) -> str:
    assert CHROMIUM is not None
    options = (
        "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync",
        "--disable-background-networking", "--disable-component-update", "--disable-quic",
        f"--user-data-dir={home / 'profile'}",
    )  # fmt: skip
    command = [CHROMIUM, *options, *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")
def test_it_prints_on_either_paper_with_nothing_that_holds_colour_cut(
    demo: Schedule, tmp_path: Path, paper: str
) -> None:
    """What may not be cut by the end of a page says so; the page itself prints on either paper."""
    text = as_html(demo).replace("size: A4", f"size: {paper}")
    page, pdf = tmp_path / "schedule.html", tmp_path / "schedule.pdf"
    page.write_text(text, "utf-8")
    _chromium(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri())
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf.read_bytes())
    sizes = {(round(float(width)), round(float(height))) for width, height in boxes}
    wanted = {"A4": {(595, 842), (596, 842), (594, 841)}, "Letter": {(612, 792)}}[paper]
    assert sizes
    assert sizes <= wanted
    kept_whole = re.search(
        r"@media print.*?\n\s*(tr.*?) \{ break-inside: avoid; \}", text, re.DOTALL
    )
    assert kept_whole
    assert {"tr", "figure", ".chip"} <= set(kept_whole[1].split(", "))


@pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")
def test_on_a_phone_nothing_is_wider_than_the_screen(demo: Schedule, tmp_path: Path) -> None:
    """The page is put into a frame of 390 px; where it would scroll sideways the frame tells."""
    style = "width:390px;height:4000px;border:0"
    measure = (
        "f.onload=()=>{const d=f.contentDocument.documentElement;"
        "document.title=d.scrollWidth+' of '+d.clientWidth}"
    )
    source = as_html(demo).replace("&", "&amp;").replace('"', "&quot;")
    frame = f'<iframe id="f" srcdoc="{source}" style="{style}"></iframe>'
    page = tmp_path / "phone.html"
    page.write_text(f"<!doctype html><script>addEventListener('load',()=>0)</script>{frame}"
                    f"<script>{measure}</script>", "utf-8")  # fmt: skip
    dom = _chromium(tmp_path, "--dump-dom", "--virtual-time-budget=3000", page.as_uri())
    told = re.search(r"<title>(\d+) of (\d+)</title>", dom)
    assert told
    assert int(told[1]) <= int(told[2])
