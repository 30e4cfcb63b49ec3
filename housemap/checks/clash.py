"""When the undertones of two colours fight (models of undertone, used by two checks)."""

from collections.abc import Iterator
from typing import TypeVar

from housemap.checks.finding import Finding, Place, Severity
from housemap.checks.page import Scope
from housemap.colorimetry.arrays import Floats
from housemap.study import Coat

_HALF_LIGHTNESS_STEP = 20.0
"""Our assumption: a step of 20 J' halves the strength of a clash."""

Number = TypeVar("Number", float, Floats)


def clash(
    first: Coat, second: Coat, scope: Scope, check: str, severity: Severity
) -> Iterator[Finding]:
    """A finding where both lean to a hue, the hues lie apart, and the distance is seen.

    The a'b' distance counts less as the lightness step grows: chromatic induction is strongest
    between colours of equal lightness (Gordon & Shapley 2006, Spatial Vision 19:133).
    """
    undertones = scope.undertone(first), scope.undertone(second)
    if first.swatch.id == second.swatch.id or any(u.family == "none" for u in undertones):
        return
    apart = scope.difference(first, second)
    strength = clash_strength(apart.ab, apart.ucs_lightness)
    if apart.hue_apart_deg > scope.limits["hue"] and strength > scope.limits["distance"]:
        yield Finding(
            check=check,
            severity=severity,
            places=(Place.of(first), Place.of(second)),
            kind="hue",
            value=apart.hue_apart_deg,
            limit=scope.limits["hue"],
            unit="deg",
            parts={"strength": strength, "lightness": apart.ucs_lightness},
            light=scope.light,
        )


def clash_strength(ab: Number, lightness: Number) -> Number:
    """The a'b' distance, weakened by the lightness step (both in CAM16-UCS units)."""
    return ab / (1.0 + (lightness / _HALF_LIGHTNESS_STEP) ** 2)
