"""Several readings of one surface as one. How far they spread is a matter of colour difference."""

from collections.abc import Sequence

from housemap.deck.decoding import refuse
from housemap.errors import InputError
from housemap.model.house import ColourSource, Lab, Reflectance, Triple, Xyz


def mean_reading(readings: Sequence[ColourSource]) -> ColourSource:
    """The mean of spectra on one grid, or of Lab or XYZ under one illuminant and observer.

    Raises InputError where readings are of different kinds, or of kinds that have no mean.
    """
    if not readings:
        raise refuse("no reading to average", "")
    first = readings[0]
    if isinstance(first, Reflectance):
        return mean_reflectance([r for r in readings if isinstance(r, Reflectance)], len(readings))
    if isinstance(first, Lab):
        labs = [r.lab100 for r in readings if isinstance(r, Lab) and r.observed == first.observed]
        return Lab(mean_triple(labs, len(readings)), first.observed)
    if isinstance(first, Xyz):
        xyzs = [r.xyz100 for r in readings if isinstance(r, Xyz) and r.observed == first.observed]
        return Xyz(mean_triple(xyzs, len(readings)), first.observed)
    raise refuse("only spectra, Lab and XYZ can be averaged", "")


def mean_reflectance(readings: Sequence[Reflectance], wanted: int) -> Reflectance:
    grids = {(r.start_nm, r.step_nm, len(r.values)) for r in readings}
    if len(readings) < wanted or len(grids) > 1:
        raise unlike()
    first = readings[0]
    columns = zip(*(r.values for r in readings), strict=True)
    return Reflectance(first.start_nm, first.step_nm, tuple(map(mean, columns)))


def mean_triple(readings: Sequence[Triple], wanted: int) -> Triple:
    if len(readings) < wanted:
        raise unlike()
    first, second, third = map(mean, zip(*readings, strict=True))
    return first, second, third


def mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def unlike() -> InputError:
    return refuse(
        "readings to be averaged must be of one kind: all spectra of the same wavelengths, or all "
        "Lab, or all XYZ, under the same illuminant and observer",
        "",
    )
