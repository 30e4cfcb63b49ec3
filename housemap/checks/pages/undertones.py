"""Undertones that fight: of two paints, or of a paint and a finish that is kept."""

from dataclasses import replace

import numpy as np

from housemap.checks.check import Check, Compare, Example, Limit
from housemap.checks.examples import one_room, two_rooms
from housemap.checks.finding import WARN, Finding, Place, severity_costs
from housemap.checks.meetings import Compared, Limits, Meetings, Verdict, verdict
from housemap.checks.options import FIXED_SURFACES, PAINTED, Surfaces
from housemap.checks.pages.steps import (
    ACCENTS,
    PAINTS,
    is_open,
    lamps_in,
    relamps,
    severity_of,
)
from housemap.checks.words import (
    figures,
    number,
    paint_name,
    place_name,
    room_name,
    surface_name,
    under,
)
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.difference import hue_apart, plane_distance
from housemap.colorimetry.undertone import DARK_LRV, family_of
from housemap.light.explanation import CLASH_BAND
from housemap.model.house import House, Room, SurfacePaints

_HALF_LIGHTNESS_STEP = 20.0
"""Our assumption: a step of 20 J' halves the strength of a clash."""
_MOST_STRENGTH, _DOUBLED_BY = 2.0, 10.0
"""A clash costs twice as much by each 10 a'b' units of its strength, at most three times."""

_ONLY_THE_LIGHT = 0.5
"""What a clash counts for that paints have only in one light: another lamp mends it (ours)."""


def clash(
    seen: Compared, limits: Limits, severity: Indices | int, turned: Truths | None = None
) -> Verdict:
    """Both colours lean to a hue as they are seen, the hues lie apart, and the distance is seen.

    What hardly leans hardly fights: a distance counts up to twice the weaker lean, so that a white
    beside a clear colour is a white (our assumption).
    """
    lightness, strength = step_and_strength(*seen.ucs)
    found = strength > limits["distance"]
    hue = seen.hue_apart(found)
    found &= hue > limits["hue"]
    woodwork = np.flatnonzero(found & seen.of_woodwork)
    # Reflected light alone makes no clash of woodwork.
    found[woodwork] = fights(*seen.paints(lambda c: c.ucs, woodwork), limits)
    found = seen.both_lean(found)
    own = np.zeros(len(found))
    rows = np.flatnonzero(found & seen.lit)
    own[rows] = hue_apart(*seen.paints(lambda c: c.ucs, rows))
    by_light = found & seen.lit & (own <= limits["hue"])
    severities = np.where(by_light, np.minimum(severity, WARN), severity)
    close = found & (strength < limits["distance"] + CLASH_BAND) & seen.lit
    return verdict(
        seen, found, hue, limits["hue"], severities,
        cost=lambda rows: severity_costs(severities[rows])
        * (1.0 + np.minimum(strength[rows] / _DOUBLED_BY, _MOST_STRENGTH))
        * np.where(by_light[rows], _ONLY_THE_LIGHT, 1.0),
        band=np.where(close, np.inf, 0.0), kind="hue",
        parts={"strength": strength, "lightness": lightness, "paints": own},
        words=lambda row: _leans(seen, row), turned=turned, lights=seen.light,
    )  # fmt: skip


def _leans(seen: Compared, row: int) -> tuple[str, ...]:
    """Of both as they are seen: "lean green", or "turn yellow" where the light makes it so."""
    own = seen.paints(lambda colours: colours.names, np.array([row]))
    return tuple(
        f"{'lean' if family_of(str(name)) == family else 'turn'} {family}"
        for [name], family in zip(own, seen.families(row), strict=True)
    )


def step_and_strength(one: Floats, other: Floats) -> tuple[Floats, Floats]:
    """The lightness step and the strength of a clash of CAM16-UCS colours (..., 3).

    The a'b' distance, weakened by the lightness step: chromatic induction is strongest between
    colours of equal lightness (Gordon & Shapley 2006, Spatial Vision 19:133); how much weaker it
    gets is our assumption.
    """
    lightness = np.abs(one[..., 0] - other[..., 0])
    weaker = np.minimum(*(np.hypot(each[..., 1], each[..., 2]) for each in (one, other)))
    apart = np.minimum(plane_distance(one, other), 2.0 * weaker)
    return lightness, np.asarray(apart / (1.0 + (lightness / _HALF_LIGHTNESS_STEP) ** 2))


def fights(one: Floats, other: Floats, limits: Limits) -> Truths:
    """Whether CAM16-UCS colours (..., 3), both of which lean, fight by themselves."""
    _, strength = step_and_strength(one, other)
    return np.asarray((strength > limits["distance"]) & (hue_apart(one, other) > limits["hue"]))


def between_neutrals(met: Meetings, limits: Limits) -> Verdict:
    one, other = met.both(lambda colours: colours.near_neutral & colours.leans)
    seen = met.seen(met.differ & one & other)
    return clash(seen, limits, severity_of(seen.of_place(is_open)))


def made_by_lamps(finding: Finding, house: House, usual: tuple[str, ...]) -> Finding:
    """With the room whose lamps make it: unlike those of the other room and the `usual` ones.

    Only where the colours part by lamplight alone.
    """
    own, rooms = finding.parts.get("paints"), finding.rooms
    if finding.light != "evening" or own is None or own > (finding.limit or 0.0):
        return finding
    lamps = {room: lamps_in(house, room) for room in rooms}
    odd = [room for room in rooms if lamps[room] not in {(), usual}]
    differ = len({*lamps.values()}) > 1
    return replace(finding, lamps_of=odd[0]) if odd and differ else finding


def _headline_of_lamps(finding: Finding, house: House) -> str:
    """As in "Kitchen's 4000 K lamps set colours apart that do not fight by themselves"."""
    if not finding.lamps_of:
        return ""
    names = " and ".join(lamps_in(house, finding.lamps_of))
    one = len(house.rooms[finding.lamps_of].lamps) == 1
    lamps = f"{room_name(house, finding.lamps_of)}'s {names} lamp{'' if one else 's'}"
    return f"{lamps} set{'s' if one else ''} colours apart that do not fight by themselves"


def _verb(house: House, place: Place, words: str) -> str:
    """As "walls lean green" and "trim leans green" go."""
    if surface_name(house, place.room, place.surface).endswith("s"):
        return words
    return _of_one(words)


def _of_one(words: str) -> str:
    verb, _, rest = words.partition(" ")
    return f"{verb}{'es' if verb.endswith('sh') else 's'} {rest}".rstrip()


def _by_lamps(finding: Finding, house: House) -> str:
    one, other = (place_name(house, place) for place in finding.places)
    own = f"as paints {number(finding.parts['paints'])}"
    looks, there = (words.partition(" ")[2] for words in finding.words)
    return (
        f"{_headline_of_lamps(finding, house)}:"
        f" {one} {_verb(house, finding.places[0], 'look')} {looks}, {other} {there}."
        f" {_figures(finding, house, own)}"
    )


def _figures(finding: Finding, house: House, held: str = "limit {}") -> str:
    """How far the hues lie apart, held against what; of a slight clash also how strong it is."""
    check = FIXED if finding.check == FIXED.id else UNDERTONE
    least, strength = check.limits_in(house)["distance"], finding.parts["strength"]
    if finding.close:
        held += f"; strength {number(strength, least)}, limit {number(least, strength)}"
    return figures(finding, f"(hues {{}} degrees apart, {held})")


def _under(finding: Finding, house: House) -> str:
    """The light; of a room without a lamp, where that comes from."""
    if finding.light == "evening" and not lamps_in(house, finding.rooms[0]):
        return " by the lamps next door"
    return under(finding)


def tell_undertone(finding: Finding, house: House) -> str:
    if finding.lamps_of:
        return _by_lamps(finding, house)
    one, other = (place_name(house, place) for place in finding.places)
    leans, there = map(_of_one, finding.words)
    there = there.removeprefix(f"{leans.split()[0]} ")
    return (
        f"{one} and {other} fight{_under(finding, house)}: one {leans}, the other {there}."
        f" {_figures(finding, house)}"
    )


UNDERTONE = Check(
    id="undertone",
    title="Undertones that fight",
    help=(
        "The undertone of a near-neutral (ASTM D1535 chroma at most 3) is the hue it leans to. Two"
        " that lean to far-apart hues make each other look dirty, most so at equal lightness."
        " An accent wall is judged within its room."
        " Whites and greys without an undertone fight with nothing, in any light. Nor do dark"
        f" colours that have their hue, below LRV {DARK_LRV:g}. The"
        " tint that rooms throw on a surface counts in part. What clashes only in one light counts"
        " half and is never serious; where the lamps of one room make it, all that they make is one"
        " finding. Method: the a'b' plane of"
        " CAM16-UCS; the distance counts less as the lightness step grows (after Spatial Vision,"
        " 2006; how much less: our assumption)."
    ),
    limits=(
        Limit("hue", 60.0, "deg", "our assumption: a third of the way to the opposite hue"),
        Limit("distance", 4.0, "a'b'", "our assumption: clearly seen side by side"),
    ),
    clean=Example(
        "A yellowish white trim beside walls of a yellowish grey.",
        two_rooms("5Y 7/1", "2.5Y 8/1.5", trim="5Y 9/1"),
    ),
    caught=Example(
        "A pinkish grey hall opens into a greenish grey study.", two_rooms("5R 7/2", "5G 7/2")
    ),
    looks=(
        Compare(PAINTS, "anywhere", between_neutrals, lit=True),
        Compare(ACCENTS, "within", between_neutrals, lit=True),
    ),
    sentence=tell_undertone,
    headline="{0} and {1} fight",
    other_headline=_headline_of_lamps,
    changes=relamps,
    gravest="fault",
)


def with_kept_finishes(met: Meetings, limits: Limits) -> Verdict:
    """A nearly neutral paint and a finish of at most the chroma, each with an undertone."""
    fixed = np.array([[s in FIXED_SURFACES for s in pair] for pair in met.surfaces]).reshape(-1, 2)
    paints = met.both(lambda c: c.near_neutral & c.leans)
    finishes = met.both(lambda c: c.leans & (c.chroma <= limits["chroma"]))
    of_one, of_other = fixed[:, 0, None, None], fixed[:, 1, None, None]
    first = ~of_one & of_other & paints[0] & finishes[1]
    second = of_one & ~of_other & finishes[0] & paints[1]
    seen = met.seen(first | second)
    return clash(seen, limits, WARN, seen.of_meeting(fixed[:, 0]))


def tell_fixed(finding: Finding, house: House) -> str:
    if finding.lamps_of:
        return _by_lamps(finding, house)
    paint, finish = finding.places
    leans = f"{place_name(house, paint)} {_verb(house, paint, finding.words[0])}"
    clashes = f"{_under(finding, house)} and {_verb(house, paint, 'clash')}"
    return (
        f"{leans}{clashes} with the {paint_name(house, finish)} you are keeping."
        f" {_figures(finding, house)}"
    )


_SOURCE = "as for undertones that fight; our assumption"
_ROOM = Room("Hall", paints=SurfacePaints(walls="oat"), floor="boards")

FIXED = Check(
    id="fixed",
    title="Clashes with a fixed finish",
    help=(
        "Floor, tile, tops and brick remain when the walls are painted. A wall or trim whose"
        " undertone fights with them looks wrong, in the room or in view of it. Method: as for"
        " undertones that fight; the finish may have an ASTM D1535 chroma up to 6."
    ),
    limits=(
        Limit("hue", 60.0, "deg", _SOURCE),
        Limit("distance", 4.0, "a'b'", _SOURCE),
        Limit(
            "chroma", 6.0, "ASTM D1535 chroma",
            "our assumption: beyond it a finish is a colour of its own",
        ),
    ),
    clean=Example(
        "Yellowish walls over a yellow-brown oak floor.",
        one_room(_ROOM, {"boards": "10YR 6/4"}, oat="5Y 8/1"),
    ),
    caught=Example(
        "Bluish walls over the same oak floor.",
        one_room(_ROOM, {"boards": "10YR 6/4"}, oat="5PB 7/2"),
    ),
    looks=(
        Compare(Surfaces(PAINTED, FIXED_SURFACES), "anywhere", with_kept_finishes, lit=True),
        Compare(Surfaces(("accent",), FIXED_SURFACES), "within", with_kept_finishes, lit=True),
    ),
    sentence=tell_fixed,
    headline="{0} clashes with the {1} you are keeping",
    other_headline=_headline_of_lamps,
    changes=relamps,
)  # fmt: skip
