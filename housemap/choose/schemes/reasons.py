"""Why a colour is in a set: one sentence each, from its figures."""

from housemap.choose.deck.chips import Chips
from housemap.choose.schemes.kinds import NO_HUE, OPPOSITE, hues_from, is_backbone, is_room
from housemap.choose.schemes.sets import ColourSet, SetColour
from housemap.choose.schemes.shape import TIERS
from housemap.model.house import STRENGTHS
from housemap.study import Swatch

DEEP = 20.0
"""LRV below which an accent needs light, or is dark on purpose."""


def strength_of(swatch: Swatch) -> str:
    """By the ISCC-NBS modifiers."""
    return STRENGTHS[int(Chips((swatch,), ("",)).strengths[0])]


def colour_name(swatch: Swatch) -> str:
    """The ISCC-NBS name, in British spelling."""
    return swatch.colour.undertone.name.replace("gray", "grey")


def reason(one: SetColour, found: ColourSet) -> str:
    """One sentence about a colour of a set."""
    return {
        "neutral": _neutral, "backbone": _backbone, "room": _room, "trim": _trim, "dark": _dark,
        "accent": _accent,
    }[one.part](one.swatch, found.neutral)  # fmt: skip


def _neutral(own: Swatch, _: Swatch) -> str:
    use = "light enough to link the house" if is_backbone(own) else (
        "a tone for rooms that close" if is_room(own) else "the colour that the set answers"
    )  # fmt: skip
    return f"A {colour_name(own)}, LRV {own.lrv:.0f}: {use}."


def _backbone(own: Swatch, neutral: Swatch) -> str:
    if own is neutral:
        return f"The neutral itself: LRV {own.lrv:.0f} is light enough for halls and open space."
    step = "lighter" if own.lrv > neutral.lrv else "deeper"
    return f"{_relation(own, neutral)}, and {step}: LRV {own.lrv:.0f} suits halls and open space."


def _room(own: Swatch, neutral: Swatch) -> str:
    if own is neutral:
        return f"The neutral itself: LRV {own.lrv:.0f} suits rooms that can be closed off."
    low, high = TIERS["room"].fine
    tier = "suits rooms that can be closed off" if low <= own.lrv <= high else "is off that tier"
    return f"{_relation(own, neutral)}, as quiet: LRV {own.lrv:.0f} {tier}."


def _trim(own: Swatch, neutral: Swatch) -> str:
    lean = "" if own.colour.notation.chroma < NO_HUE else " that leans as the neutral does"
    step = own.lrv - neutral.lrv
    return f"Near-white{lean}, {step:.0f} LRV points above the neutral, so that the edge reads."


def _dark(own: Swatch, _: Swatch) -> str:
    return f"Near-black with a trace of the neutral's hue, LRV {own.lrv:.0f}: doors or joinery."


def _accent(own: Swatch, neutral: Swatch) -> str:
    depth = (
        f"deep, LRV {own.lrv:.0f}: where there is light, or dark on purpose"
        if own.lrv < DEEP
        else f"LRV {own.lrv:.0f}"
    )
    return f"{_relation(own, neutral)}, {strength_of(own)}; {depth}."


def _relation(own: Swatch, neutral: Swatch) -> str:
    """How its hue stands to the neutral's, and its name."""
    name = colour_name(own)
    article = "An" if name[0] in "aeiou" else "A"
    if neutral.colour.notation.chroma < NO_HUE:
        return f"{article} {name} beside a grey without undertone"
    turned = abs(float(hues_from(Chips((own,), ("",)), neutral)[0]))
    if own.colour.notation.chroma < NO_HUE or turned <= 20:  # noqa: PLR2004 - tonal
        return f"{article} {name} that shares the neutral's undertone"
    if turned >= OPPOSITE[0]:
        return f"{article} {name}, opposite the neutral's hue"
    return f"{article} {name}, {turned:.0f} degrees of hue from the neutral"
