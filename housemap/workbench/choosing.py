"""Choosing a paint for a surface: the paints, where the choice applies, and what each would do."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import inf
from time import thread_time
from typing import NamedTuple

import numpy as np

from housemap.checks import Report
from housemap.checks.finding import SEVERITY_COST
from housemap.checks.wishes import wish_costs
from housemap.checks.words import listed
from housemap.choose.house_problem import Reach, reach_of
from housemap.choose.optimiser.incumbent import Signal
from housemap.choose.paint_query import search_words
from housemap.choose.rank import candidates, in_place, order
from housemap.choose.surface_trial import Candidate, wishes_on
from housemap.colorimetry.difference import ucs_parts
from housemap.colorimetry.facts import ColourFacts
from housemap.model.edits import assign, paint_on, replace_paint
from housemap.model.house import SURFACES, House, Surface
from housemap.model.samples import all_tried, tried_in, trying
from housemap.model.severity import Tally, change_order
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms, kept_rooms_painted, wishes_of
from housemap.plan.floor_plan import short_wall_name
from housemap.study.colours import Colours, colours_of
from housemap.workbench.reporting import next_report

COUNTING_S = 2.0
"""Processor time for counting the findings of the whole house, with the best paints first."""
NOT_AS_WISHED = "not as wished"
REJECTED_HERE = "rejected here"
WISHES = "wishes"
"""Among what a paint raises: wishes that the brief does not state and a choice goes by."""
UNKEPT: Mapping[str, str] = {
    "strength": "Stronger than usual", "like": "Not a hue that the client likes",
    "lean": "Leans to a hue to avoid",
}  # fmt: skip
"""Which of them it is."""
NEAR_WHITE = "Not near-white"
"""Of trim."""
CLASHING = {
    "undertone": SEVERITY_COST["warn"], "fixed": SEVERITY_COST["warn"],
    "jar": SEVERITY_COST["fault"],
}  # fmt: skip
"""The checks that find colours which disagree, and what they cost from which on it is a clash: a
jump through a doorway is only looked at again."""
LEAST_RAISED = 0.5
"""Half a note: what a paint raises less than that, a little of the light, is not its doing."""
MOST_NAMED = 2
"""Rooms that are named; more are only counted."""
LAST = ("", NOT_AS_WISHED, REJECTED_HERE)
"""What is said against a paint, in the order in which such paints are listed after the others."""
MOST_REACHED = 300
"""Paints of a house for which it is worked out what the whole house can be."""


class Target(NamedTuple):
    room: str
    surface: str
    """walls ceiling trim doors, or "accent" and the wall's key."""

    def paint_in(self, house: House) -> str | None:
        """What is on it; the paint of the walls is not that of an accent wall."""
        room = house.rooms[self.room]
        kind, _, wall = self.surface.partition(" ")
        if kind == "accent":
            accent = room.accents.get(wall)
            return accent.paint if accent else None
        paint: str | None = getattr(room.paints, kind)
        return paint

    def name_in(self, house: House) -> str:
        kind, _, wall = self.surface.partition(" ")
        what = short_wall_name(house, self.room, wall) if kind == "accent" else self.surface
        return f"{house.rooms[self.room].name} {what}"


# Where the choice applies


class Scope(NamedTuple):
    """Where a paint is put: on the target alone, in the place of another paint, or on a level."""

    words: str = ""
    """What is painted; empty for the target alone."""
    old: str | None = None
    """The paint that is replaced."""
    level: int | None = None
    """None: on every level."""
    surfaces: tuple[Surface, ...] = SURFACES


HERE = Scope()
WOODWORK: tuple[Surface, ...] = ("trim", "ceiling", "doors")
PLURAL: Mapping[Surface, str] = {"trim": "trim", "ceiling": "ceilings", "doors": "doors"}


def scopes_of(house: House, target: Target) -> Iterator[Scope]:
    """Every scope that a choice for the target can have, the target alone first."""
    yield HERE
    level, old = house.rooms[target.room].level, target.paint_in(house)
    levels = len({room.level for room in house.rooms.values()})
    same = tuple(surface for surface in SURFACES if surface == target.surface)
    if old is not None:
        name = house.paints[old].name
        yield Scope(f"{name} everywhere", old)
        if levels > 1:
            yield Scope(f"{name} on this level", old, level)
        if same:
            yield Scope(f"{name} as {target.surface} only", old, None, same)
    if same and same[0] in PLURAL:
        yield Scope(f"All {PLURAL[same[0]]} on this level", None, level, same)
    where = f" of level {level}" if levels > 1 else ""
    yield Scope(f"All trim, ceilings, doors{where}", None, level, WOODWORK)


def painted(house: House, target: Target, scope: Scope, paint: str | None) -> House:
    """The house with a paint, or none, wherever the choice applies.

    Beyond the target, rooms that the client keeps are left as they are.
    """
    if scope == HERE or (scope.old is not None and paint is None):
        return paint_on(house, *target, paint)
    made = house
    if scope.old is not None and paint is not None:
        made = replace_paint(house, scope.old, paint, level=scope.level, surfaces=scope.surfaces)
    else:
        for key in [key for key, room in house.rooms.items() if room.level == scope.level]:
            for surface in scope.surfaces:
                made = assign(made, key, surface, paint)
    kept = {key: house.rooms[key] for key in kept_rooms_painted(house, made)}
    return replace(made, rooms={**made.rooms, **kept}) if kept else made


def places_of(house: House, target: Target, scope: Scope) -> Iterator[Target]:
    """Every surface that gets another paint, in rooms that the client does not keep."""
    if scope == HERE:
        yield target
        return
    kept = kept_rooms(house)
    yield from (place for place in _in_scope(house, scope) if place.room not in kept)


def _in_scope(house: House, scope: Scope) -> Iterator[Target]:
    for key, room in house.rooms.items():
        walls = [f"accent {wall}" for wall in room.accents] if "walls" in scope.surfaces else []
        for surface in (*scope.surfaces, *walls) if scope.level in (None, room.level) else ():
            each = Target(key, surface)
            if scope.old in (None, each.paint_in(house)):
                yield each


def where_painted(house: House, target: Target, scope: Scope) -> str:
    """As in "Hall walls", or "Oat Ladle everywhere (2 rooms)"."""
    rooms = len({place.room for place in places_of(house, target, scope)})
    return f"{scope.words} ({counted(rooms, 'room')})" if scope.words else target.name_in(house)


def left_out(house: House, scope: Scope) -> str:
    """As in "Kept by wish: Kitchen."; empty where the scope meets no kept room."""
    met = {place.room for place in _in_scope(house, scope)} if scope != HERE else ()
    names = [house.rooms[key].name for key in sorted(kept_rooms(house)) if key in met]
    return f"Kept by wish: {', '.join(names)}." if names else ""


def approved_before(house: House, target: Target, scope: Scope, paint: str | None) -> str:
    """That a paint whose sample was approved gives way, as in "Gull Chute was approved here."."""
    given_up = {
        (old, place.room)
        for place in places_of(house, target, scope)
        if (old := place.paint_in(house)) not in {None, paint}
        and tried_in(house, old or "", *place) == "kept"
    }
    if not given_up:
        return ""
    named = listed(sorted({house.paints[old or ""].name for old, _ in given_up}))
    rooms = sorted({house.rooms[room].name for _, room in given_up})
    where = "here" if scope == HERE else f"in {listed(rooms, MOST_NAMED, 'rooms')}"
    return f"A sample of {named} was approved {where}{_on_day(house, given_up)}."


def _on_day(house: House, given_up: Collection[tuple[str | None, str]]) -> str:
    """As in " on 19 April"; empty where it was on several days, or on none that is known."""
    days = {
        sample.when
        for sample in house.samples.values()
        if (sample.paint, sample.room) in given_up and sample.verdict == "keep"
    }
    day = days.pop() if len(days) == 1 else None
    return f" on {day:%-d %B}" if day else ""


# The paints


class Option(NamedTuple):
    """A paint that can be chosen, as it stands in the list; `paint` is None for none at all."""

    paint: str | None
    name: str
    code: str
    lrv: float | None
    undertone: str
    words: str
    """What is searched."""
    facts: ColourFacts | None = None


NO_PAINT = Option(None, "no paint", "", None, "leave it unpainted", search_words("no paint bare"))


def options_of(house: House, report: Report | None) -> tuple[Option, ...]:
    """Every paint of the house by name, then no paint; the report may lag behind the house."""
    swatches = report.study.swatches if report else {}
    found = []
    for paint_id, paint in house.paints.items():
        swatch = swatches.get(("Paint", paint_id))
        facts = swatch.colour if swatch and swatch.entity == paint else None
        tone = facts.undertone if facts else None
        said: tuple[str, ...] = (facts.notation.text,) if facts else ()
        said += (tone.name, tone.family, tone.temperature) if tone else ()
        words = search_words(paint.name, paint.code, paint_id, paint.deck, *said)
        lrv = swatch.lrv if swatch and facts else paint.lrv
        undertone = tone.words if tone else ""
        found.append(Option(paint_id, paint.name, paint.code, lrv, undertone, words, facts))
    return *sorted(found, key=lambda option: option.name.casefold()), NO_PAINT


class SearchedOptions:
    """Options as a search sees them, a row each."""

    def __init__(self, options: Sequence[Option]) -> None:
        nowhere = (np.nan, np.nan, np.nan)
        facts = [option.facts for option in options]
        notations = [each and each.notation for each in facts]
        self.words = [option.words for option in options]
        self.lrv = np.array([np.nan if o.lrv is None else o.lrv for o in options])
        self.hvc = np.array([(n.hue100, n.value, n.chroma) if n else nowhere for n in notations])
        self.lab100 = np.array([each.lab100 if each else nowhere for each in facts])
        self.families = [each.undertone.family if each else "" for each in facts]


def best_first(
    options: Iterable[Option], ranks: Mapping[str | None, tuple[object, ...]]
) -> list[Option]:
    """The ranked ones in their order, those without a rank as they were, and no paint last."""
    return sorted(
        options, key=lambda o: (o.paint is None, o.paint not in ranks, ranks.get(o.paint, ()))
    )


def nearest_first(options: Iterable[Option], old: Option) -> list[Option]:
    """By how far their colours are from that of a paint to be replaced, and no paint last."""

    def far(option: Option) -> tuple[bool, float]:
        if option.facts is None or old.facts is None:
            return option.paint is None, inf
        return option.paint is None, float(
            ucs_parts(np.array(old.facts.ucs), np.array(option.facts.ucs))[0]
        )

    return sorted(options, key=far)


# What they do


@dataclass(frozen=True, slots=True)
class Ranks:
    """What paints do; nothing while that is not known."""

    base: Report | None = None
    """Of the house that they are compared with."""
    tallies: Mapping[str | None, Tally] = field(default_factory=dict)
    """How many findings the whole house has with it, as causes, and what they weigh."""
    raised: Mapping[str | None, Mapping[str, float]] = field(default_factory=dict)
    """By paint, what it raises that is not there without it: costs by check, the dearest first."""
    unkept: Mapping[str | None, str] = field(default_factory=dict)
    """By paint: the gravest of the unstated wishes that it does not keep to, in words."""
    verdicts: Mapping[str | None, str] = field(default_factory=dict)
    """One word on each."""
    order: Mapping[str | None, tuple[object, ...]] = field(default_factory=dict)
    """What sorts the best first."""
    counted: bool = False
    """Whether the order is that of the findings of the whole house."""
    reach: Reach | None = None
    """What the whole house can be with each paint."""


class Against(NamedTuple):
    """What speaks against a paint on a surface beside the findings."""

    said: str = ""
    """By somebody, in a word or two."""
    unkept: str = ""
    """The gravest of the unstated wishes, whether kept or not."""


def ranks_of(
    house: House, known: Report | None, target: Target, scope: Scope, stop: Signal
) -> Iterator[Ranks]:
    """What each paint of the house, and none at all, does; more of it each time.

    `known` is the newest report there is. May raise a HousemapError.
    """
    base = known if known is not None and known.house is house else next_report(house, known)
    ranks, paints = Ranks(base), [*house.paints, None]
    bare = _bared(base, [*places_of(house, target, scope)])
    against = _against(base, bare)
    found: dict[str | None, Candidate] = {}
    if scope == HERE:
        found = {one.paint: one for one in (*candidates(base, *target), bare[target])}
        for paint, one in found.items():
            ranks = _ranked(ranks, paint, {target: one}, bare, against)
        paints.sort(key=lambda paint: ranks.order[paint])
        yield ranks
    began = thread_time()
    for paint in paints:
        if thread_time() - began > COUNTING_S:
            break
        after = base.after(painted(house, target, scope, paint))
        ranks = replace(ranks, tallies={**ranks.tallies, paint: after.tally})
        there = {place: in_place(after, *place) for place in bare}
        if found:  # in the light that it leaves in other rooms
            there = {target: there[target]._replace(harmony=found[paint].harmony)}
        ranks = _ranked(ranks, paint, there, bare, against)
        yield replace(ranks, order={})  # the list is put in order once
    yield (ranks := replace(ranks, order=_as_shown(ranks, base.tally), counted=True))
    if found and target.surface == "walls" and len(house.paints) <= MOST_REACHED:
        yield replace(ranks, reach=reach_of(base, target.room, stop=stop))


def _as_shown(ranks: Ranks, now: Tally) -> Mapping[str | None, tuple[object, ...]]:
    """The order by what the list shows: what each paint does to the findings of the house.

    Behind them those that were not counted in time; equal ones as they were.
    """
    return {
        paint: (
            place[0],
            *(change_order(now, ranks.tallies[paint]) if paint in ranks.tallies else (inf,)),
            *place[1:],
        )
        for paint, place in ranks.order.items()
    }


def _bared(base: Report, places: Sequence[Target]) -> Mapping[Target, Candidate]:
    """What each place would do with none of them painted."""
    house = base.house
    for place in places:
        house = paint_on(house, *place, None)
    after = base.after(house)
    return {place: in_place(after, *place) for place in places}


def _ranked(
    ranks: Ranks,
    paint: str | None,
    there: Mapping[Target, Candidate],
    bare: Mapping[Target, Candidate],
    against: Mapping[Target, Mapping[str | None, Against]],
) -> Ranks:
    """With what a paint raises in the places that get it, at worst, and its place in the list."""
    said = max((against[place][paint].said for place in there), key=LAST.index, default="")
    least_kept = max(there, key=lambda place: there[place].wishes, default=None)
    raised: dict[str, float] = {}
    for place, one in there.items():
        for check, cost in raised_by(one, bare[place]).items():
            raised[check] = max(raised.get(check, 0.0), cost)
    if said == NOT_AS_WISHED:
        raised = {"brief": inf, **raised}
        raised.pop(WISHES, None)
    worth = order(*there.values()) if len(there) == 1 else ranks.tallies[paint].rank
    places = {**ranks.order, paint: (LAST.index(said), *worth)}
    if paint is None:
        return replace(ranks, order=places)
    return replace(
        ranks,
        raised={**ranks.raised, paint: _dearest_first(raised)},
        unkept={**ranks.unkept, paint: against[least_kept][paint].unkept if least_kept else ""},
        verdicts={**ranks.verdicts, paint: said or verdict_of(raised)},
        order=places,
    )


def _against(
    base: Report, places: Iterable[Target]
) -> Mapping[Target, Mapping[str | None, Against]]:
    """Of every paint of the house, and of none, on each place."""
    house, tried = base.house, all_tried(base.house)
    colours = colours_of([base.study.paint(paint) for paint in house.paints])
    found: dict[Target, dict[str | None, Against]] = {place: {None: Against()} for place in places}
    for place, against in found.items():
        broken = wishes_on(house, *place, colours, stated=True).tolist()
        unkept = _unkept(house, place, colours)
        for paint, cost, wish in zip(house.paints, broken, unkept, strict=True):
            said = NOT_AS_WISHED if cost else ""
            if tried.get(trying(paint, *place)) == "rejected":
                said = REJECTED_HERE
            against[paint] = Against(said, wish)
    return found


def _unkept(house: House, place: Target, colours: Colours) -> Sequence[str]:
    kind = place.surface.partition(" ")[0]
    if kind == "trim":
        return [NEAR_WHITE] * len(colours)
    accent = kind == "accent" or house.rooms[place.room].role == "accent"
    costs = wish_costs(colours, wishes_of(house.brief, place.room, accent=accent))
    words = [key for key in costs if key in UNKEPT]
    gravest = np.argmax([costs[key] for key in words], axis=0)
    return [UNKEPT[words[each]] for each in gravest.tolist()]


def raised_by(candidate: Candidate, bare: Candidate) -> Mapping[str, float]:
    """What a paint raises that is not there while the surface is bare, the dearest first.

    By check; a usual wish that is clearly not kept by WISHES.
    """
    more = {c: cost - bare.parts.get(c, 0.0) for c, cost in candidate.parts.items()}
    if candidate.wishes >= SEVERITY_COST["warn"]:
        more[WISHES] = candidate.wishes
    return _dearest_first({c: cost for c, cost in more.items() if cost >= LEAST_RAISED})


def _dearest_first(parts: Mapping[str, float]) -> dict[str, float]:
    return dict(sorted(parts.items(), key=lambda part: -part[1]))


def verdict_of(raised: Mapping[str, float]) -> str:
    """One word on a paint, of what it raises: a clash is of colours that disagree."""
    if any(raised.get(check, 0.0) >= least for check, least in CLASHING.items()):
        return "clashes"
    return "look again" if raised else "fits"
