"""Sources of paints, made to the published grammars, for tests to read and to damage.

CGATS: ANSI CGATS.17-2009 / ISO 28178. CxF: the CxF 3 core schema of ISO 17972-1 (elements,
attributes and enumerations as in its CxF3_Core.xsd). Paints and their colours are made up.
"""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from housemap.deck.reading import DeckReading, Given
from housemap.deck.report import lines_about
from housemap.deck.sources import read_bytes, read_csv
from housemap.errors import InputError
from housemap.model.house import Paint
from housemap.model.schema import PAINT

BANDS_NM = tuple(range(400, 710, 10))
OAT = tuple(round(0.45 + 0.3 * i / 30, 4) for i in range(31))
MOSS = tuple(round(0.10 + 0.15 * (i % 17) / 16, 4) for i in range(31))
SPECTRA = {"Oat Ladle": OAT, "Moss": MOSS}


def numbers(values: Iterable[float], between: str = " ") -> str:
    return between.join(f"{value:g}" for value in values)


def csv_source() -> bytes:
    return (
        b"Name,Code,L*,a*,b*,LRV\r\n"
        b'"Oat Ladle",A-102,84.1,1.2,9.8,64.5\r\n'
        b"Moss,A-7,44,-8.5,12.25,13.9\r\n"
    )


def cgats_source(
    spectra: Mapping[str, Sequence[float]] = SPECTRA,
    keywords: Sequence[str] = ('MEASUREMENT_SOURCE "MeasurementCondition=M1"',),
    prefix: str = "nm",
) -> bytes:
    fields = " ".join(f"{prefix}{nm}" for nm in BANDS_NM)
    sets = [
        f'{i}\t"{name}"\t{numbers(values)}' for i, (name, values) in enumerate(spectra.items(), 1)
    ]
    lines = (
        "CGATS.17", 'ORIGINATOR "a meter of our own"', 'CREATED "2026-05-02" # 10:15', *keywords,
        'KEYWORD "SAMPLE_NAME"', f"NUMBER_OF_FIELDS {len(BANDS_NM) + 2}", "BEGIN_DATA_FORMAT",
        f"SAMPLE_ID SAMPLE_NAME {fields}", "END_DATA_FORMAT", f"NUMBER_OF_SETS {len(sets)}",
        "BEGIN_DATA", *sets, "END_DATA", "",
    )  # fmt: skip
    return "\r\n".join(lines).encode()


def cgats_lab(keywords: Sequence[str], sets: Sequence[str]) -> str:
    lines = (
        "ISO28178", *keywords, "BEGIN_DATA_FORMAT", "SAMPLE_ID LAB_L LAB_A LAB_B",
        "END_DATA_FORMAT", "BEGIN_DATA", *sets, "END_DATA", "",
    )  # fmt: skip
    return "\n".join(lines)


NAMESPACE = "http://colorexchangeformat.com/CxF3-core"


def cxf_source(objects: str = "", specifications: str = "") -> bytes:
    """A whole file around what an ObjectCollection and a ColorSpecificationCollection hold."""
    text = f"""<?xml version="1.0" encoding="UTF-8"?>
<cc:CxF xmlns:cc="{NAMESPACE}">
 <cc:FileInformation><cc:Creator>a meter of our own</cc:Creator></cc:FileInformation>
 <cc:Resources>
  <cc:ObjectCollection>{objects or cxf_spectra()}</cc:ObjectCollection>
  <cc:ColorSpecificationCollection>{specifications or cxf_specification("S1")}
  </cc:ColorSpecificationCollection>
 </cc:Resources>
</cc:CxF>
"""
    return text.encode()


def cxf_spectra(spectra: Mapping[str, Sequence[float]] = SPECTRA) -> str:
    return "".join(
        cxf_object(name, f"o{i}", cxf_spectrum(values))
        for i, (name, values) in enumerate(spectra.items())
    )


def cxf_object(name: str, id_: str, values: str = "", device: str = "", rest: str = "") -> str:
    inner = f"<cc:ColorValues>{values}</cc:ColorValues>" if values else ""
    outer = f"<cc:DeviceColorValues>{device}</cc:DeviceColorValues>" if device else ""
    return f"""
   <cc:Object ObjectType="Standard" Name="{name}" Id="{id_}">
    <cc:CreationDate>2026-05-02T10:15:00Z</cc:CreationDate>{inner}{outer}{rest}
   </cc:Object>"""


def cxf_spectrum(values: Sequence[float], spec: str = "S1", start: int = 400) -> str:
    return (
        f'<cc:ReflectanceSpectrum ColorSpecification="{spec}" StartWL="{start}">'
        f"{numbers(values)}</cc:ReflectanceSpectrum>"
    )


def cxf_lab(lightness: float, a_star: float, b_star: float, spec: str = "S1") -> str:
    return (
        f'<cc:ColorCIELab ColorSpecification="{spec}"><cc:L>{lightness}</cc:L>'
        f"<cc:A>{a_star}</cc:A><cc:B>{b_star}</cc:B></cc:ColorCIELab>"
    )


def cxf_specification(
    id_: str,
    *,
    illuminant: str = "D50",
    observer: str = "2_Degree",
    light: str = "M1_Daylight",
    geometry: str = "<cc:SphereGeometry>Specular_Included</cc:SphereGeometry>",
    kind: str = "Spectrum_Reflectance",
) -> str:
    return f"""
   <cc:ColorSpecification Id="{id_}">
    <cc:TristimulusSpec><cc:Illuminant>{illuminant}</cc:Illuminant>
     <cc:Observer>{observer}</cc:Observer><cc:Method>E308_Table5</cc:Method></cc:TristimulusSpec>
    <cc:MeasurementSpec><cc:MeasurementType>{kind}</cc:MeasurementType>
     <cc:GeometryChoice>{geometry}</cc:GeometryChoice>
     <cc:WavelengthRange StartWL="400" Increment="10"/>
     <cc:Device><cc:DeviceIllumination>{light}</cc:DeviceIllumination></cc:Device>
    </cc:MeasurementSpec>
   </cc:ColorSpecification>"""


SOURCES = {"csv": csv_source(), "cgats": cgats_source(), "cxf": cxf_source()}


def faults_of(paint: Paint) -> list[str]:
    """What a house file would refuse in a paint."""
    found: list[str] = []
    PAINT.faults(paint, lambda path, phrase: found.append(f"{'.'.join(path)} {phrase}"))
    return found


def read_or_refused(data: bytes, name: str) -> DeckReading | InputError:
    """A reading or the error that a source gave; both are held to what a person may be shown."""
    try:
        reading = read_bytes(data, name)
    except InputError as error:
        return checked_refusal(error)
    assert reading.paints
    assert {name: faults_of(paint) for name, paint in reading.paints.items()} == {
        name: [] for name in reading.paints
    }
    assert all(row.line > 0 and row.reason and is_one_line(str(row)) for row in reading.rejected)
    assert all(map(is_one_line, lines_about(reading)))
    return reading


def checked_refusal(error: InputError) -> InputError:
    assert error.problems
    assert all(is_one_line(str(problem)) for problem in error.problems), str(error)
    return error


def is_one_line(text: str) -> bool:
    """Whether a terminal shows a text and obeys nothing in it."""
    return all(c.isprintable() or unicodedata.category(c) == "Zs" for c in text)


def read_table(*lines: str, **told: object) -> DeckReading:
    """A table of those lines."""
    return read_csv("\n".join(lines), "deck.csv", Given(**told))  # type: ignore[arg-type]  # keywords as they come


def meanings(reading: DeckReading) -> list[str]:
    return [column.meaning for column in reading.mapping]
