"""The colours that a finding is about, as they looked to the eye that judged them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.tui.render.scene import Coat
from housemap.tui.render.shades import shades_under

if TYPE_CHECKING:
    from housemap.checks import Finding, Place, Report
    from housemap.colorimetry.difference import Difference
    from housemap.study import Coat as StudyCoat
    from housemap.study import Study

MOST_COLOURS = 6


@dataclass(frozen=True, slots=True)
class Judged:
    """What a finding compares."""

    eye: str | None
    """The room from which it was judged; None under the reference light."""
    places: tuple["Place", ...]
    """Those that have a colour, at most MOST_COLOURS."""
    coats: tuple[Coat, ...]
    difference: "Difference | None"
    """Of the first two."""


def judged(finding: "Finding", report: "Report") -> Judged:
    """The colours of a finding of the report, in the light in which it was found."""
    places = [p for p in dict.fromkeys(finding.places) if p.paint or p.finish][:MOST_COLOURS]
    coats = [_coat(place, report.study) for place in places]
    found = _judgement(finding, coats, report.study)
    shades = shades_under(finding.light, report.house, report)
    shown = tuple(shades.at(place, eye=found[0]) for place in places)
    return Judged(found[0], tuple(places), shown, found[1])


def _coat(place: "Place", study: "Study") -> "StudyCoat | None":
    """The coat at a place; None where none is there, as for a paint that is on no wall."""
    part = study.rooms.get(place.room)
    coats = part.every_coat if part else iter(())
    named = ("Paint", place.paint) if place.paint else ("Finish", place.finish)
    return next((c for c in coats if c.surface == place.surface and c.swatch.key == named), None)


def _judgement(
    finding: "Finding", coats: Sequence["StudyCoat | None"], study: "Study"
) -> "tuple[str | None, Difference | None]":
    """From which room it was judged, and how far apart the first two looked from there."""
    pair = coats[:2]
    if len(pair) < 2 or pair[0] is None or pair[1] is None:  # noqa: PLR2004 - a pair
        return next(iter(finding.rooms), None), None
    if finding.light == "reference":
        return None, study.difference(pair[0].swatch, pair[1].swatch)
    seen = dict(_seen_from(finding, pair[0], pair[1], study))
    for eye, difference in seen.items():
        if finding.value in (difference.ucs, difference.de00, difference.hue_apart_deg):
            return eye, difference
    return next(iter(seen.items()), (None, None))


def _seen_from(
    finding: "Finding", first: "StudyCoat", second: "StudyCoat", study: "Study"
) -> "Iterator[tuple[str, Difference]]":
    """By each room of the finding that has them in view, how far apart they look from there."""
    for room in finding.rooms:
        assert finding.light != "reference"
        view = study.lighting.seen.get((room, finding.light))
        if view and first in view.colours and second in view.colours:
            yield room, view.difference(first, second)
