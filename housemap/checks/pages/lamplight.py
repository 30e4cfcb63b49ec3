"""A colour that shifts between day and lamplight."""

import numpy as np

from housemap.checks.check import Check, Example, Limit, OfRoom
from housemap.checks.examples import lit_room
from housemap.checks.finding import NOTE, Finding
from housemap.checks.meetings import NOTHING, Limits, Verdict, verdict
from housemap.checks.options import RoomOptions
from housemap.checks.words import number, place_name
from housemap.colorimetry.arrays import Indices, Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.colorimetry.undertone import family_of, shift_words
from housemap.light.explanation import SHIFT_BAND
from housemap.model.house import House


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
        f" (shift {number(finding.value)}{hue}; shown from {number(finding.limit)})"
    )


TURN = Check(
    id="turn",
    title="Shifts from day to lamplight",
    help=(
        "The wall colour as seen by day and by lamp, each by an eye adapted to that light: its"
        " undertone visibly changes from one hue family to another, or it shifts by more than the"
        " limit. Often that is meant; it should not be a surprise, so try it by lamplight too."
        " Method: CIECAM16 (CIE 248:2022)."
    ),
    limits=(
        Limit("shift", 6.0, "CAM16-UCS", "our assumption: plain to see"),
        Limit("family", 4.0, "CAM16-UCS", "our assumption: less is hardly noticed"),
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
    caused_by="paint",
    gravest="note",
)
