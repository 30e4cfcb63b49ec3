"""Two wall colours that meet: a jump too big, no place to change, or nearly the same."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import permutations

import numpy as np

from housemap.checks.check import Change, Check, Compare, Example, Limit
from housemap.checks.examples import two_rooms
from housemap.checks.finding import FAULT, NOTE, WARN, Finding, severity_costs
from housemap.checks.meetings import Between, Limits, Meetings, Verdict, verdict
from housemap.checks.options import PAINTED, Surfaces
from housemap.checks.words import both, both_rooms, figures, room_name, through, under
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.light.explanation import DIFFERENCE_BAND
from housemap.model.edits import put, put_part
from housemap.model.geometry import LEAST_END_M, wall_ends_m
from housemap.model.house import House, Lamp
from housemap.model.lengths import format_length
from housemap.plan.house_graph import graph_of
from housemap.study import Study

WALLS = Surfaces(("walls",), ("walls",))
PAINTS = Surfaces(PAINTED, PAINTED)
ACCENTS = Surfaces(("accent",), (*PAINTED, "accent"))
"""Within a room: from another an accent wall is seen, or is not."""

_MATCH_BAND = 0.5
"""CIEDE2000 units that a small difference seen under a room's light may be off (our assumption):
two colours that are nearly the same share most of what is not known of either."""

_JUMP_SOURCE = "our assumption: the more of a step is in view at once, the smaller it must be"
_JUMPS = {
    "open": 20.0, "cased": 30.0, "glazed": 40.0, "doorway": 40.0, "stairs": 40.0, "sightline": 50.0
}  # fmt: skip
_MATCH_SOURCE = (
    "CIEDE2000 holds for 0 to 5 units (ASTM D2244); where in it a match fails: our assumption"
)
_PARTS = {
    "lightness": "mostly light to dark",
    "chroma": "mostly strong to weak colour",
    "hue": "mostly the hue",
}


def relamps(finding: Finding, study: Study) -> Iterator[Change]:
    """Each room's lamps as in the other, where two rooms differ by lamplight.

    Of a finding that one room's lamps make, only those: as in a room with the usual ones.
    """
    house = study.house
    both = [*permutations(finding.rooms, 2)] if finding.light == "evening" else []
    if finding.lamps_of:
        usual = usual_lamps(house)
        both = [
            (finding.lamps_of, next(key for key in house.rooms if lamps_in(house, key) == usual))
        ]
    for room, other in both:
        model = next(iter(house.rooms[other].lamps.values()), None)
        if model is not None and house.rooms[room].lamps:
            here, there = room_name(house, room), room_name(house, other)
            label = f"Lamps of {model.light_name} in {here}, as in {there}"
            relamp = partial(_relamp, room, model)
            yield Change(label, relamp, 0.0, first=bool(finding.lamps_of))


def lamps_in(house: House, room: str) -> tuple[str, ...]:
    """What light the lamps of a room give, each once; nothing where it has none."""
    return tuple(sorted({lamp.light_name for lamp in house.rooms[room].lamps.values()}))


def usual_lamps(house: House) -> tuple[str, ...]:
    """What most rooms with lamps have; of several alike the warmest, as homes are lit (ours)."""
    found = Counter(lamps for key in house.rooms if (lamps := lamps_in(house, key)))
    return min(found, key=lambda lamps: (-found[lamps], lamps), default=())


def _relamp(room: str, model: Lamp, house: House) -> House:
    for key, lamp in house.rooms[room].lamps.items():
        alike = replace(lamp, kelvin=model.kelvin, spectrum=model.spectrum, power=model.power)
        house = put_part(house, room, "lamps", key, alike)
    return house


def jump(met: Meetings, limits: Limits) -> Verdict:
    seen = met.seen(met.differ)
    apart, lightness, chroma, hue = seen.ucs_parts
    limit = seen.of_place(lambda rooms: limits[rooms.kind])
    kinds = tuple(rooms.kind for rooms in met.between)
    severity = np.where(seen.of_place(_is_wished) > 0.0, NOTE, severity_of(seen.of_place(is_open)))
    return verdict(
        seen, apart > limit, apart, limit, severity,
        band=np.where(seen.lit, DIFFERENCE_BAND, 0.0), kind=(kinds, seen.place),
        parts={"lightness": lightness, "chroma": chroma, "hue": hue}, lights=seen.light,
    )  # fmt: skip


def is_open(rooms: Between) -> float:
    """1 in open plan, where everything is seen at once."""
    return float(rooms.kind == "open")


def _is_wished(rooms: Between) -> float:
    """1 but in open plan where the client named a hue for one of the two rooms."""
    named = any(each.wishes[0].like_here for each in (rooms.first, rooms.second))
    return float(named and not is_open(rooms))


def severity_of(is_open: Floats) -> Indices:
    """A fault in open plan, else a warning."""
    return np.where(is_open > 0.0, FAULT, WARN)


def tell_jump(finding: Finding, house: House) -> str:
    mostly = _PARTS[max(finding.parts, key=lambda part: abs(finding.parts[part]))]
    one, other = both_rooms(house, finding)
    wished = "; the client named the hue" if finding.severity == "note" else ""
    return (
        f"{one} to {other}: too big a jump {through(finding)}{under(finding)}, {mostly}{wished}."
        f" {figures(finding, '(difference {}; limit {})')}"
    )


JAR = Check(
    id="jar",
    title="Too big a jump",
    help=(
        "Two wall colours in one view lie too far apart: going from one room to the other is a"
        " jolt. The more of both is seen at once, the smaller the step has to be. Method: distance"
        " in CAM16-UCS (Color Research and Application, 2017), which holds for large differences"
        " where CIEDE2000 does not (ASTM D2244). To a room for which the client named a hue it is"
        " only noted, but in open plan."
    ),
    limits=tuple(Limit(kind, most, "CAM16-UCS", _JUMP_SOURCE) for kind, most in _JUMPS.items()),
    clean=Example(
        "An oat hall opens in open plan into a slightly deeper study.",
        two_rooms("5Y 8/1", "5Y 7/1.5", "open"),
    ),
    caught=Example(
        "The same hall opens in open plan into a deep blue study.",
        two_rooms("5Y 8/1", "5PB 3/6", "open"),
    ),
    looks=(Compare(WALLS, "between", jump, lit=True),),
    sentence=tell_jump,
    headline="{0} and {1} are too big a jump",
    changes=relamps,
    gravest="fault",
)


def no_place_to_change(met: Meetings, limits: Limits) -> Verdict:
    del limits

    def joined(rooms: Between) -> float:
        openings = rooms.pair.openings.values() if rooms.pair else ()
        return float(any(each.kind == "open" and not each.stop for each in openings))

    paints = met.plain(met.differ & (met.of_place(joined) > 0.0))
    nothing = np.zeros(len(paints.cell))
    return verdict(paints, nothing == 0.0, nothing, 0.0, FAULT, kind="open")


def tell_stop(finding: Finding, house: House) -> str:
    if not (ends := _wall_ends(finding, house)):
        return f"{both(house, finding)} meet in open plan without a corner or trim between them."
    return (
        f"{both(house, finding)} meet in open plan, and no corner between them is recorded."
        f" The opening leaves {ends}: if paint can change at that corner, record it."
    )


def _wall_ends(finding: Finding, house: House) -> str:
    """As in "0.7 m of wall on each side", of the opening that leaves least; else empty."""
    found = [
        wall_ends_m(house, opening)
        for opening in graph_of(house).openings_between(*finding.rooms).values()
        if opening.kind == "open" and not opening.stop
    ]
    least = min(found, key=min, default=(0.0, 0.0))
    if min(least) < LEAST_END_M:
        return ""
    one, other = (format_length(end, house.units) for end in least)
    return f"{one} of wall on each side" if one == other else f"{one} and {other} of wall beside it"


def stop_changes(finding: Finding, study: Study) -> Iterator[Change]:
    """A corner recorded where the rooms meet; before all else where there is wall beside it."""
    rooms = " and ".join(room_name(study.house, room) for room in finding.rooms)

    def add_stop(house: House) -> House:
        for key, opening in graph_of(house).openings_between(*finding.rooms).items():
            if opening.kind == "open":
                house = put(house, "openings", key, replace(opening, stop=True))
        return house

    first = bool(_wall_ends(finding, study.house))
    label = f"Record that there is a corner or trim between {rooms}"
    yield Change(label, add_stop, 0.0, first=first)


STOP = Check(
    id="stop",
    title="No place to change colour",
    help=(
        "Two wall paints meet in open plan. There is no corner, trim or other line where one can"
        " end and the next begin. Use one paint through, or make a line: a bead, a pilaster, a"
        " change of plane (common practice)."
    ),
    limits=(),
    clean=Example(
        "Two wall paints with a cased opening between them.", two_rooms("5Y 8/1", "5Y 7/1", "cased")
    ),
    caught=Example("The same two paints in open plan.", two_rooms("5Y 8/1", "5Y 7/1", "open")),
    looks=(Compare(WALLS, "between", no_place_to_change),),
    sentence=tell_stop,
    headline="{0} and {1} meet without a place to change colour",
    changes=stop_changes,
    gravest="fault",
)


def near_miss(met: Meetings, limits: Limits) -> Verdict:
    least, most = limits["least"], limits["most"]
    seen = met.seen(met.differ)
    apart = seen.de00(most)
    same: Truths = apart < least
    return verdict(
        seen, apart <= most, apart, np.where(same, least, most), np.where(same, NOTE, WARN),
        cost=lambda rows: np.where(
            same[rows], severity_costs(NOTE), 4.0 - 2.0 * apart[rows] / (most or 1.0)
        ),
        band=np.where(seen.lit & ~same, _MATCH_BAND, 0.0),
        kind=(("most", "least"), same.astype(np.intp)), lights=seen.light,
    )  # fmt: skip


def tell_near_miss(finding: Finding, house: House) -> str:
    light = under(finding)
    end = f"nearly match{light}, which looks like a mistake. (difference {{}}; clear from {{}})"
    if finding.kind == "least":
        end = f"look the same{light}: one paint would do. (difference {{}}; same up to {{}})"
    return f"{both(house, finding)} {figures(finding, end)}"


NEAR_MISS = Check(
    id="near-miss",
    title="Nearly the same, not quite",
    help=(
        "Two different paints in one view nearly match: walls of rooms that see each other, an"
        " accent wall and walls beside it, wall and trim, trim and trim. Use one paint, or step"
        " clearly apart. The less they differ, the more it counts, from 2 up to 4."
        " Method: CIEDE2000 (ISO/CIE 11664-6)."
    ),
    limits=(
        Limit("least", 1.0, "CIEDE2000", _MATCH_SOURCE),
        Limit("most", 4.0, "CIEDE2000", _MATCH_SOURCE),
    ),
    clean=Example(
        "Hall and study differ by a clear step.", two_rooms("5Y 8.5/1", "5Y 7/1.5", trim="N 9.4/")
    ),
    caught=Example(
        "Hall and study are a hair apart.", two_rooms("5Y 8.5/1", "5Y 8.3/1.1", trim="N 9.4/")
    ),
    looks=(
        Compare(PAINTS, "anywhere", near_miss, lit=True),
        Compare(ACCENTS, "within", near_miss, lit=True),
    ),
    sentence=tell_near_miss,
    headline="{0} and {1} nearly match",
    changes=relamps,
)
