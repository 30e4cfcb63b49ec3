"""Which of the findings of a house can be seen in a view."""

from housemap.checks import Finding, Matter, Report, matters_of
from housemap.plan.pixels import in_view
from housemap.plan.view import View

UNSEEN = frozenset({"", "fixed"})
"""Surfaces that a view does not draw; their room in view is enough."""


def matters_in(report: Report, view: View) -> tuple[Matter, ...]:
    """Those with every place in view, gathered by cause, gravest first."""
    places = set(in_view(view))
    return matters_of(f for f in report.findings if f.rooms and is_seen(f, places))


def is_seen(finding: Finding, places: set[tuple[str, str]]) -> bool:
    rooms = {room for room, _ in places}
    return all(
        (place.room, place.surface) in places or (place.surface in UNSEEN and place.room in rooms)
        for place in finding.places
    )


def matters_to_show(report: Report) -> tuple[Matter, ...]:
    """Those that name a room, gravest first."""
    return matters_of(finding for finding in report.findings if finding.rooms)
