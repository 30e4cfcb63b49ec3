"""An accent that nothing else in view takes up."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import one_room, two_rooms, with_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import number, place_name
from housemap.colorimetry.arrays import Floats, Truths
from housemap.model.house import House, Room, SurfacePaints
from housemap.study import Coat, PaintedRoom, Surroundings

_ECHO_CHROMA = 5.0
"""Our assumption: below this CAM16-UCS chroma a colour is too grey to take up another's hue."""


def lone_accent(around: Surroundings, scope: Scope) -> Iterator[Finding]:
    for accent in _accents(around.room, scope):
        if not any(_echoes(accent, coat, scope) for coat in _others(accent, around)):
            yield Finding(
                check="lone",
                severity="note",
                places=(Place.of(accent),),
                kind="chroma",
                value=accent.swatch.colour.undertone.chroma,
                limit=scope.limits["chroma"],
                unit="M'",
            )


def _accents(room: PaintedRoom, scope: Scope) -> Iterator[Coat]:
    coats = (room.coats.get("walls"), *room.accents)
    yield from (coat for coat in coats if coat and is_accent(coat, room.room, scope))


def is_accent(coat: Coat, room: Room, scope: Scope) -> bool:
    """Whether a coat of a room is one: walls by their role, walls and single walls by strength."""
    if coat.surface == "walls" and room.role == "accent":
        return True
    strong = coat.swatch.colour.undertone.chroma > scope.limits["chroma"]
    return strong and (coat.surface == "walls" or coat.surface.startswith("accent "))


def _others(accent: Coat, around: Surroundings) -> Iterator[Coat]:
    seen = {room.id: room for view in around.views for room in view.rooms}
    for room in seen.values():
        yield from (coat for coat in room.every_coat if coat is not accent)


def _echoes(accent: Coat, other: Coat, scope: Scope) -> bool:
    if accent.swatch.id == other.swatch.id:
        return True
    if other.swatch.colour.undertone.chroma < _ECHO_CHROMA:
        return False
    return scope.difference(accent, other).hue_apart_deg <= scope.limits["hue"]


def echoes(hue_apart_deg: Floats, other_chroma: Floats, limits: Mapping[str, float]) -> Truths:
    """Whether colours of this CAM16-UCS chroma take up an accent's hue so far away."""
    return np.asarray((other_chroma >= _ECHO_CHROMA) & (hue_apart_deg <= limits["hue"]))


def chroma_costs(chroma: Floats, limits: Mapping[str, float]) -> Floats:
    """What lone accents of this CAM16-UCS chroma cost."""
    return cost_of_values("note", chroma, limits["chroma"])


def tell(finding: Finding, house: House) -> str:
    return (
        f"{place_name(house, finding.places[0])} is an accent (M' {number(finding.value)})"
        " whose hue nothing else in any view with it repeats"
    )


def _accent_study(house: House) -> House:
    return with_room(house, "study", replace(house.rooms["study"], role="accent"))


CHECK = Check(
    id="lone",
    title="Lone accent",
    help=(
        "An accent looks meant when something else in view takes up its hue: a wall, trim, floor"
        " or finish. This one stands alone. An accent is a room with that role, or a wall colour"
        f" of CAM16-UCS chroma above the limit; colours below chroma {_ECHO_CHROMA:g} repeat no"
        " hue (our assumption)."
    ),
    limits=(
        Limit("chroma", 25.0, "M'", "our assumption: no longer a neutral in anyone's eyes"),
        Limit("hue", 30.0, "deg", "our assumption: hues this near belong together"),
    ),
    clean=Example(
        "Rust walls over a floor of red brick.",
        one_room(
            Room("Hall", role="accent", paints=SurfacePaints(walls="rust"), floor="brick"),
            {"brick": "10R 4/6"},
            rust="10R 4/8",
        ),
    ),
    caught=Example(
        "A rust study off a greenish grey hall, and no other red in the house.",
        _accent_study(two_rooms("5G 8/1", "10R 4/8")),
    ),
    tell=tell,
    changes=repaint,
    of_surroundings=lone_accent,
)
