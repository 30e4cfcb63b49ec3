"""Ways out of a finding that a deck offers: its paints on the places of the finding."""

from collections.abc import Iterator
from functools import partial

import numpy as np

from housemap.checks import Change, Finding, Place, Report, check_of
from housemap.checks.options import PaintOptions, own_options
from housemap.checks.repaints import where_name
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.ranking import options_of
from housemap.choose.deck.taking import take
from housemap.choose.remedies import Trial, tried
from housemap.choose.sweep.effects import Effects
from housemap.choose.sweep.trial import SurfaceTrial
from housemap.colorimetry.arrays import Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.model.edits import paint_on
from housemap.model.house import House, Paint
from housemap.study import Swatch

NEAREST = 96
"""Paints a place that are judged in every light: those that change least and promise to help."""
TRIED = 6
"""Paints a place that are tried in the house."""
_SLIGHT = 0.02
"""Of a cost: as near as they are known."""


def deck_trials(finding: Finding, report: Report, chips: Chips, deck: str) -> Iterator[Trial]:
    """Paints of the deck on each place of the finding, those that change least first.

    Only such are tried that promise to clear it without making anything grave worse.
    """
    places = [place for place in finding.places if place.paint and place.room]
    options = options_of(report.house, chips, deck) if places and len(chips) else None
    changes = [
        change
        for place in places
        if options is not None
        for change in _changes(finding, report, place, options, deck)
    ]
    yield from tried(finding, report, sorted(changes, key=lambda change: change.size))


def _changes(
    finding: Finding, report: Report, place: Place, options: PaintOptions, deck: str
) -> Iterator[Change]:
    trial, now = SurfaceTrial(report, place.room, place.surface), report.study.paint(place.paint)
    deep = report.deep is not None
    before = trial.effects(own_options([now]), deep=deep)
    apart = ucs_parts(np.array(now.colour.ucs), options.colours.ucs)[0]
    helps = _helps(finding, before, trial.effects(options, deep=False))
    rows = np.argsort(apart, kind="stable")
    rows = rows[helps[rows]][:NEAREST]
    if deep and len(rows):
        rows = rows[_helps(finding, before, trial.effects(options.rows(rows), deep=True))]
    where = where_name(report.house, place)
    for row in rows[:TRIED].tolist():
        swatch = options.swatches[row]
        edit = partial(_put, place, swatch, deck)
        yield Change(f"Paint {where} in {swatch.name} of {deck}", edit, float(apart[row]))


def _helps(finding: Finding, before: Effects, after: Effects) -> Truths:
    """Whether the finding's check costs less by it, and no grave check more."""
    none = np.zeros(len(after))
    helps = np.ones(len(after), dtype=np.bool_)
    for check in {**before.parts, **after.parts}:
        was, becomes = _of(before, check), after.parts.get(check, none)
        least = finding.cost if check == finding.check else 0.0
        if check == finding.check or check_of(check).gravest != "note":
            helps &= becomes <= was - least + _SLIGHT
    return helps


def _of(sweep: Effects, check: str) -> float:
    return float(sweep.parts[check][0]) if check in sweep.parts else 0.0


def _put(place: Place, swatch: Swatch, deck: str, house: House) -> House:
    assert isinstance(swatch.entity, Paint)
    taken, own_id = take(house, swatch.id, swatch.entity, deck)
    return paint_on(taken, place.room, place.surface, own_id)
