"""The nearest ways out of a finding, each tried before it is offered."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from housemap.checks import Change, Finding, Report, check_of


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that clears a finding and raises no other warning or fault."""

    change: Change
    report: Report
    """Of the house with the change made."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One change tried: how many of how many that makes, and the remedy if it is one."""

    number: int
    count: int
    remedy: Remedy | None


def trials(finding: Finding, report: Report) -> Iterator[Trial]:
    """Every change worth trying, tried one at a time, the one that changes least first."""
    changes = sorted(check_of(finding.check).changes(finding, report.study), key=_size)
    yield from tried(finding, report, changes)


def tried(finding: Finding, report: Report, changes: Sequence[Change]) -> Iterator[Trial]:
    """Changes tried in their order."""
    for number, change in enumerate(changes, 1):
        after = report.after(change.edit(report.house))
        remedy = Remedy(change, after) if _clears(finding, report, after) else None
        yield Trial(number, len(changes), remedy)


def remedies_of(finding: Finding, report: Report, most: int = 5) -> tuple[Remedy, ...]:
    """At most so many remedies, the one that changes least first; often none exists."""
    found = (trial.remedy for trial in trials(finding, report) if trial.remedy)
    return tuple(islice(found, most))


def _size(change: Change) -> tuple[float, str]:
    return change.size, change.label


def _clears(finding: Finding, before: Report, after: Report) -> bool:
    known = {f.key for f in (*before.findings, *before.to_do)}
    found = (*after.findings, *after.to_do)
    now = {f.key for f in found if f.severity != "note" or f.key == finding.key}
    return finding.key not in now and now <= known
