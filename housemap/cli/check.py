"""`housemap check`: every finding of every house named."""

import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from housemap.checks import Finding, Report, causes_of, check_of, report_of
from housemap.checks.every import unknown_names
from housemap.cli.command import DONE, FOUND, Command, arg
from housemap.cli.output import picked, print_json, table
from housemap.cli.reading import each_house
from housemap.file.reader import printable
from housemap.model.severity import SEVERITIES, SHOWN, counts_text


def _run(arguments: Namespace) -> int:
    reports = each_house(arguments.files, report_of)
    if arguments.json:
        parts = [_as_json(file, report) for file, report in reports]
        print_json(parts[0] if len(parts) == 1 else parts)
    else:
        for file, report in reports:
            print("\n".join(_lines(printable(file), report)))
    for file, report in reports:
        for line in unknown_names(report.house):
            print(f"{printable(file)}: {line}", file=sys.stderr)
    least = SEVERITIES.index(arguments.fail_on)
    grave = [f for _, r in reports for f in r.findings if SEVERITIES.index(f.severity) >= least]
    return FOUND if grave else DONE


def _as_json(file: str, report: Report) -> dict[str, Any]:
    at = {id(finding): i for i, finding in enumerate(report.findings)}
    return {
        "file": file,
        "findings": [_finding_json(finding, report) for finding in report.findings],
        "causes": [
            {
                "severity": cause.severity,
                "text": cause.describe(report.house),
                "findings": [at[id(finding)] for finding in cause.findings],
            }
            for cause in report.causes
        ],
        "todo": [_finding_json(finding, report) for finding in report.to_do],
        "accepted": [
            _finding_json(finding, report)
            | {"why": entry.why, "when": entry.when.isoformat() if entry.when else None}
            for finding, entry in report.accepted
        ],
    }


def _finding_json(finding: Finding, report: Report) -> dict[str, Any]:
    names = ("check", "severity", "rooms", "surfaces", "paints", "light", "value", "limit", "unit")
    text = check_of(finding.check).describe(finding, report.house)
    return {**picked(finding, *names), "text": text}


def _lines(file: str, report: Report) -> Iterator[str]:
    house = report.house
    yield f"{file}: {counts_text([c.severity for c in report.causes]) or 'nothing found'}"
    yield from table(
        (f"  {SHOWN[cause.severity]}", cause.check, cause.describe(house))
        for cause in report.causes
    )
    accepted = causes_of(finding for finding, _ in report.accepted)
    for title, causes in (("Left to do", causes_of(report.to_do)), ("Accepted", accepted)):
        if causes:
            yield f"  {title}:"
            yield from table(("   ", cause.describe(house)) for cause in causes)


CHECK = Command(
    name="check",
    summary="List what is found in one or more houses, and what is left to do.",
    examples=(
        "housemap check house.toml",
        "housemap check --fail-on fault house.toml",
        "housemap check --json first.toml second.toml",
    ),
    arguments=(
        arg("files FILE", "house files", nargs="+", type=Path),
        arg("--fail-on", "exit 1 where something this grave or graver is found (default: warn)",
            choices=SEVERITIES, default="warn"),
    ),
    run=_run,
)  # fmt: skip
