"""Sets of colours built around one paint, each the best of those compared under the rules shown.

A set is a small problem of the optimiser: a room for each colour, its candidates with what they
cost by themselves (the aim of its part in this kind of scheme, the brief, the neutral beside them),
and what two of them cost together: too alike, undertones that fight, strengths that do not go
together, and, to break ties, the harmony of Ou & Luo 2006. It is solved exactly.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

import numpy as np

from housemap.checks.wishes import BROKEN, broken_text, wish_costs
from housemap.choose.chips import Chips
from housemap.choose.optimiser.problem import Pair, Problem, Solution
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes import shape
from housemap.choose.schemes.kinds import (
    ALL_WARM_OR_COOL,
    KINDS,
    Aim,
    Kind,
    aims_of,
    is_backbone,
    is_room,
    temperatures,
)
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.difference import harmony, ucs_parts
from housemap.model.house import Brief
from housemap.model.wishes import Wishes, wishes_of, woodwork_wishes
from housemap.study import Swatch
from housemap.study.colours import Colours, colours_of

USUAL_COLOURS = 5
"""Wall colours of a set, the neutral and accents counted, where the brief does not say."""
COMPARED = 28
"""Candidates of each part, those with the least costs by themselves."""
APART, TRIMS_APART = 3.0, 0.5
"""CAM16-UCS units between the candidates of a part, so that they offer a choice; of whites half a
unit is one."""
HARMONY = 0.05
"""Worth of one unit of harmony between two wall colours: it breaks ties."""
NO_WALLS = frozenset({"trim", "dark"})


@dataclass(frozen=True, eq=False)
class Basis:
    """What sets are built from."""

    neutral: Swatch
    chips: Chips
    """The colours to choose from."""
    brief: Brief = field(default_factory=Brief)

    @cached_property
    def own(self) -> Colours:
        """The neutral."""
        return colours_of([self.neutral])


class SetColour(NamedTuple):
    """One colour of a set."""

    part: shape.Part
    swatch: Swatch
    row: int
    """In what was compared; -1 for the neutral itself."""
    broken: tuple[str, ...] = ()
    """Each wish that it does not keep, in words."""


@dataclass(frozen=True, eq=False)
class ColourSet:
    """A neutral with the colours that go with it."""

    kind: Kind
    basis: Basis
    colours: tuple[SetColour, ...]
    """The neutral first."""
    problem: Problem
    solution: Solution
    compared: int
    """How many different paints."""
    parts: Mapping[str, float]
    """What the colours cost by themselves, and together."""

    @property
    def score(self) -> float:
        """What is wrong with it; lower is better."""
        return self.solution.cost

    @property
    def neutral(self) -> Swatch:
        return self.basis.neutral

    @property
    def broken(self) -> tuple[str, ...]:
        """Each wish that is not kept, in words."""
        named = dict.fromkeys(f"{each.part}: {x}" for each in self.colours for x in each.broken)
        asked = self.basis.brief.colours
        most, why = asked or USUAL_COLOURS, "asked for" if asked else "are usual"
        found = distinct_colours([one.swatch for one in self.colours if one.part not in NO_WALLS])
        short = [f"{found} wall colours that differ, {most} {why}"] if found < most else []
        return (*named, *self._faint_trims(), *short)

    def _faint_trims(self) -> Iterator[str]:
        walls = max(one.swatch.lrv for one in self.colours if one.part in shape.WALLS)
        for trim in (one.swatch.lrv for one in self.colours if one.part == "trim"):
            if trim - walls < shape.TRIM_STEP:
                step = f"{trim - walls:.1f} LRV points lighter than the lightest walls"
                yield f"trim: {step}, {shape.TRIM_STEP:.0f} are usual"


@dataclass(frozen=True, eq=False)
class _Slot:
    """One colour to be chosen: its candidates, and what each costs by itself."""

    name: str
    aim: Aim
    rows: Indices
    costs: Floats


def sets_around(
    basis: Basis, kinds: Sequence[Kind] = KINDS, count: int = len(KINDS)
) -> tuple[ColourSet, ...]:
    """Up to `count` sets that truly differ, best first.

    The kinds take turns; from the second of a kind on, no colour for rooms or accents is one that
    an earlier set of that kind has, or hardly differs from one.
    """
    made: list[ColourSet] = []
    used: dict[Kind, set[int]] = {kind: set() for kind in kinds}
    for number in range(count):
        kind = kinds[number % len(kinds)]
        found = build(basis, kind, frozenset(used[kind]))
        if found is None:
            break
        made.append(found)
        used[kind] |= {row for one in found.colours if one.part in {"room", "accent"}
                       for row in _alike(basis.chips, one)}  # fmt: skip
    return tuple(sorted(made, key=lambda one: round(one.score, 6)))


def build(
    basis: Basis,
    kind: Kind,
    without: frozenset[int] = frozenset(),
    pinned: Mapping[int, int] | None = None,
) -> ColourSet | None:
    """The best set of a kind; None where nothing is left to choose from.

    `without` are rows that no room or accent may have. `pinned` gives rows that stay, by place
    among the colours to be chosen.
    """
    slots = _slots(basis, kind, without, pinned or {})
    if not all(len(slot.rows) for slot in slots):
        return None
    problem = _problem(basis.chips, slots)
    solution = solve(problem)
    chosen = [(slot, int(solution.assignment[slot.name])) for slot in slots]
    alone = sum(float(slot.costs[slot.rows.tolist().index(row)]) for slot, row in chosen)
    return ColourSet(
        kind,
        basis,
        (*_neutral_parts(basis.neutral), *(_colour(basis, slot, row) for slot, row in chosen)),
        problem,
        solution,
        len({row for slot in slots for row in slot.rows.tolist()}),
        {"by themselves": alone, "together": solution.cost - alone},
    )


def alternatives(found: ColourSet, place: int) -> tuple[ColourSet, ...]:
    """The set with each other colour in one place of it, best first; the rest stays.

    Nothing for the neutral, which is what a set is built around.
    """
    chosen = [one for one in found.colours if one.row >= 0]
    if found.colours[place].row < 0:
        return ()
    swapped = place - (len(found.colours) - len(chosen))
    slot = _slots(found.basis, found.kind, frozenset(), {})[swapped]
    stays = {number: one.row for number, one in enumerate(chosen)}
    others = [row for row in slot.rows.tolist() if row != chosen[swapped].row]
    made = (build(found.basis, found.kind, pinned={**stays, swapped: row}) for row in others)
    return tuple(sorted((one for one in made if one), key=lambda one: one.score))


def more_like(found: ColourSet, count: int = 3) -> tuple[ColourSet, ...]:
    """Further sets of the same kind, with other colours for rooms and accents."""
    made = sets_around(found.basis, (found.kind,), count + 1)
    mine = [one.row for one in found.colours]
    return tuple(one for one in made if [each.row for each in one.colours] != mine)[:count]


def distinct_colours(colours: Sequence[Swatch]) -> int:
    """How many colours lie DISTINCT from all those counted before them."""
    kept: list[Floats] = []
    for swatch in colours:
        ucs = np.array(swatch.colour.ucs)
        if all(ucs_parts(ucs, other)[0] >= shape.DISTINCT for other in kept):
            kept.append(ucs)
    return len(kept)


def _neutral_parts(neutral: Swatch) -> Iterator[SetColour]:
    """What the neutral does in its set."""
    yield SetColour("neutral", neutral, -1)
    if is_backbone(neutral):
        yield SetColour("backbone", neutral, -1)
    elif is_room(neutral):
        yield SetColour("room", neutral, -1)


def _colour(basis: Basis, slot: _Slot, row: int) -> SetColour:
    part, swatch = slot.aim.part, basis.chips.swatches[row]
    broken = list(shape.off_shape(part, swatch.lrv, swatch.colour.notation.chroma))
    broken.append(slot.aim.off_kind_text(swatch, basis.neutral))
    broken.append(broken_text(basis.chips.colours, row, _wishes(basis, part)))
    return SetColour(part, swatch, row, tuple(filter(None, broken)))


def _slots(
    basis: Basis, kind: Kind, without: frozenset[int], pinned: Mapping[int, int]
) -> list[_Slot]:
    made: list[_Slot] = []
    aims = aims_of(kind, basis.neutral, basis.brief.colours or USUAL_COLOURS)
    for number, aim in enumerate(aims):
        costs = aim.costs(basis.chips, basis.neutral) + _beside_neutral(basis, aim.part)
        wishes = wish_costs(basis.chips.colours, _wishes(basis, aim.part))
        costs = np.sum([costs, *wishes.values()], axis=0)
        if aim.part == "accent" and "lean" in wishes:  # an accent is seen for its hue
            costs += BROKEN * (wishes["lean"] > 0)
        if number in pinned:
            rows = np.array([pinned[number]], dtype=np.intp)
        else:
            out = without if aim.part in {"room", "accent"} else frozenset()
            apart = TRIMS_APART if aim.part == "trim" else APART
            ucs = basis.chips.colours.ucs
            rows = np.array(cheapest_apart(costs, ucs, apart, COMPARED, out=out), dtype=np.intp)
        made.append(_Slot(f"{aim.part} {number}", aim, rows, costs[rows]))
    return made


def _wishes(basis: Basis, part: shape.Part) -> Wishes:
    if part in NO_WALLS:
        return woodwork_wishes(basis.brief, trim=part == "trim")
    return wishes_of(basis.brief, accent=part == "accent")


def _beside_neutral(basis: Basis, part: shape.Part) -> Floats:
    """What each colour costs because of the neutral."""
    own, every = basis.own, basis.chips.colours
    clash = shape.clash_costs(own, every)[0]
    if part == "trim":
        return np.asarray(
            clash + shape.trim_step_costs(basis.chips.lrv, np.array(basis.neutral.lrv))
        )
    if part == "dark":
        return np.asarray(clash)
    alike = shape.alike_costs(own.ucs, every.ucs, same=np.zeros(len(basis.chips), dtype=np.bool_))
    steps = shape.step_costs(own.strengths, every.strengths) if part in shape.WALLS else 0.0
    return np.asarray(clash + alike + steps)


def cheapest_apart(
    costs: Floats,
    ucs: Floats,
    apart: float,
    most: int,
    *,
    first: Sequence[int] = (),
    out: Collection[int] = (),
) -> list[int]:
    """The first rows, then those that cost least, none nearer than `apart` to one before it."""
    chosen = list(first)
    for row in np.argsort(costs, kind="stable").tolist():
        if len(chosen) >= most or np.isinf(costs[row]):
            break
        if row not in out and (not chosen or ucs_parts(ucs[chosen], ucs[row])[0].min() >= apart):
            chosen.append(row)
    return chosen


def _problem(chips: Chips, slots: Sequence[_Slot]) -> Problem:
    walls = [slot for slot in slots if slot.aim.part not in NO_WALLS]
    first_accents = [slot for slot in slots if slot.aim.part == "accent"][:2]
    pairs = [
        Pair((one.name, other.name), _together(chips, one, other, first=first_accents))
        for one, other in combinations(walls, 2)
    ]
    pairs += [
        Pair(
            (trim.name, wall.name),
            shape.trim_step_costs(chips.lrv[trim.rows][:, None], chips.lrv[wall.rows])
            + shape.clash_costs(chips.colours.rows(trim.rows), chips.colours.rows(wall.rows)),
        )
        for trim in slots if trim.aim.part == "trim"
        for wall in walls if wall.aim.part != "accent"
    ]  # fmt: skip
    return Problem(
        rooms=tuple(slot.name for slot in slots),
        candidates={slot.name: tuple(map(str, slot.rows.tolist())) for slot in slots},
        own={slot.name: slot.costs for slot in slots},
        pairs=tuple(pairs),
    )


def _together(chips: Chips, one: _Slot, other: _Slot, first: Sequence[_Slot]) -> Floats:
    """What two wall colours cost beside each other; accents may differ in what they lean to."""
    a, b = chips.colours.rows(one.rows), chips.colours.rows(other.rows)
    same = np.zeros((len(one.rows), len(other.rows)), dtype=np.bool_)
    costs = shape.alike_costs(a.ucs[:, None], b.ucs, same=same)
    if one.aim.part == other.aim.part == "accent":
        warm = temperatures(chips)
        alike = warm[one.rows][:, None] == warm[other.rows]
        costs = costs + ALL_WARM_OR_COOL * (alike & (one in first) & (other in first))
    else:
        costs = costs + shape.clash_costs(a, b)
        if "accent" not in {one.aim.part, other.aim.part}:
            costs = costs + shape.step_costs(a.strengths[:, None], b.strengths)
    lab = chips.colours.lab100
    return np.asarray(costs - HARMONY * harmony(lab[one.rows][:, None], lab[other.rows]))


def _alike(chips: Chips, one: SetColour) -> list[int]:
    """Rows that hardly differ from a colour."""
    apart = ucs_parts(chips.colours.ucs, np.array(one.swatch.colour.ucs))[0]
    rows: list[int] = np.flatnonzero(apart < shape.DISTINCT).tolist()
    return rows
