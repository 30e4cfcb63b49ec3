"""The house as one graph: rooms joined by openings, declared sightlines and found sight.

Whoever asks which rooms open into, see, lead to or lie near each other asks this graph. It is the
only module with networkx, which is imported when an answer first needs it: neighbours and spanning
trees, all that the first picture asks for, are pure Python.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from math import inf, log2
from typing import TYPE_CHECKING, Literal, NamedTuple

from housemap.model.frozen import frozen
from housemap.model.grouping import grouped
from housemap.model.house import House, Opening, OpeningKind, Sightline, Use

if TYPE_CHECKING:  # slow to import, and not needed by the first picture
    import networkx as nx

EYE_M = 1.6
"""The height of the eye; an opening that ends below it is not seen through."""

SightKind = Literal["open", "cased", "doorway", "glazed", "stairs", "sightline"]
Pair = tuple[str, str]
"""Two room ids, sorted."""
Way = tuple[str, ...]
"""The openings from one room to another, in the order in which they are passed."""

_OPENNESS: Mapping[OpeningKind, int] = {
    "open": 0, "cased": 1, "glazed": 2, "stairs": 3, "doorway": 4
}  # fmt: skip
"""The most open first."""


class RoomNode(NamedTuple):
    """What the graph holds of a room: nothing that paint or a name changes."""

    level: int
    use: Use


class Exit(NamedTuple):
    """An opening as seen from one of its rooms."""

    opening: str
    to: str
    """The room behind it."""


class Sighting(NamedTuple):
    """Two rooms of which one sees the other."""

    rooms: Pair
    through: Way
    """The openings on the shortest way from the first room to the second; none where declared."""
    kind: SightKind
    """Of the most open opening between the two, or "sightline" where they share none."""
    share: float | None
    """Of the full circle, 0..1, from the room that sees more; None where not known."""


class Leg(NamedTuple):
    """The shortest walk between two rooms: the openings in order, and its length."""

    through: Way
    length_m: float


Legs = Mapping[str, Mapping[str, Leg]]
"""From each room to every room that openings join to it, itself included."""


class Connection(NamedTuple):
    """How a room lies in its part of the house (Hillier & Hanson 1984); shut doors count."""

    integration: float | None
    """1 / RRA, infinite for the root of a star; None where fewer than three rooms are joined."""
    control: float
    """The sum over neighbours of 1 / how many neighbours they have."""


@frozen()
class HouseGraph:
    """Rooms as nodes; openings, declared sightlines and found sight as edges; all in file order."""

    rooms: Mapping[str, RoomNode]
    openings: Mapping[str, Opening]
    sightlines: Mapping[str, Sightline]
    sightings: Mapping[Pair, Sighting] = field(default_factory=dict)
    """Who sees whom, by sorted pair; empty until they are found (`sightings.sightings`)."""

    def with_sightings(self, found: Mapping[Pair, Sighting]) -> "HouseGraph":
        return replace(self, sightings=found)

    # Openings

    def exits(self, room: str) -> tuple[Exit, ...]:
        """Every opening of a room, shut doors and stairs too, and the room behind it."""
        return self._exits.get(room, ())

    def openings_of(self, room: str) -> Mapping[str, Opening]:
        return {each.opening: self.openings[each.opening] for each in self.exits(room)}

    def openings_between(self, a: str, b: str) -> Mapping[str, Opening]:
        return {each.opening: self.openings[each.opening] for each in self.exits(a) if each.to == b}

    def opens_into(self, room: str) -> tuple[str, ...]:
        """The rooms behind the openings of a room, each once."""
        return tuple(dict.fromkeys(each.to for each in self.exits(room)))

    def other_room(self, opening: str, room: str) -> str:
        """The room on the other side of an opening of `room`."""
        a, b = self.openings[opening].between
        return b if room == a else a

    def rooms_along(self, start: str, way: Iterable[str]) -> tuple[str, ...]:
        """The rooms entered, one an opening, when `way` is walked from `start`."""
        found: list[str] = []
        for opening in way:
            start = self.other_room(opening, start)
            found.append(start)
        return tuple(found)

    def linked(self, room: str) -> Mapping[str, Opening | None]:
        """The rooms that an opening (the first one) or only a declared sightline (None) joins."""
        return self._linked[room]

    # Sight

    def sees(self, room: str) -> tuple[str, ...]:
        """The rooms that a room sees, in the order of their ids."""
        return self._sees.get(room, ())

    def sighting(self, a: str, b: str) -> Sighting | None:
        """What is known of the sight between two rooms; None where neither sees the other."""
        return self.sightings.get(sorted_pair(a, b))

    def looks_through(self, room: str) -> tuple[Exit, ...]:
        """The openings of a room that a line at eye height passes, and the rooms behind them."""
        exits, openings = self.exits(room), self.openings
        return tuple(each for each in exits if is_seen_through(openings[each.opening]))

    def seen_through(self) -> Mapping[Pair, Way]:
        """By sorted pair, the openings that one looks through, the most open first."""
        through = ((key, each) for key, each in self.openings.items() if is_seen_through(each))
        between = grouped((sorted_pair(*each.between), key) for key, each in through)
        return {
            pair: tuple(sorted(keys, key=lambda key: _OPENNESS[self.openings[key].kind]))
            for pair, keys in between.items()
        }

    def sight_chains(self, a: str, b: str, most: int) -> Iterator[Way]:
        """Every chain of up to `most` openings one looks through that enters no room twice."""
        import networkx as nx  # noqa: PLC0415 - see the top

        graph: nx.MultiGraph[str] = nx.MultiGraph()
        graph.add_nodes_from(self.rooms)
        for key, opening in self.openings.items():
            if is_seen_through(opening):
                graph.add_edge(*opening.between, key=key)
        for chain in nx.all_simple_edge_paths(graph, a, b, cutoff=most):
            yield tuple(edge[-1] for edge in chain)

    # On foot

    def spanning_tree(
        self, starts: Iterable[str], openings: Collection[str]
    ) -> Iterator[tuple[str, Exit]]:
        """Through some openings, nearest first: each further room with the exit to it."""
        queue = deque(starts)
        found = set(queue)
        while queue:
            here = queue.popleft()
            for each in self.exits(here):
                if each.to not in found and each.opening in openings:
                    found.add(each.to)
                    queue.append(each.to)
                    yield here, each

    def legs(self, lengths_m: Mapping[str, float]) -> Legs:
        """The shortest walks between all rooms (Dijkstra 1959); `lengths_m` of each opening."""
        import networkx as nx  # noqa: PLC0415 - see the top

        shortest: dict[Pair, tuple[float, str]] = {}
        for key, opening in self.openings.items():
            pair = sorted_pair(*opening.between)
            shortest[pair] = min(shortest.get(pair, (inf, "")), (lengths_m[key], key))
        graph: nx.Graph[str] = nx.Graph()
        graph.add_nodes_from(self.rooms)
        graph.add_weighted_edges_from((*pair, shortest[pair][0]) for pair in shortest)

        def legs_from(start: str) -> dict[str, Leg]:
            before, lengths = nx.dijkstra_predecessor_and_distance(graph, start)
            found = {start: Leg((), 0.0)}
            for end, length in lengths.items():  # the nearest first
                if end != start:
                    last = before[end][0]
                    opening = shortest[sorted_pair(last, end)][1]
                    found[end] = Leg((*found[last].through, opening), length)
            return found

        return {start: legs_from(start) for start in self.rooms}

    def components(self) -> tuple[tuple[str, ...], ...]:
        """The parts of the house that no opening joins, each in file order."""
        import networkx as nx  # noqa: PLC0415 - see the top

        # networkx yields the parts in the order of their first rooms.
        order = {room: i for i, room in enumerate(self.rooms)}
        parts = nx.connected_components(self._walkable)
        return tuple(tuple(sorted(part, key=order.__getitem__)) for part in parts)

    @cached_property
    def connections(self) -> Mapping[str, Connection]:
        """The measures of space syntax of every room, over the graph of openings.

        Formulas as used by Manum, Rusten & Benze (AGRAPH, 5th Space Syntax Symposium 2005).
        """
        import networkx as nx  # noqa: PLC0415 - see the top

        graph = self._walkable
        return {
            room: Connection(
                _integration(list(nx.single_source_shortest_path_length(graph, room).values())),
                sum(1 / graph.degree[other] for other in graph[room]),
            )
            for room in self.rooms
        }

    @cached_property
    def _walkable(self) -> "nx.Graph[str]":
        """Rooms joined where any opening leads from one to the other."""
        import networkx as nx  # noqa: PLC0415 - see the top

        graph: nx.Graph[str] = nx.Graph()
        graph.add_nodes_from(self.rooms)
        graph.add_edges_from(opening.between for opening in self.openings.values())
        return graph

    @cached_property
    def _exits(self) -> Mapping[str, tuple[Exit, ...]]:
        exits: dict[str, tuple[Exit, ...]] = dict.fromkeys(self.rooms, ())
        for key, opening in self.openings.items():
            a, b = opening.between
            exits[a] += (Exit(key, b),)
            exits[b] += (Exit(key, a),)
        return exits

    @cached_property
    def _linked(self) -> Mapping[str, Mapping[str, Opening | None]]:
        links: dict[str, dict[str, Opening | None]] = {room: {} for room in self.rooms}
        joined = [(each.between, each) for each in self.openings.values()]
        declared = ((each.between, None) for each in self.sightlines.values())
        for (a, b), opening in (*joined, *declared):
            links[a].setdefault(b, opening)
            links[b].setdefault(a, opening)
        return links

    @cached_property
    def _sees(self) -> Mapping[str, tuple[str, ...]]:
        seen: dict[str, list[str]] = {room: [] for room in self.rooms}
        for a, b in self.sightings:
            seen[a].append(b)
            seen[b].append(a)
        return {room: tuple(sorted(others)) for room, others in seen.items()}


def graph_of(house: House) -> HouseGraph:
    """The graph of a house, before it is known who sees whom."""
    rooms = {key: RoomNode(room.level, room.use) for key, room in house.rooms.items()}
    return HouseGraph(rooms, house.openings, house.sightlines)


def sorted_pair(a: str, b: str) -> Pair:
    return (a, b) if a < b else (b, a)


def is_seen_through(opening: Opening) -> bool:
    """Whether a line at eye height can pass: no shut door, no hatch below the eye."""
    low = opening.height_m is not None and opening.height_m <= EYE_M
    return opening.seen_through and not low


def diamond(k: int) -> float:
    """D, the RA of the root of a diamond of `k` rooms, `k` above 2.

    2 (k (log2((k + 2) / 3) - 1) + 1) / ((k - 1) (k - 2)): Hillier & Hanson 1984, pp. 111-112, in
    the closed form of Kruger 1989.
    """
    return 2 * (k * (log2((k + 2) / 3) - 1) + 1) / ((k - 1) * (k - 2))


def _integration(depths: Sequence[int]) -> float | None:
    """1 / RRA of a room with so many openings to each of the k rooms joined to it, itself too.

    Mean depth MD = sum / (k - 1); RA = 2 (MD - 1) / (k - 2), 0 at the root of a star and 1 at the
    end of a chain; RRA = RA / D, comparable between houses of different size.
    """
    k = len(depths)
    if k < 3:  # noqa: PLR2004 - from the formula
        return None
    asymmetry = 2 * (sum(depths) / (k - 1) - 1) / (k - 2) / diamond(k)
    return 1 / asymmetry if asymmetry else inf
