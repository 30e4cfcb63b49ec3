"""A room under one light: lux and colour on every surface and on the working plane."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance
from housemap.colorimetry.arrays import Floats
from housemap.file import kept
from housemap.light import sources
from housemap.light.mesh import CEILING, FLOOR
from housemap.light.radiosity import BandLight, Bounced, FirstLight, Modes, Rows, band_light
from housemap.light.scene import LIGHTS, Column, LightName, Scene

WALLS, PLAIN_WALLS = "walls", "plain walls"
"""All walls of a room, and those of them that wear the walls' paint: area means."""
LUX = 3
"""The column after X, Y and Z."""
DARK_LUX = 1e-9
"""Less light than this is none."""
DISCOUNTED = 0.7
"""How much of the tint that reflected light gives to a surface an adapted eye takes away."""


class Lit(NamedTuple):
    """Light on `surfaces` (floor, ceiling, each wall, windows, openings, WALLS, PLAIN_WALLS).

    The last axis of the arrays is X, Y, Z of the 10 degree observer and lux; X, Y, Z are on one
    scale, on which a light of some lux has a Y near that.
    """

    surfaces: tuple[str, ...]
    source: Floats
    """Of all lumens that come in, (4,)."""
    bands: Floats
    """(surfaces, 41, 4): after all bounces, band by band."""
    direct: Floats
    """(surfaces, 4): before the first bounce."""
    received: Floats
    """(surfaces, surfaces, 4): on the first, reflected by the second."""

    def total(self, surface: str) -> Floats:
        """X, Y, Z and lux after all bounces."""
        summed: Floats = self.bands[self._at(surface)].sum(0)
        return summed

    def total_lux(self, surface: str) -> float:
        return float(self.total(surface)[LUX])

    def direct_lux(self, surface: str) -> float:
        return float(self.direct[self._at(surface), LUX])

    def gain(self, surface: str) -> float:
        """Total over direct light; infinite where no light comes directly."""
        direct = self.direct_lux(surface)
        return self.total_lux(surface) / direct if direct > 0.0 else np.inf

    def from_surface(self, on: str, by: str) -> Floats:
        """X, Y, Z and lux that one surface has from another."""
        light: Floats = self.received[self._at(on), self._at(by)]
        return light

    @property
    def adapting_cd_m2(self) -> float:
        """L_A: a background of Y 20 under the light on the walls (as CIECAM16 takes it)."""
        return appearance.adapting_luminance(self.total_lux(WALLS))

    def reflected_xyz100(self, surface: str, reflectance: Floats) -> Floats:
        """What a surface sends to an eye that discounts most of its tint: (..., 41) to (..., 3).

        Y 100 is a perfect diffuser on that same surface: a paint looks about as light on a wall in
        shade as on one beside the lamp (lightness constancy; our assumption).
        """
        weights = self.bands[self._at(surface), :, :3]
        white = weights.sum(0)
        return as_discounted(reflectance @ weights, white, self.source)

    def _at(self, surface: str) -> int:
        return self.surfaces.index(surface)


def lit_surfaces(scene: Scene) -> tuple[str, ...]:
    """Those of `Lit`."""
    return *scene.shape.surfaces, WALLS, PLAIN_WALLS


def as_discounted(sent: Floats, white: Floats, source: Floats) -> Floats:
    """What surfaces send, Y 100 a perfect diffuser there, as an adapted eye discounts its tint.

    `sent` (..., 3), and the light on the surface, `white`, one or one a colour; `source` (4,) is
    the light as it comes in. The light that one surface throws on another is discounted in part,
    as the colour of any light is: one sees white frames, not tinted ones. Delahunt & Brainard 2004
    (Journal of Vision 4(9):8) measured constancy under light that a nearby surface reflects: it
    follows the local surround. Foster 2011 (Vision Research 51:674) reviews how constant surfaces
    look under a change of light, mostly 0.6 to 0.9 of fully constant (from memory); DISCOUNTED is
    our choice among these. The rest is seen: rooms look stronger than chips (Harleman 2007).
    """
    untinted = white100_of(source)
    scale = 100.0 / np.maximum(white[..., 1:2], DARK_LUX)
    tinted = np.where(white[..., 1:2] < DARK_LUX, untinted, white * scale)
    return appearance.adapt(sent * scale, tinted, untinted, DISCOUNTED)


def white100_of(light: Floats) -> Floats:
    """X, Y, Z of a light of X, Y, Z and lux, with Y 100: (4,) to (3,)."""
    return np.asarray(light[:3] * (100.0 / light[1]))


def lit_as(surface: str) -> str:
    """The surface of `Lit` whose light falls on a coat; of a single wall "accent" and its key.

    What stands in a room, its trim and doors too, is lit as its walls are.
    """
    kind, _, wall = surface.partition(" ")
    own = {"walls": PLAIN_WALLS, "ceiling": CEILING, "floor": FLOOR}
    return wall if kind == "accent" else own.get(kind, WALLS)


def xy(light: Floats) -> tuple[float, float]:
    """Chromaticity of X, Y, Z (and lux), 10 degree observer."""
    x, y, _ = (light[:3] / light[:3].sum()).tolist()
    return x, y


def lights_of(
    scene: Scene, modes: Modes, light: tuple[FirstLight, Bounced], columns: Sequence[Column],
    lumens: tuple[Floats, Floats],
) -> tuple[dict[LightName, Lit], Floats]:  # fmt: skip
    """The lights of a room: first light by column, and what bounces; and their correction.

    `lumens` are what comes in first, by column, and what comes in later, by column and band.
    """
    first, bounced = light
    lit = scene.reflectance, first
    every = band_light(scene.mesh, modes, rows_of(scene), lit, bounced)
    weights = np.stack([sources.band_weights(spectrum) for _, spectrum in columns])
    each = (lumens[0][:, None] + lumens[1])[..., None] * weights
    parts = {name: [i for i, (n, _) in enumerate(columns) if n == name] for name, _ in columns}
    lights = {
        name: _folded(scene, every, part, weights[part], each[part].sum((0, 1)))
        for name, part in parts.items()
    }
    return lights, every.correction


def _folded(
    scene: Scene, light: BandLight, part: list[int], weights: Floats, source: Floats
) -> Lit:
    """Fold the spectra of one light's columns into what was computed for each at every band."""
    return Lit(
        surfaces=lit_surfaces(scene),
        source=source,
        bands=np.einsum("sgb,gbc->sbc", light.total[:, part], weights),
        direct=light.direct[:, part] @ weights.sum(1),
        received=np.maximum(np.tensordot(light.received[:, :, part], weights, 2), 0.0),
    )


def rows_of(scene: Scene) -> Rows:
    """Each surface, all walls, and the plain walls (all of them where each is an accent)."""
    names = scene.shape.surfaces
    groups = (scene.shape.wall_keys, scene.plain_walls or scene.shape.wall_keys)
    walls = np.array([[float(name in group) for name in names] for group in groups])
    return Rows(np.vstack([np.eye(len(names)), walls]))


class PlaneLight(NamedTuple):
    """The daylight factor on the cells of a room's working plane, in percent."""

    percents: Floats
    area_m2: Floats

    @property
    def mean(self) -> float:
        return float(self.percents @ self.area_m2 / self.area_m2.sum())

    @property
    def median(self) -> float:
        """What half of the plane has at least (EN 17037)."""
        order = np.argsort(self.percents)
        below = np.cumsum(self.area_m2[order])
        return float(self.percents[order][int((below < below[-1] / 2.0).sum())])


def sent_lux(
    scene: Scene, modes: Modes, spectra: Sequence[sources.Spectrum], light: tuple[Floats, Floats]
) -> Floats:
    """Lux that leave each patch under the columns of those spectra, which come first: (N,).

    `light`: first light (N, columns), and reflected light as shares of modes (K, columns, bands).
    """
    first, later = light
    total = np.zeros(len(first))
    for i, spectrum in enumerate(spectra):
        weight = sources.band_weights(spectrum)[:, LUX]
        of_surface = scene.reflectance @ weight
        bounced = (later[:, i] * scene.reflectance[modes.surface]) @ weight
        total += of_surface[scene.mesh.surface] * first[:, i] + modes.lux(bounced)
    return total


# As bytes for the cache, and the key of all that it depends on

KeptRoom = tuple[dict[LightName, Lit], PlaneLight | None]
NO_PLANE = -1
COUNTS = 3
"""The numbers before those of a room: whether it has each of LIGHTS, and cells of its plane."""


def key_of(scenes: Sequence[Scene], beside: object) -> str:
    """A name for all that light depends on: the scenes, and what has an exact repr beside them."""
    plain_walls = [sorted(scene.plain_walls) for scene in scenes]
    named = repr((kept.program("light", "colorimetry"), beside, plain_walls)).encode()
    return kept.key_of("light", named, *(scene.reflectance.tobytes() for scene in scenes))


def packed(rooms: Sequence[KeptRoom]) -> bytes:
    return np.concatenate([part.ravel() for room in rooms for part in _parts(*room)]).tobytes()


def _parts(lights: dict[LightName, Lit], plane: PlaneLight | None) -> Iterator[Floats]:
    cells = len(plane.area_m2) if plane else NO_PLANE
    yield np.array([*(name in lights for name in LIGHTS), cells], np.float64)
    for name in LIGHTS:
        if name in lights:
            _, *numbers = lights[name]
            yield from numbers
    if plane:
        yield from (plane.percents, plane.area_m2)


def unpacked(data: bytes, scenes: Sequence[Scene]) -> list[KeptRoom] | None:
    """The rooms that were packed; None where the bytes are not of these scenes."""
    try:
        numbers = _Numbers(np.frombuffer(data))
        rooms = [_room(numbers, scene) for scene in scenes]
    except (ValueError, OverflowError):
        return None
    return rooms if numbers.at == len(numbers.all) and np.isfinite(numbers.all).all() else None


class _Numbers:
    def __init__(self, numbers: Floats) -> None:
        self.all, self.at = numbers, 0

    def take(self, *shape: int) -> Floats:
        """Raises ValueError where there are not so many."""
        start, self.at = self.at, self.at + int(np.prod(shape))
        return self.all[start : self.at].reshape(shape)


def _room(numbers: _Numbers, scene: Scene) -> KeptRoom:
    *has, cells = numbers.take(COUNTS).tolist()
    names, senders = lit_surfaces(scene), len(scene.shape.surfaces)
    sizes, lights = ((4,), (len(names), 41, 4), (len(names), 4), (len(names), senders, 4)), {}
    for name, there in zip(LIGHTS, has, strict=True):
        if there:
            lights[name] = Lit(names, *(numbers.take(*size) for size in sizes))
    plane = None
    if cells != NO_PLANE:
        plane = PlaneLight(numbers.take(int(cells)), numbers.take(int(cells)))
    return lights, plane
