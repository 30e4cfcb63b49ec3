"""What is open: one house with its past, its file, what is selected, and its newest report."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

from housemap.errors import ChangedOnDiskError, EditError, FileGoneError, HouseFileError
from housemap.file import merge
from housemap.file.paths import same_file
from housemap.file.reader import HouseFile, load_house
from housemap.file.save import NEW_FILE, save_house
from housemap.model.edits import History
from housemap.model.geometry import Polygon
from housemap.model.house import House, Light, Point, Surface
from housemap.model.samples import ToSee, samples_to_see
from housemap.plan.floor_plan import Plan, same_places
from housemap.plan.placing import place

if TYPE_CHECKING:
    from housemap.checks import Report


Reporter = Callable[[House, "Report | None"], "Report"]
"""Makes the report of a house, reusing what still holds of the report before."""

Edit = Callable[[House], House]


def today() -> dt.date:
    """By the user's own clock."""
    return dt.datetime.now().astimezone().date()


class Selection(NamedTuple):
    """Where the user is: a level, a room of it (none in an empty house) and a surface."""

    level: int = 0
    room: str | None = None
    surface: Surface = "walls"
    light: Light = "reference"
    """By which all colours are shown."""
    sun: tuple[int, int] | None = None
    """The month and the hour at which the map shows where the sun shines in."""


class Standing(NamedTuple):
    """Where one stands and looks, in plan coordinates, and what is seen of the floor."""

    room: str
    at_m: Point
    toward_deg: float
    seen_m: tuple[Polygon, ...]
    """Convex pieces."""


class OpenFile(NamedTuple):
    """The file behind a house, as it was when last read or written."""

    path: Path
    held: HouseFile
    stamp: tuple[int, int] | None
    """Its time of change and size; None where it could not be looked at."""


def stamp_of(path: Path) -> tuple[int, int] | None:
    """What changes when somebody writes the file: cheap enough to ask every second."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


class Written(NamedTuple):
    """The house whose schedule was written last, and when."""

    house: House
    on: dt.date


@dataclass(slots=True)
class Session:
    """The open house. This object changes; everything that it holds is frozen."""

    history: History
    saved: House
    """As last read or written; `unsaved` compares with it."""
    opened: House
    """As read, or as theirs when both were last joined: what differs is the user's own work."""
    file: OpenFile | None = None
    read_only: bool = False
    selection: Selection = field(default_factory=Selection)
    report: "Report | None" = None
    """The newest report; `report.house` may lag behind `shown`."""
    base: "Report | None" = None
    """The newest report of a decided house; it may lag behind `house`."""
    written: Written | None = None
    tried: House | None = None
    """A house on show while something is being chosen, and not yet decided."""
    _plan: tuple[House, Plan] | None = None
    _to_see: tuple[House, tuple[ToSee, ...]] | None = None

    @classmethod
    def of(cls, house: House) -> "Session":
        """Open a house that has no file, with its first room selected."""
        session = cls(History(house), house, house)
        session.select_first()
        return session

    @classmethod
    def read(cls, path: Path, *, read_only: bool = False) -> "Session":
        """Open the house in a file. Raises HouseFileError with everything wrong with it."""
        stamp = stamp_of(path)
        held = load_house(path)
        session = cls.of(held.house)
        session.file = OpenFile(path, held, stamp)
        session.read_only = read_only
        return session

    @property
    def house(self) -> House:
        """As decided so far."""
        return self.history.present

    @property
    def shown(self) -> House:
        """As on the screen: what is being tried out, else the house."""
        return self.tried or self.house

    @property
    def unsaved(self) -> bool:
        return self.house != self.saved

    @property
    def report_is_current(self) -> bool:
        return self.report is not None and self.report.house is self.shown

    @property
    def base_is_current(self) -> bool:
        return self.base is not None and self.base.house is self.house

    def take_report(self, report: "Report") -> None:
        """Keep a report that somebody made; one of what is shown is not given up for another."""
        if report.house is self.house:
            self.base = report
        if report.house is self.shown or not self.report_is_current:
            self.report = report

    @property
    def plan(self) -> Plan:
        """Where the rooms of the shown house lie; placed anew only when a measure changed."""
        house = self.shown
        if self._plan is None or not same_places(self._plan[0], house):
            self._plan = house, place(house)
        return self._plan[1]

    @property
    def samples_to_see(self) -> tuple[ToSee, ...]:
        """Of the decided house; gathered once a house, for the status line asks at every key."""
        house = self.house
        if self._to_see is None or self._to_see[0] is not house:
            self._to_see = house, samples_to_see(house)
        return self._to_see[1]

    # Changing the house

    def apply(self, change: Edit | House, label: str) -> bool:
        """Make an edit, or take a whole house; False when nothing changes.

        Raises EditError, with the house as it was.
        """
        house = change if isinstance(change, House) else change(self.house)
        self.tried = None
        changed = house != self.house
        if changed:
            self._go_to(self.history.do(house, label))
        return changed

    def try_out(self, house: House | None) -> None:
        """Show a house without deciding on it; None shows the decided one again."""
        self.tried = house
        if self.base is not None and self.base.house is self.shown:
            self.report = self.base
        self._keep_selection()

    def undo(self) -> str:
        """Take back the last edit and return its label. Raises EditError when there is none."""
        return self._step(self.history.undo_label, self.history.undo, "undo")

    def redo(self) -> str:
        """Make an undone edit again and return its label. Raises EditError when there is none."""
        return self._step(self.history.redo_label, self.history.redo, "redo")

    def _step(self, label: str | None, step: Callable[[], History], what: str) -> str:
        if label is None:
            raise EditError(f"there is nothing to {what}")
        self._go_to(step())
        return label

    def _go_to(self, history: History) -> None:
        self.history = history
        self.tried = None
        self._keep_selection()

    # Selecting

    def select(self, room: str) -> None:
        """Select a room, the walls of one that was not selected, and show its level."""
        now = self.selection
        surface = now.surface if room == now.room else "walls"
        level = self.shown.rooms[room].level
        self.selection = now._replace(room=room, level=level, surface=surface)

    def select_surface(self, surface: Surface) -> None:
        self.selection = self.selection._replace(surface=surface)

    def select_light(self, light: Light) -> None:
        self.selection = self.selection._replace(light=light)

    def select_sun(self, sun: tuple[int, int] | None) -> None:
        self.selection = self.selection._replace(sun=sun)

    def select_level(self, level: int) -> None:
        """Show a level, with a room selected: a hall where there is one, else the first."""
        rooms = self.shown.rooms
        here = [room for room in rooms if rooms[room].level == level]
        first = min(here, key=lambda room: rooms[room].use != "hall", default=None)
        self.selection = self.selection._replace(level=level, room=first)

    def select_first(self) -> None:
        """Select a room of the ground floor, or of the level nearest to it."""
        rooms = self.shown.rooms
        levels = {room.level for room in rooms.values()}
        self.select_level(min(levels, key=lambda level: (abs(level), -level), default=0))

    def _keep_selection(self) -> None:
        if self.selection.room in self.shown.rooms:
            self.select(str(self.selection.room))
        else:
            self.select_first()

    # The file

    @property
    def changed_on_disk(self) -> bool:
        """Whether somebody has written the file, or taken it away, since it was read or written."""
        return self.file is not None and stamp_of(self.file.path) != self.file.stamp

    @property
    def gone_from_disk(self) -> bool:
        """Whether somebody has deleted or renamed the file since it was read or written."""
        return self.file is not None and not self.file.path.exists()

    def go_on_from(self, held: HouseFile) -> None:
        """Take the file for changed by somebody else since it was as `held`: saving asks."""
        if self.file is not None:
            self.file = self.file._replace(held=held, stamp=None)
            self.opened = held.house

    def save(self, *, over: bool = False) -> bool:
        """Write the house to its file, again where that was deleted or renamed: True then.

        Raises HouseFileError, and ChangedOnDiskError where the file is no longer the one that was
        read, unless it is to be written `over`; then nothing is written.
        """
        file = self._writable()
        try:
            self._write(file.path, None if over else file.held.fingerprint, file.held)
        except FileGoneError:
            self._write(file.path, NEW_FILE, file.held)
            return True
        return False

    def save_as(self, path: Path, *, over: bool = False) -> None:
        """Write the house to another file and go on with that one. Raises as `save` does."""
        if self.read_only and self.file and same_file(path, self.file.path):
            self._writable()
        self._write(path, None if over else NEW_FILE, self.file.held if self.file else None)
        self.read_only = False

    def save_settled(self, house: House, theirs: HouseFile | None = None) -> None:
        """Write `house`, in which all is chosen, over `theirs`, or over a file with both sides.

        Raises HouseFileError, and ChangedOnDiskError where the file has changed once more.
        """
        file = self._writable()
        comments = theirs.data if theirs else merge.without_marks(file.held.data)
        expected = (theirs or file.held).fingerprint
        save_house(house, file.path, expected=expected, comments_from=comments)
        held = load_house(file.path)
        self.apply(house, f"Merged with {file.path.name}")
        self.saved = self.house
        self.opened = theirs.house if theirs else house
        self.file = OpenFile(file.path, held, stamp_of(file.path))

    def _writable(self) -> OpenFile:
        if self.file is None:
            raise HouseFileError.of("this house has no file yet: save it under a name")
        if self.read_only:
            text = "opened read-only: save it under another name"
            raise HouseFileError.of(text, file=self.file.path.name)
        return self.file

    def _write(self, path: Path, expected: str | None, held: HouseFile | None) -> None:
        house = self.house
        comments = held.data if held else None
        fingerprint = save_house(house, path, expected=expected, comments_from=comments)
        written = HouseFile(house, path.read_bytes())
        if written.fingerprint != fingerprint:
            raise ChangedOnDiskError.of("changed while it was saved", file=str(path))
        self.saved = house
        self.file = OpenFile(path, written, stamp_of(path))


# Which room an arrow key goes to, and the walk through all rooms.

Way = Literal["left", "right", "up", "down"]

_TURNS: Mapping[str, tuple[Point, Point]] = {
    "right": ((1, 0), (0, 1)), "left": ((-1, 0), (0, -1)), "up": ((0, 1), (-1, 0)),
    "down": ((0, -1), (1, 0)),
}  # fmt: skip
"""For each way, the axes along and across it."""

_NUDGE_M = 1e-10
_ALONG_M = 0.2
"""A room less far along the way than this lies beside, not that way."""


def room_that_way(middles: Mapping[str, Point], room: str, way: str) -> str | None:
    """The nearest room that way; None where nothing lies there at all.

    A room counts that lies more along the way than across it (a quarter of the plane), nearest by
    the sum of both. Going so towards any room, every step comes nearer to it by the larger of
    along + across and along - across, both of which lie between 0 and the target's: so every room
    of a level can be reached from every other. Where the quarter is empty, the half plane counts.
    """
    # Made different by far less than anybody measures, so that no two ways tie.
    spots = {
        name: _turned((x + place * _NUDGE_M, y + place * place * _NUDGE_M), way)
        for place, (name, (x, y)) in enumerate(middles.items(), 1)
    }
    here = spots[room]
    away = {n: (a - here[0], b - here[1]) for n, (a, b) in spots.items() if n != room}
    quarter = {n: (a, b) for n, (a, b) in away.items() if a > 0 and abs(b) <= a}
    if quarter:
        return min(quarter, key=lambda n: quarter[n][0] + abs(quarter[n][1]))
    half = {n: (a, b) for n, (a, b) in away.items() if a > _ALONG_M}
    return min(half, key=lambda n: half[n][0] + 2 * abs(half[n][1]), default=None)


def _turned(point: Point, way: str) -> Point:
    (ax, ay), (bx, by) = _TURNS[way]
    return point[0] * ax + point[1] * ay, point[0] * bx + point[1] * by


def next_room(rooms: Sequence[str], room: str | None, step: int) -> str | None:
    """The room `step` places on in a walk that begins again at its end."""
    if not rooms:
        return None
    if room not in rooms:
        return rooms[0]
    return rooms[(rooms.index(room) + step) % len(rooms)]


def rooms_in_order(session: Session) -> Sequence[str]:
    """Every room: level by level from the lowest, in the order of the file."""
    rooms = session.shown.rooms
    return sorted(rooms, key=lambda room: rooms[room].level)


def middles(session: Session) -> Mapping[str, Point]:
    """Of the rooms of the level that is shown."""
    found = {}
    for room, placed in session.plan.rooms.items():
        if placed.level == session.selection.level:
            west, south, east, north = placed.box_m
            found[room] = (west + east) / 2, (south + north) / 2
    return found
