"""Where one stands in the house on show, and what is seen from there. No widget, no colour."""

from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import Space, part_at, space_of
from housemap.plan.route import Route, route_of
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import arrived, best_showing
from housemap.plan.visibility import Views, in_field, regions, views
from housemap.study.light_in_view import lamp_bodies, patches_of, with_lamplight, with_sunshine
from housemap.workbench.light_facts import sun_shown
from housemap.workbench.session import Session, Standing

if TYPE_CHECKING:
    from housemap.checks import Finding
    from housemap.plan.raster import View
    from housemap.plan.solids import Body
    from housemap.study.light_in_view import Patches
    from housemap.study.lighting import Lighting


class Walker:
    """Follows a session; what was worked out of a house is kept while nothing of it changes."""

    def __init__(self, session: Session, room: str) -> None:
        self._session = session
        self._elevations: Elevations | None = None
        self._route: tuple[Space, tuple[str, ...], Route] | None = None
        self._seen: tuple[Elevations, Camera, tuple[int, int, bool], View | None] | None = None
        self._sun: tuple[Lighting, float, tuple[int, int], Patches] | None = None
        self._lamps: tuple[Elevations, tuple[Body, ...]] | None = None
        self.camera = Camera(room, (0.0, 0.0), 0.0)
        self.go_to(room)

    @property
    def elevations(self) -> Elevations:
        """Of the house on show; the same as before where only paints differ."""
        house, plan, before = self._session.shown, self._session.plan, self._elevations
        if before is None or before.plan is not plan:
            self._elevations = Elevations(house, plan, space_of(house, plan))
        elif before.house is not house and not _same_walls(before.house, house):
            self._elevations = Elevations(house, plan, before.space)
        assert self._elevations is not None
        return self._elevations

    @property
    def space(self) -> Space:
        return self.elevations.space

    def settle(self) -> bool:
        """Stay inside the house after an edit; False where no room is left to stand in."""
        rooms, here = self._session.shown.rooms, self.camera.room
        if not rooms:
            return False
        if here not in rooms:
            self.go_to(self._session.selection.room or next(iter(rooms)))
        elif here in self.space.rooms and part_at(self.space, here, self.camera.at_m) is None:
            self.go_to(here)
        return True

    # The route

    @property
    def route(self) -> Route:
        house, plan, space = self._session.shown, self._session.plan, self.space
        uses = tuple(room.use for room in house.rooms.values())
        if self._route is None or self._route[0] is not space or self._route[1] != uses:
            self._route = space, uses, route_of(self.elevations.graph, plan, space)
        return self._route[2]

    @property
    def stop(self) -> int:
        """The number of the stop in the room one stands in, from 0."""
        return [stop.room for stop in self.route.stops].index(self.camera.room)

    def go_to(self, room: str) -> None:
        """To the stop of a room, where the route comes in."""
        stop = next(stop for stop in self.route.stops if stop.room == room)
        self.camera = arrived(self.elevations, stop)._replace(field_deg=self.camera.field_deg)

    # Views

    def view(self, width: int, height: int, *, exact: bool = False) -> "View | None":
        """The picture in square pixels; None where the room has no measures.

        An exact one shows nothing but paints and finishes, and mixes none along their edges.
        """
        key = self.elevations, self.camera, (width, height, exact)
        if self._seen is None or self._seen[:3] != key:
            self._seen = *key, self.picture(self.camera, width, height, exact=exact)
        return self._seen[3]

    def picture(
        self, camera: Camera, width: int, height: int, *, exact: bool = False
    ) -> "View | None":
        """As `view`, from elsewhere."""
        elevations = self.elevations
        if exact:
            return look(elevations, camera, width, height)
        if self._lamps is None or self._lamps[0] is not elevations:
            self._lamps = elevations, lamp_bodies(elevations)
        return look(elevations, camera, width, height, smooth=True, bodies=self._lamps[1])

    def lit(self, view: "View", camera: Camera) -> "View":
        """With the pools of light of lamps, or the patches of sun while its hour is shown.

        As soon as the light is computed.
        """
        session, report = self._session, self._session.report
        lighting = report.study.lighting if report else None
        if lighting is None or not lighting.ready:
            return view
        if session.selection.light == "evening":
            return with_lamplight(lighting.rooms, self.elevations, camera, view)
        latitude, sun = session.shown.latitude_deg, session.selection.sun
        if sun is None or latitude is None:
            return view
        key = lighting, latitude, sun
        if self._sun is None or self._sun[:3] != key:
            self._sun = *key, patches_of(lighting.light, sun_shown(latitude, *sun))
        return with_sunshine(self._sun[3], self.elevations, camera, view)

    @property
    def last_view(self) -> "View | None":
        return self._seen[3] if self._seen else None

    def views(self) -> Views | None:
        """What is seen of other rooms from this one; None without measures."""
        here = self.camera.room
        return views(self.space, here) if here in self.space.rooms else None

    def look_to(self, room: str) -> None:
        """To where most of another room is seen from this one."""
        found = self.views()
        best = found.best.get(room) if found else None
        if best:
            self.camera = Camera(self.camera.room, best.at_m, best.toward_deg)

    def look_at(self, finding: "Finding") -> bool:
        """To the view that shows best what a finding names; False where none does."""
        camera = best_showing(self.elevations, [(p.room, p.surface) for p in finding.places])
        self.camera = camera or self.camera
        return camera is not None

    def standing(self, *, all_round: bool = False) -> Standing:
        """For the map: where one stands, and the floor in the field of view, or all round."""
        camera = self.camera
        seen = regions(self.space, camera.room, camera.at_m)
        if not all_round:
            seen = in_field(seen, camera.at_m, camera.toward_deg, camera.field_deg)
        return Standing(camera.room, camera.at_m, camera.toward_deg, seen)


WALLS = ("height_m", "use", "windows", "pieces", "floor", "lamps")
"""Attributes of a room that one sees of its walls, beside where its accents are."""


def _same_walls(first: House, second: House) -> bool:
    """Whether two houses with one plan have the same walls to look at, whatever is on them."""
    return first.openings == second.openings and all(
        a is b
        or (
            a.accents.keys() == b.accents.keys()
            and all(getattr(a, attr) == getattr(b, attr) for attr in WALLS)
        )
        for a, b in ((first.rooms[key], room) for key, room in second.rooms.items())
    )
