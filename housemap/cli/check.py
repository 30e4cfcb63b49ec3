"""`housemap check`: every finding of every house named."""

from argparse import ArgumentParser, Namespace
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from housemap.cli.command import DONE, FOUND, Command
from housemap.cli.output import print_json, rounded, table

if TYPE_CHECKING:
    from housemap.checks import Finding, Report

_SEVERITIES = ("note", "warn", "fault")


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", metavar="FILE", type=Path, help="house files")
    parser.add_argument("--json", action="store_true", help="print JSON and nothing else")
    parser.add_argument(
        "--fail-on",
        choices=_SEVERITIES,
        default="warn",
        help="exit 1 where something this grave or graver is found (default: warn)",
    )


def _run(arguments: Namespace) -> int:
    from housemap.checks import report_of
    from housemap.cli.reading import each_house

    reports = each_house(arguments.files, report_of)
    if arguments.json:
        parts = [{"file": file, "findings": list(_as_json(report))} for file, report in reports]
        print_json(parts[0] if len(parts) == 1 else parts)
    else:
        for file, report in reports:
            print("\n".join(_lines(file, report)))
    least = _SEVERITIES.index(arguments.fail_on)
    grave = [f for _, r in reports for f in r.findings if _SEVERITIES.index(f.severity) >= least]
    return FOUND if grave else DONE


def _as_json(report: "Report") -> Iterator[dict[str, Any]]:
    from housemap.checks import check_of

    for finding in report.findings:
        yield {
            "check": finding.check,
            "severity": finding.severity,
            "rooms": list(finding.rooms),
            "surfaces": list(finding.surfaces),
            "paints": list(finding.paints),
            "light": finding.light,
            "value": rounded(finding.value),
            "limit": finding.limit,
            "unit": finding.unit,
            "text": check_of(finding.check).tell(finding, report.house),
        }


def _lines(file: str, report: "Report") -> Iterator[str]:
    from housemap.checks import matters_of

    yield f"{file}: {_count(report.findings)}"
    yield from table(
        (f"  {matter.severity}", matter.check, matter.tell(report.house))
        for matter in matters_of(report.findings)
    )


def _count(findings: "tuple[Finding, ...]") -> str:
    """As in "1 fault, 3 warnings, 2 notes"."""
    names = {"fault": "fault", "warn": "warning", "note": "note"}
    counts = Counter[str](finding.severity for finding in findings)
    said = [
        f"{counts[s]} {name}{'' if counts[s] == 1 else 's'}"
        for s, name in names.items()
        if counts[s]
    ]
    return ", ".join(said) or "nothing found"


CHECK = Command(
    name="check",
    summary="Tell everything that is found in one or more houses.",
    examples=(
        "housemap check house.toml",
        "housemap check --fail-on fault house.toml",
        "housemap check --json first.toml second.toml",
    ),
    arguments=_arguments,
    run=_run,
)
