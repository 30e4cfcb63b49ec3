"""Lamps as people know them: watts on the box, how well they show colours, measured spectra."""

import csv
import io
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import NamedTuple
from xml.etree import ElementTree as ET

import numpy as np

from housemap.colorimetry import appearance, spectra
from housemap.colorimetry.arrays import Floats
from housemap.errors import InputError
from housemap.light import sources
from housemap.light.sources import Spectrum
from housemap.model.house import SpectralPower

VISIBLE_NM = (380.0, 780.0)
LARGEST_FILE = 1_000_000
"""Characters of a file of a spectrum; more is not read."""


class Rendering(NamedTuple):
    """How a light shows colours."""

    ra: float
    """CIE 13.3 general colour rendering index."""
    rf: float
    """ANSI/IES TM-30 fidelity, 100 as under daylight or a full radiator of its temperature."""
    rg: float
    """ANSI/IES TM-30 gamut: above 100 colours are stronger than there, below it paler."""


@cache
def rendering(spectrum: Spectrum) -> Rendering:
    from housemap.colorimetry import science  # noqa: PLC0415 - half a second; asked for by name

    return Rendering(*science.rendering(sources.power(spectrum)))


def distortion(spectrum: Spectrum, reflectance: Floats, kelvin: float) -> Floats:
    """How far paints, (n, 41), look under a lamp from how they look under a smooth light: (n,).

    In CAM16-UCS at 300 lx, the eye adapted to each; the smooth light is daylight from 4000 K, else
    the full radiator of that temperature.
    """
    smooth = Spectrum("daylight" if kelvin >= sources.LED_BELOW_K else "planck", kelvin)
    seen = [_seen(light, reflectance) for light in (spectrum, smooth)]
    return np.asarray(np.linalg.norm(seen[0] - seen[1], axis=-1))


def _seen(spectrum: Spectrum, reflectance: Floats) -> Floats:
    power = spectra.planckian(spectrum.kelvin) if spectrum.kind == "planck" else None
    weights = spectra.weights_of(sources.power(spectrum) if power is None else power)
    white = weights.sum(0)
    scale = 100.0 / white[1]
    x, y, z = (white * scale).tolist()
    level = appearance.adapting_luminance(300.0)
    eye = appearance.Conditions((x, y, z), level)
    return appearance.ucs(appearance.jmh(reflectance @ weights * scale, eye))


# Measured spectra


def read_spectrum(text: str, file: str = "") -> SpectralPower:
    """A spectrum as CSV (nanometres, power) or IES TM-27 (XML). InputError says where and what."""
    if len(text) > LARGEST_FILE:
        raise InputError.of("is larger than a spectrum can be", file)
    pairs = [*(_of_xml(text, file) if text.lstrip().startswith("<") else _of_csv(text, file))]
    pairs.sort()
    nm, power = np.array(pairs, dtype=np.float64).reshape(-1, 2).T
    if len(nm) < 10 or nm[0] > 400.0 or nm[-1] < 700.0:  # noqa: PLR2004 - no spectrum of a lamp
        raise InputError.of("a spectrum needs powers from 400 to 700 nm at least, 10 or more", file)
    if any(b <= a for a, b in pairwise(nm)):
        raise InputError.of("a wavelength is given twice", file)
    if not np.all(np.isfinite(power)) or min(power) < 0.0 or max(power) <= 0.0:
        raise InputError.of("powers must be 0 or more, and not all 0", file)
    grid = np.arange(VISIBLE_NM[0], VISIBLE_NM[1] + 1.0, 5.0)
    values = np.interp(grid, nm, power, left=0.0, right=0.0) / max(power)
    return SpectralPower(grid[0], 5.0, tuple(values.round(6).tolist()))


def _of_csv(text: str, file: str) -> Iterator[tuple[float, float]]:
    """Rows of a wavelength and a power; rows before the first such row are headings."""
    begun = False
    separator = next((mark for mark in (";", "\t") if mark in text), ",")
    for number, row in enumerate(csv.reader(io.StringIO(text), delimiter=separator), 1):
        cells = [cell.strip() for cell in row if cell.strip()]
        try:
            nm, power = (float(cell) for cell in cells[:2])
        except ValueError:
            if begun and cells:
                raise InputError.of(
                    "a row must be a wavelength and a power", file, number
                ) from None
            continue
        begun = True
        yield nm, power


def _of_xml(text: str, file: str) -> Iterator[tuple[float, float]]:
    """The SpectralData elements of IES TM-27; a document type is refused unread."""
    if "<!" in text.replace("<!--", ""):
        raise InputError.of("a document type or entity is not read", file)
    try:
        root = ET.fromstring(text)  # noqa: S314 - no entities, see above
        for each in root.iter():
            if each.tag.rpartition("}")[2] == "SpectralData":
                yield float(each.attrib["wavelength"]), float(each.text or "")
    except (ET.ParseError, KeyError, ValueError) as error:
        raise InputError.of(f"no IES TM-27 spectrum: {error}", file) from None
