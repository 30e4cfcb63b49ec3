"""`housemap sight`: who sees whom, through what, and from where best."""

from argparse import Namespace
from collections.abc import Iterator
from typing import Any

from housemap.cli.command import DONE, HOUSE, Command
from housemap.cli.output import show, table
from housemap.cli.reading import one_house
from housemap.model.house import House
from housemap.plan.house_graph import graph_of
from housemap.plan.placing import place
from housemap.plan.sightings import sightings
from housemap.plan.visibility import SightRow, sight_of, sight_rows


def _run(arguments: Namespace) -> int:
    house, rows = one_house(arguments.file, _rows_of)
    show(arguments, lambda: {"pairs": [_as_json(row) for row in rows]}, table(_lines(house, rows)))
    return DONE


def _rows_of(house: House) -> tuple[House, tuple[SightRow, ...]]:
    """No colour is needed, so no study is made."""
    graph, plan = graph_of(house), place(house)
    sight = sight_of(house, plan)
    found = sightings(graph, plan, sight.pairs(), sight.shares())
    return house, sight_rows(graph.with_sightings(found), sight)


def _as_json(row: SightRow) -> dict[str, Any]:
    best = row.best
    return {
        "from": row.from_room,
        "to": row.to_room,
        "through": row.through,
        "share": row.share,
        "best": best and {"at": best.at_m, "toward": best.toward_deg, "share": best.share},
    }


def _lines(house: House, rows: tuple[SightRow, ...]) -> Iterator[tuple[str, ...]]:
    yield "from", "sees", "share", "best from", "looking", "through"
    for row in rows:
        best = row.best
        yield (
            house.rooms[row.from_room].name,
            house.rooms[row.to_room].name,
            "-" if row.share is None else f"{100 * row.share:.1f} %",
            f"{best.at_m[0]:.2f}, {best.at_m[1]:.2f}" if best else "-",
            f"{best.toward_deg:.0f} deg" if best else "-",
            "; ".join(_way(house, way) for way in row.through),
        )


def _way(house: House, way: tuple[str, ...]) -> str:
    return ", ".join(house.rooms[room].name for room in way) or "a shared opening"


SIGHT = Command(
    name="sight",
    summary="List which rooms see each other, and how much.",
    examples=("housemap sight house.toml", "housemap sight --json house.toml"),
    arguments=(HOUSE,),
    run=_run,
)
