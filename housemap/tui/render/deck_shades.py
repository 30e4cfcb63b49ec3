"""The screen colour of every chip of a deck under the light of the moment.

By day and in the evening a chip shows as it would look on the chosen surface of the selected room.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from housemap.choose.deck.chips import Chips, apart_under, shown_under
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.model.house import Light
from housemap.tui.render.runs import Hex
from housemap.tui.render.scene import Coat
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.light.surface_light import Lit

LIGHT_WORDS: Mapping[Light, str] = {"day": "by day", "evening": "in the evening"}
FEWEST = 256
"""Chips whose colours are worked out together: one costs nearly as much."""


class DeckShades:
    """Works colours out when they are asked for, and keeps them as long as the light stays."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._key: tuple[object, ...] = ()
        self._known: dict[int, Hex] = {}

    def follow(self, chips: Chips, rows: Iterable[int]) -> None:
        """Have the colours of some rows ready; forget those of another light or deck."""
        light = falling(self._session)
        key = (chips, light, self._session.selection.surface)
        if any(a is not b for a, b in zip(key, self._key or (None,) * len(key), strict=True)):
            self._key, self._known = key, {}
        lacking = [row for row in rows if row not in self._known]
        if light is None or not lacking:
            return
        hexes = shown_under(light, self._session.selection.surface, chips.reflectance[lacking])
        self._known.update(zip(lacking, hexes, strict=True))

    def coat(self, chips: Chips, row: int) -> Coat:
        """How a chip shows; as under the reference light where there is no other."""
        light = falling(self._session)
        if light is None:
            return Coat("known", chips.swatches[row].colour.srgb_hex)
        if row not in self._known:
            block = row - row % FEWEST
            self.follow(chips, range(block, min(block + FEWEST, len(chips))))
        return Coat("known", self._known[row])

    def apart(self, chips: Chips, rows: Sequence[int]) -> list[list[float]]:
        """CIEDE2000 of each chip from each, under the light that is shown."""
        light, surface = falling(self._session), self._session.selection.surface
        if light is not None:
            apart = apart_under(light, surface, chips.reflectance[rows])
        else:
            lab100 = chips.lab100[rows]
            apart = ciede2000(lab100[:, None], lab100)
        return [[float(each) for each in row] for row in apart]

    @property
    def told(self) -> str:
        """Which light is shown, in a few words."""
        session = self._session
        light, room = session.selection.light, session.selection.room
        if light == "reference" or room is None:
            return "under the reference light"
        place = f"{session.shown.rooms[room].name} {session.selection.surface}"
        if falling(session) is not None:
            return f"{place} {LIGHT_WORDS[light]}"
        return f"under the reference light: none is known {LIGHT_WORDS[light]} on {place}"


def falling(session: Session) -> "Lit | None":
    """The light in the selected room; None where the reference light is shown or none is known."""
    light: Light = session.selection.light
    room, report = session.selection.room, session.report
    if light == "reference" or room is None or report is None:
        return None
    lighting = report.study.lighting
    if not lighting.ready or room not in lighting.rooms:
        return None
    return lighting.rooms[room].light.lights.get(light)
