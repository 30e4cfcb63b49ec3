"""What is known of the light of one room, and when the sun comes into it."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import dist

import numpy as np

from housemap.checks import Report
from housemap.colorimetry.undertone import shift_words
from housemap.light.as_seen import Tint, Tints
from housemap.light.daylight import least_average, median_percent
from housemap.light.explanation import SHIFT_BAND, LightFigures, sentences
from housemap.light.house_light import HouseLight
from housemap.light.room_light import RoomLight as Computed
from housemap.light.scene import LIGHTS, LightName
from housemap.light.sun import Sun, shines_in, sun_at
from housemap.model.house import House, Light, Room
from housemap.study import Coat
from housemap.study.lighting import Lighting, Paints

MOST_PAINTS = 24
"""Listed with what they would do: a house may hold whole decks."""

Triple = tuple[float, float, float]


@dataclass(frozen=True)
class RoomLight:
    report: Report
    id: str
    house: House
    room: Room
    lighting: Lighting
    light: Computed

    @classmethod
    def of(cls, report: Report | None, room: str) -> "RoomLight | None":
        """None where the light is not computed yet."""
        lighting = report.study.lighting if report else None
        if report is None or lighting is None or not lighting.ready or room not in lighting.rooms:
            return None
        house, light = report.house, lighting.rooms[room].light
        return cls(report, room, house, house.rooms[room], lighting, light)

    @property
    def walls(self) -> str | None:
        return self.room.paints.walls

    @property
    def paints(self) -> Paints | None:
        """What each paint on the walls would do; None until the room was looked at closely."""
        return self.lighting.close.paints(self.lighting, self.id)

    @property
    def tints(self) -> Mapping[LightName, Tints] | None:
        return self.lighting.close.tints(self.lighting, self.id)

    @property
    def sun(self) -> Mapping[int, tuple[int, ...]]:
        """By month, the hours at which the sun shines in; none until they are known."""
        return self.lighting.close.sun(self.lighting, self.id)

    def has(self, light: Light) -> bool:
        return light == "reference" or light in self.light.lights

    @cached_property
    def lrv(self) -> Mapping[str, float]:
        return {paint: self.lighting.swatches["Paint", paint].lrv for paint in self.house.paints}

    def paints_near(self, middle: str | None) -> Sequence[str]:
        """The lightest first; of many, those about the one in the middle."""
        paints = by_lightness(self.lrv)
        at = paints.index(middle) if middle in paints else 0
        start = max(min(at - MOST_PAINTS // 2, len(paints) - MOST_PAINTS), 0)
        return paints[start : start + MOST_PAINTS]

    def percent_with(self, paint: str) -> float | None:
        """The average daylight factor with a paint on the walls."""
        factor = self.light.daylight
        return float(factor.percent_with("walls", np.array(self.lrv[paint]))) if factor else None

    @property
    def aim_percent(self) -> float:
        """Of the plane's better half (BS EN 17037)."""
        return round(median_percent(self.room.use, self.house.country), 2)

    @property
    def least_percent(self) -> float | None:
        """On average, where one is set (BS 8206-2)."""
        return least_average(self.room.use, self.house.country)

    # What it means

    def sentences(self) -> tuple[str, ...]:
        """Two or three; none where no light is known."""
        return sentences(self._figures()) if self.light.lights else ()

    def _figures(self) -> LightFigures:
        (name, source, size), median = self._tint_of_walls(), self.light.median_daylight
        evening = self.light.lights.get("evening")
        return LightFigures(
            median.percent if median else None,
            self.aim_percent,
            evening.total_lux("walls") if evening else None,
            name, source, size, self.moves("day", "evening"), SHIFT_BAND,
            self.shift("evening"),
        )  # fmt: skip

    def ucs(self, light: Light) -> Triple | None:
        """The wall paint as seen, CAM16-UCS; None where it has no paint or no such light."""
        if self.walls is None:
            return None
        if light == "reference":
            return self.lighting.swatches["Paint", self.walls].colour.ucs
        seen = self.lighting.seen.get((self.id, light))
        coat = self.lighting.rooms[self.id].part.coats.get("walls")
        colour = seen.colours.get(coat) if seen and coat else None
        return colour.ucs if colour else None

    def shift(self, light: Light) -> str:
        """What a light makes of the walls' colour, in words; empty where it hardly does."""
        own, seen = self.ucs("reference"), self.ucs(light)
        return shift_words(own, seen) if own and seen else ""

    def moves(self, first: Light, second: Light) -> float | None:
        """How far the walls' colour moves between two lights, CAM16-UCS."""
        one, other = self.ucs(first), self.ucs(second)
        return dist(one, other) if one and other else None

    def _tint_of_walls(self) -> tuple[str, str, float]:
        """What bounces make of a white wall by day, what does most of it, and how far it goes."""
        tints = self.tints.get("day") if self.tints else None
        if tints is None or not tints.walls:
            return "", "", 0.0

        def apart(tint: Tint | None) -> float:
            return dist(tint.ucs[1:], tints.source.ucs[1:]) if tint else 0.0

        def brings(tint: Tint | None) -> float:
            return tint.lux * apart(tint) if tint else 0.0

        worst = max(tints.walls.values(), key=lambda wall: apart(wall.whole))
        source = "floor" if brings(worst.floor) >= brings(worst.opposite) else "wall opposite"
        return shift_words(tints.source.ucs, worst.whole.ucs), source, apart(worst.whole)


def by_lightness(lrv: Mapping[str, float]) -> list[str]:
    """Paints, the lightest first."""
    return [paint for _, paint in sorted((-value, paint) for paint, value in lrv.items())]


# The whole house in lists


def rooms_by_daylight(report: Report) -> list[RoomLight]:
    """Rooms whose light is known, the best lit by day first; those without daylight last."""
    rooms = (RoomLight.of(report, room) for room in report.house.rooms)
    lit = [room for room in rooms if room is not None and room.light.lights]
    return sorted(lit, key=lambda of: -of.light.daylight.percent if of.light.daylight else 0.0)


def paints_by_shift(report: Report) -> list[tuple[float, Coat]]:
    """How far each paint moves from day to lamplight, CAM16-UCS, where most; the largest first."""
    most: dict[str, tuple[float, Coat]] = {}
    seen = report.study.lighting.seen
    for room, part in report.study.rooms.items():
        day, lamp = (seen.get((room, light)) for light in LIGHTS)
        if not (day and lamp):
            continue
        for coat in part.every_coat:
            kind, paint = coat.swatch.key
            if kind == "Paint" and coat in day.colours and coat in lamp.colours:
                far = dist(day.colours[coat].ucs, lamp.colours[coat].ucs)
                if paint not in most or far > most[paint][0]:
                    most[paint] = far, coat
    return sorted(most.values(), key=lambda shift: -shift[0])


# The sun on a clear day, true solar time: at 12 it stands due south or north.


def rooms_in_sun(light: HouseLight, latitude_deg: float, month: int, hour: int) -> frozenset[str]:
    """The rooms into whose own windows the sun shines on day 21 of a month."""
    lit = set()
    for room, (inputs, scene) in light.scenes.items():
        toward = _toward(latitude_deg, inputs.north_deg, month, hour)
        panes = scene.panes if toward else ()
        if any(shines_in(scene.shape, pane, np.array(toward)) for pane in panes):
            lit.add(room)
    return frozenset(lit)


def sun_shown(latitude_deg: float, month: int, hour: int) -> Sun:
    """On day 21 of a month."""
    return sun_at(latitude_deg, dt.datetime(2026, month, 21, hour))  # noqa: DTZ001 - solar time


@lru_cache(maxsize=1024)
def _toward(latitude_deg: float, north_deg: float, month: int, hour: int) -> Triple | None:
    """Where the sun stands in the plan; None while it is down."""
    sun = sun_shown(latitude_deg, month, hour)
    x, y, z = sun.toward(north_deg).tolist()
    return (x, y, z) if sun.up else None
