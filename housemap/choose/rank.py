"""The paints for one surface of one room, best first, by what each does to the findings."""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.checks import Report
from housemap.checks.options import own_options
from housemap.choose.sweep.effects import ROUND_OFF, PaintEffect
from housemap.choose.sweep.trial import SurfaceTrial, wishes_on
from housemap.errors import EditError
from housemap.model.edits import paint_on
from housemap.model.fieldtypes import unknown_id
from housemap.model.geometry import COMPASS, walls
from housemap.model.house import House


@dataclass(frozen=True, slots=True)
class Candidate:
    """What one paint, or none, would do on the surface."""

    paint: str | None
    effect: PaintEffect

    @property
    def parts(self) -> Mapping[str, float]:
        """What each check would cost in findings that name the room, by check id."""
        return self.effect.parts

    @property
    def cost(self) -> float:
        return self.effect.cost

    @property
    def findings_after(self) -> int:
        """Of the whole house."""
        return self.effect.findings_after

    @property
    def harmony(self) -> float | None:
        """Mean Ou & Luo harmony with the other wall colours in view; None where there is none."""
        return self.effect.harmony


def check_place(house: House, room: str, surface: str) -> None:
    """Raises EditError for a room, or a wall of it ("accent" and its key), that is not there."""
    if room not in house.rooms:
        raise EditError(unknown_id("room", room, house.rooms))
    kind, _, wall = surface.partition(" ")
    keys = tuple(each.key for each in walls(house.rooms[room])) or COMPASS
    if kind == "accent" and wall not in keys:
        raise EditError(f'room "{room}" has no wall "{wall}"; its walls are {", ".join(keys)}')


def rank(report: Report, room: str, surface: str) -> tuple[Candidate, ...]:
    """Every paint of the house on the surface, best first (see `order`).

    Raises EditError as `check_place`.
    """
    check_place(report.house, room, surface)
    return tuple(sorted(candidates(report, room, surface), key=order))


def candidates(report: Report, room: str, surface: str) -> list[Candidate]:
    """What each paint of the house would do on the surface ("accent" and a wall too)."""
    paints = list(report.house.paints)
    if not paints:
        return []
    options = own_options([report.study.paint(paint) for paint in paints])
    found = SurfaceTrial(report, room, surface).effects(options, deep=report.deep is not None)
    return [Candidate(paint, found.row(row)) for row, paint in enumerate(paints)]


def bared(report: Report, room: str, surface: str) -> Candidate:
    """What the surface would do without paint."""
    after = report.after(paint_on(report.house, room, surface, None))
    return Candidate(None, in_place(after, room, surface))


def in_place(report: Report, room: str, surface: str = "walls") -> PaintEffect:
    """What a room costs as it is, and the wishes that the paint on a surface breaks."""
    parts: dict[str, float] = {}
    for finding in report.by_room.get(room, ()):
        parts[finding.check] = parts.get(finding.check, 0.0) + finding.cost
    coat = report.study.rooms[room].coat_on(surface)
    wishes = (
        0.0 if coat is None else float(wishes_on(report.house, room, surface, [coat.swatch])[0])
    )
    return PaintEffect(parts, len(report.findings), None, wishes)


def order(one: Candidate) -> tuple[float, int, float, str]:
    """What candidates are sorted by, best first: cost, then fewer findings, then harmony."""
    pleasing = -(one.harmony or 0.0)
    return round(one.cost, ROUND_OFF), one.findings_after, pleasing, one.paint or ""
