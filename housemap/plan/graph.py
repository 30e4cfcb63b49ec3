"""The house as a graph, and the measures of space syntax on it; the only module with networkx.

Rooms are nodes, openings and declared sightlines edges. A room of use "outdoor" is the outside,
which counts as a room where there is an entrance.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, log2

import networkx as nx

from housemap.model.house import House, Opening, Room, Sightline


@dataclass(frozen=True, slots=True)
class RoomNode:
    """What the graph holds of a room, as the node's attribute `node`."""

    id: str
    room: Room


@dataclass(frozen=True, slots=True)
class Link:
    """What joins two rooms, as the edge's attribute `link`."""

    openings: tuple[tuple[str, Opening], ...]
    """Ids and openings, in file order; empty where the rooms only see each other."""
    sightlines: tuple[tuple[str, Sightline], ...]


@dataclass(frozen=True, slots=True)
class Connection:
    """How a room lies in the house (Hillier & Hanson 1984), within its part of the house.

    `k` is the number of rooms that openings join to it, itself included; shut doors count, one
    walks through them. Fewer than three rooms have no asymmetry: RA, RRA and integration are None.
    """

    k: int
    neighbours: int
    depth_total: int
    """TD: openings to pass to every other room, summed."""
    mean_depth: float
    """MD = TD / (k - 1); 0 for a room alone."""
    asymmetry: float | None
    """RA = 2 (MD - 1) / (k - 2): 0 at the root of a star, 1 at the end of a chain."""
    real_asymmetry: float | None
    """RRA = RA / D, comparable between houses of different size."""
    integration: float | None
    """1 / RRA; infinite for the root of a star."""
    control: float
    """The sum over neighbours of 1 / how many neighbours they have."""
    whole: bool
    """False where no opening leads from this part of the house to the rest."""


def house_graph(house: House) -> "nx.Graph[str]":
    """The house as a graph: nodes carry `node` (RoomNode), edges `link` (Link)."""
    graph: nx.Graph[str] = nx.Graph()
    for key, room in house.rooms.items():
        graph.add_node(key, node=RoomNode(key, room))
    openings: dict[tuple[str, str], list[tuple[str, Opening]]] = {}
    for key, opening in house.openings.items():
        openings.setdefault(_pair(opening.between), []).append((key, opening))
    lines: dict[tuple[str, str], list[tuple[str, Sightline]]] = {}
    for key, line in house.sightlines.items():
        lines.setdefault(_pair(line.between), []).append((key, line))
    for pair in dict.fromkeys((*openings, *lines)):
        link = Link(tuple(openings.get(pair, ())), tuple(lines.get(pair, ())))
        graph.add_edge(*pair, link=link)
    return graph


def _pair(between: tuple[str, str]) -> tuple[str, str]:
    a, b = sorted(between)
    return a, b


def connections(house: House) -> Mapping[str, Connection]:
    """The measures of every room over the graph of openings.

    Formulas as used by Manum, Rusten & Benze (AGRAPH, 5th Space Syntax Symposium 2005).
    """
    graph: nx.Graph[str] = nx.Graph()
    graph.add_nodes_from(house.rooms)
    graph.add_edges_from(opening.between for opening in house.openings.values())
    whole = nx.is_connected(graph) if graph else True
    return {room: _connection(graph, room, whole=whole) for room in house.rooms}


def _connection(graph: "nx.Graph[str]", room: str, *, whole: bool) -> Connection:
    depths = nx.single_source_shortest_path_length(graph, room)
    k, total = len(depths), sum(depths.values())
    mean = total / (k - 1) if k > 1 else 0.0
    asymmetry = 2 * (mean - 1) / (k - 2) if k > 2 else None  # noqa: PLR2004 from the formula
    real = None if asymmetry is None else asymmetry / diamond(k)
    return Connection(
        k=k,
        neighbours=graph.degree[room],
        depth_total=total,
        mean_depth=mean,
        asymmetry=asymmetry,
        real_asymmetry=real,
        integration=None if real is None else 1 / real if real else inf,
        control=sum(1 / graph.degree[other] for other in graph[room]),
        whole=whole,
    )


def diamond(k: int) -> float:
    """D, the RA of the root of a diamond of `k` rooms, `k` above 2.

    2 (k (log2((k + 2) / 3) - 1) + 1) / ((k - 1) (k - 2)): Hillier & Hanson 1984, pp. 111-112, in
    the closed form of Kruger 1989.
    """
    return 2 * (k * (log2((k + 2) / 3) - 1) + 1) / ((k - 1) * (k - 2))
