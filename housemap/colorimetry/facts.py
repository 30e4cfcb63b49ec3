"""Everything that is computed of a colour in itself, whichever way it was given.

Every colour goes through a reflectance: measured, or recovered from what was measured elsewhere.
From it come the values under D65 for the 10 degree observer, the screen colour (D65, 2 degrees)
and the notation (illuminant C, 2 degrees).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry import appearance, gamut, munsell, recovery, spaces, spectra, undertone
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.notation import MunsellNotation, parse, written
from housemap.model.colour import ColourSource, Lab, Notation, Reflectance, Srgb, Triple, Xyz

SCREEN = "D65/2"
REMEMBERED = 20_000


@dataclass(frozen=True, slots=True)
class ColourFacts:
    """A colour under D65 for the 10 degree observer, unless a field says other."""

    xyz100: Triple
    lab100: Triple
    lrv: float
    """Light reflectance value, 0..100: Y (BS 8493, ASTM E1477)."""
    estimated: bool
    """Whether the values above follow from a colour given for another light or observer, as a
    screen colour is: LRV is then up to 3 points off for strong yellows."""
    srgb_hex: str
    """For the screen; the given one where the colour was given as sRGB."""
    in_srgb: bool
    """Whether the screen can show it; else `srgb_hex` is less colourful."""
    notation: MunsellNotation
    reflectance: tuple[float, ...]
    """380(10)780 nm, 0..1."""
    jmh: Triple
    """CIECAM16 J, M, h at the reference light."""
    ucs: Triple
    """CAM16-UCS J', a', b'."""
    undertone: undertone.Undertone
    near_neutral: bool
    """ASTM D1535 chroma at most 3."""


_remembered: dict[ColourSource, ColourFacts] = {}


def colour_facts(sources: Sequence[ColourSource]) -> tuple[ColourFacts, ...]:
    """Facts of each colour, computed in one batch and remembered.

    Raises ColourError for a colour that has no meaning or that no surface can have.
    """
    known = {source: _remembered.get(source) for source in sources}
    new = [source for source, facts in known.items() if facts is None]
    made = dict(zip(new, _computed(new), strict=True)) if new else {}
    if len(_remembered) + len(made) > REMEMBERED:
        _remembered.clear()
    _remembered.update(made)
    return tuple(known[source] or made[source] for source in sources)


def reflectances(sources: Sequence[ColourSource]) -> Floats:
    """Reflectance of each colour on the working grid, measured or recovered: (n, 41)."""
    rows = np.empty((len(sources), len(spectra.GRID_NM)))
    given: dict[str, list[tuple[int, Floats]]] = {}
    for i, source in enumerate(sources):
        if isinstance(source, Reflectance):
            values = np.array(source.values, dtype=np.float64)
            rows[i] = spectra.resampled(values, source.start_nm, source.step_nm)
        else:
            observed, xyz100 = _as_seen(source)
            given.setdefault(observed, []).append((i, xyz100))
    for observed, colours in given.items():
        which, xyz = zip(*colours, strict=True)
        rows[list(which)] = recovery.recover(np.stack(xyz), observed)
    return rows


def _as_seen(source: Lab | Xyz | Srgb | Notation) -> tuple[str, Floats]:
    """Light and observer of a colour, and its XYZ under them."""
    match source:
        case Lab(lab100, observed):
            return observed, spaces.lab_to_xyz(np.array(lab100), spectra.white(observed))
        case Xyz(xyz100, observed):
            return observed, np.array(xyz100, dtype=np.float64)
        case Srgb(text):
            seen = spaces.srgb_to_xyz(np.array(spaces.hex_to_srgb(text)))
            return SCREEN, seen * spectra.white(SCREEN) / spaces.SRGB_WHITE
        case Notation(text):
            seen = munsell.to_xyz(np.array([parse(text)]))[0]
            return munsell.OBSERVED, seen * spectra.white(munsell.OBSERVED) / munsell.WHITE


def _computed(sources: Sequence[ColourSource]) -> list[ColourFacts]:
    reflectance = reflectances(sources)
    xyz = spectra.to_xyz(reflectance)
    jmh = appearance.jmh(xyz, appearance.reference())
    ucs = appearance.ucs(jmh)
    screen = spectra.to_xyz(reflectance, SCREEN) * (spaces.SRGB_WHITE / spectra.white(SCREEN))
    seen_in_c = spectra.to_xyz(reflectance, munsell.OBSERVED)
    hvc = munsell.from_xyz(seen_in_c * (munsell.WHITE / spectra.white(munsell.OBSERVED)))
    labs, undertones = spaces.xyz_to_lab(xyz, spectra.white()), undertone.undertones(hvc, ucs)
    hexes, shown = spaces.srgb_to_hex(gamut.to_srgb(screen)), gamut.in_srgb(screen).tolist()
    return [
        ColourFacts(
            xyz100=_triple(xyz[i]),
            lab100=_triple(labs[i]),
            lrv=float(xyz[i, 1]),
            estimated=_is_estimate(source),
            srgb_hex=source.hex if isinstance(source, Srgb) else hexes[i],
            in_srgb=isinstance(source, Srgb) or shown[i],
            notation=written(*_triple(hvc[i])),
            reflectance=tuple(reflectance[i].tolist()),
            jmh=_triple(jmh[i]),
            ucs=_triple(ucs[i]),
            undertone=undertones[i],
            near_neutral=bool(hvc[i, 2] <= undertone.NEAR_NEUTRAL_CHROMA),
        )
        for i, source in enumerate(sources)
    ]


def _triple(row: Floats) -> Triple:
    first, second, third = row.tolist()
    return first, second, third


def _is_estimate(source: ColourSource) -> bool:
    match source:
        case Reflectance():
            return False
        case Lab(_, observed) | Xyz(_, observed):
            return observed != spectra.REFERENCE
    return True
