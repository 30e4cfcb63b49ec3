"""Small houses by chance: a few bare rooms with roles, some paints, and a brief."""

import random
from dataclasses import replace
from typing import Any

from housemap.choose.chips import all_chips
from housemap.choose.house_problem import house_problem
from housemap.choose.optimiser.problem import Problem
from housemap.model.house import Brief, House, Paint, Role, RoomBrief, SurfacePaints
from tests.support.chips import random_paints
from tests.support.houses import grid_house

ROLES: tuple[Role | None, ...] = ("backbone", "room", "accent", None)


def random_house(seed: int, rooms: int = 3, paints: int = 4) -> House:
    dice = random.Random(seed)
    house = grid_house(rooms, columns=2)
    made = {
        key: replace(
            room,
            role=dice.choice(ROLES),
            paints=SurfacePaints(),
            size_m=(round(dice.uniform(2, 5), 1), round(dice.uniform(2, 5), 1)),
            at_m=None,
        )
        for key, room in house.rooms.items()
    }
    brief = Brief(
        strength=dice.choice([None, "neutral", "moderate", "vivid"]),
        avoid=tuple(dice.sample(["green", "blue", "purple"], dice.randint(0, 2))),
        colours=dice.choice([None, 1, 2, 3]),
        lrv=dice.choice([None, (30.0, 80.0), (50.0, 70.0)]),
        rooms={"r0001": RoomBrief(strength="strong", lrv=dice.choice([None, (10.0, 40.0)]))},
    )
    possible = all_chips(random_paints(3 * paints, seed)).swatches[:paints]
    few = {
        f"p{n}": each.entity for n, each in enumerate(possible) if isinstance(each.entity, Paint)
    }
    return replace(house, rooms=made, paints=few, brief=brief, openings=house.openings)


def problem_of(*about: Any, **more: Any) -> Problem:
    """As `house_problem`, without saying what is due to the rules."""
    return house_problem(*about, **more).problem
