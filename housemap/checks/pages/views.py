"""What one sees at once: too many colours, an accent on its own, a room without paint."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from housemap.checks.check import Check, Example, Limit, Listed, OfView, Scope
from housemap.checks.examples import crowded_hall, one_room, two_rooms, with_room
from housemap.checks.finding import NOTE, WARN, Finding, Place, plain_finding
from housemap.checks.meetings import Limits, Verdict, verdict
from housemap.checks.options import ViewOptions
from housemap.checks.words import figures, paint_name, place_name, room_name
from housemap.colorimetry.arrays import Floats, Truths
from housemap.colorimetry.difference import hue_apart
from housemap.model.house import House, Room, SurfacePaints
from housemap.study import Coat, View
from housemap.study.colours import Colours


def crowded(view: ViewOptions, limits: Limits) -> Iterator[Verdict]:
    """The standing point from which most colours are seen, where they are too many."""
    apart, kind_of = view.walls_apart(limits["apart"])
    together = [*seen_together(view)]
    most = [_most_at_once(view.with_walls, together, each) for each in apart]
    count = np.array([len(rooms) for rooms in most], dtype=np.float64)[kind_of]
    limit = limits["colours"]
    made = verdict(view, count > limit, count, limit, WARN, kind="colours")
    tried = view.tried.part.id if view.tried else ""

    def places(row: int) -> tuple[Place, ...]:
        rooms = most[kind_of[made.cell[row]]]
        return tuple(view.walls_at(room, int(made.cell[row])) for room in rooms)

    names = np.array([tried in rooms for rooms in most], dtype=np.bool_)[kind_of[made.cell]]
    yield replace(made, places=places, names_room=names)


def seen_together(view: ViewOptions) -> Iterator[frozenset[str]]:
    """The rooms seen at once, the eye's own too; where measures are missing, all seen from it."""
    own, sight = view.room.id, view.study.sight
    if own not in sight.rooms:
        yield frozenset(view.rooms)
        return
    unmeasured = {room for room in view.rooms if room not in sight.rooms}
    yield frozenset({own, *unmeasured})
    for seen in sight.rooms[own].views.together:
        yield seen | {own, *unmeasured}


def _most_at_once(
    rooms: Sequence[str], together: Iterable[frozenset[str]], apart: Truths
) -> tuple[str, ...]:
    """The most rooms seen together whose wall colours differ, one of each colour."""
    differ = [frozenset(np.flatnonzero(row).tolist()) for row in apart]
    most: list[int] = []
    for seen in together:
        chosen: list[int] = []
        for at, room in enumerate(rooms):
            if room in seen and differ[at].issuperset(chosen):
                chosen.append(at)
        most = max(most, chosen, key=len)
    return tuple(rooms[at] for at in most)


def tell_crowd(finding: Finding, house: House) -> str:
    first = finding.places[0]
    colours = ", ".join(paint_name(house, place) for place in finding.places)
    others = ", ".join(room_name(house, place.room) for place in finding.places[1:])
    return (
        f"{room_name(house, first.room)}: {len(finding.places)} wall colours in one view, looking"
        f" into {others}. ({colours}; limit {finding.limit:g})"
    )


CROWD = Check(
    id="crowd",
    title="Too many colours in one view",
    help=(
        "From one standing point more wall colours are in view than an eye takes as one scheme."
        " Colours closer than 5 CAM16-UCS units count once. Standing points lie on a grid of"
        " 0.25 m; where measures are missing, all that a room sees counts as seen at once."
    ),
    limits=(
        Limit("colours", 4.0, "colours", "common practice: a view holds together up to four"),
        Limit("apart", 5.0, "CAM16-UCS", "our assumption: nearer, two walls pass for one colour"),
    ),
    clean=Example("A hall that opens into five rooms of two colours.", crowded_hall(2)),
    caught=Example("The same hall with every room in a colour of its own.", crowded_hall(5)),
    looks=(OfView(crowded, deep=True),),
    sentence=tell_crowd,
    headline="Too many colours in one view",
)

_ECHO_CHROMA = 5.0
"""Our assumption: below this CAM16-UCS chroma a colour is too grey to echo another's hue."""


def lone_accent(around: ViewOptions, limits: Limits) -> Iterator[Verdict]:
    """Each accent of the room; an option may echo it, or be the accent itself."""
    rest, options = around.colours, around.options
    for at, coat in enumerate(around.coats):
        strong = coat.swatch.colour.undertone.chroma > limits["chroma"]
        by_role = coat.surface == "walls" and around.room.room.role == "accent"
        is_accent = by_role or (strong and _may_be_accent(coat.surface))
        if coat.room == around.room.id and is_accent:
            yield _without_echo(around, limits, at, coat)
    surface = around.tried.surface if around.tried else ""
    if options is not None and around.tries_room and _may_be_accent(surface):
        as_role = surface == "walls" and around.room.room.role == "accent"
        alone = (strength(options) > limits["chroma"]) | as_role
        accents = options.rows(np.flatnonzero(alone))
        alone[alone] = ~echoes(accents, rest, limits).any(axis=1)
        yield _verdict(around, alone, strength(options), limits, None)


def _without_echo(around: ViewOptions, limits: Limits, at: int, coat: Coat) -> Verdict:
    accent = around.colours.rows(np.array([at]))
    echoed = bool(np.delete(echoes(accent, around.colours, limits)[0], at).any())
    alone = np.full(around.count, not echoed)
    if around.options is not None:
        alone &= ~echoes(accent, around.options, limits)[0]
    return _verdict(around, alone, np.repeat(strength(accent), around.count), limits, coat)


def _verdict(
    around: ViewOptions, alone: Truths, chroma: Floats, limits: Limits, coat: Coat | None
) -> Verdict:
    made = verdict(around, alone, chroma, limits["chroma"], NOTE, kind="chroma")
    names = np.full(len(made.cell), around.tries_room)

    def places(row: int) -> tuple[Place]:
        return (Place.of(coat) if coat else around.option_at(int(made.cell[row])),)

    return replace(made, places=places, names_room=names)


def _may_be_accent(surface: str) -> bool:
    return surface == "walls" or surface.startswith("accent ")


def strength(colours: Colours) -> Floats:
    """CAM16-UCS chroma."""
    return np.asarray(np.sqrt((colours.ucs[:, 1:] ** 2).sum(-1)))


def echoes(accents: Colours, others: Colours, limits: Limits) -> Truths:
    """Whether each of the others echoes the hue of each accent: (accents, others)."""
    hue = hue_apart(accents.ucs[:, None], others.ucs)
    near = (strength(others) >= _ECHO_CHROMA) & (hue <= limits["hue"])
    return np.asarray(near | (accents.ids[:, None] == others.ids))


def tell_lone(finding: Finding, house: House) -> str:
    accent = place_name(house, finding.places[0])
    if (finding.value or 0.0) <= (finding.limit or 0.0):
        return f"Nothing in view echoes the accent colour of {accent}."
    return (
        f"Nothing in view echoes the strong colour of {accent}."
        f" {figures(finding, '(colour strength {}; strong from {})')}"
    )


_RUST = two_rooms("5G 8/1", "10R 4/8")
_HALL = Room("Hall", role="accent", paints=SurfacePaints(walls="rust"), floor="brick")

LONE = Check(
    id="lone",
    title="Accent without an echo",
    help=(
        "An accent looks meant when something else in view echoes its hue: a wall, trim, floor or"
        " finish. This one has no echo. An accent is a room with that role, or a wall colour of"
        f" CAM16-UCS chroma above the limit; colours below chroma {_ECHO_CHROMA:g} echo no hue (our"
        " assumption)."
    ),
    limits=(
        Limit("chroma", 25.0, "M'", "our assumption: no longer a neutral in anyone's eyes"),
        Limit("hue", 30.0, "deg", "our assumption: hues this near belong together"),
    ),
    clean=Example(
        "Rust walls over a floor of red brick.",
        one_room(_HALL, {"brick": "10R 4/6"}, rust="10R 4/8"),
    ),
    caught=Example(
        "A rust study off a greenish grey hall, and no other red in the house.",
        with_room(_RUST, "study", replace(_RUST.rooms["study"], role="accent")),
    ),
    looks=(OfView(lone_accent, around=True),),
    sentence=tell_lone,
    headline="Nothing in view echoes {0}",
    caused_by="paint",
    gravest="note",
)


def unpainted(view: View, scope: Scope) -> Iterator[Finding]:
    del scope
    room = view.room
    to_paint = room.room.use != "outdoor" and not room.is_kept
    if view.seen and "walls" not in room.coats and to_paint:
        yield plain_finding("bare", "note", (Place(room.id, "walls"),))


def tell_bare(finding: Finding, house: House) -> str:
    return f"{room_name(house, finding.places[0].room)}: walls unpainted, and in view."


_BOTH = two_rooms("5Y 8/1", "5Y 7/1")

BARE = Check(
    id="bare",
    title="Unpainted",
    help=(
        "A room that is seen from another has no wall paint yet. So no finding about the view is"
        " final."
    ),
    limits=(),
    clean=Example("Hall and study both have their paint.", _BOTH),
    caught=Example(
        "The study off the hall has none.",
        with_room(_BOTH, "study", replace(_BOTH.rooms["study"], paints=SurfacePaints())),
    ),
    looks=(Listed("views", unpainted),),
    sentence=tell_bare,
    headline="Walls unpainted, and in view",
    caused_by="paint",
    gravest="note",
    advice="Go to the room and press enter to choose a paint, or a for a suggestion.",
    to_do=True,
)
