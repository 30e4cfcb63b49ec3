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
    """How many findings a house has, how much they weigh together, and how many are serious."""

    findings: int
    weight: float
    serious: int = 0

    @property
    def rank(self) -> tuple[int, int, float]:
        """What houses are put in order by: one that has a serious finding more stands behind."""
        return self.serious, self.findings, self.weight


LEAST_CHANGE = 0.5
"""Of the weight, half a note: a smaller change is none."""


def change_text(before: Tally | None, after: Tally | None) -> str:
    """What it does to the findings, in short: "2 fewer", "1 serious more", "graver", "no change".

    Serious findings more are said before all else.
    """
    if before is None or after is None:
        return ""
    if after.serious > before.serious:
        return _serious_text(before, after)
    return _count_text(before, after) or _weight_text(before, after) or "no change"


def change_order(before: Tally, after: Tally) -> tuple[int, int, int]:
    """What changes are put in order by, the best first, as `change_text` shows them."""
    more = after.findings - before.findings
    weight = 0 if more else ("milder", "", "graver").index(_weight_text(before, after))
    return max(after.serious - before.serious, 0), more, weight


def findings_text(before: Tally | None, after: Tally | None) -> str:
    """As in "18 findings, 2 fewer than before"; "as many but graver" where only the weight tells.

    Where there are more serious ones: "4 findings, 4 fewer than before, but 1 serious more".
    """
    if after is None:
        return ""
    count = counted(after.findings, "finding")
    if before is None:
        return count
    change, weight = _count_text(before, after), _weight_text(before, after)
    change += " than before" if change else ""
    if after.serious > before.serious:
        more = _serious_text(before, after)
        but = "" if after.findings > before.findings else "but "
        return f"{count}, {change or 'as many'}, {but}{more}"
    if not change:
        return f"{count}, as many but {weight}" if weight else f"{count}, as before"
    against = "graver" if after.findings < before.findings else "milder"
    return f"{count}, {change}{f' but {weight}' if weight == against else ''}"


def _serious_text(before: Tally, after: Tally) -> str:
    return f"{after.serious - before.serious} serious more"


def _count_text(before: Tally, after: Tally) -> str:
    more = after.findings - before.findings
    return f"{abs(more)} {'more' if more > 0 else 'fewer'}" if more else ""


def _weight_text(before: Tally, after: Tally) -> str:
    change = after.weight - before.weight
    if abs(change) < LEAST_CHANGE:
        return ""
    return "graver" if change > 0 else "milder"
