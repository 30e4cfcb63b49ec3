"""Findings with one cause, as one: what one would change, and all the places where it shows."""

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from housemap.checks.every import check_of
from housemap.checks.finding import Finding
from housemap.checks.words import MOST_ROOMS, listed, paint_name, room_name
from housemap.model.house import House, Light
from housemap.model.severity import SEVERITIES, Severity

_SURFACES = {"trim": "woodwork", "doors": "woodwork", "accent": "one wall"}
_LIGHTS: dict[Light, str] = {
    "reference": "", "day": "worst by day", "evening": "worst by lamplight",
}  # fmt: skip


class Cause(NamedTuple):
    """One or more findings with one cause; the gravest stands for the rest."""

    findings: tuple[Finding, ...]
    """The gravest first."""

    @property
    def first(self) -> Finding:
        return self.findings[0]

    @property
    def check(self) -> str:
        return self.first.check

    @property
    def severity(self) -> Severity:
        return self.first.severity

    @property
    def rooms(self) -> tuple[str, ...]:
        """Every room that it names, those of the gravest finding first."""
        return tuple(dict.fromkeys(room for f in self.findings for room in f.rooms))

    @property
    def surfaces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(surface for f in self.findings for surface in f.surfaces))

    @property
    def paints(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(paint for f in self.findings for paint in f.paints))

    @property
    def cost(self) -> float:
        return sum(finding.cost for finding in self.findings)

    def describe(self, house: House) -> str:
        """The finding in words; of several what they have in common, and where."""
        if len(self.findings) == 1:
            return check_of(self.check).describe(self.first, house)
        return f"{self.headline(house)}: {self.where(house)}."

    def headline(self, house: House) -> str:
        """What is wrong, as in "Quince Blush and Sluice Green fight"."""
        names = [paint_name(house, place) for place in self.first.places]
        return check_of(self.check).headline.format(*names)

    def where(self, house: House) -> str:
        """As in "Dining room and Kitchen, walls and woodwork, worst by day"."""
        rooms = [room_name(house, room) for room in self.rooms]
        if more := len(rooms[MOST_ROOMS:]):
            named = f"{', '.join(rooms[:MOST_ROOMS])} and {more} more rooms"
        else:
            named = listed(rooms)
        kinds = (surface.partition(" ")[0] for surface in self.surfaces)
        surfaces = dict.fromkeys(_SURFACES.get(kind, kind) for kind in kinds)
        return ", ".join(filter(None, (named, listed([*surfaces]), _LIGHTS[self.first.light])))


def causes_of(findings: Iterable[Finding]) -> tuple[Cause, ...]:
    """The findings gathered by cause, the gravest cause first."""
    by_cause: dict[object, list[Finding]] = {}
    for finding in findings:
        by_cause.setdefault(_cause(finding), []).append(finding)
    causes = [Cause(tuple(sorted(found, key=_gravity))) for found in by_cause.values()]
    return tuple(sorted(causes, key=lambda cause: (*_gravity(cause.first)[:1], -cause.cost)))


def _gravity(finding: Finding) -> tuple[int, float]:
    return -SEVERITIES.index(finding.severity), -finding.cost


def _cause(finding: Finding) -> object:
    """What one would change: two colours wherever they meet, one paint, or one place."""
    check = check_of(finding.check)
    if check.caused_by == "place":
        return finding.check, finding.kind, finding.places
    places = finding.places if check.caused_by == "paints" else finding.places[:1]
    return finding.check, frozenset((place.paint, place.finish) for place in places)


def counted(causes: Iterable[Cause]) -> Counter[Severity]:
    """How many causes of each severity."""
    return Counter(cause.severity for cause in causes)
