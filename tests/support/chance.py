"""Legal houses and their parts by chance, from a seeded `random.Random`.

Drawing every number through hypothesis would take a hundred times as long; see
`tests.support.strategies` for the strategies made of this.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from random import Random
from typing import Any, TypeVar, get_args

from housemap.model.house import (
    AIMS,
    CONDITIONS,
    EDITIONS,
    GROUNDS,
    HUES,
    NO_PAINT,
    OPENING_KINDS,
    PART_KINDS,
    ROLES,
    SHEENS,
    SIDES,
    STRENGTHS,
    SURFACES,
    UNITS,
    USES,
    VERDICTS,
    Accent,
    Accepted,
    Brief,
    Client,
    ColourSource,
    Door,
    Finish,
    Gloss,
    House,
    Issue,
    Lab,
    Lamp,
    LampType,
    Notation,
    Opening,
    Paint,
    Part,
    Piece,
    Point,
    Primer,
    Reflectance,
    Room,
    RoomBrief,
    Sample,
    SampleLight,
    Scheme,
    SchemePaints,
    Sightline,
    SpectralPower,
    Srgb,
    State,
    SurfacePaints,
    SurfaceSheens,
    Visit,
    Window,
    Xyz,
)

T = TypeVar("T")

IDS = ("a", "b", "c", "d", "hall", "r2", "r10", "x-1", "-", "7")
NAMES = (
    "Hall", "Oat Ladle", "N\u00b0 4", 'say "x"', "[bold]b", "back\\slash", "# 1", "K\u00fcche",
    "\u9ad8", "\u0119\u0301", "\u00a0wide", "=", "\U0001f3e0",
)  # fmt: skip
NOTES = ("", "", "by the door", "two coats\nthen wait", '"quoted" \\ # not a comment')
NOTATIONS = ("5Y 7/1", "N 8/", "2.5PB 6/4", "10R 5/2")
OBSERVED = ("D65/10", "D65/2", "D50/2", "A/10")


class Chance:
    """Makes parts of houses; every number has at most two decimals."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)

    def one(self, of: Sequence[T]) -> T:
        return self.random.choice(of)

    def maybe(self, value: T) -> T | None:
        return value if self.random.random() < 0.5 else None

    def number(self, low: float, high: float) -> float:
        return self.random.randint(round(low * 100), round(high * 100)) / 100

    def some(self, of: Sequence[T], most: int) -> list[T]:
        return self.random.sample(of, self.random.randint(0, min(most, len(of))))

    def day(self) -> dt.date:
        return dt.date(2020, 1, 1) + dt.timedelta(days=self.random.randint(0, 9999))

    def colour(self) -> ColourSource:
        number = self.number
        made: tuple[ColourSource, ...] = (
            Srgb(f"#{self.random.randrange(1 << 24):06x}"),
            Lab((number(0, 100), number(-60, 60), number(-60, 60)), self.one(OBSERVED)),
            Xyz((number(0, 95), number(0, 100), number(0, 108)), self.one(OBSERVED)),
            Notation(self.one(NOTATIONS)),
            Reflectance(400.0, 10.0, tuple(number(0, 1) for _ in range(31))),
        )
        return self.one(made)

    def paint(self) -> Paint:
        tins = tuple(self.some((0.5, 0.75, 1.0, 2.5, 5.0), 3))
        return Paint(
            name=self.one(NAMES),
            colour=self.colour(),
            code=self.one(("", *NAMES)),
            lrv=self.maybe(self.number(0, 100)),
            deck=self.one(("", *NAMES)),
            coverage=self.maybe(self.number(1, 20)),
            tins=tins,
            price=self.maybe(self.number(0, 90)),
            notes=self.one(NOTES),
            products=self.pairs((*SURFACES, *SHEENS), self.one(NAMES)),
            supplier=self.one(("", *NAMES)),
            order=self.one(("", *NAMES)),
            prices=self.one(((), tuple(self.number(0, 90) for _ in tins))),
            gloss=self.maybe(self.one(get_args(Gloss))),
            derived=self.one(("", *NAMES)),
        )

    def pairs(self, words: Sequence[str], value: T) -> tuple[tuple[str, T], ...]:
        chosen = self.some(words, 2)
        return tuple((word, value) for word in words if word in chosen)

    def primer(self) -> Primer:
        return Primer(
            self.one(NAMES), tuple(self.some(GROUNDS, 2)), self.maybe(self.number(1, 20)),
            (2.5, 5.0), self.one(((), (30.0, 52.5))), self.one(("", *NAMES)), "", self.one(NOTES),
        )  # fmt: skip

    def finish(self) -> Finish:
        lrv = self.maybe(self.number(0, 100))
        return Finish(self.one(NAMES), self.colour(), lrv, self.one(NOTES))

    def shape(self) -> dict[str, Any]:
        """Make nothing, a size, or an outline: an L, or a box with a bay; sides of 2 to 9 m."""
        x, y = self.number(2, 9), self.number(2, 9)
        ell: tuple[Point, ...] = (
            (0.0, 0.0), (x, 0.0), (x, y / 2), (x / 2, y / 2), (x / 2, y), (0.0, y),
        )  # fmt: skip
        bay: tuple[Point, ...] = ((0.0, 0.0), (x, 0.0), (x + 0.5, y / 2), (x, y), (0.0, y))
        return self.one(({}, {"size_m": (x, y)}, {"outline_m": ell}, {"outline_m": bay}))

    def room(self, paints: Sequence[str], finishes: Sequence[str], row: int = 0) -> Room:
        """Make a room; pinned rooms of different `row` are well apart."""
        shape = self.shape()
        walls = wall_lengths(shape)
        ids = (None, *paints)
        return Room(
            name=self.one(NAMES),
            level=self.random.randint(-1, 2),
            use=self.one(USES),
            role=self.maybe(self.one(ROLES)),
            height_m=self.maybe(self.number(2.2, 4)),
            at_m=self.maybe((row * 20.0, self.number(-3, 3))),
            paints=SurfacePaints(*(self.one(ids) for _ in range(4))),
            sheens=SurfaceSheens(*(self.maybe(self.one(SHEENS)) for _ in range(4))),
            floor=self.one((None, *finishes)),
            fixed=tuple(self.some(finishes, 2)),
            notes=self.one(NOTES),
            accents={w: Accent(self.one(paints)) for w in self.some(list(walls), 2) if paints},
            windows={key: self.window(walls) for key in self.some(IDS, 2)},
            lamps={key: self.lamp() for key in self.some(IDS, 2)},
            pieces={key: self.piece(finishes) for key in self.some(IDS, 2)},
            **self.parts(paints, list(walls)),
            **shape,
        )

    def piece(self, finishes: Sequence[str]) -> Piece:
        size = (self.number(0.1, 0.9), self.number(0.1, 0.9), self.number(0.01, 2))
        at = (self.number(0, 1), self.number(0, 1))
        return Piece(size, at, self.one((None, *finishes)))

    def parts(self, paints: Sequence[str], walls: Sequence[str]) -> dict[str, Any]:
        """Make parts of a room, and what is on some surfaces now."""
        parts = {
            key: Part(
                self.one(PART_KINDS), self.one((None, *walls)), self.maybe(self.number(0.1, 9)),
                self.maybe(self.number(0.1, 9)), self.random.randint(1, 4),
                self.one((None, *paints)), self.maybe(self.one(SHEENS)), self.one(NOTES),
            )
            for key in self.some(IDS, 2)
        }  # fmt: skip
        surfaces = self.some((*SURFACES, *parts), 2)
        return {"parts": parts, "states": {key: self.state(paints) for key in surfaces}}

    def state(self, paints: Sequence[str]) -> State:
        on: tuple[dict[str, Any], ...] = ({}, {"colour": self.colour()})
        if paints:
            on = (*on, {"paint": self.one(paints)})
        return State(ground=self.one(GROUNDS), condition=self.one(CONDITIONS), **self.one(on))

    def window(self, walls: Mapping[str, float]) -> Window:
        """Make a window for one of the walls, given with the length to use."""
        wall = self.one(sorted(walls) or ["s"])
        length = walls.get(wall, 3.0)
        return Window(
            wall=wall,
            along_m=self.number(0, length / 4),
            width_m=self.number(0.2, length / 2),
            height_m=self.number(0.3, 1.2),
            sill_m=self.number(0, 1),
            transmittance=self.one((0.68, self.number(0.01, 1))),
            sky_angle_deg=self.one((75.0, self.number(0, 90))),
            kelvin=self.maybe(float(self.random.randint(2000, 12000))),
            obstruction=self.one((0.2, self.number(0, 1))),
        )

    def lamp(self) -> Lamp:
        power = SpectralPower(400.0, 100.0, tuple(self.number(0, 9) for _ in range(4)))
        spectrum: tuple[dict[str, Any], ...]
        spectrum = ({}, {"power": power}, *({"spectrum": s} for s in ("LED-B1", "FL2", "A")))
        light, warmth = self.one(spectrum), float(self.random.randint(1800, 6500))
        return Lamp(
            lumens=self.number(1, 3000),
            kelvin=self.one((None, warmth)) if light else warmth,
            type=self.maybe(self.one(get_args(LampType))),
            watts=self.maybe(self.number(1, 100)),
            **light,
            aim=self.one(AIMS),
            at_m=self.maybe((self.number(0, 1), self.number(0, 1), self.number(0, 2))),
        )

    def opening(self, rooms: Mapping[str, Room]) -> Opening:
        """Make an opening between two of the rooms; at least two must be there."""
        first, second = self.random.sample(sorted(rooms), 2)
        kind = self.one(OPENING_KINDS)
        wall, along = self._stand(rooms[first])
        to_wall, to_along = self._stand(rooms[second])
        return Opening(
            (first, second),
            kind,
            door=self.one(get_args(Door)) if kind == "doorway" else "open",
            wall=wall,
            along_m=along,
            to_wall=to_wall,
            to_along_m=to_along,
            width_m=self.maybe(self.number(0.3, 0.8)),
            height_m=self.maybe(self.number(1.8, 2.2)),
            stop=kind == "open" and self.one((True, False)),
            hinge=self.maybe(self.one(SIDES)) if kind == "doorway" else None,
            into=self.one((None, first, second)) if kind == "doorway" else None,
        )

    def _stand(self, room: Room) -> tuple[str | None, float | None]:
        walls = wall_lengths({"size_m": room.size_m, "outline_m": room.outline_m})
        wall = self.one((None, *walls))
        return wall, self.maybe(self.number(0, 0.2)) if wall else None

    def house(self, room_count: int, paint_count: int = 3) -> House:
        """Make a house with every table, where its counts allow."""
        paints = {key: self.paint() for key in self.random.sample(IDS, paint_count)}
        finishes = {key: self.finish() for key in self.some(IDS, 2)}
        keys = self.random.sample(IDS, room_count)
        house = House(
            name=self.one(("", *NAMES)),
            built=self.maybe(self.random.randint(1600, 2030)),
            latitude_deg=self.maybe(self.number(-90, 90)),
            north_deg=self.one((0.0, self.number(0, 359))),
            low_vision=self.one((True, False)),
            wall_thickness_m=self.one((0.1, self.number(0, 0.5))),
            ground=self.one((0.2, self.number(0, 1))),
            country=self.one(("", "GB", "US")),
            units=self.one(UNITS),
            notes=self.one(NOTES),
            limits={key: {self.one(IDS): self.number(1, 50)} for key in self.some(IDS, 2)},
            paints=paints,
            primers={key: self.primer() for key in self.some(IDS, 1)},
            finishes=finishes,
            client=self.client(),
            issues={str(n + 1): self.issue(keys) for n in range(self.random.randint(0, 2))},
            rooms={k: self.room(list(paints), list(finishes), i) for i, k in enumerate(keys)},
            visits={k: Visit(self.maybe(self.day()), self.one(NOTES)) for k in self.some(keys, 2)},
        )
        return replace(house, **self._relations(house))

    def _relations(self, house: House) -> dict[str, Any]:
        made: dict[str, Any] = {}
        rooms, paints = sorted(house.rooms), sorted(house.paints)
        if len(rooms) > 1:
            made["openings"] = {key: self.opening(house.rooms) for key in self.some(IDS, 3)}
            made["sightlines"] = {key: self.sightline(rooms) for key in self.some(IDS, 1)}
        made["brief"] = self.brief(rooms)
        made["schemes"] = {key: self.scheme(house) for key in self.some(IDS, 2)}
        if rooms:
            made["accepted"] = {key: self.accepted(paints, rooms) for key in self.some(IDS, 2)}
        if rooms and paints:
            made["samples"] = {key: self.sample(paints, rooms) for key in self.some(IDS, 2)}
        return made

    def sightline(self, rooms: Sequence[str]) -> Sightline:
        one, other = self.random.sample(rooms, 2)
        return Sightline((one, other), self.maybe(self.number(0, 1)))

    def wishes(self) -> dict[str, Any]:
        like = self.some(HUES, 3)
        avoid = [hue for hue in self.some(HUES, 3) if hue not in like]
        low = self.random.randint(0, 90)
        return {
            "strength": self.maybe(self.one(STRENGTHS)),
            "accent_strength": self.maybe(self.one(STRENGTHS)),
            "like": tuple(like),
            "avoid": tuple(avoid),
            "colours": self.maybe(self.random.randint(1, 9)),
            "lrv": self.maybe((float(low), low + self.number(0, 10))),
            "notes": self.one(NOTES),
        }

    def brief(self, rooms: Sequence[str]) -> Brief:
        return Brief(
            share=self.maybe(self.number(0.1, 1)),
            white_trim=self.one((True, False)),
            rooms={
                key: RoomBrief(keep=self.one((True, False)), **self.wishes())
                for key in self.some(rooms, 2)
            },
            **self.wishes(),
        )

    def scheme(self, house: House) -> Scheme:
        on = (NO_PAINT, *house.paints)
        of_rooms = {
            key: SchemePaints(
                accents=self.accents(house, key),
                parts={each: self.one(on) for each in house.rooms[key].parts},
                **{each: self.one((None, *on)) for each in SURFACES},
            )
            for key in self.some(sorted(house.rooms), 3)
        }
        return Scheme(self.one(NAMES), self.one(NOTES), of_rooms)

    def accents(self, house: House, room: str) -> Mapping[str, str] | None:
        held = house.rooms[room]
        walls = wall_lengths({"size_m": held.size_m, "outline_m": held.outline_m})
        paints = list(house.paints)
        return self.maybe({w: self.one(paints) for w in self.some(list(walls), 2) if paints})

    def accepted(self, paints: Sequence[str], rooms: Sequence[str]) -> Accepted:
        places = self.random.sample(rooms, self.random.randint(1, min(2, len(rooms))))
        return Accepted(
            self.one(("jar", "undertone")), tuple(places), tuple(self.some(SURFACES, 2)),
            tuple(self.some(paints, 2)), self.maybe(self.day()), self.one(("", *NAMES)),
            self.one(NOTES),
        )  # fmt: skip

    def client(self) -> Client:
        return Client(
            self.one(("", *NAMES)), self.one(NOTES), self.one(("", *NAMES)),
            self.one(("", "GBP", "EUR")), self.maybe(self.number(0, 30)),
            self.maybe(self.number(0, 90)), self.pairs((*SURFACES, *PART_KINDS), 4.5),
            self.maybe(self.number(0, 50)),
        )  # fmt: skip

    def issue(self, rooms: Sequence[str]) -> Issue:
        said = {room: {"walls": self.one(NAMES), "accent-n": "x"} for room in self.some(rooms, 2)}
        return Issue(
            self.maybe(self.day()), self.one(EDITIONS), self.one(("", *NAMES)), "",
            self.maybe(self.day()), self.one(NOTES), said,
        )  # fmt: skip

    def sample(self, paints: Sequence[str], rooms: Sequence[str]) -> Sample:
        return Sample(
            self.one(paints), self.one(rooms), None, self.maybe(self.day()),
            self.maybe(self.one(get_args(SampleLight))), self.maybe(self.one(VERDICTS)),
            self.one(NOTES), self.maybe(self.one(SURFACES)),
        )  # fmt: skip


def wall_lengths(shape: Mapping[str, Any]) -> dict[str, float]:
    """Return wall keys and a length that surely fits each."""
    if shape.get("size_m"):
        x, y = shape["size_m"]
        return {"n": x, "e": y, "s": x, "w": y}
    return {str(i): 1.0 for i in range(len(shape.get("outline_m") or ()))}
