"""What a choice of wall paints costs as the help says, added up finding by finding, rule by rule.

It shares no code with the problem that the optimiser is given: findings are those of the report of
the house so painted, and the figures of the rules are written down here once more.
"""

from collections.abc import Iterator, Mapping
from itertools import combinations

import numpy as np

from housemap.checks import Report
from housemap.choose.house_problem import filled
from housemap.colorimetry.undertone import names, strengths
from housemap.model.house import House, Opening
from housemap.study import Swatch

STEPS = ("neutral", "greyish", "moderate", "strong", "vivid")
TIERS = {"backbone": (55, 75, 60, 70), "room": (40, 55, 40, 55), "accent": (5, 45, 8, 40),
         None: (40, 75, 40, 75)}  # fmt: skip
"""LRV that is fine from and to, and best from and to."""
USUAL_COLOURS = 5
LEANS = {"greenish": "green", "bluish": "blue", "purplish": "purple"}


def documented_cost(before: Report, assignment: Mapping[str, str], asked: int | None) -> float:
    """Findings in rooms and pairs, the rules, and 1 for each distinct paint."""
    after = before.after(filled(before.house, assignment))
    rooms = (f for (table, _), f in after.counted if table in {"rooms", "pairs"})
    found = sum(f.cost + 60.0 * (f.severity == "fault") for f in rooms
                if f.check != "brief")  # which the rules below cost  # fmt: skip
    return found + sum(rule_costs(after, assignment, asked)) + len(set(assignment.values()))


def rule_costs(after: Report, assignment: Mapping[str, str], asked: int | None) -> Iterator[float]:
    house, study = after.house, after.study
    paints = {room: study.paint(paint) for room, paint in assignment.items()}
    for room, swatch in paints.items():
        yield from own_costs(house, room, swatch)
    for one, other in study.pairs:
        if one in paints and other in paints:
            free = any(house.rooms[room].role == "accent"
                       or (room in house.brief.rooms and house.brief.rooms[room].strength)
                       for room in (one, other))  # fmt: skip
            yield from pair_costs(paints[one], paints[other], free=free)
    for way in house.openings.values():
        if {*way.between} <= paints.keys() and is_passage(house, way):
            yield 12.0 * (len({assignment[room] for room in way.between}) > 1)
    colours = min(asked or house.brief.colours or USUAL_COLOURS, len(house.paints), len(paints))
    areas = {room: area(after, room) for room in paints}
    for one, other in combinations(lead_rooms(house, areas, colours), 2):
        yield 4.0 if apart(paints[one], paints[other]) < 8 else 0.0
    if colours >= 3:
        yield from (4.0 * (assignment[one] == assignment[other])
                    for one, other in paired_by_size(house, areas))  # fmt: skip


def own_costs(house: House, room: str, swatch: Swatch) -> Iterator[float]:
    role, brief = house.rooms[room].role, house.brief
    own = brief.rooms.get(room)
    counts = 2.0 if own else 1.0
    if role == "accent":
        walls = (own and own.strength) or brief.strength or "moderate"
        usual = max("moderate", walls, key=STEPS.index)
        allowed = (own and own.accent_strength) or brief.accent_strength or usual
    else:
        allowed = (own and own.strength) or brief.strength or "greyish"
    yield counts * 4.0 * max(step(swatch) - STEPS.index(allowed), 0)
    limits = (own and own.lrv) or brief.lrv
    if limits and role != "accent":
        yield counts * outside(swatch.lrv, *limits)
    if not (own and own.lrv):
        low, high, best_low, best_high = TIERS[role]
        off = outside(swatch.lrv, low, high)
        yield off or 0.5 * (not best_low <= swatch.lrv <= best_high)
        yield 4.0 * (role == "backbone" and not swatch.colour.near_neutral)
    words = swatch.colour.undertone.name.split()
    achromatic = words[-1] in {"white", "gray", "black"}
    coloured = achromatic or swatch.colour.notation.chroma >= 2.0 or swatch.lrv < 20
    yield counts * (4.0 if coloured else 1.0) * (words[-1] in brief.avoid)
    if words[-1] in {"white", "gray", "black"} and swatch.colour.undertone.family == "none":
        notation = swatch.colour.notation
        stronger = [[notation.hue100, notation.value, notation.chroma + 0.5]]
        words = names(np.array(stronger))[0].split() if notation.chroma >= 0.4 else words
    yield counts * (achromatic and LEANS.get(words[-2] if len(words) > 1 else "") in brief.avoid)


def pair_costs(first: Swatch, second: Swatch, *, free: bool) -> Iterator[float]:
    """`free` of the rule that strengths are alike: accents, and rooms asked to be so strong."""
    if not free:
        yield max(abs(step(first) - step(second)) - 1, 0)
    if first.id != second.id and apart(first, second) < 8:
        yield 4.0 * (2 - apart(first, second) / 8)


def outside(lrv: float, low: float, high: float) -> float:
    points = max(low - lrv, lrv - high)
    return 4.0 * (1 + min(points / 10, 2)) if points > 0 else 0.0


def step(swatch: Swatch) -> int:
    notation = swatch.colour.notation
    hvc = np.array([[notation.hue100, notation.value, notation.chroma]])
    return int(strengths(hvc, names(hvc))[0])


def apart(one: Swatch, other: Swatch) -> float:
    return float(np.linalg.norm(np.array(one.colour.ucs) - np.array(other.colour.ucs)))


def area(after: Report, room: str) -> float:
    areas = after.study.rooms[room].areas
    return areas.wall_net_m2 if areas else 0.0


def lead_rooms(house: House, areas: Mapping[str, float], count: int) -> list[str]:
    """One backbone, then the largest of rooms, of rooms without a role, and of accents in turn.

    Of rooms in open plan only the first.
    """
    of = {role: sorted((r for r in areas if house.rooms[r].role == role), key=lambda r: -areas[r])
          for role in TIERS}  # fmt: skip
    order = of["backbone"][:1]
    while any(of[role] for role in ("room", None, "accent")):
        order += [of[role].pop(0) for role in ("room", None, "accent") if of[role]]
    return [r for i, r in enumerate(order) if not open_plan(house, r) & {*order[:i]}][:count]


def paired_by_size(house: House, areas: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    linking = {room for room in areas if house.rooms[room].role == "backbone"}
    order = sorted(areas, key=lambda r: -areas[r])
    order = [r for r in order if not open_plan(house, r) & linking]
    rooms = [r for i, r in enumerate(order) if not open_plan(house, r) & {*order[:i]}]
    yield from zip(rooms[::2], rooms[1::2], strict=False)


def open_plan(house: House, room: str) -> set[str]:
    """The room, all that it is in open plan with and no place to stop, and joined passages."""
    found, before = {room}, set[str]()
    while found != before:
        before = {*found}
        for way in house.openings.values():
            joined = (way.kind == "open" and not way.stop) or is_passage(house, way)
            if joined and found & {*way.between}:
                found |= {*way.between}
    return found


def is_passage(house: House, way: Opening) -> bool:
    """Between two halls, stairs or landings, without a door."""
    uses = {house.rooms[room].use for room in way.between}
    return uses <= {"hall", "stair"} and way.kind != "doorway" and not way.stop
