"""Ways out of a finding, in the order in which a consultant thinks; each is tried first.

The same hue lighter or darker; greyer; other hue families, the nearest of each; a paint replaced
everywhere; a door kept shut; what the check itself knows, such as a corner recorded; the hue echoed
elsewhere in view; at last the finding accepted. Paints of the house and of a deck come together.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import partial
from itertools import islice

import numpy as np

from housemap.checks import Change, Finding, Place, Report, check_of
from housemap.checks.options import PaintOptions, own_options
from housemap.checks.words import room_name, surface_name
from housemap.choose.chips import Chips, take
from housemap.choose.rank import options_of
from housemap.choose.schemes.shape import DISTINCT, TIERS, TRIM_CHROMA
from housemap.choose.surface_trial import Effects, SurfaceTrial, wishes_on
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.difference import hue_apart, ucs_parts
from housemap.model.edits import accept, paint_on, put, replace_paint
from housemap.model.house import Accepted, House, Opening, Paint
from housemap.model.severity import SEVERITIES
from housemap.model.wishes import kept_rooms, kept_rooms_painted
from housemap.study import Swatch
from housemap.study.colours import colours_of

NEAREST = 96
"""Paints a place that are judged in every light: those that change least and promise to help."""
SAME_HUE, NEAR_HUE = 20.0, 30.0
"""Degrees in the a'b' plane that one hue spans, and a greyer one may be off (our assumption)."""
SAME_STRENGTH = 3.0
"""CAM16-UCS chroma that two colours of one strength differ by at most; greyer is less than that. So
little chroma has no hue to speak of (our assumption)."""
ECHO_CHROMA = 5.0
"""CAM16-UCS chroma from which a colour echoes a hue."""
_SLIGHT = 0.02
"""Of a cost: as near as they are known."""


class Kind(IntEnum):
    """What a change is, in the order in which they are tried."""

    SAME_HUE = 0
    GREYER = 1
    OTHER_HUE = 2
    EVERYWHERE = 3
    DOOR_SHUT = 4
    OF_THE_CHECK = 5
    ECHO = 6
    ACCEPT = 7


MOST = {Kind.SAME_HUE: 2, Kind.GREYER: 1, Kind.OTHER_HUE: 4}
"""Paints a place that are tried."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that clears a finding, raises none that is graver and not more than it clears."""

    change: Change
    report: Report
    """Of the house with the change made."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One change tried: how many of how many that makes, and the remedy if it is one."""

    number: int
    count: int
    remedy: Remedy | None


@dataclass(frozen=True, slots=True)
class Deck:
    """A deck whose paints may help too."""

    chips: Chips
    name: str


@dataclass(frozen=True, slots=True)
class _Option:
    """A paint that helps on a place, by what it is to the paint that is there."""

    kind: Kind
    swatch: Swatch
    size: float
    foreign: bool
    """Whether it is yet to be taken from the deck."""
    unwished: bool
    """Whether it breaks a wish of the client that the paint there keeps to."""


def trials(
    finding: Finding, report: Report, deck: Deck | None = None, most: int | None = None
) -> Iterator[Trial]:
    """Every change worth trying, one at a time, in a consultant's order.

    Once `most` remedies are found, only acceptance is tried still: it is always offered.
    """
    changes: list[tuple[Kind, Change, House]] = []
    for kind, change in sorted(_changes(finding, report, deck), key=_order):
        house = change.edit(report.house)
        known = any(house == other for _, _, other in changes)
        if not known and not kept_rooms_painted(report.house, house):
            changes.append((kind, change, house))
    found = 0
    for number, (kind, change, house) in enumerate(changes, 1):
        if found == most and kind is not Kind.ACCEPT:
            continue
        after = report.after(house)
        remedy = Remedy(change, after) if _clears(finding, report, after) else None
        found += remedy is not None
        yield Trial(number, len(changes), remedy)


def remedies_of(
    finding: Finding, report: Report, most: int = 5, deck: Deck | None = None
) -> tuple[Remedy, ...]:
    """At most so many remedies, in a consultant's order."""
    found = (trial.remedy for trial in trials(finding, report, deck) if trial.remedy)
    return tuple(islice(found, most))


def _order(found: tuple[Kind, Change]) -> tuple[int, float, str]:
    kind, change = found
    return kind, change.size, change.label


def _changes(finding: Finding, report: Report, deck: Deck | None) -> Iterator[tuple[Kind, Change]]:
    check = check_of(finding.check)
    if check.repaint:
        for place in finding.places:
            if place.paint and place.room and place.room not in kept_rooms(report.house):
                yield from _repaints(finding, report, place, deck)
        yield from _one_paint(finding, report)
    yield from _shut_doors(finding, report)
    for change in check.changes(finding, report.study):
        yield Kind.OF_THE_CHECK, change
    if check.id == "lone":
        yield from _echoes(finding, report)
    if finding.rooms:
        yield Kind.ACCEPT, _acceptance(finding)


def _clears(finding: Finding, before: Report, after: Report) -> bool:
    """Whether the finding is gone, nothing grave is new or graver, and there is no more to mend."""
    if len(after.causes) > len(before.causes):
        return False
    known = {f.key: SEVERITIES.index(f.severity) for f in (*before.findings, *before.to_do)}
    for found in (*after.findings, *after.to_do):
        gravity = SEVERITIES.index(found.severity)
        if found.key == finding.key or (gravity and gravity > known.get(found.key, -1)):
            return False
    return True


# Other paints on a place


def _repaints(
    finding: Finding, report: Report, place: Place, deck: Deck | None
) -> Iterator[tuple[Kind, Change]]:
    where = where_name(report.house, place)
    options = _helpful(finding, report, place, _paints(report, place, deck))
    for option in options:
        of_deck = f" of {deck.name}" if deck is not None and option.foreign else ""
        edit = partial(_put, place, option, deck.name if deck else "")
        wish = ", against a wish of the client" if option.unwished else ""
        label = f"Paint {where} in {option.swatch.name}{of_deck}{wish}"
        yield option.kind, Change(label, edit, option.size)
    yield from _everywhere(report, place, options)


def _paints(report: Report, place: Place, deck: Deck | None) -> PaintOptions:
    """The other paints of the house, then those of the deck that it does not have."""
    study = report.study
    own = own_options([study.paint(paint) for paint in study.house.paints if paint != place.paint])
    if deck is None or not len(deck.chips):
        return own
    more = options_of(report.house, deck.chips, deck.name)
    return own.joined(more.rows(np.flatnonzero(more.foreign)))


def _helpful(
    finding: Finding, report: Report, place: Place, paints: PaintOptions
) -> Sequence[_Option]:
    """Paints that promise to clear a finding without making anything grave worse."""
    trial, now = SurfaceTrial(report, place.room, place.surface), report.study.paint(place.paint)
    apart = ucs_parts(np.array(now.colour.ucs), paints.colours.ucs)[0]
    rows = np.argsort(apart, kind="stable")
    rows = rows[_suits(report, place, now, paints)[rows]]
    deep = report.deep is not None
    before = trial.effects(own_options([now]), deep=deep)
    for lit in (False, True) if deep else (False,):
        if len(rows):
            after = trial.effects(paints.rows(rows), deep=lit)
            rows = rows[_helps(finding, before, after)]
            rows = _spread(now, paints, _wished(report, place, now, paints, rows))
    unwished = _breaks(report, place, now, paints, rows)
    return [*_chosen(now, paints, rows, apart, unwished)]


def _wished(
    report: Report, place: Place, now: Swatch, paints: PaintOptions, rows: Indices
) -> Indices:
    """Those that keep to the brief as far as the paint there does; all where none does."""
    kept = rows[~_breaks(report, place, now, paints, rows)]
    return kept if len(kept) else rows


def _breaks(
    report: Report, place: Place, now: Swatch, paints: PaintOptions, rows: Indices
) -> Truths:
    """Whether each breaks a wish that the paint there keeps to."""
    colours = colours_of([now]).joined(paints.colours.rows(rows))
    costs = wishes_on(report.house, place.room, place.surface, colours)
    return np.asarray(costs[1:] > costs[0] + _SLIGHT)


def _suits(report: Report, place: Place, now: Swatch, paints: PaintOptions) -> Truths:
    """Near-white woodwork remains near-white; an accent room does not take a neighbour's colour."""
    colours, room = paints.colours, report.study.rooms[place.room]
    suits = np.ones(len(paints), dtype=np.bool_)
    if place.surface in {"trim", "doors"} and now.lrv >= TIERS["trim"].fine[0]:
        suits &= (colours.lrv >= TIERS["trim"].fine[0]) & (colours.chroma <= TRIM_CHROMA)
    if room.room.role == "accent" and place.surface == "walls":
        for seen in report.study.views[place.room].seen:
            if "walls" in seen.room.coats:
                other = np.array(seen.room.coats["walls"].swatch.colour.ucs)
                suits &= ucs_parts(other, colours.ucs)[0] >= DISTINCT
    return suits


def _helps(finding: Finding, before: Effects, after: Effects) -> Truths:
    """Whether the finding's check costs less by it, and no grave check more."""
    none = np.zeros(len(after))
    helps = np.ones(len(after), dtype=np.bool_)
    for check in {**before.parts, **after.parts}:
        if check_of(check).wish:
            continue
        was, becomes = _of(before, check), after.parts.get(check, none)
        least = finding.cost if check == finding.check else 0.0
        if check == finding.check or check_of(check).gravest != "note":
            helps &= becomes <= was - least + _SLIGHT
    if check_of(finding.check).wish:
        helps &= after.wishes < before.wishes
    return helps


def _of(effects: Effects, check: str) -> float:
    return float(effects.parts[check][0]) if check in effects.parts else 0.0


def _spread(now: Swatch, paints: PaintOptions, rows: Indices) -> Indices:
    """The nearest of each kind and family, and no more than are worth judging in every light."""
    kinds, families = _kinds(now, paints), _families(paints, rows)
    counts: dict[object, int] = {}
    found = []
    for row, family in zip(rows.tolist(), families, strict=True):
        key = (kinds[row], family if kinds[row] == Kind.OTHER_HUE else "")
        counts[key] = counts.get(key, 0) + 1
        if counts[key] <= NEAREST // 8:
            found.append(row)
    return np.array(found[:NEAREST], dtype=np.intp)


def _chosen(
    now: Swatch, paints: PaintOptions, rows: Indices, apart: Floats, unwished: Truths
) -> Iterator[_Option]:
    kinds, counts = _kinds(now, paints), dict.fromkeys(Kind, 0)
    families: set[str] = set()
    each = zip(rows.tolist(), _families(paints, rows), unwished.tolist(), strict=True)
    for row, family, breaks in each:
        kind = Kind(int(kinds[row]))
        if counts[kind] < MOST[kind] and (kind != Kind.OTHER_HUE or family not in families):
            counts[kind] += 1
            families |= {family} if kind == Kind.OTHER_HUE else set()
            foreign = bool(paints.foreign[row])
            swatch = paints.swatches[row]
            yield _Option(kind, swatch, float(apart[row]), foreign, breaks)


def _kinds(now: Swatch, paints: PaintOptions) -> Indices:
    """What each paint is to the one that is there."""
    ucs, other = np.array(now.colour.ucs), paints.colours.ucs
    strength = float(np.hypot(ucs[1], ucs[2]))
    stronger = np.hypot(other[:, 1], other[:, 2]) - strength
    hue = hue_apart(np.broadcast_to(ucs, other.shape), other)
    grey = (strength <= SAME_STRENGTH) & (stronger <= SAME_STRENGTH - strength)
    same = grey | ((hue <= SAME_HUE) & (np.abs(stronger) <= SAME_STRENGTH))
    greyer = ~same & (hue <= NEAR_HUE) & (stronger < 0.0)
    return np.where(same, Kind.SAME_HUE, np.where(greyer, Kind.GREYER, Kind.OTHER_HUE))


def _families(paints: PaintOptions, rows: Indices) -> list[str]:
    return [paints.swatches[row].colour.undertone.family for row in rows.tolist()]


def _put(place: Place, option: _Option, deck: str, house: House) -> House:
    swatch = option.swatch
    if not option.foreign:
        return paint_on(house, place.room, place.surface, swatch.id)
    assert isinstance(swatch.entity, Paint)
    taken, own_id = take(house, swatch.id, swatch.entity, deck)
    return paint_on(taken, place.room, place.surface, own_id)


# A paint replaced everywhere


def _everywhere(
    report: Report, place: Place, options: Sequence[_Option]
) -> Iterator[tuple[Kind, Change]]:
    """The nearest paint of the house that helps, wherever the one of the place is."""
    own = next((option for option in options if not option.foreign), None)
    if own is not None:
        yield from _replaced(report, place.paint, own.swatch.id)


def _one_paint(finding: Finding, report: Report) -> Iterator[tuple[Kind, Change]]:
    """Either of two paints in the place of the other, everywhere."""
    paints = finding.paints
    if len(finding.places) == len(paints) == 2:  # noqa: PLR2004 - a pair
        for old, new in (paints, paints[::-1]):
            yield from _replaced(report, old, new)


def _replaced(report: Report, old: str, new: str) -> Iterator[tuple[Kind, Change]]:
    """One paint in the place of another, if it suits wherever that is."""
    now, other = report.study.paint(old), report.study.paint(new)
    places = [Place.of(c) for r in report.study.rooms.values() for c in r.every_coat]
    places = [place for place in places if place.paint == old]
    options = own_options([other])
    if not all(_suits(report, place, now, options)[0] for place in places):
        return
    count = len({place.room for place in places})
    rooms = "1 room" if count == 1 else f"{count} rooms"
    label = f"Use {other.name} instead of {now.name} everywhere ({rooms})"
    size = float(ucs_parts(np.array(now.colour.ucs), np.array(other.colour.ucs))[0])
    yield Kind.EVERYWHERE, Change(label, partial(_replace, old, new), size)


def _replace(old: str, new: str, house: House) -> House:
    return replace_paint(house, old, new)


# Doors, echoes, acceptance


def _shut_doors(finding: Finding, report: Report) -> Iterator[tuple[Kind, Change]]:
    """Each open door through which two rooms see each other."""
    if len(finding.rooms) != 2:  # noqa: PLR2004 - a pair
        return
    graph, house = report.study.graph, report.house
    sighting = graph.sighting(*finding.rooms)
    for key in sighting.through if sighting else ():
        opening = house.openings[key]
        if opening.kind == "doorway" and opening.door == "open":
            one, other = (room_name(house, room) for room in opening.between)
            label = f"Keep the door between {one} and {other} shut"
            yield Kind.DOOR_SHUT, Change(label, partial(_shut, key, opening), 0.0)


def _shut(key: str, opening: Opening, house: House) -> House:
    return put(house, "openings", key, replace(opening, door="shut"))


def _echoes(finding: Finding, report: Report) -> Iterator[tuple[Kind, Change]]:
    """The nearest paint of the accent's hue on the walls of each other room in view."""
    study, place = report.study, finding.places[0]
    accent = np.array(study.paint(place.paint).colour.ucs)
    for seen in study.views[place.room].seen:
        walls = seen.room.coats.get("walls")
        if walls is None or seen.room.room.role == "accent":
            continue
        was, where = np.array(walls.swatch.colour.ucs), Place(seen.room.id, "walls")
        found = [
            (float(ucs_parts(was, np.array(other.colour.ucs))[0]), other)
            for other in map(study.paint, report.house.paints)
            if other.id != place.paint and _echoes_hue(accent, np.array(other.colour.ucs))
        ]
        if found:
            size, swatch = min(found, key=lambda each: each[0])
            label = f"Echo it: paint {where_name(report.house, where)} in {swatch.name}"
            yield Kind.ECHO, Change(label, partial(_paint, where, swatch.id), size)


def _echoes_hue(accent: Floats, other: Floats) -> bool:
    near = float(hue_apart(accent, other)) <= NEAR_HUE
    return near and float(np.hypot(other[1], other[2])) >= ECHO_CHROMA


def _paint(place: Place, paint: str, house: House) -> House:
    return paint_on(house, place.room, place.surface, paint)


def _acceptance(finding: Finding) -> Change:
    entry = Accepted(finding.check, finding.rooms, finding.surfaces, finding.paints)
    edit: Callable[[House], House] = partial(_accept, entry)
    return Change("Accept it here, with a reason", edit, 0.0, entry)


def _accept(entry: Accepted, house: House) -> House:
    return accept(house, entry)


def where_name(house: House, place: Place) -> str:
    """As in "Hall walls"."""
    return f"{room_name(house, place.room)} {surface_name(house, place.room, place.surface)}"
