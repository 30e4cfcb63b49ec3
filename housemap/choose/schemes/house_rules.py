"""The rules of a scheme for a whole house, as costs of rooms and of pairs of rooms.

What counts beside the findings, each rule with what it costs where it is broken (our assumption
throughout; a note costs 1, a warning 4):

- brief: as in `wishes`, by the room; where a room's own wishes name hues and how strong, a liked
  colour costs half a note for each step that it is weaker (SHORT_OF_STRENGTH), and has no aim; so
  does one between the hue and another;
- tier: as in `shape`, by the room's role;
- aim: where a scheme is built around a paint, how far a colour is from what its kind aims for, at
  half of what it costs in a set (AIM_COUNTS), levelling off at 3.9, of accents at 1.5;
- grave: there each warning or fault costs 8 more (GRAVE), however close to its limit or far off;
- around: the paint that a scheme is built around is not on the largest room that it suits, where
  it brings no warning to the space whatever is next to it, or, if there is none, on the largest at
  all (120);
- again: in a further suggestion, a room that is no backbone has a colour that hardly differs from
  the one that it has in a suggestion before (2);
- revision: a painted room that gets a colour of another hue family (1);
- strengths: two rooms that see each other, are no accents, and have no wish of how strong they are
  to be, each ISCC-NBS step of strength beyond one between them (1);
- alike: two different paints in rooms that see each other, nearer than 8 CAM16-UCS units (4 to 8);
- variety: as many rooms as colours are asked for, the largest of each role first, have colours that
  differ (4 for each two that do not); rooms in open plan without a place to stop count as one;
- linked: halls, stairs and landings that join without a door, in two paints (12);
- share: where more than two colours are asked for, rooms other than the backbone, and not in open
  plan with it, are put in pairs by size; the two of a pair in one paint cost 4, so that no colour
  takes much more than half the walls.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations, pairwise, zip_longest
from types import MappingProxyType

import numpy as np

from housemap.checks.counting import visibility
from housemap.checks.finding import SEVERITY_COST
from housemap.checks.options import PaintOptions
from housemap.checks.pages.undertones import FIXED, fights, step_and_strength
from housemap.checks.wishes import BROKEN, between_hues, broken_text, liked, wish_cost
from housemap.checks.words import listed
from housemap.choose.chips import Chips
from housemap.choose.optimiser.problem import Array, Pair, Problem
from housemap.choose.schemes import shape
from housemap.choose.schemes.kinds import KIND_WORDS, Kind, house_aims, is_backbone, trim_aim
from housemap.choose.schemes.sets import USUAL_COLOURS, distinct_colours
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.difference import ucs_parts
from housemap.model.house import PASSAGES, STRENGTHS, Brief, House, Opening, Role
from housemap.model.text import counted
from housemap.model.wishes import stated_wishes, wishes_of
from housemap.plan.house_graph import graph_of, sorted_pair
from housemap.study import Coat, Study, Swatch
from housemap.study.colours import colours_of

NEW_FAMILY = SEVERITY_COST["note"]
SHORT_OF_STRENGTH = 0.5 * SEVERITY_COST["note"]
FOR_THIS_ROOM = 2
"""What a wish of a room with wishes of its own counts, so that the jumps to its neighbours that it
brings about itself do not outweigh it."""
AGAIN = 2 * SEVERITY_COST["note"]
AIM_COUNTS, MOST_OFF_AIM, BACKBONE_OFF_AIM, ACCENT_OFF_AIM = 0.5, 3.9, 8.0, 1.5
"""Of what a set costs that is off its aims, and the most: less than a warning, of accents less
than one that is close to its limit, as what stays in a house counts more, and of the backbone two
warnings, as all other colours hang on it."""
DARKEST_NEUTRAL = 25.0
"""LRV; our assumption."""
NOT_AROUND = 10 * SEVERITY_COST["fault"]
"""A scheme around a paint that is on no wall is none."""
GRAVE = 2 * SEVERITY_COST["warn"]
"""What each warning or fault costs beside its own cost in a scheme around a paint, so that no aim
outweighs one that is close to its limit, not of two rooms that are one space."""
ONE_COLOUR_TWICE = SEVERITY_COST["warn"]
TWO_IN_A_PASSAGE = SEVERITY_COST["fault"]
FEWEST_SHARED = 3
"""Colours asked for from which one colour is kept from taking over."""
NAMED = 2
"""Rooms or kept finishes that are named; more are only counted."""
ROLE_ORDER: tuple[Role | None, ...] = ("backbone", "room", None, "accent")


TITLES: Mapping[str, str] = {
    "brief": "A wish of the client that is not kept",
    "tier": "Lighter, deeper or stronger than is usual for such a room",
    "aim": "Off what the scheme around a paint aims for",
    "around": "The paint to build around is not on the largest room that it suits",
    "again": "Rooms in a colour like that of a suggestion before",
    "revision": "A painted room that changes to another hue",
    "strengths": "Rooms in view of each other, one much stronger in colour",
    "alike": "Two paints in view of each other that hardly differ",
    "variety": "Rooms that are to differ in colour and do not",
    "linked": "Halls, stairs or landings that join without a door in two colours",
    "share": "One colour in two rooms of like size",
}
"""What each rule is about, in words for the screen."""

NAMED_EACH = frozenset({"brief", "aim", "again"})
"""Rules of which a breach is not listed: each wish is named by itself, an aim is no rule, and
how far suggestions differ is said of all together."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a suggestion is asked to be."""

    colours: int | None = None
    """Wall colours aimed for; None: as the brief says, or as usual."""
    around: Swatch | None = None
    """The paint that the scheme is built around."""
    kind: Kind = "counter"
    revised: Mapping[str, str] = field(default_factory=dict)
    """The hue family that the walls of a painted room have now, by room."""
    before: Mapping[str, tuple[Swatch, ...]] = field(default_factory=dict)
    """The colours of a room's walls in the suggestions before."""

    @property
    def grave(self) -> float:
        """What each warning or fault costs beside its own cost."""
        return 0.0 if self.around is None else GRAVE


@dataclass(frozen=True, eq=False)
class Rule:
    """What one rule costs."""

    name: str
    own: Mapping[str, Array]
    """By room, each of its candidates; rooms that it does not touch are missing."""
    pairs: tuple[Pair, ...] = ()

    def costs_in(
        self, candidates: Mapping[str, Sequence[str]], chosen: Mapping[str, str]
    ) -> Iterator[tuple[tuple[str, ...], float]]:
        """What it costs in a choice, by room or pair of rooms."""
        row = {room: candidates[room].index(paint) for room, paint in chosen.items()}
        yield from (((room,), float(costs[row[room]])) for room, costs in self.own.items())
        for pair in self.pairs:
            one, other = pair.rooms
            yield pair.rooms, float(pair.cost[row[one], row[other]])


@dataclass(frozen=True, eq=False)
class _Rooms:
    """The rooms of a problem with their candidates as rows of chips."""

    study: Study
    chips: Chips
    rows: Mapping[str, Indices]
    plan: Plan

    @property
    def house(self) -> House:
        return self.study.house

    def of_role(self, role: Role | None, rooms: Iterable[str]) -> list[str]:
        return [room for room in rooms if self.house.rooms[room].role == role]

    def area(self, room: str) -> float:
        areas = self.study.rooms[room].areas
        return areas.wall_net_m2 if areas else 0.0

    @property
    def asked(self) -> int:
        """Wall colours asked for, at most as many as there are paints and rooms."""
        paints = len({row for rows in self.rows.values() for row in rows.tolist()})
        asked = self.plan.colours or self.house.brief.colours or USUAL_COLOURS
        return min(asked, paints, len(self.rows))

    @cached_property
    def space(self) -> Mapping[str, str]:
        return spaces(self.house)

    def one_a_space(self, rooms: Iterable[str]) -> list[str]:
        """The first of the rooms of each space."""
        first: dict[str, str] = {}
        for room in rooms:
            first.setdefault(self.space[room], room)
        return list(first.values())


def spaces(house: House) -> Mapping[str, str]:
    """By room, one of those that it shares its colour with.

    In open plan without a place to stop, or halls, stairs and landings that join without a door.
    """
    graph, found = graph_of(house), dict[str, str]()
    for start in house.rooms:
        reached = [] if start in found else [start]
        for room in reached:
            for each in graph.exits(room):
                way = house.openings[each.opening]
                joined = (way.kind == "open" and not way.stop) or _is_passage(house, way)
                if joined and each.to not in reached:
                    reached.append(each.to)
        found |= dict.fromkeys(reached, start)
    return found


def _is_passage(house: House, way: Opening) -> bool:
    """Whether it joins two halls, stairs or landings without a door or a place to stop."""
    linked = all(house.rooms[room].use in PASSAGES for room in way.between)
    return linked and way.kind != "doorway" and not way.stop


def rules_of(
    study: Study,
    candidates: Mapping[str, Sequence[str]],
    plan: Plan,
    least: Mapping[str, Array] = MappingProxyType({}),
) -> tuple[Rule, ...]:
    """What the rules cost in the rooms, for each of their candidates: paints of the house.

    `least` is what the checks find of each, whatever the other rooms have; for a plan around a
    paint.
    """
    paints = list(dict.fromkeys(paint for each in candidates.values() for paint in each))
    swatches = tuple(study.paint(paint) for paint in paints)
    place = {paint: row for row, paint in enumerate(paints)}
    rows = {
        room: np.array([place[paint] for paint in each], dtype=np.intp)
        for room, each in candidates.items()
    }
    rooms = _Rooms(study, Chips(swatches), rows, plan)
    return tuple(rule for rule in _rules(rooms, least) if rule.own or rule.pairs)


def own_rule_costs(house: House, room: str, chips: Chips, plan: Plan) -> Mapping[str, Floats]:
    """By rule, what each colour costs on the walls of a room by itself: (n,)."""
    role, brief = house.rooms[room].role, house.brief
    wishes = wishes_of(brief, room, accent=role == "accent")
    own = brief.rooms.get(room)
    costs = {"brief": wish_cost(chips.colours, wishes)}
    asked = liked(chips.colours, wishes) & wishes.like_here
    if own is not None:
        costs["brief"] *= FOR_THIS_ROOM
    if own is None or own.lrv is None:  # a wish for this room stands before the usual tier
        costs["tier"] = shape.room_tier(role).costs(chips.lrv)
        if role == "backbone":
            costs["tier"] += BROKEN * ~(chips.colours.near_neutral | asked)
        if plan.around is not None and not is_backbone(plan.around) and role in {"room", None}:
            costs["tier"][rows_of(chips, plan.around)] = 0.0  # it was asked for, and deep enough
    if plan.around is not None:
        costs["aim"] = np.where(asked, 0.0, _aim_costs(house, room, chips, plan, plan.around))
    if asked.any() and own is not None:
        short = STRENGTHS.index(own.strength or STRENGTHS[0]) - chips.colours.strengths
        off = np.maximum(short, 0) + between_hues(chips.colours, wishes.like)
        costs["brief"] += np.where(asked, SHORT_OF_STRENGTH * off, 0.0)
    if plan.before.get(room) and role != "backbone":
        earlier = colours_of(plan.before[room]).ucs
        apart = ucs_parts(chips.colours.ucs[:, None], earlier)[0].min(axis=1)
        costs["again"] = AGAIN * (apart < shape.DISTINCT)
    if room in plan.revised and not wishes.like_here:
        same = np.array([family == plan.revised[room] for family in chips.families])
        costs["revision"] = np.where(same, 0.0, NEW_FAMILY)
    return costs


def _aim_costs(house: House, room: str, chips: Chips, plan: Plan, around: Swatch) -> Floats:
    """How far off the nearest aim for such a room; the paint itself is never off.

    The first accent rooms have an aim each, so that there is the accent that the kind speaks of.
    """
    role = house.rooms[room].role
    parts = {"neutral", role} if role else {"neutral", "backbone", "room"}
    aims = [aim for aim in house_aims(plan.kind, around) if aim.part in parts]
    place = accent_place(house, room)
    aims = aims[place : place + 1] or aims
    each = [aim.off(chips, around) for aim in aims]
    least = np.min(each, axis=0) if each else np.zeros(len(chips))
    by_role: Mapping[Role | None, float] = {"accent": ACCENT_OFF_AIM, "backbone": BACKBONE_OFF_AIM}
    most = by_role.get(role, MOST_OFF_AIM)
    # Levelling off: of two far off, the nearer still counts less.
    costs = most * np.tanh(AIM_COUNTS * least / most)
    costs[rows_of(chips, around)] = 0.0
    return costs


def house_neutral(study: Study, without: Collection[str] = ()) -> Swatch | None:
    """The neutral of a house: the first near-neutral of its backbone, else of other walls.

    Walls of the rooms in `without` do not count. None where there is none.
    """
    rooms = sorted(study.house.rooms.items(), key=lambda each: each[1].role != "backbone")
    walls = (room.paints.walls for key, room in rooms if key not in without)
    swatches = (study.paint(paint) for paint in walls if paint)
    fit = (each for each in swatches if each.colour.near_neutral and each.lrv >= DARKEST_NEUTRAL)
    return next(fit, None)


def off_scheme(study: Study, room: str, surface: str, paints: PaintOptions) -> Floats:
    """How far colours on a surface are off the scheme around the neutral of the house: (n,).

    As in a suggestion around it; of accents, and of woodwork that is no trim, nothing.
    """
    trim = surface == "trim" and study.house.brief.white_trim
    walls = surface == "walls" and study.house.rooms[room].role != "accent"
    around = house_neutral(study, {room}) if trim or walls else None
    if around is None:
        return np.zeros(len(paints))
    chips = Chips(tuple(paints.swatches), known=paints.colours)
    if trim:
        return trim_aim(around).off(chips, around)
    return _aim_costs(study.house, room, chips, Plan(around=around), around)


def rows_of(chips: Chips, swatch: Swatch | None) -> list[int]:
    """The rows of a paint: by its name and colour, as a house and a deck have it by other ids."""
    known = swatch and (swatch.name, swatch.entity.colour)
    each = ((own.name, own.entity.colour) for own in chips.swatches)
    return [row for row, own in enumerate(each) if own == known]


def accent_place(house: House, room: str) -> int:
    """The place of an accent room among those of the house; beyond all for another room."""
    if house.rooms[room].role != "accent":
        return len(house.rooms)
    return [key for key, each in house.rooms.items() if each.role == "accent"].index(room)


def _rules(rooms: _Rooms, least: Mapping[str, Array]) -> Iterator[Rule]:
    own: dict[str, dict[str, Array]] = {}
    for room, rows in rooms.rows.items():
        for name, costs in own_rule_costs(rooms.house, room, rooms.chips, rooms.plan).items():
            if costs[rows].any():
                own.setdefault(name, {})[room] = costs[rows]
    yield from (Rule(name, costs) for name, costs in own.items())
    yield Rule("around", dict(_with_the_paint(rooms, least)))
    seen = [key for key in rooms.study.pairs if all(room in rooms.rows for room in key)]
    asked = {room for room, own in rooms.house.brief.rooms.items() if own.strength}
    calm = [key for key in seen if asked.isdisjoint(key) and not rooms.of_role("accent", key)]
    colours = rooms.chips.colours
    ucs, strengths = colours.ucs, colours.strengths
    ways = (way for way in rooms.house.openings.values() if _is_passage(rooms.house, way))
    linked = {sorted_pair(*way.between): None for way in ways}
    for name, keys, together in (
        ("strengths", calm, lambda a, b: shape.step_costs(strengths[a], strengths[b])),
        ("alike", seen, lambda a, b: shape.alike_costs(ucs[a], ucs[b], same=a == b)),
        (
            "variety", combinations(leads(rooms), 2),
            lambda a, b: BROKEN * (ucs_parts(ucs[a], ucs[b])[0] < shape.DISTINCT),
        ),
        (
            "linked", [key for key in linked if rooms.rows.keys() >= {*key}],
            lambda a, b: TWO_IN_A_PASSAGE * (a != b),
        ),
        (
            "share", by_size(rooms) if rooms.asked >= FEWEST_SHARED else (),
            lambda a, b: ONE_COLOUR_TWICE * (a == b),
        ),
    ):  # fmt: skip
        pairs = (
            Pair((one, other), np.asarray(together(rooms.rows[one][:, None], rooms.rows[other])))
            for one, other in keys
        )
        yield Rule(name, {}, tuple(pair for pair in pairs if pair.cost.any()))


def _with_the_paint(rooms: _Rooms, least: Mapping[str, Array]) -> Iterator[tuple[str, Array]]:
    """What the paints of one room cost that are not the one which the scheme is built around."""
    around = rooms.plan.around
    if around is None:
        return
    own = np.isin(np.arange(len(rooms.chips)), rows_of(rooms.chips, around))
    roles: Sequence[Role | None] = ("room", None, "backbone")
    if is_backbone(around):
        roles = roles[::-1]
    free = [room for room, rows in rooms.rows.items() if len(rows) > 1 and own[rows].any()]
    suited = [rooms.of_role(role, free) for role in roles]
    warned = {rooms.space[r] for r in free if least[r][own[rooms.rows[r]]].min() >= GRAVE}
    calm = [[room for room in some if rooms.space[room] not in warned] for some in suited]
    if best := next(filter(None, (*calm, *suited)), None):
        room = max(best, key=rooms.area)
        yield room, np.where(own[rooms.rows[room]], 0.0, NOT_AROUND)


def clashes(study: Study, rooms: Iterable[str], chips: Chips) -> Floats:
    """How often, and how strongly, each paint would fight with what is kept in or near rooms."""
    kept = Counter(coat.swatch for room in rooms for coat in _staying(study, room))
    each = (count * _clash(study, swatch, chips) for swatch, count in kept.items())
    return np.asarray(sum(each, np.zeros(len(chips))))


def _clash(study: Study, kept: Swatch, chips: Chips) -> Floats:
    """How strongly each paint would fight with a finish; 0 where it does not: (n,)."""
    paint = chips.colours
    ucs = np.broadcast_to(np.array(kept.colour.ucs), paint.ucs.shape)
    found = fights(paint.ucs, ucs, FIXED.limits_in(study.house)) & paint.near_neutral & paint.leans
    return np.where(found, 1.0 + step_and_strength(paint.ucs, ucs)[1] / 10.0, 0.0)


def _staying(study: Study, room: str) -> Iterator[Coat]:
    """The floor and the fixed finishes of the room and of those that it sees, if they lean.

    Without rooms of which it sees only a sliver.
    """
    most = FIXED.limits_in(study.house)["chroma"]
    for seen in study.views[room].rooms:
        pair = study.pairs.get(sorted_pair(room, seen.id))
        sliver = pair is not None and visibility(study, pair).is_sliver
        for coat in () if sliver else seen.compared_finishes:
            tone = coat.swatch.colour
            if tone.notation.chroma <= most and tone.undertone.family != "none":
                yield coat


def kept_clashes(study: Study, rooms: Collection[str], chips: Chips, around: Swatch) -> str:
    """What to say where a kept finish fights with the paint that a scheme is built around.

    Empty where that is in at most half of the rooms, and the paint is on the walls of none of them;
    else the nearest paint that fights in no room is named.
    """
    alone = Chips((around,))
    met = [room for room in rooms if clashes(study, [room], alone).any()]
    own = {key: each.paints.walls for key, each in study.house.rooms.items()}
    there = [r for r in met if (paint := own[r]) and study.paint(paint).colour == around.colour]
    if not there and 2 * len(met) <= len(rooms):
        return ""
    kept = {c.swatch for r in met for c in _staying(study, r) if _clash(study, c.swatch, alone)[0]}
    calm = chips.colours.near_neutral & (clashes(study, rooms, chips) == 0)
    apart = ucs_parts(np.array(around.colour.ucs), chips.colours.ucs)[0]
    nearest = chips.swatches[int(np.where(calm, apart, np.inf).argmin())] if calm.any() else None
    finishes = listed(sorted({swatch.name for swatch in kept}), NAMED, "kept finishes")
    met_in, on = (
        listed([study.house.rooms[r].name for r in each], NAMED, "rooms") for each in (met, there)
    )
    so = f"; it is in {on} all the same" if there else ", so it is not there"
    return (
        f"{around.name} fights with {finishes} in {met_in}{so}."
        f" Nearest that does not: {nearest.name if nearest else 'none'}."
    )


def leads(rooms: _Rooms) -> tuple[str, ...]:
    """The rooms whose colours are to differ: by role in turn, the largest first; one backbone."""
    ordered = sorted(rooms.rows, key=rooms.area, reverse=True)
    linking, *queues = (rooms.of_role(role, ordered) for role in ROLE_ORDER)
    in_turn = (room for turn in zip_longest(*queues) for room in turn if room)
    return tuple(rooms.one_a_space([*linking[:1], *in_turn])[: rooms.asked])


def by_size(rooms: _Rooms) -> list[tuple[str, str]]:
    """Rooms that the backbone does not run through in pairs, the largest two first."""
    linked = {rooms.space[room] for room in rooms.of_role("backbone", rooms.rows)}
    others = [room for room in rooms.rows if rooms.space[room] not in linked]
    others.sort(key=rooms.area, reverse=True)
    return list(pairwise(rooms.one_a_space(others)))[::2]


def broken_rules(
    rules: Iterable[Rule], problem: Problem, chosen: Mapping[str, str], rooms: Collection[str]
) -> str:
    """The rules that a choice does not keep in some of the rooms, in words, and how often each.

    Off the best part of a tier is still within it.
    """
    found = []
    for rule in rules:
        costs = rule.costs_in(problem.candidates, chosen)
        count = sum(
            cost > (shape.OFF_BEST if len(of) == 1 else 0.0) and any(room in rooms for room in of)
            for of, cost in costs
        )
        if rule.name not in NAMED_EACH and count:
            found.append(f"{TITLES[rule.name]} ({count})")
    return "; ".join(found)


def rules_shown(brief: Brief, plan: Plan) -> tuple[str, ...]:
    """Every rule that a suggestion is judged by beside the findings, a sentence each."""
    return tuple(_sentences(brief, plan))


def _sentences(brief: Brief, plan: Plan) -> Iterator[str]:
    walls, accents = wishes_of(brief), wishes_of(brief, accent=True)
    yield f"Walls are at most {walls.strength} in colour, accents at most {accents.strength}."
    for hues, words in ((walls.like, "Liked hues come first"), (walls.avoid, "Hues to avoid")):
        if hues:
            yield f"{words}: {', '.join(sorted(hues))}."
    if walls.lrv:
        yield f"Walls keep to LRV {walls.lrv[0]:g} to {walls.lrv[1]:g}."
    if brief.rooms:
        yield f"{len(brief.rooms)} of the rooms have wishes of their own."
    yield (
        f"Connecting rooms are near-neutral, of LRV {_span('backbone')};"
        f" rooms that close have {_span('room')}, accents {_span('accent')}."
    )
    if plan.around is not None:
        yield f"Colours follow {plan.around.name}, with {KIND_WORDS[plan.kind]}."
        yield f"{plan.around.name} itself is on the largest room that it suits."
        yield "Warnings count more than how near a colour comes to that."
    if plan.revised:
        yield "Painted rooms keep their hue family."
    if plan.before:
        yield "Rooms differ in colour from the suggestions before, the backbone apart."
    yield "Rooms in view of each other are alike in strength of colour, accents apart."
    yield f"Two paints in view of each other differ by {shape.DISTINCT:g} CAM16-UCS units or more."
    asked = plan.colours or brief.colours or USUAL_COLOURS
    yield f"Up to {asked} wall colours, those of kept rooms counted, or as many as those are."
    yield "So many wall colours differ clearly, if there are the rooms and paints for it."
    yield "Halls, stairs and landings that join without a door are one colour."
    if asked >= FEWEST_SHARED:
        yield "Of two rooms of like size one differs, so that no colour is on most of the walls."
    yield "Each room is judged in the light that its neighbours send it in their paints of now."
    if brief.white_trim:
        yield (
            f"Trim has LRV {shape.TIERS['trim'].fine[0]:g} or more, chroma {shape.TRIM_CHROMA} at"
            f" most, and is {shape.TRIM_STEP:g} LRV points lighter than the walls."
        )


def _span(part: shape.Part) -> str:
    low, high = shape.TIERS[part].fine
    return f"{low:g} to {high:g}"


def broken_wishes(
    study: Study, rooms: Collection[str] | None = None, painted: Collection[str] | None = None
) -> tuple[str, ...]:
    """Each wish of the brief that the house as it is does not keep, in words, of some rooms or all.

    The number of colours comes first. `painted` are the rooms that a suggestion is for, if it
    leaves others as they are.
    """
    house, found = study.house, [*off_in_number(study, painted)]
    for key, swatch in _walls_indoors(study).items():
        if rooms is None or key in rooms:
            accent, colours = house.rooms[key].role == "accent", colours_of([swatch])
            wishes = wishes_of(house.brief, key, accent=accent)
            asked = stated_wishes(house.brief, key, accent=accent)._replace(like=wishes.like)
            text = broken_text(colours, 0, asked) or broken_text(colours, 0, wishes, "usual:")
            if text:
                found.append(f"{house.rooms[key].name}: {text}")
    if house.brief.white_trim:
        found += _no_white_trim(study, rooms)
    return tuple(found)


def _walls_indoors(study: Study) -> Mapping[str, Swatch]:
    rooms = study.house.rooms.items()
    walls = {key: room.paints.walls for key, room in rooms if room.use != "outdoor"}
    return {key: study.paint(paint) for key, paint in walls.items() if paint is not None}


def off_in_number(study: Study, painted: Collection[str] | None = None) -> Iterator[str]:
    """That there are more wall colours than asked for, or fewer that differ clearly, and why.

    `painted` as in `broken_wishes`.
    """
    walls = _walls_indoors(study)
    asked, used = study.house.brief.colours, {swatch.id for swatch in walls.values()}
    if asked is None:
        return
    kept = {} if painted is None else {k: s.id for k, s in walls.items() if k not in painted}
    differ, few = distinct_colours([*walls.values()]), len({*spaces(study.house).values()}) < asked
    short = differ < asked <= len(walls)
    why = ": rooms in open plan are one colour" if short and few else ""
    if short or len(used) > asked:
        colours = counted(len(used), "wall colour")
        clear = f", {differ} of them clearly different" if differ < min(asked, len(used)) else ""
        rooms = "a room" if len(kept) == 1 else f"{len(kept)} rooms"
        because = f", {len({*kept.values()})} of them in {rooms} left as painted" if kept else ""
        wished = "at most" if len(used) > asked else "up to"
        yield f"{colours}{clear}{because}; {wished} {asked} wished{why}"


def _no_white_trim(study: Study, rooms: Collection[str] | None) -> Iterator[str]:
    """What is wrong with each trim that is no near-white, in words."""
    trims = {
        room.paints.trim
        for key, room in study.house.rooms.items()
        if room.paints.trim and (rooms is None or key in rooms)
    }
    for swatch in map(study.paint, sorted(trims)):
        for words in shape.off_shape("trim", swatch.lrv, swatch.colour.notation.chroma):
            yield f"{swatch.name} as trim: {words}"


def rule_parts(study: Study) -> Mapping[str, float]:
    """What each rule costs in the house as it is, by its name."""
    walls = {key: swatch.id for key, swatch in _walls_indoors(study).items()}
    candidates = {key: (paint,) for key, paint in walls.items()}
    rules = rules_of(study, candidates, Plan()) if walls else ()
    return {rule.name: sum(cost for _, cost in rule.costs_in(candidates, walls)) for rule in rules}
