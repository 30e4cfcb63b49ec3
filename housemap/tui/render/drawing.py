"""The map as it is drawn time after time: what has not changed since the last time is kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.tui.render.canvas import Stamp
from housemap.tui.render.changes import Part, changed_parts, repainted
from housemap.tui.render.frame import Frame
from housemap.tui.render.geometry import Geometry, geometry_of, rooms_of_level
from housemap.tui.render.grid import Port
from housemap.tui.render.house_map import Picture, Selected
from housemap.tui.render.level import level_frame, scale_units
from housemap.tui.render.look import Look
from housemap.tui.render.port import follow
from housemap.tui.render.scene import Block
from housemap.tui.render.sightlines import Sight, paths_of
from housemap.tui.render.standing import standing_stamps
from housemap.workbench.session import Standing


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that the map shows of a house."""

    house: House
    plan: Plan
    level: int
    blocks: Mapping[str, Block]
    look: Look


class Looking(NamedTuple):
    """From which room lines of sight run, where to; and where one stands in it."""

    room: str | None = None
    sights: tuple[Sight, ...] = ()
    standing: Standing | None = None


class View(NamedTuple):
    """A scene as it is to be drawn."""

    scene: Scene
    room: str | None
    """The selected one."""
    looking: Looking
    size: tuple[int, int]
    """Columns and rows."""
    enlarged: float = 1.0


class Drawing:
    """Draws one view after another."""

    def __init__(self) -> None:
        self.selected: Selected | None = None
        """What is drawn; None where a level has no rooms."""
        self._view: View | None = None
        self._frame: Frame | None = None
        self._port: Port | None = None

    @property
    def geometry(self) -> Geometry | None:
        return self.selected.picture.geometry if self.selected else None

    def draw(self, view: View) -> list[Part] | None:
        """Draw a view, and tell what differs from the one before; None: all of it may."""
        last, before = self._view, self.selected
        self._view = view
        if not rooms_of_level(view.scene.plan, view.scene.level) or not all(view.size):
            self.selected = None
            return None
        geometry = self._layout(view, last)
        kept = before if before and before.picture.geometry is geometry else None
        picture = _picture(view, geometry, kept.picture if kept else None)
        same = kept and picture is kept.picture and last and view.looking == last.looking
        lines = kept.lines if kept and same else _lines(view, picture)
        self.selected = Selected(picture, view.room, lines)
        return changed_parts(kept, self.selected) if kept else None

    def _layout(self, view: View, last: View | None) -> Geometry:
        """Where everything goes; made anew where rooms, the size or the port moved."""
        scene, size, known = view.scene, view.size, self.geometry
        if last is None or (size, view.enlarged) != (last.size, last.enlarged):
            self._frame = self._port = None
        if self._frame is None or last is None or not _same_rooms(scene, last.scene):
            self._frame = level_frame(
                scene.house, scene.plan, scene.level, *size, enlarged=view.enlarged
            )
            known = None
        elif not _same_walls(scene.house, last.scene.house):
            known = None
        chosen = scene.plan.rooms.get(view.room or "")
        outline = chosen.outline_m if chosen and chosen.level == scene.level else None
        port = follow(self._frame, outline, self._port, *size)
        if known is not None and port == self._port:
            return known
        self._port = port
        return geometry_of(scene.house, scene.plan, scene.level, self._frame, port)


def _same_rooms(scene: Scene, other: Scene) -> bool:
    return scene.plan is other.plan and scene.level == other.level


def _same_walls(house: House, other: House) -> bool:
    """Whether windows and accent walls, which move no room, are where they were."""
    if house.rooms is other.rooms:
        return True
    pairs = ((room, other.rooms[key]) for key, room in house.rooms.items())
    return all(
        a is b or (a.windows == b.windows and a.accents.keys() == b.accents.keys())
        for a, b in pairs
    )


def _picture(view: View, geometry: Geometry, before: Picture | None) -> Picture:
    """The picture before where it still holds; else one that takes over the rows that do."""
    scene = view.scene
    if before is not None and before.blocks is scene.blocks and before.look is scene.look:
        return before
    units = scale_units(scene.house, scene.plan, scene.level)
    picture = Picture(geometry, scene.blocks, scene.look, units)
    if before is None:
        return picture
    return before if picture == before else repainted(before, picture)


def _lines(view: View, picture: Picture) -> tuple[Stamp, ...]:
    """Lines of sight, and where one stands."""
    looking, plan = view.looking, view.scene.plan
    paths = paths_of(picture.geometry, plan, looking.room, looking.sights)
    return *picture.lines(paths), *standing_stamps(picture, plan, looking.standing)
