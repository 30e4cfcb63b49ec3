"""The paints for one surface of one room, best first, by what each does to the findings."""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.checks import Report, check_of
from housemap.errors import EditError
from housemap.model.edits import paint_on
from housemap.model.house import Surface


@dataclass(frozen=True, slots=True)
class Candidate:
    """What one paint, or none, would do on the surface."""

    paint: str | None
    parts: Mapping[str, float]
    """What each check would cost in findings that name the room, by check id."""
    findings_after: int
    """Of the whole house."""
    harmony: float | None
    """Mean Ou & Luo harmony with the other wall colours in view; None where there is none."""
    report: Report
    """Of the house with the paint on the surface."""

    @property
    def cost(self) -> float:
        return sum(self.parts.values())


def rank(report: Report, room: str, surface: Surface) -> tuple[Candidate, ...]:
    """Every paint of the house on the surface, best first.

    Ordered by cost, then the fewer findings, then the better harmony. Raises EditError for a room
    that the house does not have.
    """
    if room not in report.house.rooms:
        raise EditError(f'there is no room "{room}"')
    candidates = (candidate(report, room, surface, paint) for paint in report.house.paints)
    return tuple(sorted(candidates, key=order))


def candidate(report: Report, room: str, surface: str, paint: str | None) -> Candidate:
    """What `paint`, one of the house's, does on the surface ("accent" and a wall too)."""
    return outcome(report.after(paint_on(report.house, room, surface, paint)), room, paint)


def outcome(after: Report, room: str, paint: str | None) -> Candidate:
    """What a paint does that is on a surface of the room already."""
    parts: dict[str, float] = {}
    for finding in after.by_room.get(room, ()):
        parts[finding.check] = parts.get(finding.check, 0.0) + check_of(finding.check).cost(finding)
    return Candidate(paint, parts, len(after.findings), _harmony(after, room, paint), after)


def _harmony(report: Report, room: str, paint: str | None) -> float | None:
    if paint is None:
        return None
    study = report.study
    walls = [r.coats["walls"].swatch for r in study.views[room].rooms if "walls" in r.coats]
    scores = [study.difference(study.paint(paint), w).harmony for w in walls if w.id != paint]
    return sum(scores) / len(scores) if scores else None


def order(one: Candidate) -> tuple[float, int, float, str]:
    """What candidates are sorted by, best first."""
    return one.cost, one.findings_after, -(one.harmony or 0.0), one.paint or ""
