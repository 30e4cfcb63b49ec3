"""What shines straight from a window or a lamp through openings, by lines between the two."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple, cast

import numpy as np

from housemap.colorimetry.arrays import Floats, Truths
from housemap.light import rays, tracing
from housemap.light.view_factors import Ints

WINDOW_LINES, LAMP_LINES = 4096, 1536
"""From each window or lamp to each opening that it reaches, where the light of the room beyond is
mostly by that; beyond a second opening half as many."""
WEIGHED_BY, FEWEST_LINES = 48, 128
"""A way is weighed by so many, and followed by at least so many."""
STRETCH, STRETCHES = 61, 32
"""Of the sequence of lines each way has its own, or what few lines are wrong by would add up."""
FULL_SHARE = 0.15
"""Of the light of the room beyond, from which on a way is followed by all its lines."""
STRAIGHT_ROOMS = 3
"""Openings in a row that a source shines through straight."""
LINES_AT_ONCE = 32768
"""So many that they remain in the processor's cache."""

Points = Callable[[Floats], Floats]
"""From (n, 2) in 0..1 to the places that light leaves from, (n, 3)."""
Candela = Callable[[Floats], Floats]
"""From directions, (n, 3), to lumens a steradian of the whole source, for a lux or a lumen."""


class Emitter(NamedTuple):
    points: Points
    candela: Candela
    power: float
    """Of a window the lux outside that pass it, of a lamp its lumens."""
    lumens: float
    """That come into its own room."""
    by_day: bool

    @property
    def lines(self) -> int:
        """To an opening of its own room."""
        return WINDOW_LINES if self.by_day else LAMP_LINES


class Shine(NamedTuple):
    """Where the light of each emitter falls beyond the openings of its room: lumens, row by row."""

    emitter: Ints
    place: Ints
    """A patch or a cell of a working plane, numbered through all rooms."""
    lumens: Floats
    straight: Truths
    """Whether no lining reflected it."""


class _Way(NamedTuple):
    """A chain of gates that an emitter shines through."""

    emitter: int
    chain: tuple[int, ...]
    turn: Floats
    """(3, 3) and `shift` (3,): from the last gate's room to the emitter's."""
    shift: Floats
    lines: int = WEIGHED_BY
    """That it is followed by; at first few, that say how much light it carries at most."""


def shine(cluster: tracing.Cluster, emitters: Sequence[tuple[int, Emitter]]) -> tuple[Shine, Shine]:
    """First light beyond openings, of emitters in rooms: on patches, and on working planes."""
    gates = tracing.gates_of(cluster)
    none = np.zeros(0, np.intp)
    on_patches, on_planes = ([Shine(none, none, np.zeros(0), none > 0)] for _ in range(2))
    ways = [
        _Way(number, (int(gate),), np.eye(3), np.zeros(3))
        for number, (room, _) in enumerate(emitters)
        for gate in np.flatnonzero(gates.room == room)
    ]
    light: defaultdict[Lit, float] = defaultdict(float)
    for room, emitter in emitters:
        light[room, emitter.by_day] += emitter.lumens
    for _ in range(STRAIGHT_ROOMS):
        ways = _weighed(gates, emitters, ways, light)
        further: list[_Way] = []
        for some in _by_lines(ways):
            patches, planes, more = _shone(gates, emitters, some)
            on_patches.append(patches)
            on_planes.append(planes)
            further += more
        ways = further
    return _joined(on_patches), _joined(on_planes)


Lit = tuple[int, bool]
"""A room, by day or in the evening."""


def _weighed(
    gates: tracing.Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way],
    light: defaultdict[Lit, float],
) -> list[_Way]:  # fmt: skip
    """Ways with fewer lines the less of the light in the room that they lead to is theirs.

    `light` are lumens; what the ways carry is added.
    """
    parts: list[tuple[Lit, float]] = []
    for each in ways:
        source = emitters[each.emitter][1]
        room = int(gates.room[each.chain[-1] ^ 1]), source.by_day
        parts.append((room, source.power * float(_toward(gates, emitters, each)[3].sum())))
        light[room] += parts[-1][1]
    made = []
    for each, (room, lumens) in zip(ways, parts, strict=True):
        most = emitters[each.emitter][1].lines >> (len(each.chain) - 1)
        share = lumens / max(light[room], tracing.TINY) / FULL_SHARE
        least = FEWEST_LINES << (len(each.chain) - 1)
        made.append(each._replace(lines=min(max(int(most * share), least), most)))
    return made


def _by_lines(ways: Sequence[_Way]) -> Iterator[Sequence[_Way]]:
    """Ways in order, with about LINES_AT_ONCE lines together."""
    batch = np.cumsum([each.lines for each in ways]) // LINES_AT_ONCE
    bounds = np.flatnonzero(np.diff(batch, prepend=-1, append=-1)).tolist()
    for start, end in pairwise(bounds):
        yield ways[start:end]


def _shone(
    gates: tracing.Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way]
) -> tuple[Shine, Shine, list[_Way]]:
    """What arrives by some ways on patches and on planes, and the ways that lead on from there."""
    lines, lumens, way = _aimed(gates, emitters, ways)
    alive = _along(gates, lines, (ways, way), np.flatnonzero(lumens > 0.0))
    emitter = np.array([each.emitter for each in ways])[way]
    crossed = tracing.follow(gates, lines, alive, hold=True)
    there = alive[lines.patch[alive] >= 0]
    value = lumens[there] * lines.kept[there]
    on_patches = Shine(emitter[there], lines.patch[there], value, ~lines.bounced[there])
    value = lumens[crossed.line] * crossed.kept
    straight = ~lines.bounced[crossed.line]
    on_planes = Shine(emitter[crossed.line], crossed.cell, value, straight)
    held = alive[(lines.patch[alive] < 0) & ~lines.bounced[alive] & (lines.gate[alive] >= 0)]
    return on_patches, on_planes, _further(gates, ways, way[held], lines.gate[held])


def _joined(parts: Sequence[Shine]) -> Shine:
    emitter, place, lumens, straight = map(np.concatenate, zip(*parts, strict=True))
    return Shine(emitter, place, cast("Floats", lumens), cast("Truths", straight))


def _aimed(
    gates: tracing.Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way]
) -> tuple[tracing.Lines, Floats, Ints]:
    """Lines from each emitter to the last gate of its way; their lumens, and the way of each."""
    room, start, toward, lumens = zip(
        *(_toward(gates, emitters, each) for each in ways), strict=True
    )
    counts = [len(each) for each in lumens]
    along = map(np.concatenate, (start, toward))
    lines = tracing.lines_from(np.repeat(room, counts), *along)
    return lines, np.concatenate(lumens), np.repeat(np.arange(len(ways)), counts)


def _toward(
    gates: tracing.Gates, emitters: Sequence[tuple[int, Emitter]], way: _Way
) -> tuple[int, Floats, Floats, Floats]:
    (room, emitter), last = emitters[way.emitter], way.chain[-1]
    size, axes = gates.size_m[:2, last], gates.axes[:, :, last]
    own = STRETCH * ((way.emitter + last) % STRETCHES)
    uniform = rays.spread(own + way.lines, 4)[own:]
    start = emitter.points(uniform[:, 2:])
    corner = way.turn @ gates.origin_m[:, last] + way.shift
    away = corner + (uniform[:, :2] * size) @ (axes[:2] @ way.turn.T) - start
    far2 = np.einsum("ni,ni->n", away, away) + tracing.TINY
    toward = away / np.sqrt(far2)[:, None]
    facing = np.maximum(toward @ (way.turn @ axes[2]), 0.0)
    lumens = emitter.candela(toward) * facing / far2 * (size.prod() / way.lines)
    return room, start, toward, lumens


def _along(
    gates: tracing.Gates, lines: tracing.Lines, towards: tuple[Sequence[_Way], Ints], alive: Ints
) -> Ints:
    """The lines that come straight along their way, taken through its last gate."""
    ways, way = towards
    for step, gate in enumerate(np.array([each.chain for each in ways]).T):
        if step:
            alive = alive[~lines.bounced[alive]]
        lines.gate[alive] = gate[way[alive]]
        alive = _straight_through(gates, lines, alive)
    return alive


def _straight_through(gates: tracing.Gates, lines: tracing.Lines, alive: Ints) -> Ints:
    """Take lines through the gate of their room that they are to come to; those that do."""
    apart = np.isin(lines.room[alive], [room for room, _ in gates.prisms])
    winding, alive = alive[apart], alive[~apart]
    aim = lines.gate[winding]
    tracing.across(gates, lines, winding, [])
    winding = winding[lines.gate[winding] == aim]
    tracing.enter(gates, lines, winding)
    local, way = tracing.into_frame(gates, lines, alive)
    u, v = place = local[:2] - local[2] / np.maximum(way[2], tracing.TINY) * way[:2]
    width, height, _ = gates.size_m.take(lines.gate[alive], 1)
    hit = (way[2] > 0.0) & (u >= 0.0) & (v >= 0.0) & (u <= width) & (v <= height)
    hit = np.flatnonzero(hit)
    tracing.pass_through(gates, lines, alive[hit], (place.take(hit, 1), way.take(hit, 1)))
    return np.concatenate([winding, alive[hit]])


def _further(gates: tracing.Gates, ways: Sequence[_Way], way: Ints, gate: Ints) -> list[_Way]:
    made, count = [], len(gates.room)
    for both in np.flatnonzero(np.bincount(way * count + gate)).tolist():
        before, new = ways[both // count], both % count
        turn, shift = _beyond(gates, before.chain[-1])
        turn, shift = before.turn @ turn, before.turn @ shift + before.shift
        made.append(_Way(before.emitter, (*before.chain, new), turn, shift))
    return made


def _beyond(gates: tracing.Gates, gate: int) -> tuple[Floats, Floats]:
    """From the coordinates of the room beyond a gate to those of its own room."""
    near, far = gates.axes[:, :, gate], gates.axes[:, :, gate ^ 1] * [[1.0], [1.0], [-1.0]]
    turn = near.T @ far
    depth = gates.size_m[2, gate] * near[2]
    shift = gates.origin_m[:, gate] + depth - turn @ gates.origin_m[:, gate ^ 1]
    return turn, shift
