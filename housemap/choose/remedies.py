"""Ways out of a finding, in the order in which a consultant thinks; each is tried first.

What the check puts first, such as the lamps that alone make it; the same hue lighter or darker;
greyer; other hue families, the nearest of each; a paint replaced everywhere; a door kept shut; what
the check itself knows, such as a corner recorded; the hue echoed elsewhere in view; at last the
finding accepted. Of one kind, those that clear most come first.
Paints of the house and of a deck come together. What goes against a sample comes after the others,
and says so.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import partial
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from housemap.checks import Cause, Change, Finding, Place, Report, check_of
from housemap.checks.meetings import WOODWORK
from housemap.checks.options import PaintOptions, own_options
from housemap.checks.words import room_name, surface_name
from housemap.choose.chips import Chips, take
from housemap.choose.rank import options_of
from housemap.choose.schemes.compare import changes
from housemap.choose.schemes.shape import DISTINCT, TIERS, TRIM_CHROMA
from housemap.choose.surface_trial import Effects, SurfaceTrial, wishes_on
from housemap.colorimetry.arrays import Indices, Truths
from housemap.colorimetry.difference import hue_apart, ucs_parts
from housemap.model.edits import accept, new_id, paint_on, put, replace_paint
from housemap.model.geometry import Wall, wall_in, walls
from housemap.model.house import PASSAGES, Accepted, Finish, House, Opening, Paint
from housemap.model.samples import Tried, Trying, all_tried, trying
from housemap.model.severity import SEVERITIES
from housemap.model.wishes import kept_rooms, kept_rooms_painted
from housemap.study import PaintedRoom, Swatch
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
MOST_ECHOES = 3
"""Rooms in view in which an accent may be echoed."""
NOBODY_STAYS = PASSAGES | {"utility", "outdoor"}
"""Uses of rooms that have no cushions, and nobody sits in to see an echo (common practice)."""
_SLIGHT = 0.02
"""Of a cost: as near as they are known."""


class Kind(IntEnum):
    """What a change is, in the order in which they are tried."""

    FIRST = -1
    SAME_HUE = 0
    GREYER = 1
    OTHER_HUE = 2
    EVERYWHERE = 3
    DOOR_SHUT = 4
    OF_THE_CHECK = 5
    ECHO = 6
    ACCEPT = 7


MOST = {Kind.SAME_HUE: 2, Kind.GREYER: 1, Kind.OTHER_HUE: 4}
"""Paints a place that are tried, of the house and of a deck each."""
MOST_OF_A_FAMILY = {**MOST, Kind.OTHER_HUE: 1}


class Remedy(NamedTuple):
    """A change that clears a finding and raises none graver; all but acceptance leave less."""

    change: Change
    report: Report
    """Of the house with the change made."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One change tried: how many of how many that makes."""

    number: int
    count: int
    remedies: Sequence[Remedy] = ()
    """Of its kind, where it is the last of that: those that clear most first."""


class _Change(NamedTuple):
    """A change worth trying, and the house that it makes."""

    kind: Kind
    change: Change
    house: House
    doubt: int
    """What samples say against it: nothing (0), UNSURE or APPROVED."""

    @property
    def group(self) -> tuple[bool, int, int]:
        """Changes are offered in this order, those of one group by what they clear."""
        return self.kind is Kind.ACCEPT, self.doubt, self.kind


class Deck(NamedTuple):
    """A deck whose paints may help too."""

    chips: Chips
    name: str


class _Option(NamedTuple):
    """Another paint for a place, by what it is to the paint that is there."""

    unsure: bool
    """Whether a sample of it was judged so there."""
    size: float
    """How far it is from the paint there."""
    row: int
    kind: Kind
    swatch: Swatch
    foreign: bool
    """Whether it is yet to be taken from the deck."""
    unwished: bool
    """Whether it breaks a wish of the client that the paint there keeps to."""

    @property
    def origin(self) -> tuple[Kind, bool]:
        return self.kind, self.foreign

    @property
    def family(self) -> tuple[Kind, bool, str]:
        other = self.kind is Kind.OTHER_HUE
        return *self.origin, self.swatch.colour.undertone.family if other else ""


def trials(
    matter: Cause, report: Report, deck: Deck | None = None, most: int | None = None
) -> Iterator[Trial]:
    """Every change worth trying, one at a time, in a consultant's order.

    Once `most` remedies are found, only acceptance is tried still: it is always offered.
    """
    changes = _worth_trying(matter, report, deck)
    left, alike = len(changes) if most is None else most, list[Remedy]()
    for number, each in enumerate(changes, 1):
        if left <= 0 and each.kind is not Kind.ACCEPT:
            continue
        after = report.after(each.house)
        less = len(after.causes) < len(report.causes) or each.change.accepts
        if less and _clears(matter.first, report, after):
            alike.append(Remedy(each.change, after))
        if number == len(changes) or changes[number].group != each.group:
            alike.sort(key=lambda remedy: len(remedy.report.causes))
            yield Trial(number, len(changes), alike[: max(left, 1)])
            left, alike = left - len(alike), []
        else:
            yield Trial(number, len(changes))


def _worth_trying(matter: Cause, report: Report, deck: Deck | None) -> list[_Change]:
    """Each that makes another house, and leaves alone what the client keeps."""
    tried, found = all_tried(report.house), list[_Change]()
    for kind, change in sorted(_changes(matter, report, deck), key=_order):
        house = change.edit(report.house)
        known = any(house == other.house for other in found)
        if not known and not kept_rooms_painted(report.house, house):
            doubt, words = _against_samples(report.house, house, tried)
            found.append(_Change(kind, change._replace(label=change.label + words), house, doubt))
    return sorted(found, key=lambda each: each.group)


def _order(found: tuple[Kind, Change]) -> tuple[int, float, str]:
    kind, change = found
    return kind, change.size, change.label


UNSURE, APPROVED = 1, 2


def _against_samples(before: House, after: House, tried: Mapping[Trying, Tried]) -> tuple[int, str]:
    """What samples say most strongly against an edit, and the words for its label.

    A paint that was rejected in a room is a finding of its own, and no remedy.
    """
    doubts = [(0, "")]

    def add(doubt: int, paint: str | None, words: str, room: str) -> None:
        name, where = before.paints[paint or ""].name, before.rooms[room].name
        doubts.append((doubt, f", though {name} is {words} in {where}"))

    for room, surface, now, then in changes(before, after):
        judged = (r for r in before.rooms if tried.get(trying(then, r, surface)) == "unsure")
        if unsure := next(judged, None):
            add(UNSURE, then, "marked unsure", unsure)
        if tried.get(trying(now, room, surface)) == "kept":
            add(APPROVED, now, "approved", room)
    return max(doubts)


def _changes(matter: Cause, report: Report, deck: Deck | None) -> Iterator[tuple[Kind, Change]]:
    finding, check = matter.first, check_of(matter.check)
    if check.repaint:
        places = _worth_repainting(finding, report)
        for place in places:
            if place.paint and place.room and place.room not in kept_rooms(report.house):
                yield from _repaints(finding, report, place, deck)
        if _may_change_everywhere(finding):
            yield from _one_paint(finding, report, {place.paint for place in places})
    yield from _shut_doors(finding, report)
    for change in check.changes(finding, report.study):
        yield Kind.FIRST if change.first else Kind.OF_THE_CHECK, change
    if check.id == "lone":
        yield from _echoes(finding, report)
    if finding.rooms:
        yield Kind.ACCEPT, _acceptance(matter)


def _worth_repainting(finding: Finding, report: Report) -> Sequence[Place]:
    """All of its places; of what is only noted, none that is larger than what is at fault.

    That is the woodwork where there is some, else what is named first.
    """
    if finding.severity != "note" or not finding.places:
        return finding.places
    wood = (place for place in finding.places if place.surface in WOODWORK)
    most = next(wood, finding.places[0])
    area = _area_m2(report, most)
    return [p for p in finding.places if p == most or _area_m2(report, p) <= area]


def _area_m2(report: Report, place: Place) -> float:
    """What is to paint there; without measures endless, but of woodwork next to nothing."""
    part = report.study.rooms.get(place.room)
    if part is None or part.areas is None:
        return 0.0 if place.surface in WOODWORK else np.inf
    wall = place.surface.removeprefix("accent ")
    solid = [w.length_m * (part.room.height_m or 0.0) for w in walls(part.room) if w.key == wall]
    return part.areas.to_paint_m2.get(place.surface, sum(solid))


def _clears(finding: Finding, before: Report, after: Report) -> bool:
    """Whether the finding is gone, and nothing grave is new or graver."""
    known = {f.key: SEVERITIES.index(f.severity) for f in (*before.findings, *before.to_do)}
    return not any(
        found.key == finding.key or SEVERITIES.index(found.severity) > known.get(found.key, 0)
        for found in (*after.findings, *after.to_do)
    )


# Other paints on a place


def _repaints(
    finding: Finding, report: Report, place: Place, deck: Deck | None
) -> Iterator[tuple[Kind, Change]]:
    """The paints that help there; and the nearest of the house's own, wherever the one there is."""
    name = deck.name if deck else ""
    options = _helpful(finding, report, place, _paints(report, place, deck))
    for option in options:
        of_deck = f" of {name}" if option.foreign else ""
        wish = ", further from the wishes or what is usual" if option.unwished else ""
        label = f"Paint {where_name(report.house, place)} in {option.swatch.name}{of_deck}{wish}"
        yield option.kind, Change(label, partial(_put, place, option, name), option.size)
    own = next((option for option in options if not option.foreign), None)
    if own and _may_change_everywhere(finding):
        yield from _replaced(report, place.paint, own.swatch.id)


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
    """Paints that promise to clear a finding without making anything grave worse, nearest first.

    Those that keep to the brief as far as the paint there does; others where none does.
    """
    options, now = sorted(_options(report, place, paints)), report.study.paint(place.paint)
    trial, deep = SurfaceTrial(report, place.room, place.surface), report.deep is not None
    before = trial.effects(own_options([now]), deep=deep)
    for lit in (False, True) if deep else (False,):
        if options:
            rows = np.array([option.row for option in options])
            helps = _helps(finding, before, trial.effects(paints.rows(rows), deep=lit))
            options = [each for each, cures in zip(options, helps.tolist(), strict=True) if cures]
            options = [each for each in options if not each.unwished] or options
            near = _first_of_each(attrgetter("family"), options, dict.fromkeys(Kind, NEAREST // 8))
            options = sorted(near, key=attrgetter("foreign"))[:NEAREST]
    return _first_of_each(
        attrgetter("origin"),
        _first_of_each(attrgetter("family"), options, MOST_OF_A_FAMILY),
        MOST,
    )


def _options(report: Report, place: Place, paints: PaintOptions) -> Iterator[_Option]:
    """The paints that suit a place."""
    house, room, surface = report.house, place.room, place.surface
    now, tried = report.study.paint(place.paint), all_tried(house)
    sizes = ucs_parts(np.array(now.colour.ucs), paints.colours.ucs)[0].tolist()
    most = wishes_on(house, room, surface, colours_of([now])) + _SLIGHT
    unwished = (wishes_on(house, room, surface, paints.colours) > most).tolist()
    kinds, foreign = _kinds(now, paints).tolist(), paints.foreign.tolist()
    for row in np.flatnonzero(_suits(report, place, now, paints)).tolist():
        swatch, kind = paints.swatches[row], Kind(kinds[row])
        unsure = tried.get(trying(swatch.id, room, surface)) == "unsure"
        yield _Option(unsure, sizes[row], row, kind, swatch, foreign[row], unwished[row])


def _first_of_each(
    group: Callable[[_Option], object], options: Iterable[_Option], most: Mapping[Kind, int]
) -> list[_Option]:
    """Of each group the first, at most so many as is given for its kind."""
    counts, found = Counter[object](), []
    for option in options:
        key = group(option)
        counts[key] += 1
        if counts[key] <= most[option.kind]:
            found.append(option)
    return found


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
    none, helps = np.zeros(len(after)), np.ones(len(after), dtype=np.bool_)
    for check in map(check_of, {**before.parts, **after.parts}):
        own = check.id == finding.check
        if not check.wish and (own or check.gravest != "note"):
            was = float(before.parts.get(check.id, np.zeros(1))[0])
            least = finding.cost if own else 0.0
            helps &= after.parts.get(check.id, none) <= was - least + _SLIGHT
    return helps & (after.wishes < before.wishes) if check_of(finding.check).wish else helps


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


def _put(place: Place, option: _Option, deck: str, house: House) -> House:
    swatch = option.swatch
    if not option.foreign:
        return paint_on(house, place.room, place.surface, swatch.id)
    assert isinstance(swatch.entity, Paint)
    taken, own_id = take(house, swatch.id, swatch.entity, deck)
    return paint_on(taken, place.room, place.surface, own_id)


# A paint replaced everywhere


def _may_change_everywhere(finding: Finding) -> bool:
    """Not for what is only noted in one place, but where one paint would do for two."""
    return finding.severity != "note" or finding.check == "near-miss"


def _one_paint(
    finding: Finding, report: Report, may_go: Collection[str]
) -> Iterator[tuple[Kind, Change]]:
    """Either of two paints in the place of the other, everywhere; of those that may go."""
    paints = finding.paints
    if len(finding.places) == len(paints) == 2:  # noqa: PLR2004 - a pair
        for old, new in (paints, paints[::-1]):
            if old in may_go:
                yield from _replaced(report, old, new)


def _replaced(report: Report, old: str, new: str) -> Iterator[tuple[Kind, Change]]:
    """One paint in the place of another, if it suits wherever that is."""
    now, other = report.study.paint(old), report.study.paint(new)
    places = [Place.of(c) for r in report.study.rooms.values() for c in r.every_coat]
    places = [place for place in places if place.paint == old]
    options = own_options([other])
    if not all(_suits(report, place, now, options)[0] for place in places):
        return
    rooms = [*dict.fromkeys(room_name(report.house, place.room) for place in places)]
    where = f"in {rooms[0]}" if len(rooms) == 1 else f"everywhere ({len(rooms)} rooms)"
    label = f"Use {other.name} instead of {now.name} {where}"
    size = float(ucs_parts(np.array(now.colour.ucs), np.array(other.colour.ucs))[0])
    yield Kind.EVERYWHERE, Change(label, lambda house: replace_paint(house, old, new), size)


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
    """An accent's hue on something small in view, or the nearest paint of its hue on whole walls.

    In the rooms of which most is seen, at last in its own; not where nobody stays, and on nothing
    that is larger than the accent.
    """
    study, place = report.study, finding.places[0]
    accent = study.paint(place.paint)
    seen = sorted(study.views[place.room].seen, key=lambda each: -(each.sighting.share or 1.0))
    most, rooms = _area_m2(report, place), [each.room for each in seen]
    rooms = [r for r in rooms if r.room.role != "accent" and r.room.use not in NOBODY_STAYS]
    for room in (*rooms[:MOST_ECHOES], study.rooms[place.room]):
        label = f"Echo it: cushions, a rug or towels of that colour in {room.room.name}"
        yield Kind.ECHO, Change(label, partial(_add_cloth, room.id, accent), 0.0)
        for surface, now, share in _echo_surfaces(room, own=room.id == place.room):
            swatch = _of_its_hue(accent, now, report) if surface == "walls" else accent
            where = Place(room.id, surface)
            if swatch is not None and _area_m2(report, where) <= most:
                apart = ucs_parts(np.array(now.colour.ucs), np.array(swatch.colour.ucs))[0]
                label = f"Echo it: paint {where_name(report.house, where)} in {swatch.name}"
                edit = partial(_paint, where, swatch.id)
                yield Kind.ECHO, Change(label, edit, share * float(apart))


def _echo_surfaces(room: PaintedRoom, *, own: bool) -> Iterator[tuple[str, Swatch, float]]:
    """Surfaces that may echo an accent, the paint there now, and their share of a room's walls.

    Doors and one short wall are where accents are repeated (common practice; the shares are our
    assumption); not a wall that is mostly openings. In its own room the walls are the accent.
    """
    if "doors" in room.coats:
        yield "doors", room.coats["doors"].swatch, 0.1
    if "walls" in room.coats and not own:
        now = room.coats["walls"].swatch
        whole = [wall for wall in walls(room.room) if 2 * _open_m(room, wall) <= wall.length_m]
        for wall in sorted(whole, key=lambda each: each.length_m)[:1]:
            yield f"accent {wall.key}", now, 0.25
        yield "walls", now, 1.0


def _open_m(room: PaintedRoom, wall: Wall) -> float:
    """How much of a wall windows and openings take."""
    ways = [o.width_m or 0.0 for o in room.openings.values() if wall_in(o, room.id) == wall.key]
    return sum(ways) + sum(w.width_m for w in room.room.windows.values() if w.wall == wall.key)


def _of_its_hue(accent: Swatch, now: Swatch, report: Report) -> Swatch | None:
    """The paint of an accent's hue, but the accent itself, that is nearest to the one there now."""
    own, was = np.array(accent.colour.ucs), np.array(now.colour.ucs)
    swatches = [each for each in map(report.study.paint, report.house.paints) if each != accent]
    ucs = np.array([each.colour.ucs for each in swatches]).reshape(-1, 3)
    echoes = (hue_apart(own, ucs) <= NEAR_HUE) & (np.hypot(ucs[:, 1], ucs[:, 2]) >= ECHO_CHROMA)
    apart = np.where(echoes, ucs_parts(was, ucs)[0], np.inf)
    return swatches[int(apart.argmin())] if echoes.any() else None


def _add_cloth(room: str, accent: Swatch, house: House) -> House:
    """The room with cloth in the colour of a paint among what is kept there."""
    name = f"Cloth to echo {accent.name}"
    key = new_id(house, "finishes", name)
    house = put(house, "finishes", key, Finish(name, accent.entity.colour))
    held = house.rooms[room]
    return put(house, "rooms", room, replace(held, fixed=(*held.fixed, key)))


def _paint(place: Place, paint: str, house: House) -> House:
    return paint_on(house, place.room, place.surface, paint)


def _acceptance(matter: Cause) -> Change:
    found = [finding for finding in matter.findings if finding.rooms]
    entries = tuple(Accepted(f.check, f.rooms, f.surfaces, f.paints) for f in found)
    return Change("Accept it here, with a reason", partial(accept, accepted=entries), 0.0, entries)


def where_name(house: House, place: Place) -> str:
    """As in "Hall walls"."""
    return f"{room_name(house, place.room)} {surface_name(house, place.room, place.surface)}"
