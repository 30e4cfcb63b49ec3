"""What a survey line can say: one frozen value a clause. None, or "", is what was not said.

`spans` tells where in the line each part stands, by the part's key; it does not count when clauses
are compared.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from housemap.model.house import Aim, OpeningKind, Point, Role, Use
from housemap.tui.survey.words import Corner, Side

Span = tuple[int, int]
"""Where in the line a part starts and ends."""
Spans = Mapping[str, Span]

WHOLE = "whole"
"""The key of the span of a whole clause."""


@dataclass(frozen=True, slots=True)
class Along:
    """How far from an end of its wall something begins; `end` is the side where that end lies."""

    metres: float
    end: Side | None = None


@dataclass(frozen=True, slots=True)
class Cut:
    """The corner that an L-shaped room lacks of its box."""

    size_m: Point
    corner: Corner


@dataclass(frozen=True, slots=True)
class RoomWords:
    """A room by its name: one to be added, one to open into, or one to go to."""

    name: str
    size_m: Point | None = None
    height_m: float | None = None
    cut: Cut | None = None
    wall: str | None = None
    """The wall in which one comes in."""
    along: Along | None = None
    """Where in that wall."""
    use: Use | None = None
    role: Role | None = None
    level: int | None = None
    spans: Spans = field(default_factory=dict, compare=False)

    @property
    def is_bare(self) -> bool:
        """Whether nothing but its name was said."""
        return self == RoomWords(self.name)


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """An opening out of the room, and the room behind it."""

    into: RoomWords
    wall: str | None = None
    kind: OpeningKind = "doorway"
    width_m: float | None = None
    height_m: float | None = None
    along: Along | None = None
    shut: bool = False
    stop: bool = False
    rise: int = 0
    """Levels up (1) or down (-1)."""
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class WindowWords:
    """A window of the room."""

    wall: str
    width_m: float | None = None
    height_m: float | None = None
    along: Along | None = None
    sill_m: float | None = None
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class LampWords:
    """A lamp of the room."""

    lumens: float | None = None
    kelvin: float | None = None
    aim: Aim | None = None
    spectrum: str | None = None
    at_m: tuple[float, float, float] | None = None
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class ChangeWords:
    """What is to be changed of the room itself."""

    size_m: Point | None = None
    height_m: float | None = None
    cut: Cut | None = None
    use: Use | None = None
    role: Role | None = None
    level: int | None = None
    spans: Spans = field(default_factory=dict, compare=False)


Clause = RoomWords | OpeningWords | WindowWords | LampWords | ChangeWords


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a line, and at which of its words."""

    start: int
    end: int
    text: str
    unfinished: bool = False
    """Nothing is wrong: the line has only not been typed to its end."""


@dataclass(frozen=True, slots=True)
class Hint:
    """What may come next: words to be typed as they stand, or an example of them."""

    text: str
    note: str = ""
    start: int | None = None
    """Where in the line it begins, where part of it is typed already."""
    example: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A line as read: its clauses up to the fault, if there is one."""

    text: str
    clauses: tuple[Clause, ...]
    fault: Fault | None = None
    hints: tuple[Hint, ...] = ()
    """What may come at its end."""
