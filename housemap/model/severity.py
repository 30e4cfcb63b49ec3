"""How grave a finding is, and what that is called on a screen."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple, get_args

from housemap.model.text import counted

Severity = Literal["note", "warn", "fault"]
"""As in files and JSON."""
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
"""From slight to grave."""

SHOWN: Mapping[str, str] = {"fault": "serious", "warn": "look again", "note": "note"}
"""What a person reads, the gravest first."""


def letter_of(severity: str) -> str:
    """One letter, beside a sign of its own: S, L or N."""
    return SHOWN[severity][0].upper()


def counts_text(severities: Sequence[str]) -> str:
    """As in "2 serious, 1 to look at again, 3 notes"; empty where there is none."""
    counts = Counter(severities)
    words = {
        "fault": f"{counts['fault']} serious",
        "warn": f"{counts['warn']} to look at again",
        "note": counted(counts["note"], "note"),
    }
    return ", ".join(text for key, text in words.items() if counts[key])


class Tally(NamedTuple):
    """How many findings a house has, and how much they weigh together."""

    findings: int
    weight: float


LEAST_CHANGE = 0.5
"""Of the weight, half a note: a smaller change is none."""


def change_text(before: Tally | None, after: Tally | None) -> str:
    """What it does to the findings, in short: "2 fewer", "worse", "no change"."""
    if before is None or after is None:
        return ""
    more = after.findings - before.findings
    if more:
        return f"{abs(more)} {'more' if more > 0 else 'fewer'}"
    return _weight_text(before, after) or "no change"


def findings_text(before: Tally | None, after: Tally | None) -> str:
    """As in "18 findings, 2 fewer"; "as many but worse" where only their weight tells."""
    if after is None:
        return ""
    count = counted(after.findings, "finding")
    if before is None:
        return count
    change, weight = change_text(before, after), _weight_text(before, after)
    if change == weight:
        return f"{count}, as many but {weight}"
    against = {"fewer": "worse", "more": "better"}.get(change.split()[-1])
    return f"{count}, {change}{f' but {weight}' if weight == against else ''}"


def _weight_text(before: Tally, after: Tally) -> str:
    change = after.weight - before.weight
    if abs(change) < LEAST_CHANGE:
        return ""
    return "worse" if change > 0 else "better"
