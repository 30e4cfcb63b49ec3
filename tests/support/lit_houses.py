"""A small house with light in two of its rooms."""

from dataclasses import replace

from housemap.model.house import House, Lamp, SurfacePaints, Window
from tests.support.houses import small_house


def cornered_house(**more: object) -> House:
    """The lit house with a hall that has six corners instead of four, and other walls so."""
    house = lit_house()
    outline = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0), (1.0, 4.0), (0.0, 4.0))
    hall = replace(house.rooms["hall"], size_m=None, outline_m=outline, windows={}, accents={})
    rooms = {**house.rooms, "hall": replace(hall, **more)}  # type: ignore[arg-type]  # as given
    return replace(house, rooms=rooms, openings={}, samples={})


def lit_house() -> House:
    """The small house: hall and kitchen have a window and a lamp, the study is not measured."""
    house = small_house()
    hall = replace(house.rooms["hall"], paints=SurfacePaints("oat", "chalk", "chalk", "moss"))
    kitchen = replace(
        house.rooms["kitchen"],
        windows={"sink": Window("n", 1.0, 1.4, 1.2, 0.9)},
        lamps={"track": Lamp(1800.0, 4000.0)},
    )
    return replace(house, rooms={**house.rooms, "hall": hall, "kitchen": kitchen})
