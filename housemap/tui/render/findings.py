"""What was found, as a list: one entry for everything with one cause, gravest first."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.tui.render.choosing import title_row
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row

if TYPE_CHECKING:
    from housemap.checks import Finding, Matter, Report, Severity

LEAST_WORDS = {"note": "", "warn": "faults and warnings", "fault": "faults only"}
PLURALS = {"fault": "faults", "warn": "warnings", "note": "notes"}
SINGULARS = {"fault": "fault", "warn": "warning", "note": "note"}


@dataclass(frozen=True, slots=True)
class Sifting:
    """Which findings are listed."""

    room: str | None = None
    """Those that name this room; None: of the whole house."""
    least: "Severity" = "note"
    """None slighter than this."""

    def found(self, report: "Report") -> Sequence["Finding"]:
        graver = {"note": ("note", "warn", "fault"), "warn": ("warn", "fault"), "fault": ("fault",)}
        findings = report.findings if self.room is None else report.by_room.get(self.room, ())
        return [f for f in findings if f.severity in graver[self.least]]

    def matters(self, report: "Report") -> tuple["Matter", ...]:
        from housemap.checks import matters_of  # noqa: PLC0415 - a report is there, so is this

        return matters_of(self.found(report))


def counts_text(findings: Iterable["Finding"]) -> str:
    """As in "2 faults, 1 warning"."""
    severities = [finding.severity for finding in findings]
    counts = {severity: severities.count(severity) for severity in PLURALS}  # type: ignore[arg-type]  # keys are severities
    words = (
        f"{count} {SINGULARS[severity] if count == 1 else PLURALS[severity]}"
        for severity, count in counts.items()
        if count
    )
    return ", ".join(words) or "nothing"


def mark_of(severity: str, look: Look) -> str:
    """A sign and a letter, as the map has them."""
    return f"{look.glyphs.marks[severity]}{severity[0].upper()}"


def value_text(finding: "Finding") -> str:
    """The value against its limit, as in "52.1 / 40"."""
    if finding.value is None:
        return ""
    value = f"{finding.value:.2f}" if abs(finding.value) < 10 else f"{finding.value:.1f}"  # noqa: PLR2004 - digits
    return value if finding.limit is None else f"{value} / {finding.limit:g}"


def rooms_text(matter: "Matter", house: House) -> str:
    """The rooms it names; a paint where it names none."""
    names = [house.rooms[room].name for room in matter.rooms if room in house.rooms]
    paints = [house.paints[p].name for p in matter.first.paints if p in house.paints]
    return ", ".join(names or paints) or "the house"


def matter_rows(matter: "Matter", house: House, line: Line) -> tuple[Row, Row]:
    from housemap.checks import check_of  # noqa: PLC0415 - a report is there, so is this

    count = len(matter.findings)
    title = check_of(matter.check).title + (f" x{count}" if count > 1 else "")
    sign = line.run(f"{mark_of(matter.severity, line.look)} ", strong=True)
    return (
        line.row((line.mark(), sign), title, value_text(matter.first), strong=line.chosen),
        line.row((line.run("    "),), rooms_text(matter, house), quiet=True),
    )


def findings_head(
    sifting: Sifting, report: "Report | None", house: House, look: Look, width: int
) -> list[Row]:
    """What is listed, and how many of each severity."""
    line, page = Line(look, width), Page(look, width)
    room = house.rooms.get(sifting.room or "")
    where = room.name if room else "whole house"
    told = counts_text(sifting.found(report)) if report else "being looked for"
    least = LEAST_WORDS[sifting.least]
    more = "" if report is None or report.deep is not None else "; light is still being computed"
    return [
        title_row("Found", ", ".join(filter(None, (where, least))), line),
        page.line(f"{told}{more}", quiet=True),
        page.blank(),
    ]


def nothing_rows(sifting: Sifting, report: "Report | None", look: Look, width: int) -> list[Row]:
    page = Page(look, width)
    if report is None:
        return [*page.text("The house is being looked at.")]
    rows = [*page.text("Nothing was found here." if sifting.room else "Nothing was found.")]
    if sifting != Sifting():
        rows += page.text(
            "tab shows this room or the whole house, f also what is slight.", quiet=True
        )
    return rows
