"""Findings that are one matter: the same check on the same colours, wherever they meet."""

from collections.abc import Iterable
from dataclasses import dataclass

from housemap.checks.every import check_of
from housemap.checks.finding import Finding, Severity
from housemap.checks.words import room_name
from housemap.model.house import House


@dataclass(frozen=True, slots=True)
class Matter:
    """One or more findings with one cause; the gravest stands for the rest."""

    findings: tuple[Finding, ...]

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

    def tell(self, house: House) -> str:
        """The gravest finding in words, and where else the same is so."""
        text = check_of(self.check).tell(self.first, house)
        if len(self.findings) == 1:
            return text
        others = (" - ".join(room_name(house, r) for r in f.rooms) for f in self.findings[1:])
        return f"{text}; also: {', '.join(dict.fromkeys(others))}"


def matters_of(findings: Iterable[Finding]) -> tuple[Matter, ...]:
    """The findings gathered by cause, in the order in which each cause first comes."""
    by_cause: dict[object, list[Finding]] = {}
    for finding in findings:
        by_cause.setdefault(_cause(finding), []).append(finding)
    return tuple(Matter(tuple(found)) for found in by_cause.values())


def _cause(finding: Finding) -> object:
    """Colours on kinds of surface; where only one place is named, that place itself."""
    if len(finding.places) == 1:
        return finding.check, finding.places
    colours = ((p.surface.partition(" ")[0], p.paint, p.finish) for p in finding.places)
    return finding.check, frozenset(colours)
