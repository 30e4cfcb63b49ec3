"""Colour specifications of CxF 3 (ISO 17972-1): under which conditions a value was measured."""

from dataclasses import dataclass

from housemap.deck.conditions import (
    ABOUT_M,
    BEST_M,
    illuminant_of,
    m_condition_of,
    observer_of,
)
from housemap.deck.cxf_xml import Node
from housemap.deck.reading import RowError
from housemap.model.text import shown


@dataclass(frozen=True, slots=True)
class Specification:
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

    def observed(self, usual: str) -> tuple[str, tuple[str, ...]]:
        """What Lab and XYZ refer to, `usual` where nothing says, and a note; raises RowError."""
        if not self.illuminant and not self.observer:
            return usual, (f"nothing says under which light: taken as {usual}",)
        illuminant, observer = illuminant_of(self.illuminant), observer_of(self.observer)
        if not illuminant or not observer:
            words = shown(f"{self.illuminant}, {self.observer}")
            raise RowError(f"{words} is no CIE illuminant and observer")
        return f"{illuminant}/{observer}", (f"measured under {illuminant}/{observer}",)


def specification(node: Node) -> Specification:
    measured = node.child("MeasurementSpec") or node
    range_ = measured.child("WavelengthRange")
    kind = measured.told("MeasurementType")
    return Specification(
        illuminant=node.told("TristimulusSpec", "Illuminant"),
        observer=node.told("TristimulusSpec", "Observer"),
        m=m_condition(measured),
        start_nm=attribute_number(range_, "StartWL"),
        step_nm=attribute_number(range_, "Increment"),
        gloss_left_out=measured.told("GeometryChoice", "SphereGeometry") == "Specular_Excluded",
        of_surface=not kind.endswith(("Transmittance", "Emissive")),
    )


def m_condition(measured: Node) -> str:
    if measured.told("Device", "DevicePolarization") in {"true", "1"}:
        return "M3"
    return m_condition_of(measured.told("Device", "DeviceIllumination")) or ""


def attribute_number(node: Node | None, name: str) -> float:
    """A number of at most four digits; 0 where it is missing or is none."""
    text = node.attributes.get(name, "").strip() if node else ""
    whole, _, part = text.partition(".")
    tidy = whole.isascii() and whole.isdecimal() and len(whole) <= len("1100")
    return float(text) if tidy and (not part or part.isdecimal()) else 0.0
