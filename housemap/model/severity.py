"""How grave a finding is, and what that is called on a screen."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Literal, get_args

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
        "fault": "serious",
        "warn": "to look at again",
        "note": "note" if counts["note"] == 1 else "notes",
    }
    return ", ".join(f"{counts[key]} {word}" for key, word in words.items() if counts[key])


def change_text(before: int | None, after: int | None) -> str:
    """How many findings it adds or takes away, as in "2 fewer"."""
    if before is None or after is None:
        return ""
    if before == after:
        return "no change"
    return f"{abs(after - before)} {'more' if after > before else 'fewer'}"


def findings_text(before: int | None, after: int | None) -> str:
    """As in "18 findings, 2 fewer"."""
    if after is None:
        return ""
    count = f"{after} finding{'' if after == 1 else 's'}"
    return ", ".join(filter(None, (count, change_text(before, after))))
