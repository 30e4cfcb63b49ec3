"""A view of a house in its paints, as an eye where it was taken sees them."""

from dataclasses import dataclass

from housemap.model.house import Light
from housemap.plan.pixels import BARE, OUTSIDE, Pixels, Rgb, coloured, in_view, painted_as, rgb_of
from housemap.plan.raster import Face, View
from housemap.study.parts import Coat
from housemap.study.shown import screen_hex
from housemap.study.study import Study


@dataclass(frozen=True, slots=True, eq=False)
class Painted:
    """A view from the room `eye` under a light."""

    study: Study
    eye: str
    light: Light
    view: View

    def pixels(self, *, shaded: bool = True) -> Pixels:
        """Every pixel; without shade exactly the colour of its paint as it is seen."""
        return coloured(self.view, [self._rgb(face) for face in self.view.faces], shaded=shaded)

    def coats(self) -> dict[tuple[str, str], tuple[Coat | None, float]]:
        """The coat of each room's surface in view, and the share of the picture that it takes."""
        return {
            (room, surface): (self.study.rooms[room].coat_on(surface), share)
            for (room, surface), share in in_view(self.view).items()
        }

    def _rgb(self, face: Face) -> Rgb:
        place = painted_as(self.study.house, face)
        if place is None:
            return OUTSIDE[self.light]
        room, surface = place
        coat = self.study.rooms[room].coat_on(surface)
        return rgb_of(screen_hex(self.study, self.eye, self.light, coat)) if coat else BARE
