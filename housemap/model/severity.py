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
