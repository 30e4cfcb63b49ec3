"""Problems to try the optimiser on.

The houses are those of the measurements that the optimiser was chosen by: halls in a short tree,
three to five rooms round each that see their neighbours and, through the hall, further ones; paints
of six hue families; a paint costs a room its difference from the room's target, and two rooms
their paints' difference where it is too small or too large, and undertones that clash. With roles
the targets are a few paints, else any: that is harder than any house.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.problem import Pair, Problem
from housemap.colorimetry.cielab_difference import ciede2000

Array = NDArray[np.float64]
Random = np.random.Generator
Edge = tuple[int, int]


def house(
    rooms: int,
    paints: int,
    seed: int = 0,
    *,
    limit: int | None = None,
    roles: int = 0,
    paint_cost: float = 0.0,
) -> Problem:
    """A house of tree width 3 or so, its costs whole numbers."""
    random = np.random.default_rng(seed)
    lab = _palette(random, paints)
    apart = ciede2000(lab[:, None], lab[None, :])
    targets = random.integers(0, paints, rooms)
    if roles:
        targets = random.choice(paints, roles, replace=False)[random.integers(0, roles, rooms)]
    together = np.round(100 * _together(lab, apart))
    own = np.round(25 * apart[targets])
    return problem_of(own, [(edge, together) for edge in _edges(random, rooms)], limit, paint_cost)


def open_plan(
    rooms: int,
    paints: int,
    seed: int = 0,
    *,
    limit: int | None = None,
    density: float = 1.0,
    paint_cost: float = 0.0,
) -> Problem:
    """Rooms of which any two may see each other, its costs whole numbers."""
    random = np.random.default_rng(seed)
    own = random.integers(0, 30, (rooms, paints)).astype(np.float64)
    seen = [edge for edge in combinations(range(rooms), 2) if random.random() < density]
    tables = [random.integers(0, 30, (paints, paints)).astype(np.float64) for _ in seen]
    return problem_of(own, list(zip(seen, tables, strict=True)), limit, paint_cost)


def mixed(seed: int, most_rooms: int = 6, most_paints: int = 5) -> Problem:
    """Anything legal: rooms with different candidates, negative costs, absurd limits."""
    random = np.random.default_rng(seed)
    names = [f"p{number}" for number in range(int(random.integers(1, most_paints + 1)))]
    rooms = tuple(f"r{number}" for number in range(int(random.integers(1, most_rooms + 1))))
    candidates = {room: _some(random, names) for room in rooms}
    density = random.choice([0.3, 0.6, 1.0])
    pairs = [
        Pair(both, _costs(random, (len(candidates[both[0]]), len(candidates[both[1]]))))
        for both in combinations(rooms, 2)
        if random.random() < density
    ]
    return Problem(
        rooms,
        candidates,
        {room: _costs(random, (len(candidates[room]),)) for room in rooms},
        tuple(pairs),
        float(random.choice([0.0, 0.0, 1.0, 3.5])),
        [None, 1, 2, 3, 4][int(random.integers(5))],
    )


def differing(seed: int) -> Problem:
    """The same where any two rooms that see each other are to differ, and paints cost."""
    problem = replace(mixed(seed), paint_cost=2.0)
    pairs = [replace(pair, cost=_apart(problem, pair)) for pair in problem.pairs]
    return replace(problem, pairs=tuple(pairs))


def _apart(problem: Problem, pair: Pair) -> Array:
    one, other = (np.array(problem.candidates[room]) for room in pair.rooms)
    return np.where(one[:, None] == other, np.abs(pair.cost) + problem.paint_cost, pair.cost)


def problem_of(
    own: Array,
    pairs: Sequence[tuple[Edge, Array]],
    limit: int | None = None,
    paint_cost: float = 0.0,
) -> Problem:
    """Rooms r0, r1 ... of which each may have any of the paints p0, p1 ..."""
    rooms = tuple(f"r{number}" for number in range(own.shape[0]))
    paints = tuple(f"p{number}" for number in range(own.shape[1]))
    return Problem(
        rooms,
        dict.fromkeys(rooms, paints),
        dict(zip(rooms, own, strict=True)),
        tuple(Pair((rooms[one], rooms[other]), cost) for (one, other), cost in pairs),
        paint_cost,
        limit,
    )


def _some(random: Random, names: Sequence[str]) -> tuple[str, ...]:
    if random.random() < 0.5:
        return tuple(names)
    mixed_up = random.permutation(np.array(names))[: random.integers(1, len(names) + 1)]
    return tuple(str(name) for name in mixed_up)


def _costs(random: Random, shape: tuple[int, ...]) -> Array:
    if random.random() < 0.5:
        return random.integers(-3, 8, shape).astype(np.float64)
    return np.asarray(random.normal(3.0, 4.0, shape))


def _palette(random: Random, paints: int) -> Array:
    """Lab of paints in six hue families, light to dark."""
    hue = np.radians(60.0 * random.integers(0, 6, paints) + random.normal(0, 12, paints))
    chroma = np.abs(random.normal(9, 6, paints))
    light = random.uniform(25, 96, paints)
    return np.stack([light, chroma * np.cos(hue), chroma * np.sin(hue)], axis=-1)


def _together(lab: Array, apart: Array) -> Array:
    """What two paints in one view cost."""
    hue = np.degrees(np.arctan2(lab[:, 2], lab[:, 1]))
    chroma = np.hypot(lab[:, 1], lab[:, 2])
    turned = np.abs((hue[:, None] - hue + 180) % 360 - 180)
    clash = (turned > 90) & (np.minimum(chroma[:, None], chroma) > 4)
    near = np.where(apart < 8, 2 + 10 * (1 - apart / 8), 0.0)
    far = np.where(apart > 30, 0.3 * (apart - 30), 0.0)
    cost: Array = near + far + 3.0 * clash
    np.fill_diagonal(cost, 2.0)
    return cost


def _edges(random: Random, rooms: int) -> list[Edge]:
    """Who sees whom: each hall its rooms and the hall before it, rooms their neighbours."""
    edges: set[Edge] = set()
    halls: list[int] = []
    hall = 0
    while hall < rooms:
        around = range(hall + 1, min(rooms, hall + 1 + int(random.integers(3, 6))))
        edges |= {(hall, room) for room in around}
        edges |= {pair for pair in _ring(around) if random.random() < 0.8}
        if halls:
            before = halls[int(random.integers(max(0, len(halls) - 3), len(halls)))]
            edges.add((before, hall))
            edges |= {(before, room) for room in around[:1] if random.random() < 0.7}
            edges |= {(hall - 1, room) for room in around[-1:] if random.random() < 0.4}
        halls.append(hall)
        hall = around.stop
    return sorted(edges)


def _ring(rooms: range) -> list[Edge]:
    pairs = zip(rooms, [*rooms[1:], *rooms[:1]], strict=True)
    return sorted({(min(pair), max(pair)) for pair in pairs if pair[0] != pair[1]})
