"""The demo house in paints, roles and finishes by chance, most of them nearly neutral."""

import random
from dataclasses import replace

from housemap.file.reader import read_house
from housemap.model.geometry import walls
from housemap.model.house import ROLES, Accent, Finish, House, Role, Room, SurfacePaints
from tests.support.chips import random_paints
from tests.support.project import ROOT

PAINTS, FINISHES = 12, 4


def repainted_house(seed: int) -> House:
    """Every room of the demo house with any paints, any role, and now and then an accent wall."""
    chance = random.Random(seed)
    demo = read_house(ROOT / "demo_house.toml")
    paints = {f"own-{i}": p for i, p in enumerate(random_paints(PAINTS, seed).values())}
    stays = random_paints(FINISHES, seed + 1).values()
    finishes = {f"stay-{i}": Finish(p.name, p.colour) for i, p in enumerate(stays)}
    rooms = {
        key: _repainted(room, chance, [*paints], [*finishes]) for key, room in demo.rooms.items()
    }
    low_vision = chance.random() < 0.5
    return replace(
        demo, paints=paints, finishes=finishes, rooms=rooms, samples={}, low_vision=low_vision
    )


def _repainted(room: Room, chance: random.Random, paints: list[str], finishes: list[str]) -> Room:
    roles: tuple[Role | None, ...] = (None, *ROLES)
    accents = {
        wall.key: Accent(chance.choice(paints)) for wall in walls(room) if chance.random() < 0.15
    }
    return replace(
        room,
        role=chance.choice(roles),
        paints=SurfacePaints(*(chance.choice([None, *paints]) for _ in range(4))),
        accents=accents,
        floor=chance.choice([None, *finishes]),
        fixed=tuple(chance.sample(finishes, chance.randint(0, 2))),
    )
