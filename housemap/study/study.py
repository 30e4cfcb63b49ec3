"""The study of one house: every computed value, for the screen, the commands and the reports."""

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from housemap.model.frozen import frozen
from housemap.model.house import House
from housemap.model.samples import ToSee, samples_to_see
from housemap.plan.house_graph import HouseGraph, Pair
from housemap.plan.placing import Plan
from housemap.study.colours import Colours, colours_of
from housemap.study.lighting import Lighting
from housemap.study.parts import PaintedRoom, SeenPair, Surroundings, Swatch, View

if TYPE_CHECKING:
    from housemap.plan.visibility import Sight


class Touched(NamedTuple):
    """The keys of the parts that are not those of the study before."""

    swatches: frozenset[tuple[str, str]] = frozenset()
    rooms: frozenset[str] = frozenset()
    pairs: frozenset[Pair] = frozenset()
    views: frozenset[str] = frozenset()
    surroundings: frozenset[str] = frozenset()
    plans: frozenset[str] = frozenset()
    houses: frozenset[str] = frozenset()


@frozen(eq=False)
class SwatchTable:
    """The swatches of a house as arrays, made when first asked for."""

    swatches: Mapping[tuple[str, str], Swatch]

    @cached_property
    def colours(self) -> Colours:
        """Every swatch as one row of arrays."""
        return colours_of([*self.swatches.values()])

    @cached_property
    def columns(self) -> Colours:
        """The same as (swatches, 1)."""
        return self.colours.each(lambda array: array[:, None])

    @cached_property
    def places(self) -> Mapping[tuple[str, str], int]:
        return {key: row for row, key in enumerate(self.swatches)}


@frozen(eq=False)
class Study:
    """Everything computed of `house`; made by `study_of`."""

    house: House
    plan: Plan
    graph: HouseGraph
    """What opens into what, and who sees whom; shares are known of declared sightlines only."""
    swatches: Mapping[tuple[str, str], Swatch]
    table: SwatchTable
    rooms: Mapping[str, PaintedRoom]
    pairs: Mapping[Pair, SeenPair]
    views: Mapping[str, View]
    surroundings: Mapping[str, Surroundings]
    lighting: Lighting
    """Light and colours as seen; computed when first asked for."""
    known_sight: "Sight | None"
    """What was computed for the house before."""
    touched: Touched

    @property
    def plans(self) -> Mapping[str, Plan]:
        """The plan as a table of one, for the checks that look at it."""
        return {"": self.plan}

    @property
    def houses(self) -> Mapping[str, Mapping[str, PaintedRoom]]:
        """All rooms as a table of one, for the checks that look at the whole house."""
        return {"": self.rooms}

    @cached_property
    def sight(self) -> "Sight":
        """How much each room sees of the others and from where; computed when first asked for."""
        from housemap.plan.visibility import sight_of  # noqa: PLC0415 - not before the first findings

        return sight_of(self.house, self.plan, self.known_sight)

    @cached_property
    def lightest_lrv(self) -> float:
        """Of the paints of the house; 0 where it has none."""
        return max((self.paint(paint).lrv for paint in self.house.paints), default=0.0)

    @cached_property
    def samples_to_see(self) -> tuple[ToSee, ...]:
        areas = {key: room.areas for key, room in self.rooms.items()}
        return samples_to_see(self.house, areas)

    @cached_property
    def worn(self) -> frozenset[tuple[str, str]]:
        """The keys of the swatches that are on some surface."""
        every = (coat for room in self.rooms.values() for coat in room.every_coat)
        return frozenset(coat.swatch.key for coat in every)

    def paint(self, paint_id: str) -> Swatch:
        return self.swatches["Paint", paint_id]

    def finish(self, finish_id: str) -> Swatch:
        return self.swatches["Finish", finish_id]
