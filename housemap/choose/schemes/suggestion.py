"""Palettes for a whole house out of a deck: up to three that truly differ, with a trim paint.

The deck is screened (`shortlist`), what is left is one problem of the whole house (`house_problem`)
and the least costly choice is looked for with a bound. That bound holds for the paints compared,
not for the whole deck. The walls are chosen first, then a trim that goes with them.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, reduce

import numpy as np

from housemap.checks import Report, report_of
from housemap.checks.finding import cost_in_house
from housemap.checks.wishes import BROKEN, wish_cost
from housemap.choose.chips import Chips, take
from housemap.choose.house_problem import (
    PAINT_COST,
    HouseProblem,
    Search,
    Stopped,
    choices,
    filled,
    findings_that_count,
    never,
    polling,
)
from housemap.choose.optimiser.incumbent import StoppedError
from housemap.choose.optimiser.problem import Poll, Problem, Progress
from housemap.choose.optimiser.solve import solve
from housemap.choose.rank import options_of
from housemap.choose.schemes.compare import truly_differ, wall_shares
from housemap.choose.schemes.house_rules import (
    GRAVE,
    broken_rules,
    broken_wishes,
    kept_clashes,
    spaces,
)
from housemap.choose.schemes.kinds import hue_words, trim_aim
from housemap.choose.schemes.shape import trim_costs, trim_step_costs
from housemap.choose.schemes.shortlist import Screened, variant
from housemap.choose.surface_trial import group_costs
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import ucs_parts
from housemap.errors import InputError
from housemap.model.edits import assign
from housemap.model.grouping import grouped
from housemap.model.house import House, Paint
from housemap.model.wishes import woodwork_wishes
from housemap.study import Swatch

COMPARED = 32
"""Paints of the deck that are compared: those that the rules for trim like best."""


def best_trim(
    report: Report, rooms: Sequence[str], chips: Chips, deck: str, around: Swatch | None = None
) -> tuple[House, str, str] | None:
    """The house of the report with the trim of the rooms in the paint that costs least.

    With the paint's id in the deck and in the house.

    The rules: near-white and clearly lighter than each room's walls, unless the brief says
    otherwise, and leaning as the neutral does that the scheme is built around. The paints that
    cost least by the rules are compared with what the checks find. None where the deck has no
    paint.
    """
    if not len(chips):
        return None
    rules = _rule_costs(report, rooms, chips, around)
    rows = np.argsort(rules, kind="stable")[:COMPARED]
    options = options_of(report.house, chips, deck).rows(rows)
    grave = GRAVE if around else 0.0
    costs = group_costs(report, rooms, "trim", options, grave=grave) + rules[rows]
    best = int(costs.argmin())
    swatch = chips.swatches[rows[best]]
    assert isinstance(swatch.entity, Paint)
    house, own_id = take(report.house, swatch.id, swatch.entity, deck)
    for room in rooms:
        house = assign(house, room, "trim", own_id)
    return house, swatch.id, own_id


def _rule_costs(
    report: Report, rooms: Sequence[str], chips: Chips, around: Swatch | None
) -> Floats:
    costs = np.zeros(len(chips))
    if around is not None:
        costs = costs + trim_aim(around).off(chips, around)
    wishes = woodwork_wishes(report.house.brief, trim=True)
    costs = costs + len(rooms) * wish_cost(chips.colours, wishes)
    if not report.house.brief.white_trim:
        return costs
    costs = costs + len(rooms) * trim_costs(chips.lrv, chips.hvc[:, 2])
    for room in rooms:
        walls = report.house.rooms[room].paints.walls
        if walls is not None:
            costs = costs + trim_step_costs(chips.lrv, np.array(report.study.paint(walls).lrv))
    return np.asarray(costs)


# Palettes

VARIANTS = 3
TRIES, SMALL_TRIES, LEARNT_SECONDS = 12, 120, 0.6
"""Choices whose report is looked at before the last one is kept, of few rooms so many a room, and
the time for each of them."""
FEARED = 4.0
"""CAM16-UCS units up to which what was found of one colour is feared of another (our choice)."""
ROUNDS = 4
"""Times that a palette is bettered in its own light."""
SLIGHT = 0.1
"""Of a cost: not worth an exchange."""
FEWEST_TRIED = 2
"""Wall paints that a palette has at least, however crowded views are."""


@dataclass(frozen=True, eq=False)
class Palette:
    """A choice for the house, as far as it has come."""

    number: int
    """Of the variant, from 0."""
    screened: Screened
    """What it is chosen from."""
    made: HouseProblem
    progress: Progress
    house: House
    """In these paints; of the deck it has those that it uses."""
    shares: Mapping[str, float]
    """Of the wall area by wall paint, largest first; pinned paints on no wall at last."""
    trim: str | None = None
    from_deck: Mapping[str, str] = field(default_factory=dict)
    """By paint id of `house`, the id in the deck."""
    done: bool = False

    @property
    def compared(self) -> int:
        """How many different paints the problem has."""
        return len({paint for each in self.made.problem.candidates.values() for paint in each})

    @property
    def walls(self) -> Mapping[str, str]:
        """The paint of each room that was to be painted, by its id in the trial house."""
        return {room: self.progress.assignment[room] for room in self.screened.source.rooms}

    @cached_property
    def painted(self) -> Report:
        """The trial house in these walls."""
        report = self.screened.report
        return report.after(filled(report.house, self.walls))

    @property
    def summary(self) -> str:
        """What was screened, and the hues that came of it."""
        around, study = self.screened.source.around, self.screened.report.study
        walls = Chips(tuple(study.paint(paint) for paint in {*self.walls.values()}))
        hues = f". On walls: {hue_words(walls, around)}" if around else ""
        return f"{self.screened.summary}{hues}"

    def missed(self, after: Report, rooms: Collection[str] | None = None) -> tuple[str, ...]:
        """What was asked for and is not kept, in some rooms or all, by the report of its house."""
        source = self.screened.source
        named = [*broken_wishes(after.study, rooms, source.rooms)]
        if around := source.asked.around:
            named.append(kept_clashes(after.study, source.rooms, source.chips, around))
            said = {"brief", "crowd", "label", "closing", "fixed" if named[-1] else ""}
            left = [c for c in after.causes if c.severity != "note" and c.check not in said]
            named += [f"{each.headline(after.house)}: {each.where(after.house)}" for each in left]
        crowds = sum(finding.check == "crowd" for finding in after.findings)
        if crowds and (asked := self.screened.asked_colours):
            named.append(f"Views with too many colours ({crowds}): {asked} are asked for")
        return tuple(filter(None, named))

    def unusual(self, rooms: Collection[str] | None = None) -> str:
        """The usual rules that it breaks, in some rooms or all; nobody asked for them."""
        chosen = self.progress.assignment
        some = chosen.keys() if rooms is None else rooms
        return broken_rules(self.made.rules, self.made.problem, chosen, some)


def palettes(
    screened: Screened, search: Search, stopped: Stopped = never,
    begin: Callable[[], Stopped] | None = None,
) -> Iterator[Palette]:  # fmt: skip
    """Some variants that truly differ, each given again and again until it is done.

    One that does not differ from those before is never done. `begin` is called before each, and
    what it gives says when the time for that one is over: then it is not bettered further. Raises
    InputError where no choice keeps to the limit of paints.
    """
    before: list[Mapping[str, Swatch]] = []
    number = 0
    while len(before) < VARIANTS:
        over = begin() if begin else stopped
        if before:
            screened = variant(screened.source, before)
        last: Palette | None = None
        try:
            for last in _variant(screened, number, search, stopped, over):
                yield last
        except InputError:
            if not before:
                raise
        if last is None:
            return
        study = last.screened.report.study
        walls = {room: study.paint(paint) for room, paint in last.walls.items()}
        if truly_differ(study, walls, before):
            yield _finished(last, quick=stopped())
            number += 1
        if stopped():
            return
        before.append(walls)


def _variant(
    screened: Screened, number: int, search: Search, stopped: Stopped, over: Stopped
) -> Iterator[Palette]:
    """One palette as it comes."""
    last: Palette | None = None
    for made, progress in choices(screened.report, screened.problem, search, stopped):
        yield (last := _palette(screened, number, made, progress))
    if last is not None and not over():
        for fewer in _less_crowded(last, search, over):
            yield (last := fewer)
        yield from _in_its_own_light(last, search, over)


def _in_its_own_light(best: Palette, search: Search, over: Stopped) -> Iterator[Palette]:
    """Better ones in the light that their rooms send each other, each better than the one before.

    Each is the choice that is best in the light of the last one, judged by the report of the house
    so painted and the rules. Where the last one has a warning, more paints are compared, and what
    the reports of choices find is learnt until one is better.
    """
    try:
        for _ in range(ROUNDS if _lit(best.screened) else 0):
            least, before = _problems(best), best.walls
            for other in _others(best, search, polling(over)):
                better = _problems(other) < least - SLIGHT
                if better or other.walls == before:
                    yield (best := other)
                if better:
                    break
            else:
                return
    except StoppedError:
        return


def _others(found: Palette, search: Search, poll: Poll) -> Iterator[Palette]:
    """What is best in the light of a palette; then what is by all that was learnt of others."""
    warned = _warned(found)
    screened = found.screened.with_more(found.painted, warned, poll)
    lit = found.painted.after(filled(screened.report.house, found.walls))
    made = screened.problem(screened.report, poll, lit=lit)
    assert made is not None
    made = replace(made, problem=replace(made.problem, paints=found.made.problem.paints))
    first = [progress for progress in search(made.problem) if progress.assignment][-1:]
    tried, fears = [progress.assignment for progress in first], dict[tuple[str, ...], Floats]()
    most = max(TRIES, SMALL_TRIES // len(made.problem.rooms)) if warned else 1
    while tried and tried[-1] and tried[-1] not in tried[:-1]:
        poll()
        progress = replace(first[0], assignment=tried[-1], cost=made.problem.cost(tried[-1]))
        yield (other := _palette(screened, found.number, made, progress))
        if len(tried) >= most:
            return
        _learn(fears, other)
        tried.append(solve(_feared(made.problem, fears), seconds=LEARNT_SECONDS).assignment)


def _learn(fears: dict[tuple[str, ...], Floats], found: Palette) -> None:
    """What the report of a palette costs more than its problem says, as a fear of its warnings.

    By room or pair of rooms, of all their candidates: the nearer to the colour that they have now,
    the more; nothing of one that is FEARED away.
    """
    study, now, problem = found.painted.study, found.progress.assignment, found.made.problem
    pairs = {frozenset(pair.rooms): pair.rooms for pair in problem.pairs}
    costs: dict[tuple[str, ...], float] = {}
    for finding in findings_that_count(found.painted):
        rooms = tuple(room for room in finding.rooms if room in now)
        if finding.severity != "note" and rooms:
            key = pairs.get(frozenset(rooms), rooms[:1])
            costs[key] = costs.get(key, 0.0) + cost_in_house(finding)
    excess = max(_problems(found) - found.progress.cost, 0.0)

    def near(room: str) -> Floats:
        ucs = np.array([study.paint(paint).colour.ucs for paint in problem.candidates[room]])
        apart = ucs_parts(ucs, np.array(study.paint(now[room]).colour.ucs))[0]
        return np.maximum(1.0 - apart / FEARED, 0.0)

    for rooms, cost in costs.items():
        alike = reduce(np.multiply.outer, map(near, rooms))
        fears[rooms] = np.maximum(
            fears.get(rooms, 0.0), excess * cost / sum(costs.values()) * alike
        )


def _feared(problem: Problem, fears: Mapping[tuple[str, ...], Floats]) -> Problem:
    """With what was learnt."""
    own = {room: costs + fears.get((room,), 0.0) for room, costs in problem.own.items()}
    pairs = (replace(p, cost=p.cost + fears.get(p.rooms, 0.0)) for p in problem.pairs)
    return replace(problem, own=own, pairs=tuple(pairs))


def _warned(found: Palette) -> Sequence[Sequence[str]]:
    """The rooms of each space that has a warning and is to be painted."""
    report, now = found.painted, found.screened.source.rooms
    warned = {room for f in report.findings if f.severity != "note" for room in f.rooms}
    groups = grouped((space, r) for r, space in spaces(report.house).items() if r in now)
    return [rooms for rooms in groups.values() if not warned.isdisjoint(rooms)]


def _problems(palette: Palette) -> float:
    """What a palette costs by its report, with the rules and its paints."""
    chosen, made = palette.progress.assignment, palette.made
    costs = (rule.costs_in(made.problem.candidates, chosen) for rule in made.rules)
    rules = sum(cost for each in costs for _, cost in each)
    findings = findings_that_count(palette.painted)
    found = sum(cost_in_house(finding, palette.screened.plan.grave) for finding in findings)
    return found + rules + PAINT_COST * len(set(chosen.values()))


def _less_crowded(found: Palette, search: Search, over: Stopped) -> Iterator[Palette]:
    """Fewer wall paints, as long as some view holds too many and the house is the better for it.

    The colours that the limit forbids do not count against it.
    """
    crowd = _crowd_cost(found)
    while crowd and len(found.shares) > FEWEST_TRIED and not over():
        fewer = replace(found.made.problem, paints=len(found.shares) - 1)
        tried = [progress for progress in search(fewer) if progress.assignment]
        if not tried:
            return
        made = replace(found.made, problem=fewer)
        bound = max(tried[-1].bound, found.progress.bound)  # which holds for fewer paints too
        best = replace(tried[-1], bound=min(bound, tried[-1].cost))
        other = _palette(found.screened, found.number, made, best)
        left = _crowd_cost(other)
        if other.progress.cost + left >= found.progress.cost + crowd + BROKEN:
            return
        found, crowd = other, left
        yield found


def _crowd_cost(palette: Palette) -> float:
    """What views that hold too many colours cost; 0 where so many were asked for."""
    if palette.screened.asked_colours:
        return 0.0
    return sum(f.cost for f in palette.painted.findings if f.check == "crowd")


def _palette(screened: Screened, number: int, made: HouseProblem, progress: Progress) -> Palette:
    source = screened.source
    walls = {room: progress.assignment[room] for room in source.rooms}
    house = filled(screened.report.house, walls)
    if source.asked.trim:
        for room in source.rooms:
            house = assign(house, room, "trim", source.report.house.rooms[room].paints.trim)
    shares = wall_shares(
        screened.report.study, {r: p for r, p in progress.assignment.items() if " " not in r}
    )
    shares |= {paint: 0.0 for paint in screened.pinned if paint not in shares}
    kept = {*source.report.house.paints, *shares}  # of the deck, not what was only tried
    house = replace(house, paints={k: paint for k, paint in house.paints.items() if k in kept})
    from_deck = {own: chip for chip, own in screened.ids.items()}
    return Palette(number, screened, made, progress, house, shares, None, from_deck)


def _finished(palette: Palette, *, quick: bool) -> Palette:
    """With the trim, where one is asked for; judged under the reference light alone if `quick`."""
    screened, source = palette.screened, palette.screened.source
    if source.asked.trim:
        report = report_of(palette.house, screened.report, deep=not quick and _lit(screened))
        found = best_trim(report, source.rooms, source.chips, source.deck, source.around)
        if found is not None:
            house, chip, trim = found
            from_deck = {**palette.from_deck, trim: chip}
            palette = replace(palette, house=house, trim=trim, from_deck=from_deck)
    return replace(palette, done=True)


def _lit(screened: Screened) -> bool:
    return screened.report.deep is not None
