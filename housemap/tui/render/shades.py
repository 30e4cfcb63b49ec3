"""What the map shows of a house: each room's colours, name and findings, as plain data."""

from collections.abc import Mapping
from dataclasses import field
from math import dist
from typing import TYPE_CHECKING, Literal, NamedTuple, get_args

from housemap.model.frozen import frozen
from housemap.model.house import Finish, House, Light, Paint, Srgb, Surface
from housemap.model.samples import Tried, all_tried, trying
from housemap.model.severity import letter_of
from housemap.tui.render.cells import Hex
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Place, Report
    from housemap.study import Coat as StudyCoat
    from housemap.study import SeenColour, SeenView, Swatch
    from housemap.study.lighting import Lighting, Paints


State = Literal["bare", "awaited", "known", "sketched"]
"""No paint; a paint whose colour is still being computed; a colour to show; a room that is only
being typed."""


class Coat(NamedTuple):
    state: State = "bare"
    colour: Hex | None = None
    """Set where the state is "known"."""


BARE = Coat()
SKETCHED = Coat("sketched")


@frozen()
class Mark:
    """The worst of a room's findings, and how many there are."""

    severity: str
    count: int

    @property
    def letter(self) -> str:
        return letter_of(self.severity)


class Block(NamedTuple):
    """A room as the map shows it."""

    name: str
    coats: Mapping[Surface, Coat]
    accents: Mapping[str, Coat]
    """By wall."""
    paint_name: str = ""
    lrv: float | None = None
    """Of the walls."""
    mark: Mark | None = None
    lacks: str = ""
    """Why it shows as under the reference light, where another was asked for."""
    ticked: bool = False
    """Walked through on site."""
    noted: bool = False
    """With a note of the visit, whose sign takes the place of the tick."""
    in_sun: bool = False
    """Whether the sun shines into it, while that is shown."""
    tried: Tried = "untried"
    """What samples of the walls' paint in this room came to."""
    unlike_trim: tuple[Surface, ...] = ()
    """Of ceiling and doors, those that wear another paint than the trim."""

    def coat(self, surface: Surface) -> Coat:
        return self.coats.get(surface, BARE)


def blocks_of(shades: "Shades") -> Mapping[str, Block]:
    """By room; the findings of a report come by cause, the gravest first."""
    house, tried, blocks = shades.house, all_tried(shades.house), {}
    by_room = shades.report.causes_by_room if shades.report else {}
    for key, room in house.rooms.items():
        walls, visit, causes = room.paints.walls, house.visits.get(key), by_room.get(key, ())
        coats = {on: shades.on(key, on, paint) for on, paint in room.paints.chosen()}
        accents = {
            wall: shades.on(key, f"accent {wall}", accent.paint)
            for wall, accent in room.accents.items()
        }
        others = [on for on, paint in room.paints.chosen() if paint != room.paints.trim]
        blocks[key] = Block(
            room.name, coats, accents, house.paints[walls].name if walls else "",
            shades.lrv_of(walls) if walls else None,
            Mark(causes[0].severity, len(causes)) if causes else None,
            shades.lacks(key) if coats or accents else "",
            ticked=visit is not None, noted=bool(visit and visit.notes),
            tried=tried.get(trying(walls, key, "walls"), "untried"),
            unlike_trim=tuple(on for on in others if on in {"ceiling", "doors"}),
        )  # fmt: skip
    return blocks


# The screen colour of every surface under the light of the moment: one place decides it.
#
# Whoever draws a swatch asks `shades_of(session)`; nobody else turns a paint into a colour.

LIGHTS: tuple[Light, ...] = get_args(Light)

Key = tuple[str, str]
"""Of a swatch: its kind ("Paint", "Finish") and id."""


@frozen()
class Shades:
    """Every colour of a house as it is shown.

    Under the reference light a paint looks the same everywhere. By day and in the evening a
    surface shows as an eye in its own room sees it, or one that looks in from another room. What
    has no such light, or none that is computed yet, shows as under the reference light.
    """

    light: Light
    house: House
    report: "Report | None"
    """It may lag behind the house."""
    _known: "dict[str, Paints | None]" = field(default_factory=dict, repr=False, compare=False)
    """What `paints_on_walls` has found."""

    def on(self, room: str, surface: str, paint: str | None, *, eye: str | None = None) -> Coat:
        """A paint on a surface: walls ceiling trim doors, or "accent" and the wall's key.

        `eye` is the room from which it is seen; None: its own.
        """
        if paint is None:
            return BARE
        colour = self._seen(eye or room, room, surface, ("Paint", paint))
        return Coat("known", colour) if colour else self.plain(paint)

    def plain(self, paint: str) -> Coat:
        """A paint under the reference light: as the file has it on a screen, else as computed."""
        entity, computed = self.house.paints.get(paint), self._swatch(("Paint", paint))
        if entity is not None and isinstance(entity.colour, Srgb):
            return Coat("known", entity.colour.hex)
        return Coat("known", computed.colour.srgb_hex) if computed else Coat("awaited")

    def lrv_of(self, paint: str) -> float | None:
        """None where it is not known (yet): a report may lack a paint, and a file its LRV."""
        entity, computed = self.house.paints.get(paint), self._swatch(("Paint", paint))
        return computed.lrv if computed else entity.lrv if entity else None

    @property
    def lrvs(self) -> Mapping[str, float]:
        """By paint, of those that have a known one: a house may hold the paints of whole decks."""
        known = ((paint, self.lrv_of(paint)) for paint in self.house.paints)
        return {paint: lrv for paint, lrv in known if lrv is not None}

    def finish(self, room: str, surface: str, finish: str, *, eye: str | None = None) -> Coat:
        """A finish of a room: its floor, or "fixed"."""
        colour = self._seen(eye or room, room, surface, ("Finish", finish))
        swatch = self.report.study.swatches.get(("Finish", finish)) if self.report else None
        if colour is None and swatch is not None:
            colour = swatch.colour.srgb_hex
        return Coat("known", colour) if colour else Coat("awaited")

    def at(self, place: "Place", *, eye: str | None = None) -> Coat:
        """What a finding names."""
        if place.finish:
            return self.finish(place.room, place.surface, place.finish, eye=eye)
        return self.on(place.room, place.surface, place.paint or None, eye=eye)

    def undertone(self, room: str, surface: str, paint: str) -> str:
        """Of a paint, and what the light shown there makes of it; empty while it is not known."""
        coat = self._coat(room, surface, ("Paint", paint))
        if coat is not None:
            return self.tone(coat, eye=room)
        swatch = self.report.study.swatches.get(("Paint", paint)) if self.report else None
        return swatch.colour.undertone.words if swatch else ""

    def tone(self, coat: "StudyCoat", *, eye: str) -> str:
        """The same of a coat of the report, as seen from a room."""
        return ", ".join(filter(None, (coat.swatch.colour.undertone.words, self._shift(coat, eye))))

    def shift(self, room: str, surface: str, paint: str) -> str:
        """What the light shown makes of a paint there; empty where it hardly does, or unknown."""
        coat = self._coat(room, surface, ("Paint", paint))
        return self._shift(coat, room) if coat else ""

    def seen_ucs(self, room: str, surface: str, paint: str) -> "tuple[float, float, float] | None":
        """CAM16-UCS of a paint there as its room's eye sees it; None where that is not known."""
        coat, view = self._coat(room, surface, ("Paint", paint)), self._view(room)
        seen = view.colours.get(coat) if coat and view else None
        return seen.ucs if seen else None

    def _shift(self, coat: "StudyCoat", eye: str) -> str:
        view = self._view(eye)
        seen = view.colours.get(coat) if view else None
        return seen.shift_from(coat.swatch.colour.ucs) if seen else ""

    def apart(self, eye: str, first: "StudyCoat", second: "StudyCoat") -> float | None:
        """CAM16-UCS difference of two coats of the report as shown; None without a report."""
        view = self._view(eye)
        if view is not None and first in view.colours and second in view.colours:
            return dist(view.colours[first].ucs, view.colours[second].ucs)
        if self.report is None:
            return None
        return dist(first.swatch.colour.ucs, second.swatch.colour.ucs)

    def paints_on_walls(self, room: str) -> "Paints | None":
        """Each paint of the house on the walls of a room; None until it was looked at closely."""
        if room not in self._known:
            lighting = self.lighting
            self._known[room] = lighting.close.paints(lighting, room) if lighting else None
        return self._known[room]

    # What cannot be shown under the light

    @property
    def light_to_come(self) -> bool:
        return self.light != "reference" and self.lighting is None

    def lacks(self, room: str) -> str:
        """Why a room shows as under the reference light; empty where it does not have to."""
        if self.lighting is None or self.light == "reference":
            return ""
        return self.lighting.lacks(room, self.light)

    @property
    def unlit(self) -> Mapping[str, tuple[str, ...]]:
        """The painted rooms that lack the light, by the reason."""
        found: dict[str, list[str]] = {}
        for room, each in self.house.rooms.items():
            painted = each.accents or any(each.paints.chosen())
            if painted and (reason := self.lacks(room)):
                found.setdefault(reason, []).append(room)
        return {reason: tuple(rooms) for reason, rooms in found.items()}

    # How it is found

    @property
    def lighting(self) -> "Lighting | None":
        """The light of the house, once all of it has been computed."""
        lighting = self.report.study.lighting if self.report else None
        return lighting if lighting and lighting.ready else None

    def _view(self, eye: str) -> "SeenView | None":
        if self.light == "reference" or self.lighting is None:
            return None
        return self.lighting.seen.get((eye, self.light))

    def _seen(self, eye: str, room: str, surface: str, key: Key) -> Hex | None:
        """As computed; else, for a paint just put on, as it looks by the light that is there."""
        view = self._view(eye)
        if view is None:
            return None
        coat = self._coat(room, surface, key)
        seen: SeenColour | None = view.colours.get(coat) if coat else None
        return seen.srgb_hex if seen else self._tried(eye, room, surface, key)

    def _coat(self, room: str, surface: str, key: Key) -> "StudyCoat | None":
        """The coat of the report that it is; None where the report knows another."""
        part = self.report.study.rooms.get(room) if self.report else None
        coats = part.every_coat if part else iter(())
        found = (c for c in coats if c.surface == surface and c.swatch.key == key)
        coat = next(found, None)
        return coat if coat and self._swatch(key) else None

    def _swatch(self, key: Key) -> "Swatch | None":
        """As the report has it; None where that is of another paint, or another finish."""
        kind, entity = key
        table: Mapping[str, Paint | Finish]
        table = self.house.paints if kind == "Paint" else self.house.finishes
        swatch = self.report.study.swatches.get(key) if self.report else None
        return swatch if swatch and swatch.entity == table.get(entity) else None

    def _tried(self, eye: str, room: str, surface: str, key: Key) -> Hex | None:
        assert self.lighting is not None
        assert self.light != "reference"
        if self._swatch(key) is None:
            return None
        paints = self.paints_on_walls(room) if surface == "walls" and eye == room else None
        if paints and (paint := paints.get(key[1])):
            return paint.srgb_hex.get(self.light)
        return self.lighting.shown_alone(room, surface, key, eye, self.light)


def shades_of(session: Session) -> Shades:
    """The colours of what a session shows."""
    return Shades(session.selection.light, session.shown, session.report)
