"""The nearest ways out of a finding, each tried before it is offered."""

from dataclasses import dataclass

from housemap.checks import Change, Finding, Report, check_of


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that clears a finding and raises no other warning or fault."""

    change: Change
    report: Report
    """Of the house with the change made."""


def remedies_of(finding: Finding, report: Report, most: int = 5) -> tuple[Remedy, ...]:
    """At most so many remedies, the one that changes least first; often none exists."""
    tried = sorted(check_of(finding.check).changes(finding, report.study), key=_size)
    found: list[Remedy] = []
    for change in tried:
        after = report.after(change.edit(report.house))
        if _clears(finding, report, after):
            found.append(Remedy(change, after))
            if len(found) == most:
                break
    return tuple(found)


def _size(change: Change) -> tuple[float, str]:
    return change.size, change.label


def _clears(finding: Finding, before: Report, after: Report) -> bool:
    known = {f.key for f in before.findings}
    now = {f.key for f in after.findings if f.severity != "note" or f.key == finding.key}
    return finding.key not in now and now <= known
