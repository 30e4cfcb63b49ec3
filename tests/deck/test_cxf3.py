"""CxF 3 (ISO 17972-1) files: values, conditions, and what a hostile file may not do."""

import pytest

from housemap.deck.cxf import read_cxf3
from housemap.deck.reading import DeckReading
from housemap.errors import InputError
from housemap.model.house import ColourSource, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from tests.support.decks import (
    MOSS,
    NAMESPACE,
    OAT,
    cxf_lab,
    cxf_object,
    cxf_source,
    cxf_specification,
    cxf_spectrum,
)

HALF = [v / 2 for v in OAT]


def read(objects: str = "", specifications: str = "") -> DeckReading:
    return read_cxf3(cxf_source(objects, specifications), "deck.cxf")


def only(reading: DeckReading) -> Paint:
    (paint,) = reading.paints.values()
    return paint


def test_spectra_and_names_are_read() -> None:
    reading = read()
    assert {paint.name: paint.colour for paint in reading.paints.values()} == {
        "Oat Ladle": Reflectance(400.0, 10.0, OAT),
        "Moss": Reflectance(400.0, 10.0, MOSS),
    }
    assert reading.format == "cxf"
    assert {c.header: c.meaning for c in reading.mapping} == {
        "Object Name": "name",
        "ReflectanceSpectrum": "spectrum",
    }


def three(tag: str, names: str, values: tuple[float, float, float]) -> str:
    inner = "".join(
        f"<cc:{name}>{value}</cc:{name}>" for name, value in zip(names, values, strict=True)
    )
    return f'<cc:{tag} ColorSpecification="S1">{inner}</cc:{tag}>'


@pytest.mark.parametrize(
    ("values", "device", "colour"),
    [
        (cxf_lab(84.1, 1.2, 9.8), "", Lab((84.1, 1.2, 9.8), "D50/2")),
        (three("ColorCIEXYZ", "XYZ", (60.5, 64.25, 58)), "", Xyz((60.5, 64.25, 58.0), "D50/2")),
        (three("ColorCIELCh", "LCH", (84, 10, 90)), "", Lab((84.0, 0.0, 10.0), "D50/2")),
        (three("ColorCIExyY", "xyY", (0.25, 0.5, 50)), "", Xyz((25.0, 50.0, 25.0), "D50/2")),
        (three("ColorSRGB", "RGB", (217, 208, 191)), "", Srgb("#d9d0bf")),
        ("", '<cc:ColorNotation Name="Munsell" Notation="5Y 7/1" ColorSpecification="S1"/>',
         Notation("5Y 7/1")),
        ("", '<cc:ColorHTML HTML="#D9D0BF" ColorSpecification="S1"/>', Srgb("#d9d0bf")),
    ],
)  # fmt: skip
def test_every_kind_of_value_is_read(values: str, device: str, colour: ColourSource) -> None:
    assert only(read(cxf_object("Oat", "o1", values, device))).colour == colour


def test_srgb_of_another_range_is_scaled() -> None:
    values = three("ColorSRGB", "RGB", (868, 832, 764)).replace(
        "<cc:R>", "<cc:MaxRange>1020</cc:MaxRange><cc:R>"
    )
    assert only(read(cxf_object("Oat", "o1", values))).colour == Srgb("#d9d0bf")


def test_a_spectrum_goes_before_lab_and_daylight_before_other_light() -> None:
    values = cxf_lab(84, 1, 9) + cxf_spectrum(HALF, "S0") + cxf_spectrum(OAT, "S1")
    specs = cxf_specification("S0", light="M0_Incandescent") + cxf_specification("S1")
    reading = read(cxf_object("Oat", "o1", values), specs)
    assert only(reading).colour == Reflectance(400.0, 10.0, OAT)
    assert "1 paint: measured under M1 (D50 with its ultraviolet)" in reading.notes


def test_gloss_included_goes_before_gloss_excluded_which_is_told() -> None:
    excluded = cxf_specification(
        "S0", geometry="<cc:SphereGeometry>Specular_Excluded</cc:SphereGeometry>"
    )
    both = cxf_object("Oat", "o1", cxf_spectrum(HALF, "S0") + cxf_spectrum(OAT, "S1"))
    assert only(read(both, excluded + cxf_specification("S1"))).colour == Reflectance(
        400.0, 10.0, OAT
    )
    alone = read(cxf_object("Oat", "o1", cxf_spectrum(OAT, "S0")), excluded)
    assert any("specular excluded" in note for note in alone.notes)


def test_polarised_light_is_told_however_it_is_said() -> None:
    spec = cxf_specification("S1", light="Custom").replace(
        "</cc:Device>", "<cc:DevicePolarization>true</cc:DevicePolarization></cc:Device>"
    )
    reading = read(cxf_object("Oat", "o1", cxf_spectrum(OAT)), spec)
    assert any("M3 (polarised" in note for note in reading.notes)


@pytest.mark.parametrize(
    ("illuminant", "observer", "observed"),
    [("D65", "10_Degree", "D65/10"), ("A", "2_Degree", "A/2"), ("F11", "10_Degree", "FL11/10")],
)
def test_lab_carries_its_illuminant_and_observer(
    illuminant: str, observer: str, observed: str
) -> None:
    spec = cxf_specification("S1", illuminant=illuminant, observer=observer)
    reading = read(cxf_object("Oat", "o1", cxf_lab(84, 1, 9)), spec)
    assert only(reading).colour == Lab((84.0, 1.0, 9.0), observed)
    assert f"1 paint: measured under {observed}" in reading.notes


def test_lab_without_a_specification_is_taken_as_iso_13655_asks_and_told() -> None:
    reading = read(cxf_object("Oat", "o1", cxf_lab(84, 1, 9, "none")))
    assert only(reading).colour == Lab((84.0, 1.0, 9.0), "D50/2")
    assert "1 paint: nothing says under which light: taken as D50/2" in reading.notes


def test_names_in_tags_and_comments_are_taken() -> None:
    rest = (
        '<cc:TagCollection Name="Shop"><cc:Tag Name="Code" Value="A-102"/>'
        '<cc:Tag Name="LRV" Value="64.5"/><cc:Tag Name="Batch" Value="7"/></cc:TagCollection>'
    )
    paint = only(read(cxf_object("Oat", "o1", cxf_lab(84, 1, 9), rest=rest)))
    assert (paint.code, paint.lrv) == ("A-102", 64.5)


def test_an_irregular_spectrum_is_interpolated() -> None:
    points = "".join(f'<cc:SpectralPoint WL="{nm}">0.5</cc:SpectralPoint>' for nm in
                     (390, 403, 415.5, *range(420, 720, 12)))  # fmt: skip
    values = f'<cc:CustomSpectrum ColorSpecification="S1">{points}</cc:CustomSpectrum>'
    colour = only(read(cxf_object("Oat", "o1", values))).colour
    assert isinstance(colour, Reflectance)
    assert set(colour.values) == {0.5}


def test_a_missing_increment_is_worked_out_where_only_one_fits() -> None:
    spec = cxf_specification("S1").replace('<cc:WavelengthRange StartWL="400" Increment="10"/>', "")
    reading = read(cxf_object("Oat", "o1", cxf_spectrum(OAT)), spec)
    assert only(reading).colour == Reflectance(400.0, 10.0, OAT)
    assert "1 paint: no Increment is given: taken as 10 nm" in reading.notes


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ("", "no colour of a surface"),
        (cxf_spectrum([v * 100 for v in OAT]), "outside 0..1: wrong unit"),
        (cxf_spectrum(OAT[:20]), "must span at least 410 to 680 nm"),
        (cxf_spectrum(OAT).replace("0.45 ", "0,45 "), '"0,45" is not a number'),
        (cxf_lab(840, 1, 9), "L* 840"),
        (cxf_lab(84, 1, 9).replace("<cc:A>1</cc:A>", ""), "without a*"),
        (cxf_lab(84, 1, 9, "S9"), "is no CIE illuminant and observer"),
        (cxf_spectrum(OAT, "S8"), "no colour of a surface"),
        ('<cc:EmissiveSpectrum ColorSpecification="S1">1 2</cc:EmissiveSpectrum>',
         "no colour of a surface"),
        (three("ColorSRGB", "RGB", (217, 208, 300)), "rgb 217 208 300"),
    ],
)  # fmt: skip
def test_an_object_that_gives_no_paint_is_told_with_its_line(values: str, reason: str) -> None:
    specs = (
        cxf_specification("S1")
        + cxf_specification("S9", illuminant="TL84")
        + cxf_specification("S8", kind="Spectrum_Transmittance")
    )
    good = cxf_object("Good", "o0", cxf_spectrum(OAT))
    reading = read(good + cxf_object("Bad", "o1", values), specs)
    assert list(reading.paints) == ["good"]
    (row,) = reading.rejected
    assert reason in row.reason
    assert (
        cxf_source(good + cxf_object("Bad", "o1", values))
        .splitlines()[row.line - 1]
        .count(b'Name="Bad"')
    )


BOMB = b"""<?xml version="1.0"?>
<!DOCTYPE bomb [
 <!ENTITY a "0123456789">
 <!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
 <!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">
 <!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;">
]>
<bomb>&d;</bomb>"""
OUTSIDE = b'<!DOCTYPE x SYSTEM "http://example.invalid/x.dtd"><x/>'
SECRET = b'<!DOCTYPE x [<!ENTITY s SYSTEM "file:///etc/passwd">]><x>&s;</x>'
PARAMETER = b'<!DOCTYPE x [<!ENTITY % p SYSTEM "http://example.invalid/p"> %p;]><x/>'


@pytest.mark.parametrize("data", [BOMB, OUTSIDE, SECRET, PARAMETER])
def test_entities_and_outside_references_are_refused_unread(data: bytes) -> None:
    with pytest.raises(InputError, match="declares a document type") as error:
        read_cxf3(data, "deck.cxf")
    assert error.value.problems[0].line in {1, 2}


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"<html/>", "XML, but not CxF 3: its root is html of no namespace"),
        (b'<CxF xmlns="urn:other"/>', "its root is CxF of urn:other"),
        (b'<CxF xmlns="urn:&#x9b;31m&#x202e;other"/>', "its root is CxF of urn:31mother"),
        (f'<CxF xmlns="{NAMESPACE}"/>'.encode(), "it holds no paint"),
        (cxf_source()[:600], "the XML ends too early"),
        (b"<a><b></a>", "XML, but not"),
        (cxf_source().replace(b"</cc:Object>", b"</cc:Objekt>", 1), "mismatched tag"),
        (b'<?xml version="1.0" encoding="big5"?><a/>', "an encoding other than"),
        (b'<?xml version="1.0" encoding="no-such"?><a/>', "unknown encoding|an encoding other"),
        (cxf_source("<cc:Object>" + "<cc:x>" * 40 + "</cc:x>" * 40 + "</cc:Object>"),
         "nested more than 32 deep"),
        (cxf_source("<cc:Object>" + "<cc:x/>" * 20_001 + "</cc:Object>"), "in one object"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_used_says_why(data: bytes, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read_cxf3(data, "deck.cxf")


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "latin-1"])
def test_xml_says_its_own_encoding(encoding: str) -> None:
    text = cxf_source(cxf_object("Cr\xe8me", "o1", cxf_lab(92, 0, 8))).decode()
    told = text.replace('encoding="UTF-8"', f'encoding="{encoding.removesuffix("-sig")}"')
    assert only(read_cxf3(told.encode(encoding), "deck.cxf")).name == "Cr\xe8me"
