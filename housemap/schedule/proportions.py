"""What somebody sees who stands in each room and looks round: which surfaces, and how much of each.

Four square pictures of 90 degrees make the sides of a cube round the eye. Every pixel counts by
the solid angle that it takes, which falls with the third power of its distance on the side of a
unit cube (geometry). What is right above and below the eye is left out: nobody looks there.
"""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from housemap.file import kept
from housemap.file.processes import in_two
from housemap.model.house import Accent, House, SurfacePaints
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.pixels import painted_as
from housemap.plan.route import stand_in
from housemap.plan.view import Camera, look_about
from housemap.schedule.quantities import Line
from housemap.study import Study

SIDE = 24
"""Pixels of a side: enough to weigh surfaces by."""
_MIDDLES = (np.arange(SIDE) + 0.5) / SIDE * 2.0 - 1.0
QUARTERS_DEG = (0.0, 90.0, 180.0, 270.0)
_SOLID = np.tile((1.0 + _MIDDLES[:, None] ** 2 + _MIDDLES[None, :] ** 2) ** -1.5, len(QUARTERS_DEG))


Part = tuple[str, str, str | None]
"""A room, a surface of it, and the wall where it is on one."""


@dataclass(frozen=True)
class Rounds:
    """The shares of every part in what is seen from every measured room indoors."""

    study: Study
    seen: Mapping[str, Mapping[Part, float]]
    """By the room of the eye; the shares of a room with all that is seen from it make 1."""

    def of_paints(self) -> Mapping[str, float]:
        """By paint: its share of all paint in view, over the rooms alike; they make 1."""
        found: defaultdict[str, float] = defaultdict(float)
        for parts in self.seen.values():
            for (room, surface, _), share in parts.items():
                coat = self.study.rooms[room].coat_on(surface)
                if coat is not None and coat.swatch.key[0] == "Paint":
                    found[coat.swatch.id] += share
        whole = sum(found.values())
        return {paint: share / whole for paint, share in found.items()} if whole else {}

    @cached_property
    def most_seen(self) -> Mapping[str, str]:
        """By room: the wall of it that is most seen from the others."""
        walls: defaultdict[str, defaultdict[str, float]] = defaultdict(lambda: defaultdict(float))
        for eye, parts in self.seen.items():
            for (room, surface, wall), share in parts.items():
                if wall and room != eye and surface.startswith(("walls", "accent")):
                    walls[room][wall] += share
        return {room: max(found, key=lambda wall: found[wall]) for room, found in walls.items()}


def rounds_of(study: Study, elevations: Elevations | None = None) -> Rounds:
    """Kept in the cache folder: the same rooms painted otherwise show the same surfaces."""
    house = study.house
    key = _key(house)
    try:
        found = {
            room: {(of, surface, wall): float(share) for of, surface, wall, share in parts}
            for room, parts in json.loads(kept.recall(key) or b"").items()
        }
        if found:
            return Rounds(study, found)
    except (ValueError, TypeError, AttributeError):
        pass  # nothing is kept, or no such shares
    made = elevations or Elevations(house, study.plan, space_of(house, study.plan))
    inside = [room for room in made.space.rooms if house.rooms[room].use != "outdoor"]
    each = in_two(lambda room: _round(study, made, room), inside)
    seen = dict(zip(inside, each, strict=True))
    packed = {room: [[*part, share] for part, share in each.items()] for room, each in seen.items()}
    kept.keep(key, json.dumps(packed).encode())
    return Rounds(study, seen)


def _key(house: House) -> str:
    """A name for all that the shares depend on: rooms and openings, not what they are painted."""
    bare, accent = SurfacePaints(), Accent("")
    rooms = {
        key: replace(
            room, name="", notes="", paints=bare, accents=dict.fromkeys(room.accents, accent)
        )
        for key, room in house.rooms.items()
    }
    held = kept.program("plan", "model"), house.wall_thickness_m, rooms, house.openings
    return kept.key_of("rounds", repr(held).encode())


def _round(study: Study, elevations: Elevations, room: str) -> Mapping[Part, float]:
    camera = Camera(room, stand_in(study.plan, elevations.space, room), 0.0, field_deg=90.0)
    view = look_about(elevations, camera, QUARTERS_DEG, SIDE, SIDE)
    found: defaultdict[Part, float] = defaultdict(float)
    if view is not None:
        solid = np.bincount(view.face.ravel(), _SOLID.ravel(), minlength=len(view.faces))
        for face, share in zip(view.faces, solid.tolist(), strict=True):
            if place := painted_as(study.graph, face):
                found[(*place, face.wall)] += share
    whole = sum(found.values())
    return {part: share / whole for part, share in found.items()}


class Share(NamedTuple):
    paint: str
    area_m2: float
    of_area: float
    """0..1 of all measured area to paint."""
    of_view: float
    """0..1 of all paint that is seen from the measured rooms indoors, each room counting alike."""


def board_of(lines: Iterable[Line], rounds: Rounds) -> tuple[Share, ...]:
    """Every paint that is on something, the one with most area first, then by name."""
    areas: defaultdict[str, float] = defaultdict(float)
    for line in lines:
        areas[line.paint] += line.area_m2 or 0.0
    whole, views = sum(areas.values()) or 1.0, rounds.of_paints()
    shares = [Share(p, area, area / whole, views.get(p, 0.0)) for p, area in areas.items()]
    return tuple(sorted(shares, key=lambda share: (-share.area_m2, -share.of_view, share.paint)))
