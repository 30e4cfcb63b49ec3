"""What light costs: the demo house from scratch and after a repaint, and thousands of paints tried.

The first row is one room's light with its shape known; the others are told as ratios to it.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np

from housemap.colorimetry import appearance, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.facts import colour_facts
from housemap.file.reader import read_house
from housemap.light import enclosures
from housemap.light.inputs import RoomInputs, SurfaceColour, inputs_of
from housemap.light.scene import grey
from housemap.model.house import Finish, House, Paint
from housemap.plan.house_graph import graph_of
from tests.benchmarks.measuring import show_ratios, wall_seconds
from tests.support.lit_rooms import light_of, response_of
from tests.support.project import ROOT

RUNS = 7
PAINTS = 5000


def main() -> None:
    house = read_house(Path(ROOT / "demo_house.toml"))
    rooms = demo_inputs(house)
    living = rooms[list(house.rooms).index("living")]
    repainted = living._replace(colours=replace(living.colours, walls=grey(0.5)))
    work: dict[str, Callable[[], object]] = {
        "the living room, its shape known": partial(light_of, [living]),
        "the same after a repaint": partial(light_of, [repainted]),
        f"all {len(rooms)} rooms, shapes known": partial(light_of, rooms),
        f"all {len(rooms)} rooms from scratch": partial(from_scratch, rooms),
        f"{PAINTS} paints tried in it, under all lights": partial(try_paints, living, paints()),
    }
    from_scratch(rooms)
    show_ratios({what: [wall_seconds(do) for _ in range(RUNS)] for what, do in work.items()})


def demo_inputs(house: House) -> list[RoomInputs]:
    paints, finishes = _coloured(house.paints), _coloured(house.finishes)
    graph = graph_of(house)
    return [
        inputs_of(house, room, paints, finishes, graph.openings_of(room)) for room in house.rooms
    ]


def _coloured(table: Mapping[str, Paint | Finish]) -> dict[str, SurfaceColour]:
    facts = colour_facts([entity.colour for entity in table.values()])
    colours = (SurfaceColour(np.array(one.reflectance), one.lrv) for one in facts)
    return dict(zip(table, colours, strict=True))


def from_scratch(rooms: list[RoomInputs]) -> None:
    enclosures.forget()
    light_of(rooms)


def paints() -> Floats:
    random = np.random.default_rng(1)
    low, high = random.uniform(0.03, 0.9, (2, PAINTS, 1))
    at, width = random.uniform(420.0, 680.0, (PAINTS, 1)), random.uniform(10.0, 60.0, (PAINTS, 1))
    return np.asarray(low + (high - low) / (1.0 + np.exp((at - spectra.GRID_NM) / width)))


def try_paints(room: RoomInputs, reflectance: Floats) -> None:
    response_of(room, "walls").tried(reflectance)
    reference = appearance.reference()
    appearance.ucs(appearance.jmh(spectra.to_xyz(reflectance), reference))


if __name__ == "__main__":
    main()
