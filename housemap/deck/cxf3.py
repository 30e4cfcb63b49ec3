"""Paints from CxF 3 files (ISO 17972-1): one for each object that has a colour.

Of several values the most exact is taken: a reflectance spectrum (M1 before M0, M2 and M3, with
gloss before without), then CIELAB, XYZ, LCh, xyY, a notation, sRGB.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from housemap.deck.colours import Units
from housemap.deck.columns import BY_HEADER, NM, plain
from housemap.deck.conditions import GRAPHIC_ARTS
from housemap.deck.csv_table import MOST_ROWS, SHOWN
from housemap.deck.cxf_spec import Specification, attribute_number, specification
from housemap.deck.cxf_xml import Node, read_nodes
from housemap.deck.decoding import check_size, refuse
from housemap.deck.notation import tidy_notation
from housemap.deck.numbers import number
from housemap.deck.reading import Column, DeckReading, RejectedRow, RowError
from housemap.deck.records import Harvest, Source
from housemap.model.text import clean_text

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


@dataclass(frozen=True, slots=True)
class Value:
    """One colour value of an object, with its conditions."""

    node: Node
    conditions: Specification

    @property
    def rank(self) -> tuple[int, tuple[int, bool]]:
        return list(KINDS).index(self.node.tag), self.conditions.rank


@dataclass(slots=True)
class Collector:
    """Makes a paint of each object as it comes by."""

    name: str
    specifications: Mapping[str, Specification]
    harvest: Harvest
    found: dict[str, str] = field(default_factory=dict)
    """The kinds of value met, each with an example."""

    def take(self, node: Node) -> None:
        if len(self.harvest.paints) + len(self.harvest.rejected) >= MOST_ROWS:
            raise refuse(f"more than {MOST_ROWS:,} objects; nothing was read", self.name, node.line)
        values = values_of(node, self.specifications)
        for value in values:
            self.found.setdefault(value.node.tag, shown_value(value.node))
        try:
            cells, units, notes = best_of(values, self.harvest.source.units.observed)
        except RowError as error:
            rejected = RejectedRow(node.line, str(error), label_of(node))
            self.harvest.rejected.append(rejected)
        else:
            source = Source(units, deck=self.harvest.source.deck)
            words = words_of(node)
            self.harvest.take(node.line, {**words, **cells}, label_of(node), source, notes)


def read_cxf3(
    data: bytes, name: str, *, observed: str | None = None, deck: str = ""
) -> DeckReading:
    """Every object with a colour as a paint; raises InputError as `read_nodes` does.

    `observed` is the illuminant/observer of Lab and XYZ where no specification says. The file is
    gone through twice, as specifications stand behind the objects that name them.
    """
    check_size(len(data), name)
    specifications: dict[str, Specification] = {}

    def keep(node: Node) -> None:
        specifications[node.attributes.get("Id", "")] = specification(node)

    read_nodes(data, name, {"ColorSpecification": keep})
    collector = Collector(
        name, specifications, Harvest(Source(Units(observed=observed or GRAPHIC_ARTS), deck=deck))
    )
    read_nodes(data, name, {"Object": collector.take})
    return collector.harvest.reading("cxf", mapping_of(collector.found), (), name)


def values_of(node: Node, specifications: Mapping[str, Specification]) -> list[Value]:
    """The colour values of an object that are read, the one to take first."""
    groups = [node.child("ColorValues"), node.child("DeviceColorValues")]
    values = [
        Value(each, specifications.get(each.attributes.get("ColorSpecification", ""), BARE))
        for group in groups
        if group
        for each in group.children
        if each.tag in KINDS and is_usable(each)
    ]
    return sorted((v for v in values if v.conditions.of_surface), key=lambda value: value.rank)


def is_usable(node: Node) -> bool:
    """Whether a notation is of ASTM D1535; the element may hold any system's."""
    return node.tag != "ColorNotation" or tidy_notation(notation_in(node)) is not None


def notation_in(node: Node) -> str:
    return node.attributes.get("Notation", "")


def label_of(node: Node) -> str:
    return clean_text(f"{node.attributes.get('Name', '')} {node.attributes.get('Id', '')}", SHOWN)


def best_of(values: list[Value], usual: str) -> tuple[dict[str, str], Units, tuple[str, ...]]:
    if not values:
        raise RowError("no colour of a surface that can be read")
    return cells_of(values[0], usual)


def words_of(node: Node) -> dict[str, str]:
    """Name, comment and the tags with a meaning that decks have."""
    tags = (
        tag for group in node.children if group.tag == "TagCollection" for tag in group.children
    )
    told = {
        BY_HEADER.get(plain(tag.attributes.get("Name", "")), ""): tag.attributes.get("Value", "")
        for tag in tags
    }
    name = node.attributes.get("Name", "").strip() or node.attributes.get("Id", "")
    kept = {meaning: value for meaning, value in told.items() if meaning in TAGS_TAKEN}
    return {"notes": node.told("Comment"), **kept, "name": name}


def cells_of(value: Value, usual: str) -> tuple[dict[str, str], Units, tuple[str, ...]]:
    """A value as cells by meaning, how to read them, and notes; raises RowError.

    `usual` is the illuminant/observer where its specification names none.
    """
    node, conditions = value.node, value.conditions
    if KINDS[node.tag] == "spectrum":
        cells, notes = spectrum_cells(value)
        nm = tuple(float(meaning.removesuffix(NM)) for meaning in cells)
        return cells, Units(wavelengths_nm=nm), (*conditions.notes, *notes)
    if node.tag in PARTS:
        observed, notes = conditions.observed(usual)
        cells = {meaning: node.told(tag) for tag, meaning in PARTS[node.tag].items()}
        return cells, Units(observed=observed), (*conditions.notes, *notes)
    if node.tag == "ColorSRGB":
        return srgb_cells(node), Units(), ()
    if node.tag == "ColorHTML":
        return {"hex": node.attributes.get("HTML", "")}, Units(), ()
    return {"notation": notation_in(node)}, Units(), ()


def srgb_cells(node: Node) -> dict[str, str]:
    """Red, green and blue 0..255, whatever range the file has them in."""
    largest = number(node.told("MaxRange") or str(FULL_BYTE))
    if largest <= 0:
        raise RowError(f"MaxRange {largest:g} is not above 0")
    channels = {"red": "R", "green": "G", "blue": "B"}
    return {
        meaning: str(round(number(node.told(tag)) * FULL_BYTE / largest))
        for meaning, tag in channels.items()
    }


def spectrum_cells(value: Value) -> tuple[dict[str, str], tuple[str, ...]]:
    if value.node.tag == "CustomSpectrum":
        points = [point for point in value.node.children if point.tag == "SpectralPoint"]
        return by_wavelength(
            (attribute_number(point, "WL") for point in points), [p.text.strip() for p in points]
        ), ()
    readings = value.node.text.split()
    start = attribute_number(value.node, "StartWL") or value.conditions.start_nm
    if not start:
        raise RowError("a spectrum without StartWL")
    step = value.conditions.step_nm or likely_step(start, len(readings))
    told = () if value.conditions.step_nm else (f"no Increment is given: taken as {step:g} nm",)
    return by_wavelength((start + i * step for i in range(len(readings))), readings), told


def by_wavelength(wavelengths_nm: Iterable[float], readings: list[str]) -> dict[str, str]:
    cells = {f"{nm:g}{NM}": reading for nm, reading in zip(wavelengths_nm, readings, strict=True)}
    if len(cells) < len(readings):
        raise RowError("two readings at one wavelength")
    return cells


def likely_step(start_nm: float, count: int) -> float:
    """The only step of 1, 5, 10 or 20 nm with which a spectrum ends where spectra end."""
    low, high = ENDS_NM
    fitting = [step for step in STEPS_NM if low <= start_nm + (count - 1) * step <= high]
    if len(fitting) != 1:
        raise RowError(f"a spectrum of {count} readings without an Increment")
    return fitting[0]


def shown_value(node: Node) -> str:
    """The start of a value, to be shown beside what it means."""
    words = node.text.split()[:4] or [child.text.strip() for child in node.children[:3]]
    return clean_text(" ".join(words) or " ".join(node.attributes.values()), 40)


def mapping_of(found: Mapping[str, str]) -> tuple[Column, ...]:
    used = tuple(Column(tag, KINDS[tag], example=example) for tag, example in found.items())
    return (Column("Object Name", "name"), *used)
