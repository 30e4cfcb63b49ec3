"""Walls too dark for connecting space or for their light; colours that shift with the light."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from housemap.checks.check import Change, Check, Compare, Example, Limit, OfRoom
from housemap.checks.examples import lit_room, two_rooms, with_room
from housemap.checks.finding import NOTE, WARN, Finding
from housemap.checks.meetings import NOTHING, Between, Limits, Meetings, Verdict, verdict
from housemap.checks.options import RoomOptions
from housemap.checks.pages.steps import WALLS
from housemap.checks.words import figures, number, place_name, room_name
from housemap.colorimetry.arrays import Indices, Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.colorimetry.undertone import family_of, shift_words
from housemap.light.daylight import BRITAIN, MEDIAN_LUX, median_percent
from housemap.light.explanation import DAYLIGHT_BAND, FAMILY_SHIFT, SHIFT, SHIFT_BAND
from housemap.model.edits import put
from housemap.model.house import PASSAGES, House
from housemap.study import Study

LIGHT_ENOUGH = 60.0
"""LRV of a backbone from which it is only noted that a room off it is lighter (common practice)."""
HARDLY_DARKER = 5.0
"""LRV points up to which that is only noted too (common practice)."""


def backbone_lrv(room: RoomOptions, limits: Limits) -> Verdict:
    lrv = room.lrv("walls")
    found = (lrv < limits["lrv"]) & (room.part.room.role == "backbone")
    return verdict(room, found, lrv, limits["lrv"], WARN, kind="lrv")


def darker_than_linked(met: Meetings, limits: Limits) -> Verdict:
    """Only where one of two rooms that an opening joins is connecting space."""
    paints = met.plain(met.differ & (met.of_place(_backbone_sign) != 0.0))
    one, other = paints.paints(lambda colours: colours.lrv)
    sign, limit = paints.of_place(_backbone_sign), limits["darker"]
    by, turned = ((other - one) * sign).round(6), sign < 0.0
    dark = (np.where(turned, other, one) < LIGHT_ENOUGH) & (by >= HARDLY_DARKER)
    severity = np.where(dark, WARN, NOTE)
    return verdict(paints, by > limit, by, limit, severity, kind="darker", turned=turned)


_MAY_LINK = PASSAGES | {"other"}
"""Uses of rooms that link whatever opens off them; of other it is not known."""


def _backbone_sign(rooms: Between) -> float:
    """1 where the first room is the backbone, -1 where the second is, else 0.

    One that is no passage links what it is open to, and nothing behind a door.
    """
    if rooms.pair is None or not rooms.pair.openings:
        return 0.0
    joined = any(way.kind != "doorway" for way in rooms.pair.openings.values())
    links = [
        float(each.room.role == "backbone" and (joined or each.room.use in _MAY_LINK))
        for each in (rooms.first, rooms.second)
    ]
    return links[0] - links[1]


def tell_backbone(finding: Finding, house: House) -> str:
    backbone = place_name(house, finding.places[0])
    if finding.kind == "lrv":
        found = figures(finding, "(LRV {}; at least {})")
        return f"{backbone} are too dark for connecting space. {found}"
    other = place_name(house, finding.places[1])
    return (
        f"{backbone} are darker than {other}, a room off it. ({number(finding.value)} LRV points)"
    )


def backbone_changes(finding: Finding, study: Study) -> Iterator[Change]:
    """The room may be an ordinary one."""
    room = finding.places[0].room
    label = f"{room_name(study.house, room)} is no connecting space: make it an ordinary room"

    def as_ordinary(house: House) -> House:
        return put(house, "rooms", room, replace(house.rooms[room], role="room"))

    yield Change(label, as_ordinary, 0.0)


def _linked(hall: str, study: str) -> House:
    house = two_rooms(hall, study)
    return with_room(house, "hall", replace(house.rooms["hall"], role="backbone"))


BACKBONE = Check(
    id="backbone",
    title="Connecting space too dark",
    help=(
        "The colour that links the house, in halls and open space, should keep light in it. An LRV"
        " of 60 to 70 is usual (common practice), and 55 is the least here. It should be no darker"
        " than the rooms it opens into; a kitchen or living room no darker than what is open to it."
        " From LRV 60 on, or by less than 5 points, a lighter room off it is only noted."
        " A printed LRV is used where it is within 3 points of the computed one."
    ),
    limits=(
        Limit("lrv", 55.0, "LRV", "common practice: 60 to 70 for a backbone, less a margin"),
        Limit("darker", 2.0, "LRV", "about 1 in L*, which is hardly seen (common practice)"),
    ),
    clean=Example("A hall of LRV 70 links a study of LRV 42.", _linked("5Y 8.7/1", "5Y 7/2")),
    caught=Example("A hall of LRV 42 links a study of LRV 70.", _linked("5Y 7/2", "5Y 8.7/1")),
    looks=(OfRoom(backbone_lrv), Compare(WALLS, "between", darker_than_linked)),
    sentence=tell_backbone,
    headline="{0} is too dark for connecting space",
    caused_by="paint",
    changes=backbone_changes,
)


def _as_kitchen(walls: str) -> House:
    house = lit_room(walls, lamp_kelvin=2700.0)
    rooms = {key: replace(room, use="kitchen") for key, room in house.rooms.items()}
    return replace(house, rooms=rooms)


def under_lit(room: RoomOptions, limits: Limits) -> Verdict:
    lrv, percent, use = room.lrv("walls"), room.daylight_percent, room.part.room.use
    if percent is None:
        return NOTHING
    kind = use if use in MEDIAN_LUX else "other"
    least = limits[kind]
    found = (lrv < limits["lrv"]) & (percent < least) & (percent > NO_DAYLIGHT)
    severity = NOTE if room.part.room.role == "accent" else WARN
    return verdict(
        room, found, percent, least, severity, kind=kind, lights="day",
        band=DAYLIGHT_BAND * least,
        parts={"LRV": lrv, "lightest": np.full(len(lrv), room.lightest_percent)},
    )  # fmt: skip


def _by_country(house: House) -> Mapping[str, float]:
    if house.country in {"", BRITAIN}:
        return {}
    return {kind: round(median_percent(kind, house.country), 2) for kind in (*MEDIAN_LUX, "other")}


NO_DAYLIGHT = 0.05
"""Percent up to which a room has no daylight: lamps light it, whatever its paint."""

_AS_IN_A_BEDROOM = "our assumption: as in a bedroom"
_WORTH_SAYING = 0.1
"""Percent that the lightest paint has to give back to be named."""


def tell_dim(finding: Finding, house: House) -> str:
    value, lightest = finding.value or 0.0, finding.parts["lightest"]
    more = f"; {lightest:.1f} % with the lightest paint" if lightest > value + _WORTH_SAYING else ""
    return (
        f"{place_name(house, finding.places[0])} will feel under-lit by day."
        f" {figures(finding, f'(daylight factor {{}} %; aim for {{}} %{more})')}"
    )


DIM = Check(
    id="dim",
    title="Too dark for its light",
    help=(
        "A deep colour needs a well-lit room, or is meant to be dark (common practice). Give the"
        " room the role accent, and this is only noted. Of a room without any daylight"
        " nothing is said: lamps light it. Method: the daylight factor that half of"
        " the working plane has with this paint, by windows and through openings. In Britain it is"
        " held against BS EN 17037:2018 and its UK annex: 100 lx in bedrooms, 150 in living rooms,"
        " 200 in kitchens. Elsewhere in Europe EN 17037 asks for 300 lx. Without a country,"
        " Britain's figures are used."
    ),
    limits=(
        *(
            Limit(use, round(median_percent(use), 2), "percent", "BS EN 17037:2018, UK annex")
            for use in MEDIAN_LUX
        ),
        Limit("other", round(median_percent("other"), 2), "percent", _AS_IN_A_BEDROOM),
        Limit("lrv", 40.0, "LRV", "common practice: below the 40s a wall colour is deep"),
    ),
    clean=Example("A light kitchen with one window.", _as_kitchen("5Y 8.5/1")),
    caught=Example("The same room in a deep olive.", _as_kitchen("5Y 3/2")),
    looks=(OfRoom(under_lit, deep=True),),
    local=_by_country,
    sentence=tell_dim,
    headline="{0} will feel under-lit by day",
    names_light=True,
    caused_by="paint",
)


def shifting(room: RoomOptions, limits: Limits) -> Verdict:
    """The undertone visibly changes from one hue family to another, or the colour shifts far."""
    if not room.light_names >= {"day", "evening"}:
        return NOTHING
    day, evening = room.walls_ucs("day"), room.walls_ucs("evening")
    shift = ucs_parts(day, evening)[0]
    whole = shift > limits["shift"]
    family = ~whole & (shift > limits["family"])
    family[family] = _turned(room, np.flatnonzero(family))

    def words(row: int) -> tuple[str, ...]:
        one, other = (each[row if len(each) > 1 else 0].tolist() for each in (day, evening))
        return (shift_words(one, other) or ("lighter" if other[0] > one[0] else "darker"),)

    return verdict(
        room, whole | family, shift, np.where(whole, limits["shift"], limits["family"]), NOTE,
        band=np.where(whole, SHIFT_BAND, 0.0), words=words, lights="evening",
        kind=(("family", "shift"), whole.astype(np.intp)),
    )  # fmt: skip


def _turned(room: RoomOptions, rows: Indices) -> Truths:
    """Whether the hue family is another one by lamplight."""
    names = (room.walls_undertones(light, rows) for light in ("day", "evening"))
    families = zip(*([family_of(name) for name in each] for each in names), strict=True)
    return np.array([a != b and "none" not in (a, b) for a, b in families], dtype=np.bool_)


def sentence_of(finding: Finding, house: House) -> str:
    hue = ", to another hue" if finding.kind == "family" else ""
    return (
        f"{place_name(house, finding.places[0])} look {finding.words[0]} by lamplight than by day."
        f" {figures(finding, f'(shift {{}}{hue}; shown from {{}})')}"
    )


TURN = Check(
    id="turn",
    title="Shifts from day to lamplight",
    help=(
        "The wall colour as seen by day and by lamplight, each by an eye adapted to that light: its"
        " undertone visibly changes from one hue family to another, or it shifts by more than the"
        " limit. Often that is meant; it should not be a surprise, so try it by lamplight too."
        " Method: CIECAM16 (CIE 248:2022)."
    ),
    limits=(
        Limit("shift", SHIFT, "CAM16-UCS", "our assumption: plain to see"),
        Limit("family", FAMILY_SHIFT, "CAM16-UCS", "our assumption: less is hardly noticed"),
    ),
    clean=Example(
        "A grey under a window and a lamp of nearly daylight colour.",
        lit_room("N 8/", lamp_kelvin=6000.0),
    ),
    caught=Example(
        "A pale blue green that a warm lamp turns to yellow.",
        lit_room("5BG 8/1", lamp_kelvin=2700.0),
    ),
    looks=(OfRoom(shifting, deep=True),),
    sentence=sentence_of,
    headline="{0} shifts between day and lamplight",
    names_light=True,
    caused_by="paint",
    gravest="note",
)
