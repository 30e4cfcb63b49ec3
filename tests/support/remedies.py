"""The remedies of a finding, as a list."""

from itertools import chain, islice

from housemap.checks import Cause, Finding, Report
from housemap.choose.remedies import Deck, Remedy, trials


def remedies_of(
    finding: Finding, report: Report, most: int = 5, deck: Deck | None = None
) -> tuple[Remedy, ...]:
    """At most so many remedies, in a consultant's order."""
    found = chain.from_iterable(trial.remedies for trial in trials(Cause((finding,)), report, deck))
    return tuple(islice(found, most))
