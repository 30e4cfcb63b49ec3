"""What a check is: a page with its limits, its words, its examples and its small functions."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from housemap.checks.costs import by_severity
from housemap.checks.finding import Finding
from housemap.colorimetry.difference import Difference
from housemap.colorimetry.undertone import Undertone
from housemap.model.house import House, Light
from housemap.plan.placing import Plan
from housemap.study import (
    Coat,
    PaintedRoom,
    SeenPair,
    SeenView,
    Study,
    Surroundings,
    Swatch,
    View,
)


@dataclass(frozen=True, slots=True)
class Limit:
    """A default limit; `[limits.CHECK] KIND = ...` in a house file sets another."""

    kind: str
    default: float
    unit: str
    source: str
    """Where the number comes from, in words."""


@dataclass(frozen=True, slots=True)
class Scope:
    """What a check may know beside its subject."""

    study: Study
    limits: Mapping[str, float]
    """Of this check, by kind: the house's own or the default."""
    light: Light = "reference"
    view: SeenView | None = None
    """What the eye that judges sees; None under the reference light, which has no place."""

    def difference(self, first: Coat, second: Coat) -> Difference:
        if self.view is None:
            return self.study.difference(first.swatch, second.swatch)
        return self.view.difference(first, second)

    def undertone(self, coat: Coat) -> Undertone:
        if self.view is None:
            return coat.swatch.colour.undertone
        return self.view.colours[coat].undertone


@dataclass(frozen=True, slots=True)
class Example:
    """A house that shows what a check passes or catches, and what to see in it."""

    words: str
    house: House


@dataclass(frozen=True, slots=True)
class Change:
    """One edit that may clear a finding."""

    label: str
    edit: Callable[[House], House]
    size: float
    """How much it changes what is seen, in CAM16-UCS units; 0 where nothing is repainted."""


def no_change(_finding: Finding, _study: Study) -> Iterable[Change]:
    return ()


Found = Iterable[Finding]


@dataclass(frozen=True, slots=True, eq=False)
class Check:
    """One check. The `of_...` functions say what it looks at; most checks have one."""

    id: str
    title: str
    help: str
    """What it finds, why that matters, what was assumed."""
    limits: tuple[Limit, ...]
    clean: Example
    caught: Example
    tell: Callable[[Finding, House], str]
    """The finding in one sentence, for a person."""
    changes: Callable[[Finding, Study], Iterable[Change]] = no_change
    """Edits worth trying against a finding."""
    cost: Callable[[Finding], float] = by_severity
    judged: Literal["plainly", "in each light", "in depth"] = "plainly"
    """Under the reference light alone, under each light too, or from light and sight computed."""
    of_swatch: Callable[[Swatch, Scope], Found] | None = None
    of_room: Callable[[PaintedRoom, Scope], Found] | None = None
    of_pair: Callable[[SeenPair, Scope], Found] | None = None
    of_view: Callable[[View, Scope], Found] | None = None
    of_surroundings: Callable[[Surroundings, Scope], Found] | None = None
    of_plan: Callable[[Plan, Scope], Found] | None = None
    defaults: Mapping[str, float] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "defaults", {limit.kind: limit.default for limit in self.limits})

    def limits_in(self, house: House) -> Mapping[str, float]:
        """The limits that hold for `house`, by kind."""
        own = house.limits.get(self.id)
        return {**self.defaults, **own} if own else self.defaults
