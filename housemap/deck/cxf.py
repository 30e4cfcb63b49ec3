"""Paints from CxF 3 files (ISO 17972-1): one for each object that has a colour.

Of several values the most exact that can be used is taken: a reflectance spectrum (M1 before M0,
M2 and M3, with gloss before without), then CIELAB, XYZ, LCh, xyY, a notation, sRGB.

XML is read with the standard library's expat and nothing from outside the file. Document types,
and with them entities and external references, are refused before they are looked at. Depth and
size are limited. Only the subtrees that are asked for are kept, one at a time.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple
from xml.etree import ElementTree as ET
from xml.parsers import expat

from housemap.deck.colours import (
    ABOUT_M,
    BEST_M,
    GRAPHIC_ARTS,
    Source,
    illuminant_of,
    m_condition_of,
    observer_of,
    seen_under,
)
from housemap.deck.columns import BY_HEADER, NM, plain
from housemap.deck.numbers import number
from housemap.deck.reading import (
    NOTHING_GIVEN,
    Column,
    DeckReading,
    Given,
    RejectedRow,
    RowError,
    check_size,
    refuse,
)
from housemap.deck.records import Harvest, paint_from
from housemap.deck.table import MOST_ROWS, SHOWN
from housemap.errors import InputError
from housemap.model.house import Paint
from housemap.model.notation import tidy_notation
from housemap.model.text import clean_text, shown

DEEPEST = 32
LONGEST_TEXT = 100_000
MOST_ELEMENTS = 2_000_000
MOST_NODES = 20_000
"""In one kept subtree."""
NAMESPACE_END = "CxF3-core"
SEPARATOR = " "
CUT_OFF = {
    expat.errors.codes[message]
    for message in (
        expat.errors.XML_ERROR_NO_ELEMENTS,
        expat.errors.XML_ERROR_UNCLOSED_TOKEN,
        expat.errors.XML_ERROR_UNCLOSED_CDATA_SECTION,
        expat.errors.XML_ERROR_PARTIAL_CHAR,
    )
}


Node = ET.Element
"""Tags are without their namespace."""


def text_of(node: Node, path: str) -> str:
    """The text of a descendant along tags parted by /; empty where it is missing."""
    return node.findtext(path, "").strip()


class Builder:
    """Keeps the subtrees with one tag and hands each one over when it is whole."""

    def __init__(self, name: str, tag: str, take: Callable[[Node, int], None]) -> None:
        self.name, self.tag, self.take = name, tag, take
        self.parser = expat.ParserCreate(namespace_separator=SEPARATOR)
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.data
        self.parser.StartDoctypeDeclHandler = self.refuse_type
        self.tree = ET.TreeBuilder()
        self.depth = self.elements = self.inside = self.nodes = self.line = self.length = 0

    def refuse(self, text: str) -> InputError:
        return refuse(text, self.name, self.parser.CurrentLineNumber)

    def start(self, full_tag: str, attributes: dict[str, str]) -> None:
        namespace, _, tag = full_tag.rpartition(SEPARATOR)
        self.depth += 1
        self.elements += 1
        if self.depth == 1 and (tag != "CxF" or not namespace.endswith(NAMESPACE_END)):
            what = clean_text(f"{tag} of {namespace or 'no namespace'}", 80)
            raise self.refuse(f"XML, but not CxF 3: its root is {what}")
        if self.depth > DEEPEST:
            raise self.refuse(f"elements are nested more than {DEEPEST} deep")
        if self.elements > MOST_ELEMENTS:
            raise self.refuse(f"more than {MOST_ELEMENTS:,} elements")
        if not self.inside and tag != self.tag:
            return
        if not self.inside:
            self.nodes, self.line = 0, self.parser.CurrentLineNumber
        self.inside += 1
        self.nodes += 1
        self.length = 0
        if self.nodes > MOST_NODES:
            raise self.refuse(f"more than {MOST_NODES:,} elements in one object")
        self.tree.start(tag, attributes)

    def end(self, full_tag: str) -> None:
        self.depth -= 1
        if self.inside:
            self.inside -= 1
            self.tree.end(full_tag.rpartition(SEPARATOR)[2])
            if not self.inside:
                self.take(self.tree.close(), self.line)
                self.tree = ET.TreeBuilder()

    def data(self, text: str) -> None:
        if self.inside:
            self.tree.data(text)
            self.length += len(text)
            if self.length > LONGEST_TEXT:
                raise self.refuse("a value is far too long")

    def refuse_type(self, *_: object) -> None:
        raise self.refuse(
            "it declares a document type; entities and outside references are never followed"
        )


def read_nodes(data: bytes, name: str, tag: str, take: Callable[[Node, int], None]) -> None:
    """Hand every subtree with that tag over, in the order of the file.

    Raises InputError for what is no well-formed CxF 3, is cut off, or is not safe to read.
    """
    try:
        Builder(name, tag, take).parser.Parse(data, True)  # noqa: FBT003 (expat takes no keyword)
    except expat.ExpatError as error:
        text = f"not well-formed XML ({expat.ErrorString(error.code)})"
        if error.code in CUT_OFF:
            text = "the XML ends too early: the file is cut off"
        raise refuse(text, name, error.lineno) from error
    except (ValueError, LookupError) as error:
        # What expat raises for an encoding that it does not know.
        raise refuse("XML in an encoding other than UTF-8, UTF-16 or Latin-1", name) from error


class Specification(NamedTuple):
    """What one ColorSpecification says; empty or 0 where it says nothing."""

    illuminant: str = ""
    observer: str = ""
    m: str = ""
    start_nm: float = 0.0
    step_nm: float = 0.0
    gloss_left_out: bool = False
    """Specular excluded; LRV is measured with it included (BS 8493)."""
    of_surface: bool = True

    @property
    def rank(self) -> tuple[int, bool]:
        """Lower is nearer to what paint looks like on a wall."""
        return BEST_M.index(self.m), self.gloss_left_out

    @property
    def notes(self) -> tuple[str, ...]:
        gloss = ("measured without gloss (specular excluded): it reads darker than LRV asks",)
        return (*((ABOUT_M[self.m],) if self.m else ()), *(gloss if self.gloss_left_out else ()))

    @property
    def observed(self) -> str | None:
        """What Lab and XYZ refer to; None where nothing says. Raises RowError."""
        if not self.illuminant and not self.observer:
            return None
        illuminant, observer = illuminant_of(self.illuminant), observer_of(self.observer)
        if not illuminant or not observer:
            words = shown(f"{self.illuminant}, {self.observer}")
            raise RowError(f"{words} is no CIE illuminant and observer")
        return f"{illuminant}/{observer}"


def specification(node: Node) -> Specification:
    found = node.find("MeasurementSpec")
    measured = node if found is None else found
    range_ = measured.find("WavelengthRange")
    polarised = text_of(measured, "Device/DevicePolarization") in {"true", "1"}
    m = m_condition_of(text_of(measured, "Device/DeviceIllumination"))
    kind = text_of(measured, "MeasurementType")
    return Specification(
        illuminant=text_of(node, "TristimulusSpec/Illuminant"),
        observer=text_of(node, "TristimulusSpec/Observer"),
        m="M3" if polarised else m or "",
        start_nm=attribute_number(range_, "StartWL"),
        step_nm=attribute_number(range_, "Increment"),
        gloss_left_out=text_of(measured, "GeometryChoice/SphereGeometry") == "Specular_Excluded",
        of_surface=not kind.endswith(("Transmittance", "Emissive")),
    )


def attribute_number(node: Node | None, name: str) -> float:
    """A number of at most four digits; 0 where it is missing or is none."""
    text = "" if node is None else node.get(name, "").strip()
    whole, _, part = text.partition(".")
    tidy = whole.isascii() and whole.isdecimal() and len(whole) <= len("1100")
    return float(text) if tidy and (not part or part.isdecimal()) else 0.0


KINDS = {
    "ReflectanceSpectrum": "spectrum", "CustomSpectrum": "spectrum", "ColorCIELab": "lab",
    "ColorCIEXYZ": "xyz", "ColorCIELCh": "L*, C*, h", "ColorCIExyY": "x, y, Y",
    "ColorNotation": "notation", "ColorSRGB": "rgb", "ColorHTML": "hex",
}  # fmt: skip
"""The values that are read, the most exact first, with what they mean."""
PARTS = {
    "ColorCIELab": {"L": "L*", "A": "a*", "B": "b*"},
    "ColorCIEXYZ": {"X": "X", "Y": "Y", "Z": "Z"},
    "ColorCIELCh": {"L": "L*", "C": "C*", "H": "h"},
    "ColorCIExyY": {"x": "x", "y": "y", "Y": "Y"},
}
TAGS_TAKEN = {"code", "LRV", "deck", "notes", "coverage", "price", "tins"}
STEPS_NM = (1.0, 5.0, 10.0, 20.0)
ENDS_NM = (700.0, 830.0)
FULL_BYTE = 255
BARE = Specification()
"""For a value whose specification is missing."""

Value = tuple[Node, Specification]
"""A colour value of an object, and how it was measured."""


def read_cxf3(data: bytes, name: str, given: Given = NOTHING_GIVEN) -> DeckReading:
    """Every object with a colour as a paint; raises InputError as `read_nodes` does.

    The file is gone through twice, as specifications stand behind the objects that name them.
    """
    check_size(len(data), name)
    usual = given.observed or GRAPHIC_ARTS
    specifications: dict[str, Specification] = {}
    harvest = Harvest()
    found: dict[str, Column] = {}

    def keep(node: Node, _line: int) -> None:
        specifications[node.get("Id", "")] = specification(node)

    def take(node: Node, line: int) -> None:
        if len(harvest.paints) + len(harvest.rejected) >= MOST_ROWS:
            raise refuse(f"more than {MOST_ROWS:,} objects; nothing was read", name, line)
        values = values_of(node, specifications)
        for each, _ in values:
            found.setdefault(each.tag, Column(each.tag, KINDS[each.tag], example=example_of(each)))
        try:
            harvest.add(*paint_of(node, values, usual, given.deck))
        except RowError as error:
            label = clean_text(f"{node.get('Name', '')} {node.get('Id', '')}", SHOWN)
            harvest.rejected.append(RejectedRow(line, str(error), label))

    read_nodes(data, name, "ColorSpecification", keep)
    read_nodes(data, name, "Object", take)
    return harvest.reading("cxf", (Column("Object Name", "name"), *found.values()), (), name)


def values_of(node: Node, specifications: Mapping[str, Specification]) -> list[Value]:
    """The colour values of an object that are read, the one to take first."""
    groups = (node.find("ColorValues"), node.find("DeviceColorValues"))
    values = [
        (each, specifications.get(each.get("ColorSpecification", ""), BARE))
        for group in groups
        for each in (() if group is None else group)
        # A notation may be of another system than that of ASTM D1535.
        if each.tag in KINDS
        and (each.tag != "ColorNotation" or tidy_notation(each.get("Notation", "")))
    ]
    kinds = list(KINDS)
    return sorted(
        ((each, conditions) for each, conditions in values if conditions.of_surface),
        key=lambda value: (kinds.index(value[0].tag), value[1].rank),
    )


def paint_of(
    node: Node, values: Iterable[Value], usual: str, deck: str
) -> tuple[Paint, tuple[str, ...]]:
    """The paint of the best value that can be used, and notes; RowError where none can."""
    words = words_of(node)
    passed: RowError | None = None
    for value, conditions in values:
        try:
            cells, source, notes = cells_of(value, conditions, usual)
            paint, more = paint_from({**words, **cells}, replace(source, deck=deck))
        except RowError as error:
            passed = passed or error
        else:
            why = (f"the better value is not used: {passed}",) if passed else ()
            return paint, (*more, *notes, *why)
    raise passed or RowError("no colour of a surface that can be read")


def words_of(node: Node) -> dict[str, str]:
    """Name, comment and the tags with a meaning that decks have."""
    words = {"notes": text_of(node, "Comment")}
    for tag in node.iterfind("TagCollection/*"):
        meaning = BY_HEADER.get(plain(tag.get("Name", "")), "")
        if meaning in TAGS_TAKEN:
            words[meaning] = tag.get("Value", "")
    name = node.get("Name", "").strip() or node.get("Id", "")
    return {**words, "name": name}


def cells_of(
    node: Node, conditions: Specification, usual: str
) -> tuple[dict[str, str], Source, tuple[str, ...]]:
    """Cells by meaning, how to read them (`usual` where nothing says), notes; raises RowError."""
    if KINDS[node.tag] == "spectrum":
        cells, notes = spectrum_cells(node, conditions)
        nm = tuple(float(meaning.removesuffix(NM)) for meaning in cells)
        return cells, Source(wavelengths_nm=nm), (*conditions.notes, *notes)
    if node.tag in PARTS:
        observed, note = seen_under(conditions.observed, usual)
        cells = {meaning: text_of(node, tag) for tag, meaning in PARTS[node.tag].items()}
        return cells, Source(observed=observed), (*conditions.notes, note)
    if node.tag == "ColorSRGB":
        cells = srgb_cells(node)
    elif node.tag == "ColorHTML":
        cells = {"hex": node.get("HTML", "")}
    else:
        cells = {"notation": node.get("Notation", "")}
    return cells, Source(), ()


def srgb_cells(node: Node) -> dict[str, str]:
    """Red, green and blue 0..255, whatever range the file has them in."""
    largest = number(text_of(node, "MaxRange") or str(FULL_BYTE))
    if largest <= 0:
        raise RowError(f"MaxRange {largest:g} is not above 0")
    channels = {"red": "R", "green": "G", "blue": "B"}
    return {
        meaning: str(round(number(text_of(node, tag)) * FULL_BYTE / largest))
        for meaning, tag in channels.items()
    }


def spectrum_cells(node: Node, conditions: Specification) -> tuple[dict[str, str], tuple[str, ...]]:
    notes: tuple[str, ...] = ()
    if node.tag == "CustomSpectrum":
        points = node.findall("SpectralPoint")
        wavelengths_nm = [attribute_number(point, "WL") for point in points]
        readings = [(point.text or "").strip() for point in points]
    else:
        readings = (node.text or "").split()
        start = attribute_number(node, "StartWL") or conditions.start_nm
        if not start:
            raise RowError("a spectrum without StartWL")
        step = conditions.step_nm or likely_step(start, len(readings))
        if not conditions.step_nm:
            notes = (f"no Increment is given: taken as {step:g} nm",)
        wavelengths_nm = [start + i * step for i in range(len(readings))]
    cells = {f"{nm:g}{NM}": reading for nm, reading in zip(wavelengths_nm, readings, strict=True)}
    if len(cells) < len(readings):
        raise RowError("two readings at one wavelength")
    return cells, notes


def likely_step(start_nm: float, count: int) -> float:
    """The only step of 1, 5, 10 or 20 nm with which a spectrum ends where spectra end."""
    low, high = ENDS_NM
    fitting = [step for step in STEPS_NM if low <= start_nm + (count - 1) * step <= high]
    if len(fitting) != 1:
        raise RowError(f"a spectrum of {count} readings without an Increment")
    return fitting[0]


def example_of(node: Node) -> str:
    words = (node.text or "").split()[:4] or [(child.text or "").strip() for child in node[:3]]
    return clean_text(" ".join(words) or " ".join(node.attrib.values()), 40)
