"""One thing found in a house: where, how much, against which limit. No text, no screen."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from housemap.model.house import Light
from housemap.study import Coat

Severity = Literal["note", "warn", "fault"]
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
"""From slight to grave."""


@dataclass(frozen=True, slots=True)
class Place:
    """A surface of a room and the paint on it."""

    room: str
    surface: str
    """walls ceiling trim doors floor fixed, or "accent" and the wall's key; "" for the room."""
    paint: str = ""
    """Empty where it is bare or carries a finish."""
    finish: str = ""

    @classmethod
    def of(cls, coat: Coat) -> "Place":
        kind, swatch_id = coat.swatch.key
        paint, finish = (swatch_id, "") if kind == "Paint" else ("", swatch_id)
        return cls(coat.room, coat.surface, paint, finish)


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check found in one place, or between two."""

    check: str
    severity: Severity
    places: tuple[Place, ...]
    kind: str = ""
    """Which of the check's limits it broke: a key of [limits.CHECK]."""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    parts: Mapping[str, float] = field(default_factory=dict)
    """Further numbers that explain the value."""
    words: tuple[str, ...] = ()
    """What only words tell, such as the names of two undertones."""
    light: Light = "reference"

    @property
    def rooms(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.room for place in self.places if place.room))

    @property
    def surfaces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.surface for place in self.places if place.surface))

    @property
    def paints(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.paint for place in self.places if place.paint))

    @property
    def key(self) -> tuple[object, ...]:
        """What stays the same when only the numbers move: the same matter in the same place."""
        return self.check, tuple((p.room, p.surface, p.finish) for p in self.places)
