"""Everything that is computed of a colour in itself, whichever way it was given.

Every colour goes through a reflectance: measured, or recovered from what was measured elsewhere.
From it come the values under D65 for the 10 degree observer, the screen colour (D65, 2 degrees)
and the notation (illuminant C, 2 degrees).
"""

from array import array
from collections.abc import Callable, Sequence
from itertools import chain
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance, gamut, munsell, recovery, spaces, spectra, undertone
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.munsell import LEAST_CHROMA, MunsellNotation, parse
from housemap.colorimetry.undertone import strengths
from housemap.errors import ColourError
from housemap.model.house import ColourSource, Lab, Notation, Reflectance, Srgb, Triple, Xyz

ToXyz = Callable[[Floats, Floats], Floats]
"""Numbers of colours (n, 3) and the white's XYZ to XYZ."""
SCREEN = "D65/2"
REMEMBERED = 20_000
DECIMALS = 6
"""Of what is computed: a colour has the same values, and so the same name at the border of two, in
whatever batch it is computed. Where the search for its reflectance began shows beyond them."""
BLOCK = 4000
"""Colours at a time: what is computed of them stays in the cache of a core."""


class ColourFacts(NamedTuple):
    """A colour under D65 for the 10 degree observer, unless a field says other."""

    xyz100: Triple
    lab100: Triple
    lrv: float
    """Light reflectance value, 0..100: Y (BS 8493, ASTM E1477)."""
    srgb_hex: str
    """For the screen; the given one where the colour was given as sRGB."""
    in_srgb: bool
    """Whether the screen can show it; else `srgb_hex` is less colourful."""
    notation: MunsellNotation
    reflectance: "array[float]"
    """380(10)780 nm, 0..1; a tuple would be four times as large."""
    jmh: Triple
    """CIECAM16 J, M, h at the reference light."""
    ucs: Triple
    """CAM16-UCS J', a', b'."""
    undertone: undertone.Undertone
    near_neutral: bool
    """ASTM D1535 chroma at most 3, and no dark colour that is called by its hue."""
    strength: int
    """By the ISCC-NBS modifiers, 0 neutral to 4 vivid."""


_remembered: dict[ColourSource, ColourFacts] = {}


def colour_facts(sources: Sequence[ColourSource]) -> tuple[ColourFacts, ...]:
    """In one batch, and remembered; ColourError for a colour that no surface can have."""
    made = facts_or_errors(sources)
    for each in made:
        if isinstance(each, ColourError):
            raise each
    return tuple(each for each in made if isinstance(each, ColourFacts))


def facts_or_errors(sources: Sequence[ColourSource]) -> tuple[ColourFacts | ColourError, ...]:
    """As `colour_facts`, with the error in the place of each colour that cannot be."""
    if len(sources) > REMEMBERED:
        return tuple(_computed(sources))
    known = {source: _remembered.get(source) for source in sources}
    new = [source for source, facts in known.items() if facts is None]
    made = dict(zip(new, _computed(new), strict=True)) if new else {}
    if len(_remembered) + len(made) > REMEMBERED:
        _remembered.clear()
    _remembered.update((s, each) for s, each in made.items() if isinstance(each, ColourFacts))
    return tuple(known[source] or made[source] for source in sources)


def reflectances(sources: Sequence[ColourSource]) -> tuple[Floats, dict[int, ColourError]]:
    """Reflectance of each colour on the working grid, measured or recovered: (n, 41).

    The rows of colours that cannot be hold nothing; their errors stand beside, by place.
    """
    rows = np.zeros((len(sources), len(spectra.GRID_NM)))
    errors: dict[int, ColourError] = {}
    given: dict[tuple[ToXyz, str], list[tuple[int, Triple]]] = {}
    for i, source in enumerate(sources):
        try:
            if isinstance(source, Reflectance):
                values = np.array(source.values, dtype=np.float64)
                rows[i] = spectra.resampled(values, source.start_nm, source.step_nm)
            else:
                to_xyz, observed, numbers = _numbers(source)
                if (to_xyz, observed) not in given:
                    spectra.white(observed)  # or there is none
                given.setdefault((to_xyz, observed), []).append((i, numbers))
        except ColourError as error:
            errors[i] = error
    for (to_xyz, observed), colours in given.items():
        which, triples = zip(*colours, strict=True)
        xyz = to_xyz(np.array(triples, dtype=np.float64), spectra.white(observed))
        rows[list(which)], found = recovery.try_to_recover(xyz, observed)
        for place in np.flatnonzero(~found).tolist():
            errors[which[place]] = _impossible(sources[which[place]])
    return rows, errors


def _impossible(source: ColourSource) -> ColourError:
    """What to say of a colour that no reflectance has."""
    instead = "make it darker or greyer"
    if isinstance(source, Notation):
        hue, value, chroma = parse(source.text)
        weaker = np.array([(hue, value, each) for each in np.arange(chroma)])
        white = spectra.white(munsell.OBSERVED)
        _, found = recovery.try_to_recover(_notation_to_xyz(weaker, white), munsell.OBSERVED)
        instead = f"chroma is at most {np.flatnonzero(found).max(initial=0)} there"
    return ColourError(f"no surface is so light or so strong: {instead}")


def _numbers(source: Lab | Xyz | Srgb | Notation) -> tuple[ToXyz, str, Triple]:
    """Three numbers of a colour, how they become XYZ, and the light and observer of that."""
    match source:
        case Lab(lab100, observed):
            return spaces.lab_to_xyz, observed, lab100
        case Xyz(xyz100, observed):
            return _xyz_as_given, observed, xyz100
        case Srgb(text):
            return _srgb_to_xyz, SCREEN, spaces.hex_to_srgb(text)
        case Notation(text):
            return _notation_to_xyz, munsell.OBSERVED, parse(text)


def _xyz_as_given(xyz100: Floats, _white: Floats) -> Floats:
    return xyz100


def _srgb_to_xyz(srgb1: Floats, white: Floats) -> Floats:
    """Relative to the white of our own 5 nm sums, so that white stays white."""
    return spaces.srgb_to_xyz(srgb1) * (white / spaces.SRGB_WHITE)


def _notation_to_xyz(hvc: Floats, white: Floats) -> Floats:
    return munsell.to_xyz(hvc) * (white / munsell.WHITE)


def _computed(sources: Sequence[ColourSource]) -> list[ColourFacts | ColourError]:
    rows, errors = reflectances(sources)
    possible = [i for i in range(len(sources)) if i not in errors]
    blocks = (possible[first : first + BLOCK] for first in range(0, len(possible), BLOCK))
    made = chain.from_iterable(_facts([sources[i] for i in each], rows[each]) for each in blocks)
    return [errors[i] if i in errors else next(made) for i in range(len(sources))]


def _facts(sources: Sequence[ColourSource], reflectance: Floats) -> list[ColourFacts]:
    xyz = np.round(spectra.to_xyz(reflectance), DECIMALS)
    jmh = np.round(appearance.jmh(xyz, appearance.reference()), DECIMALS)
    ucs = np.round(appearance.ucs(jmh), DECIMALS)
    screen = spectra.to_xyz(reflectance, SCREEN) * (spaces.SRGB_WHITE / spectra.white(SCREEN))
    seen_in_c = spectra.to_xyz(reflectance, munsell.OBSERVED)
    hvc = munsell.from_xyz(seen_in_c * (munsell.WHITE / spectra.white(munsell.OBSERVED)))
    hvc = np.round(hvc, DECIMALS) % (100.0, np.inf, np.inf)
    undertones = undertone.undertones(hvc, ucs)
    called = [each.name for each in undertones]
    hue100 = np.where(hvc[:, 2] < LEAST_CHROMA, 0.0, hvc[:, 0])
    columns = (  # in the order of the fields
        _triples(xyz),
        _triples(np.round(spaces.xyz_to_lab(xyz, spectra.white()), DECIMALS)),
        xyz[:, 1].tolist(),
        *_shown(sources, screen),
        map(MunsellNotation, hue100.tolist(), *hvc[:, 1:].T.tolist()),
        (array("d", row.tobytes()) for row in reflectance),
        _triples(jmh),
        _triples(ucs),
        undertones,
        undertone.near_neutral(hvc[:, 2], xyz[:, 1], called).tolist(),
        strengths(hvc, called).tolist(),
    )
    return [*map(ColourFacts, *columns)]


def _triples(rows: Floats) -> list[Triple]:
    first, second, third = rows.T.tolist()
    return [*zip(first, second, third, strict=True)]


def _shown(sources: Sequence[ColourSource], screen100: Floats) -> tuple[list[str], list[bool]]:
    """Each colour as "#rrggbb", and whether that is it; a screen colour is what was given."""
    hexes = spaces.srgb_to_hex(gamut.to_srgb(screen100))
    within: list[bool] = gamut.in_srgb(screen100).tolist()
    for i, source in enumerate(sources):
        if isinstance(source, Srgb):
            hexes[i], within[i] = source.hex, True
    return hexes, within
