"""Small houses to test with; for any legal house at all see `tests.support.strategies`.

Everything here is legal by `housemap.model.validation`. Names and paints are our own.
"""

import datetime as dt
from dataclasses import replace
from typing import Any

from housemap.model.house import (
    Accent,
    Finish,
    House,
    Lab,
    Lamp,
    Opening,
    Paint,
    Room,
    Sample,
    Sightline,
    Srgb,
    SurfacePaints,
    SurfaceSheens,
    Visit,
    Window,
)


def paint(hex_: str = "#d9d0bf", name: str = "Oat Ladle", **more: Any) -> Paint:
    return Paint(name=name, colour=Srgb(hex_), **more)


def room(name: str = "Hall", walls: str | None = None, **more: Any) -> Room:
    """Make a room whose walls wear `walls`; everything else as in `Room`."""
    return Room(name=name, **({"paints": SurfacePaints(walls=walls)} | more))


def small_house(**more: Any) -> House:
    """Hall (south), kitchen (north of it, a doorway between) and an unmeasured study."""
    house = House(
        name="Alder Row 12",
        paints={
            "chalk": paint("#f3f0e8", "Chalk Lump", lrv=87.0),
            "moss": paint("#7c8468", "Moss Bank"),
            "oat": paint(code="A-102", tins=(0.75, 2.5, 5.0), coverage=12.0, price=18.5),
        },
        finishes={"oak-floor": Finish("Oak boards", Lab((58.0, 9.0, 24.0)))},
        rooms={
            "hall": room(
                "Hall", "oat", use="hall", role="backbone", size_m=(1.8, 5.2), height_m=2.4,
                at_m=(0.0, 0.0), floor="oak-floor", fixed=("oak-floor",),
                accents={"w": Accent("moss")},
                windows={"front": Window("s", 0.3, 1.2, 1.1, 0.9)},
                lamps={"pendant": Lamp(1400.0, 2700.0, aim="down")},
            ),
            "kitchen": room(
                "Kitchen", paints=SurfacePaints("moss", "chalk", "chalk", "chalk"), use="kitchen",
                sheens=SurfaceSheens(walls="satin"), size_m=(4.0, 3.0), height_m=2.4,
                at_m=(0.0, 5.3),
            ),
            "study": room("Study", "oat", use="office", level=1),
        },
        openings={
            "hall-kitchen": Opening(
                ("hall", "kitchen"), "doorway", wall="n", along_m=0.4, to_wall="s", to_along_m=0.4,
                width_m=0.8,
            )
        },
        sightlines={"hall-study": Sightline(("hall", "study"), share=0.1)},
        samples={"oat-hall": Sample("oat", "hall", "e", dt.date(2026, 5, 2), "day", "keep")},
        visits={"hall": Visit(dt.date(2026, 5, 2))},
    )  # fmt: skip
    return replace(house, **more)


def grid_house(count: int, columns: int = 10, paints: int = 12) -> House:
    """`count` measured rooms of 4 x 3 m in rows, each with doorways to the next and the row above.

    Only the first room is pinned; the others can be placed from their doorways.
    """
    names = [f"r{i:04}" for i in range(count)]
    palette = {f"p{i:02}": paint(_grey(i), f"Paint {i}") for i in range(paints)}
    rooms = {
        name: room(
            f"Room {i}", f"p{i * 7 % paints:02}", size_m=(4.0, 3.0), height_m=2.4,
            at_m=(0.0, 0.0) if i == 0 else None, windows={"w1": Window("n", 2.8, 1.0, 1.2, 0.9)},
        )
        for i, name in enumerate(names)
    }  # fmt: skip
    openings = {
        f"{a}-{names[j]}": Opening(
            (a, names[j]), "doorway", wall=wall, along_m=1.0, to_wall=to_wall, to_along_m=1.0,
            width_m=0.8,
        )
        for i, a in enumerate(names)
        for j, wall, to_wall in ((i + 1, "e", "w"), (i + columns, "n", "s"))
        if j < count and (wall == "n" or j % columns)
    }  # fmt: skip
    return House(name="Grid", paints=palette, rooms=rooms, openings=openings)


def _grey(i: int) -> str:
    return "#" + f"{120 + i * 10 % 130:02x}{118 + i * 10 % 130:02x}{110 + i * 10 % 130:02x}"
