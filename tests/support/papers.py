"""A house with all that a schedule can say: client, products, what is there now, parts, schemes."""

import datetime as dt
from dataclasses import replace

from housemap.checks import report_of
from housemap.model.house import (
    Accent,
    Accepted,
    Brief,
    Client,
    House,
    Lamp,
    Opening,
    Paint,
    Part,
    Primer,
    Room,
    RoomBrief,
    Sample,
    Scheme,
    SchemePaints,
    Srgb,
    State,
    SurfacePaints,
    SurfaceSheens,
    Window,
)
from housemap.schedule.document import Schedule, schedule_of

DAY = dt.date(2026, 5, 2)

OAT = Paint(
    "Stubble Row", Srgb("#d9d0bf"), "A-102", coverage=12.0, tins=(0.75, 2.5, 5.0),
    prices=(15.0, 40.0, 70.0), supplier="Corner counter", order="OC-7",
    products=(("walls", "Wash-down emulsion"), ("trim", "Water-based satin")),
    notes="Stir well.",
)  # fmt: skip
CHALK = Paint("Quarry Chalk", Srgb("#f4f1ea"), "A-001", tins=(1.0, 2.5), price=20.0)
EMBER = Paint("Ember Jar", Srgb("#d9a500"), "A-760", tins=(1.0, 2.5))
PEAT = Paint("Peat Cut", Srgb("#3a3630"), "A-900")

SHEENS = SurfaceSheens(walls="matt", trim="satin", doors="satin")


def papers_house() -> House:
    hall = Room(
        "Hall", use="hall", size_m=(2.0, 5.0), height_m=2.4, at_m=(0.0, 0.0),
        paints=SurfacePaints(walls="oat", ceiling="chalk", trim="chalk", doors="chalk"),
        sheens=SHEENS, notes="Keep the picture rail.",
        windows={"front": Window("s", 0.5, 1.0, 1.1, 0.9)},
        lamps={"pendant": Lamp(1400.0, 2700.0)},
        states={"walls": State(paint="peat", condition="worn"), "trim": State(ground="wood")},
        parts={
            "rail": Part("panelling", wall="e", area_m2=3.0, paint="chalk", sheen="satin"),
            "stove": Part("tile", wall="n", area_m2=1.0, notes="Hearth."),
        },
    )  # fmt: skip
    study = Room(
        "Study", use="office", size_m=(3.0, 4.0), height_m=2.4,
        paints=SurfacePaints(walls="ember", ceiling="chalk", trim="chalk"), sheens=SHEENS,
        accents={"n": Accent("oat")}, windows={"side": Window("e", 1.0, 1.2, 1.2, 0.9)},
        states={"walls": State(paint="peat"), "ceiling": State(ground="new-plaster")},
    )  # fmt: skip
    door = Opening(("hall", "study"), "doorway", wall="e", along_m=2.0, to_wall="w",
                   to_along_m=1.0, width_m=0.8, into="study")  # fmt: skip
    return House(
        name="Papers", built=1936, latitude_deg=51.5, north_deg=20.0,
        paints={"oat": OAT, "chalk": CHALK, "ember": EMBER, "peat": PEAT},
        primers={"wood": Primer("Joinery base", grounds=("wood",), tins=(1.0,), prices=(22.0,))},
        rooms={"hall": hall, "study": study}, openings={"door": door},
        samples={"one": Sample("oat", "hall", "w", DAY, "day", "keep", "Warm all day.")},
        brief=Brief(notes="Quiet, but not cold.", strength="greyish", like=("yellow",),
                    rooms={"study": RoomBrief(notes="May be bold.")}),
        schemes={"calm": Scheme("Calm", "No yellow.", {"study": SchemePaints(walls="oat")})},
        accepted={"jar": Accepted("jar", ("hall", "study"), why="A surprise is wanted.", when=DAY)},
        client=Client(name="A. Reader", address="12 Long Row\nMill End", by="B. Writer",
                      currency="GBP", tax=20.0, labour=30.0, rates=(("walls", 10.0),)),
    )  # fmt: skip


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house, deep=False), DAY)


def papers() -> Schedule:
    return schedule(papers_house())


def bare_house() -> House:
    """The same rooms, with nothing said beside their colours."""
    house = papers_house()
    rooms = {
        key: replace(room, states={}, parts={}, notes="", sheens=SurfaceSheens(), lamps={})
        for key, room in house.rooms.items()
    }
    paints = {key: Paint(paint.name, paint.colour) for key, paint in house.paints.items()}
    return House(rooms=rooms, openings=house.openings, paints=paints)
