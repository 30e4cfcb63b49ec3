"""What a check is: a page with its limits, its words, its examples and its small functions.

A check judges arrays of candidates in one of four ways, its `looks`: coats that meet (`Compare`),
a room (`OfRoom`), what is seen from a room or together with it (`OfView`). The report judges the
house as it is, a ranking very many paints, by the same function. What does not depend on the
colour of a paint may look at one thing after the other (`Listed`): a ranking needs nothing more.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any, Literal, NamedTuple

from housemap.checks.finding import Finding
from housemap.checks.meetings import Limits, Meetings, Verdict
from housemap.checks.options import RoomOptions, Surfaces, ViewOptions
from housemap.model.frozen import frozen
from housemap.model.house import Accepted, House
from housemap.model.severity import Severity
from housemap.study import Study


class Limit(NamedTuple):
    """A default limit; `[limits.CHECK] KIND = ...` in a house file sets another."""

    kind: str
    default: float
    unit: str
    source: str


class Scope(NamedTuple):
    """What a check may know beside the thing that it looks at."""

    study: Study
    limits: Limits
    """Of this check, by kind: the house's own or the default."""


class Compare(NamedTuple):
    """Coats that meet, within a room or between rooms that see each other."""

    surfaces: Surfaces
    where: Literal["within", "between", "anywhere"]
    judge: Callable[[Meetings, Limits], Verdict]
    lit: bool = False
    """Whether it judges coats as eyes see them, under the reference light and each other light."""

    @property
    def within(self) -> bool:
        return self.where != "between"

    @property
    def between(self) -> bool:
        return self.where != "within"


class OfRoom(NamedTuple):
    judge: Callable[[RoomOptions, Limits], Verdict]
    deep: bool = False
    """Whether it needs the light of the room."""


class OfView(NamedTuple):
    """What is seen from a room; or, `around` it, in any view in which the room appears."""

    judge: Callable[[ViewOptions, Limits], Iterator[Verdict]]
    around: bool = False
    deep: bool = False
    """Whether it needs sight to be computed."""


class Listed(NamedTuple):
    """One thing after the other: what does not depend on the colour of a paint.

    It may depend on which paint it is (its samples), and on whether there is any.
    """

    table: Literal["swatches", "rooms", "views", "plans", "houses"]
    """Of a Study (and the field of Touched)."""
    find: Callable[[Any, Scope], Iterable[Finding]]


Look = Compare | OfRoom | OfView | Listed


class Example(NamedTuple):
    """A house that shows what a check passes or fails, and what to see in it."""

    words: str
    house: House


class Change(NamedTuple):
    """One edit that may clear a finding."""

    label: str
    edit: Callable[[House], House]
    size: float
    """How much it changes what is seen, in CAM16-UCS units; 0 where nothing is repainted."""
    accepts: tuple[Accepted, ...] = ()
    """What it accepts, yet without who, when and why; nothing where it is any other edit."""
    first: bool = False
    """Whether it is tried before any paint."""


VIEW = 1 / 6
"""Of the full circle, what one looks at: 60 degrees (our assumption)."""


def share_text(of_circle: float) -> str:
    """A share of the full circle of bearings as one of the view's width, as in "24 %".

    Of a whole room, from where most of it is seen: any one surface there takes less of a picture.
    """
    percent = min(100.0 * of_circle / VIEW, 100.0)
    return f"{percent:.0f} %" if percent >= 1.0 else "less than 1 %"


@frozen(eq=False)
class Check:
    id: str
    title: str
    help: str
    """What it finds, why that matters, what was assumed."""
    limits: tuple[Limit, ...]
    clean: Example
    caught: Example
    looks: tuple[Look, ...]
    sentence: Callable[[Finding, House], str]
    headline: str
    """Several findings with one cause in words, "{0}" the first paint that they name."""
    other_headline: Callable[[Finding, House], str] = lambda _finding, _house: ""
    """What stands in its place where all findings of the cause say the same; else empty."""
    changes: Callable[[Finding, Study], Iterable[Change]] = lambda _finding, _study: ()
    """Edits worth trying against a finding, beside other paints."""
    repaint: bool = True
    """Whether other paints on its places may clear a finding."""
    names_light: bool = False
    """Whether the headline says already in which light it is found."""
    advice: str = ""
    """What else clears it, or helps to decide, with its key."""
    caused_by: Literal["paints", "paint", "place"] = "paints"
    """What findings of one cause share: all their paints, the first one, or the place."""
    gravest: Severity = "warn"
    """Of its findings; a check that only notes may be raised by a remedy."""
    local: Callable[[House], Mapping[str, float]] | None = None
    """Limits that depend on where a house is."""
    to_do: bool = False
    """Whether its findings are work that is left, not something wrong."""
    wish: bool = False
    """Whether its findings are wishes of the client, which have their own cost in a choice."""

    @cached_property
    def defaults(self) -> Mapping[str, float]:
        return {limit.kind: limit.default for limit in self.limits}

    def describe(self, finding: Finding, house: House) -> str:
        """The finding in words, with what makes it uncertain or slight."""
        said = [self.sentence(finding, house)]
        if finding.close:
            said.append("Close to the limit: judge by a sample.")
        if finding.share is not None and finding.eye in house.rooms:
            others = (house.rooms[r].name for r in finding.rooms if r not in {"", finding.eye})
            seen, eye = " and ".join(others), house.rooms[finding.eye].name
            said.append(
                f"From {eye}, {seen} fills up to {share_text(finding.share)} of the view's width."
            )
        return " ".join(said)

    def limits_in(self, house: House) -> Limits:
        own, local = house.limits.get(self.id), self.local(house) if self.local else {}
        return {**self.defaults, **local, **(own or {})} if own or local else self.defaults

    @property
    def unit_of(self) -> Mapping[str, str]:
        return {limit.kind: limit.unit for limit in self.limits}
