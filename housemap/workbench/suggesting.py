"""Suggestions for a house: by a search of its own paints or a deck, or in a set around a paint."""

import datetime as dt
import time
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median
from threading import Event
from typing import NamedTuple

import numpy as np

from housemap.checks import Report, check_of, report_of
from housemap.checks.finding import SEVERITY_COST
from housemap.checks.wishes import BROKEN
from housemap.checks.words import listed
from housemap.choose.chips import Chips, all_chips, take
from housemap.choose.house_problem import approved_rooms, house_problem
from housemap.choose.optimiser.problem import Array, Problem, Progress
from housemap.choose.optimiser.solve import Run, solve
from housemap.choose.schemes.card import AREAS, reason, reason_for
from housemap.choose.schemes.compare import changes, compared, too_few, truly_differ
from housemap.choose.schemes.computed import ASK, computed_chips, tints
from housemap.choose.schemes.house_rules import (
    SHORT_OF_STRENGTH,
    Plan,
    broken_wishes,
    off_in_number,
    own_rule_costs,
    spaces,
)
from housemap.choose.schemes.kinds import KIND_WORDS, hue_words
from housemap.choose.schemes.sets import (
    APART,
    NO_WALLS,
    Basis,
    ColourSet,
    SetColour,
    alternatives,
    more_like,
    sets_around,
)
from housemap.choose.schemes.shape import TRIM_STEP, Part, clash_costs
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import VARIANTS, Palette, palettes
from housemap.colorimetry.difference import ucs_parts
from housemap.deck.notation_deck import notation_deck
from housemap.errors import HousemapError
from housemap.file.deck_file import DeckFile, read_deck_file
from housemap.model.edits import change, change_entity, paint_on
from housemap.model.grouping import grouped
from housemap.model.house import PASSAGES, House, Paint, SurfacePaints
from housemap.model.samples import all_tried, trying
from housemap.model.text import counted
from housemap.model.wishes import rooms_to_paint
from housemap.schedule.document import schedule_of
from housemap.schedule.sections import left_out
from housemap.schedule.wording import money
from housemap.study import Swatch
from housemap.workbench.choosing import PLURAL, Target
from housemap.workbench.survey.vocabulary import usual_role

NEARLY_ALL = 0.85
"""Of the walls in one paint, from which on a scheme has no variety (our assumption)."""
NOTHING = "No choice keeps to what is asked."
ORDER = "Fewest serious findings first, then fewest findings"
NO_BETTER = "Every choice has more findings than the house now. Ask for other rooms or colours."
TRIM_SHARE = 0.06
"""Of a suggestion shown in proportion: what a trim takes, which is on no wall."""
FEW_ROOMS = 3
"""Rooms that are named where a colour is explained."""


@dataclass(frozen=True, eq=False)
class PaintSource:
    name: str = ""
    """Of the deck; empty for the house's own paints."""
    deck: DeckFile | None = None
    chips: Chips | None = None
    """Some or all of the deck's paints, where they are known already."""

    def read(self, house: House) -> Chips:
        """The paints with their colours; a second for some thousand. Raises InputError."""
        if self.chips is not None:
            return self.chips
        return all_chips(house.paints) if self.deck is None else chips_of(self.deck)


def chips_of(deck: DeckFile) -> Chips:
    """The paints of a deck with their colours. Raises InputError."""
    return all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))


class SuggestedColour(NamedTuple):
    swatch: Swatch
    share: float
    """Of the house, in proportion."""
    use: str
    """How much of the walls it is on, or its part in the scheme."""
    reason: str = ""
    """In one or two sentences."""
    paint: str = ""
    """Its id in the suggested house."""
    chip: str | None = None
    """Its id in the deck; None for a paint that the house had."""


class Suggestion(NamedTuple):
    name: str
    report: Report
    """Of the house so painted; of a search by the reference light alone until it has ended."""
    colours: tuple[SuggestedColour, ...]
    summary: str
    """What it is, or was shortlisted from."""
    label: str = ""
    """Of the edit; empty: painted as suggested."""
    state: str = ""
    """Beside the name."""
    missed: tuple[str, ...] = ()
    """What was asked for and is not kept, in words."""
    unusual: str = ""
    """The usual rules that it breaks, in words; nobody asked for them."""
    progress: Progress | None = None
    """How good it is; None where nothing was compared."""
    compared: int = 0
    """How many paints."""
    key: str = ""
    """Of a scheme."""

    @property
    def house(self) -> House:
        return self.report.house


class Suggestions(NamedTuple):
    """All that are known."""

    found: tuple[Suggestion, ...] = ()
    fault: str = ""
    """Why there is none."""
    note: str = ""
    """Why there are so few."""
    running: bool = True


PART, LEAST_SECONDS = 0.4, 0.2
"""Of the time left for a suggestion that each of its searches may take, and the least of each."""


class Searching:
    """One search after the other in a process of its own; any thread may stop them.

    Those of one suggestion, which `begin` begins, take so many seconds together.
    """

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._run: Run | None = None
        self._stopped = Event()
        self.begin()

    @property
    def stopped(self) -> bool:
        return self._stopped.is_set()

    def begin(self) -> Callable[[], bool]:
        """Another suggestion begins; whether its time is over, or all was stopped."""
        end = self._end = time.monotonic() + self._seconds
        return lambda: self.stopped or time.monotonic() >= end

    def __call__(self, problem: Problem) -> Iterator[Progress]:
        """How far the search has come, at last its answer; nothing once all was stopped."""
        if self.stopped:
            return
        with Run(problem, max(PART * (self._end - time.monotonic()), LEAST_SECONDS)) as run:
            self._run = run
            if self._stopped.is_set():  # meanwhile
                return
            yield from run.reports()

    def close(self) -> None:
        """End the search that runs, and begin no further one."""
        self._stopped.set()
        if self._run is not None:
            self._run.close()


def suggest(
    base: Report, source: PaintSource, asked: PaletteRequest, search: Searching
) -> Iterator[Suggestions]:
    """Every suggestion as it comes; the last says that nothing runs any more, or what is wrong."""
    done: tuple[Suggestion, ...] = ()
    try:
        screened = screen(base, source.read(base.house), source.name, asked)
        for palette in palettes(screened, search, lambda: search.stopped, search.begin):
            one = _suggestion(base, palette)
            done += (one,) if palette.done else ()
            last = () if palette.done else (one,)
            yield Suggestions(_named_in_turn((*worth_showing(base, done), *last)))
    except HousemapError as error:
        yield Suggestions(fault=str(error).partition("\n")[0], running=False)
        return
    found = _named_in_turn(worth_showing(base, done))
    fault = "" if found else NO_BETTER if done else NOTHING
    note = "" if fault or search.stopped else too_few(len(done), VARIANTS, "suggestion")
    if found and _is_painted(base.house) and found[0].report.tally.rank >= base.tally.rank:
        note = f"Nothing better found. {note}".rstrip()
    yield Suggestions(found, fault, note, running=False)


def worth_showing(base: Report, found: Sequence[Suggestion]) -> list[Suggestion]:
    """Those with the fewest serious findings first, of these those with the fewest findings.

    None that has more findings than a house that is painted already. Where rooms have different
    roles, or the brief asks for more than one colour, none that is nearly all in one paint, unless
    there is no other.
    """
    rooms = [room for room in base.house.rooms.values() if room.use != "outdoor"]
    painted = _is_painted(base.house)
    left = [one for one in sorted(found, key=lambda one: one.report.tally.rank)
            if not painted or len(one.report.causes) <= len(base.causes)]  # fmt: skip
    if len({room.role for room in rooms}) > 1 or (base.house.brief.colours or 1) > 1:
        varied = [one for one in left if all(each.share < NEARLY_ALL for each in one.colours)]
        return varied or left[:1]
    return left


def _is_painted(house: House) -> bool:
    return all(room.paints.walls for room in house.rooms.values() if room.use != "outdoor")


def _named_in_turn(found: Sequence[Suggestion]) -> tuple[Suggestion, ...]:
    return tuple(one._replace(name=str(number)) for number, one in enumerate(found, 1))


def _suggestion(base: Report, palette: Palette) -> Suggestion:
    if palette.done:
        report = base.after(palette.house)
        rooms = painted_rooms(base.house, report.house)
        missed, unusual = palette.missed(report, rooms), palette.unusual(rooms)
        state = _state(report)
    else:
        report, missed, unusual, state = _quick(base, palette.house), (), "", ""
    number = [*off_in_number(report.study, palette.screened.source.rooms)]
    head = "".join(f"{words}. " for words in (*number, ORDER))
    return Suggestion(
        "", report, tuple(_colours(palette, report)),
        f"{head}{palette.summary}", state=state,
        missed=tuple(words for words in missed if words not in number), unusual=unusual,
        progress=palette.progress, compared=palette.compared,
    )  # fmt: skip


def _state(report: Report) -> str:
    """As in "4 findings", or "1 serious of 4"."""
    found, _, serious = report.tally
    return f"{serious} serious of {found}" if serious else counted(found, "finding")


def _colours(palette: Palette, report: Report) -> Iterator[SuggestedColour]:
    around = palette.screened.source.around
    shares = {**palette.shares, **({palette.trim: TRIM_SHARE} if palette.trim else {})}
    swatches = {paint: report.study.paint(paint) for paint in shares}
    neutral = around or next(iter(swatches.values()))
    for paint, swatch in swatches.items():
        own = [room for room in report.house.rooms.values() if room.paints.walls == paint]
        part: Part = "room"
        use = f"{100 * shares[paint]:.0f} %" if own else "not used"
        if not own and paint == palette.trim:
            part = use = "trim"
        elif around and swatch.colour == around.colour:
            part = "neutral"
        elif any(room.role == "backbone" or usual_role(room.use) for room in own):
            part = "backbone"
        elif own and all(room.role == "accent" for room in own):
            part = "accent"
        named = listed([room.name for room in own], FEW_ROOMS, "rooms")
        reason = f"{reason_for(part, swatch, neutral)} {f'{named}.' if named else ''}"
        chip = palette.from_deck.get(paint)
        yield SuggestedColour(swatch, shares[paint], use, reason.strip(), paint, chip)


# Sets of colours around one paint


Walls = Mapping[str, Swatch]
"""By room that is painted."""


@dataclass(frozen=True, eq=False)
class SchemeBuilder:
    """Sets around a paint: which is looked at, and which of its colours; every step gives another.

    The colours come from a deck, else from the house's paints, else they are computed.
    """

    basis: Basis
    sets: tuple[ColourSet, ...]
    number: int = 0
    """Of the set looked at."""
    place: int = 0
    """Of the colour looked at in it."""
    others: tuple[ColourSet, ...] = ()
    """The set with other colours at that place, best first; the set itself leads."""
    other: int = 0
    dark_doors: bool = True
    """Whether doors get the dark of the set; else its trim."""
    source: str = ""
    """The name of the deck."""
    walls: tuple[Walls, ...] = ()
    """What each set gives the rooms; none before that is known."""
    note: str = ""
    """Why there are so few sets."""

    @classmethod
    def around(
        cls, neutral: Swatch, house: House, deck: Chips | None = None, source: str = ""
    ) -> "SchemeBuilder":
        chips = deck if deck is not None else all_chips(house.paints)
        basis = Basis(neutral, chips if len(chips) else computed_chips(neutral), house.brief)
        return cls(basis, sets_around(basis), source=source)

    @property
    def shown(self) -> ColourSet | None:
        """The set as it is looked at; None where there was nothing to choose from."""
        if self.others:
            return self.others[self.other]
        return self.sets[self.number] if self.sets else None

    def look_at(self, number: int) -> "SchemeBuilder":
        """Another set, the first after the last."""
        return replace(self, number=number % max(len(self.sets), 1), others=(), other=0, place=0)

    def choose(self, place: int) -> "SchemeBuilder":
        """A colour of the set, of which `swap` shows the alternatives; what was swapped is kept."""
        shown = self.shown
        if shown is None:
            return self
        sets, walls = [*self.sets], [*self.walls]
        sets[self.number] = shown
        if walls:
            walls[self.number] = self.walls_shown
        place %= len(shown.colours)
        return replace(self, sets=(*sets,), walls=(*walls,), place=place, others=(), other=0)

    @property
    def walls_shown(self) -> Walls:
        """A colour that is swapped for another leaves it its rooms."""
        shown, built = self.shown, self.sets[self.number]
        now = shown.colours if shown else built.colours
        swapped = {a.swatch: b.swatch for a, b in zip(built.colours, now, strict=True)}
        return {room: swapped.get(own, own) for room, own in self.walls[self.number].items()}

    def swap(self, by: int) -> "SchemeBuilder":
        """The next alternative for the colour that is chosen, or the one before."""
        shown = self.shown
        if shown is None:
            return self
        others = self.others or (shown, *alternatives(shown, self.place))
        return replace(self, others=others, other=(self.other + by) % len(others))

    def more_like_this(self) -> "SchemeBuilder":
        """Further sets of the kind that is looked at, behind it."""
        shown = self.shown
        if shown is None:
            return self
        sets = (shown, *more_like(shown))
        return replace(self, sets=sets, number=0, place=0, others=(), other=0, walls=())


def beside_walls(before: House, after: House) -> Iterator[str]:
    """What else is painted: of ceilings, trim and doors a line a paint, with how many rooms."""
    changed = Counter((each.surface, each.then) for each in changes(before, after))
    for surface, words in PLURAL.items():
        for (on, paint), rooms in changed.items():
            if on == surface and paint:
                yield f"{words}: {after.paints[paint].name} in {counted(rooms, 'room')}"


WISHED = 6
"""Paints that are tried in a room of which a set's own colours break more wishes."""
TRIES = (
    {"share": 10.0, "variety": 10.0},
    {"share": 10.0, "variety": 10.0, "again": 4.0},
    {"share": 10.0, "variety": 10.0, "again": 16.0},
    {"share": 0.0, "variety": 0.0, "again": 1000.0, "around": 0.0},
)
"""So many times as much as in a search rules count, until the house truly differs from those in
the sets before: a set has few colours. At last it differs at any price."""
LAYING_SECONDS = 0.5
NAMELESS = 2 * SEVERITY_COST["fault"]
"""Of a set without an accent that it is named after, where a room may have it: more than a room off
its usual tier, less than something serious (our assumption)."""


def laid_out(base: Report, shown: ColourSet, before: Sequence[Walls] = ()) -> Walls | None:
    """What walls a set gives each room: the best of its colours under the rules of a suggestion.

    Kept rooms stay as they are, and so does one whose wall paint was approved there. None where
    that is no other house than in the sets `before`.
    """
    house, stay = base.house, approved_rooms(base.house)
    rooms = rooms_to_paint(house).keys() - stay
    among = {
        room: tuple(_fit_for(base, room, shown, rooms)) for room in house.rooms if room in rooms
    }
    swatches: dict[str, Swatch] = {}
    ids: dict[Swatch, str] = {}
    for swatch in (shown.neutral, *(each for of in among.values() for each in of)):
        house, ids[swatch] = _with(house, swatch)
        swatches.setdefault(ids[swatch], swatch)
    report = base.after(house)
    made = house_problem(
        report, stay, len(house.paints),
        among={room: tuple(dict.fromkeys(ids[each] for each in of)) for room, of in among.items()},
        plan=Plan(
            around=report.study.paint(ids[shown.neutral]), kind=shown.kind,
            before={room: tuple(walls[room] for walls in before) for room in rooms},
        ),
        lit=base,
    )  # fmt: skip
    named = {ids[each] for each in _naming(shown) if each in ids}
    nameless = _nameless(house, made.problem, among, named)
    for times in TRIES:
        problem = made.counting(times)
        own = {room: cost + nameless.get(room, 0.0) for room, cost in problem.own.items()}
        chosen = solve(replace(problem, own=own), seconds=LAYING_SECONDS).assignment
        walls = {room: swatches[chosen[room]] for room in among}
        if truly_differ(base.study, walls, before):
            return walls
    return None


def _naming(shown: ColourSet) -> Iterator[Swatch]:
    """The accents of other hues that a set is named after."""
    for one in shown.colours if shown.kind != "tonal" else ():
        hue = hue_words(Chips((one.swatch,)), shown.neutral)
        if one.part == "accent" and hue == KIND_WORDS[shown.kind]:
            yield one.swatch


def _nameless(
    house: House, problem: Problem, rooms: Collection[str], named: Collection[str]
) -> Mapping[str, Array]:
    """What other paints cost in one room, so that those a set is named after are on a wall.

    It is the room where they cost least beside others, and none that links the house or shares its
    colour with another.
    """
    space, found = spaces(house), dict[str, tuple[float, Array]]()
    shared = Counter(space.values())
    for room in rooms:
        plan, own = house.rooms[room], problem.own[room]
        others = np.array([paint not in named for paint in problem.candidates[room]])
        links = plan.role == "backbone" or plan.use in PASSAGES or shared[space[room]] > 1
        if not links and not others.all():
            found[room] = float(own[~others].min() - own.min()), NAMELESS * others
    if not found:
        return {}
    cheapest = min(found, key=lambda room: found[room][0])
    return {cheapest: found[cheapest][1]}


def _fit_for(
    base: Report, room: str, shown: ColourSet, painted: Collection[str]
) -> Sequence[Swatch]:
    """The wall colours of a set that fit a room, and those of its space where that is not painted.

    They break the fewest of its wishes, also how strong a hue is to be that was named for it. Where
    other paints that the set was chosen from break fewer, it is the best of these. None of them was
    rejected there.
    """
    house, space, tried = base.house, spaces(base.house), all_tried(base.house)
    rejected = {paint.colour for key, paint in house.paints.items()
                if tried.get(trying(key, room, "walls")) == "rejected"}  # fmt: skip
    beside = [each for each in sorted(house.rooms.keys() - painted) if space[each] == space[room]]
    kept = (house.rooms[each].paints.walls for each in beside)
    own = [one.swatch for one in shown.colours if one.part not in NO_WALLS]
    own += [base.study.paint(paint) for paint in kept if paint]
    plan, wishes = Plan(around=shown.neutral, kind=shown.kind), house.brief.rooms.get(room)
    step = SHORT_OF_STRENGTH if wishes and wishes.like else BROKEN
    own = [each for each in own if each.entity.colour not in rejected]
    mine = own_rule_costs(house, room, Chips((*own,)), plan)["brief"] // step
    fitting = [own[row] for row in np.flatnonzero(mine == mine.min(initial=np.inf)).tolist()]
    if 0.0 in mine:
        return fitting
    every = shown.basis.chips
    costs = own_rule_costs(house, room, every, plan)
    others = costs["brief"] // step
    others[[each.entity.colour in rejected for each in every.swatches]] = np.inf
    if others.min(initial=np.inf) >= mine.min(initial=np.inf):
        return fitting
    cost = np.sum([*costs.values()], axis=0) + clash_costs(shown.basis.own, every.colours)[0]
    best = np.lexsort((cost, others))[: min(WISHED, int((others == others.min()).sum()))]
    return [every.swatches[row] for row in best.tolist()]


def _with_trim_of_kept_rooms(base: Report, shown: ColourSet, walls: Walls) -> ColourSet:
    """The set with a trim that stays in the house for its own one that hardly differs from it."""
    stay = {room.paints.trim: None for key, room in base.house.rooms.items() if key not in walls}
    trims = [base.study.paint(paint) for paint in stay if paint]

    def kept(one: SetColour) -> SetColour:
        ucs = np.array([trim.colour.ucs for trim in trims]).reshape(-1, 3)
        apart = ucs_parts(ucs, np.array(one.swatch.colour.ucs))[0]
        near = one.part == "trim" and apart.min(initial=APART) < APART
        return one._replace(swatch=trims[apart.argmin()]) if near else one

    return replace(shown, colours=(*map(kept, shown.colours),))


def painted_in(house: House, shown: ColourSet, walls: Walls, *, dark_doors: bool = True) -> House:
    """The house with a set: colours on the walls of rooms, its trim on their ceilings and trim.

    Doors of all these rooms have that too, or the dark of the set, where it is wanted and clearly
    darker than the walls of half of them, for low vision of all (common practice, no source).
    """
    colours = {one.part: one for one in shown.colours}
    trim, dark = None, colours.get("dark") if dark_doors else None
    if "trim" in colours:
        house, trim = _with(house, colours["trim"].swatch)
    doors = trim
    lrvs = [swatch.lrv for swatch in walls.values()] or [0.0]
    lrv, step = median(lrvs), TRIM_STEP
    if house.low_vision:
        lrv, step = min(lrvs), check_of("edge").limits_in(house)["lrv"]
    if dark and not dark.broken and lrv - dark.swatch.lrv >= step:
        house, doors = _with(house, dark.swatch)
    painted = {}
    for room, swatch in walls.items():
        house, own = _with(house, swatch)
        paints = SurfacePaints(own, trim, trim, doors)
        painted[room] = replace(house.rooms[room], paints=paints, accents={})
    return change(house, rooms={**house.rooms, **painted})


def _with(house: House, swatch: Swatch) -> tuple[House, str]:
    """The house with a paint, and its id there: its own one of that colour, whatever its name."""
    paint = swatch.entity
    assert isinstance(paint, Paint)
    own = next((key for key, each in house.paints.items() if each.colour == paint.colour), None)
    return (house, own) if own else take(house, swatch.id, paint)


def _where(one: SetColour, house: House, *, dark_doors: bool) -> Iterator[str]:
    """Of an accent that it is not used; of the dark, where it is and why, or why not."""
    painted = house.rooms.values()
    if one.part == "accent" and one.swatch.entity not in {
        house.paints[p] for room in painted if (p := room.paints.walls)
    }:  # fmt: skip
        yield "Not used on a wall here."
    doors = [house.paints[p] for room in painted if (p := room.paints.doors)]
    if one.part != "dark":
        return
    if one.broken:
        yield f"Doors have the trim colour instead ({one.broken[0]})."
    elif not dark_doors:
        yield "Doors have the trim colour. Press 4 to paint them in this."
    elif one.swatch.entity not in doors:
        yield "Walls here are too dark for doors in it."
    else:
        rooms = counted(doors.count(one.swatch.entity), "room")
        yield f"Doors in {rooms} have it, to stand out from walls. Press 4 for trim."


ORDER_OF_SETS = f"Wishes kept first. {ORDER}."


def best_set_first(builder: SchemeBuilder, base: Report) -> tuple[SchemeBuilder, Suggestions]:
    """With the sets that truly differ as houses, and what they make.

    Those that keep most wishes first, of these as `ORDER` says.
    """
    differing = sets_that_differ(builder, base)
    found = suggested_sets(differing, base).found
    ranks = [(len(one.missed), one.report.tally.rank) for one in found]
    order = sorted(range(len(ranks)), key=ranks.__getitem__)
    sets = tuple(differing.sets[number] for number in order)
    ordered = replace(differing, sets=sets, walls=tuple(differing.walls[n] for n in order))
    return ordered, suggested_sets(ordered, base, [one.report for one in found])


def sets_that_differ(builder: SchemeBuilder, base: Report) -> SchemeBuilder:
    """Without sets that would be the same house as one before, and with the walls of each."""
    if builder.walls or not builder.sets:
        return builder
    made: dict[ColourSet, Walls] = {}
    for one in builder.sets:
        if (walls := laid_out(base, one, [*made.values()])) is not None:
            made[one] = walls
    note = too_few(len(made), len(builder.sets), "set")
    return replace(builder, sets=(*made,), walls=(*made.values(),), note=note)


def suggested_sets(
    builder: SchemeBuilder, base: Report, known: Collection[Report] = ()
) -> Suggestions:
    """The house in every set: the one that is looked at as it stands, the others as built.

    Reports that are `known` are not made anew.
    """
    each = [replace(builder, number=n, others=(), other=0) for n in range(len(builder.sets))]
    each[builder.number : builder.number + 1] = [builder] if each else []
    found = []
    for one in each:
        if (shown := one.shown) is None:
            continue
        walls = one.walls_shown if one.walls else laid_out(base, shown) or {}
        shown = _with_trim_of_kept_rooms(base, shown, walls)
        house = painted_in(base.house, shown, walls, dark_doors=builder.dark_doors)
        report = next((r for r in known if r.house == house), None) or base.after(house)
        colours = tuple(
            SuggestedColour(colour.swatch, AREAS[colour.part], colour.part, " ".join((
                reason(colour, shown),
                *_where(colour, report.house, dark_doors=builder.dark_doors),
            )))
            for colour in shown.colours
        )  # fmt: skip
        painted = painted_rooms(base.house, report.house)
        colours += tuple(_wished_for(report, painted, shown))
        source = f", from {builder.source}" if builder.source else ""
        number = f"Set {one.number + 1} of {len(one.sets)}{source}:"
        number += f" {hue_words(Chips((*walls.values(),)), shown.neutral)}. {ORDER_OF_SETS}"
        other = f" Alternative {one.other}." if one.other else ""
        found.append(Suggestion(
            str(one.number + 1), report, colours, number + other,
            missed=(*shown.broken, *broken_wishes(report.study, painted, painted)),
            progress=shown.solution, compared=shown.compared,
        ))  # fmt: skip
    fault = "" if found else "No paint fits. Open a deck: d."
    return Suggestions(tuple(found), fault, builder.note, running=False)


def _wished_for(
    report: Report, painted: Collection[str], shown: ColourSet
) -> Iterator[SuggestedColour]:
    """Colours that are not of the set, each with the rooms whose wishes brought it in."""
    own, rooms = {one.swatch.entity for one in shown.colours}, report.house.rooms
    brought = grouped((p, rooms[r].name) for r in painted if (p := rooms[r].paints.walls))
    for swatch, names in ((report.study.paint(p), names) for p, names in brought.items()):
        if swatch.entity not in own:
            named = listed(sorted(names), FEW_ROOMS, "rooms")
            reason = f"A {swatch.colour.undertone.words}, by the wishes for {named}."
            yield SuggestedColour(swatch, AREAS["accent"], "wish", reason)


def painted_rooms(before: House, after: House) -> tuple[str, ...]:
    """The rooms whose walls have another paint."""
    return tuple(each.room for each in changes(before, after) if each.surface == "walls")


# Other ways to paint the house: its schemes, a room like another room, tints of a paint.


def schemes_of(base: Report, today: dt.date) -> Iterator[Suggestion]:
    """The house as it is, then in each of its schemes, with what the paint costs."""
    for each in compared(base):
        report, count = each.report, each.changed
        schedule = schedule_of(report, today)
        cost = schedule.quantities.cost
        colours = tuple(
            SuggestedColour(report.study.paint(paint), share, f"{100 * share:.0f} %")
            for paint, share in each.shares.items()
        )
        left = [*left_out(schedule)] if cost is not None else []
        more = " and more" if left else ""
        said = [f"{counted(count, 'surface')} changed."] if count else []
        said += [] if cost is None else [f"Paint and primer {money(cost, base.house)}{more}."]
        summary = " ".join((*said, *left))
        label = f"Paint the house as in {each.name}"
        yield Suggestion(
            each.name, report, colours, summary, label, _state(report), key=each.key or ""
        )


def rooms_like(base: Report, room: str) -> Iterator[Suggestion]:
    house = base.house
    for key, model in house.rooms.items():
        paints = model.paints.chosen()
        if key != room and paints:
            made = same_as(house, room, key)
            colours = tuple(
                SuggestedColour(base.study.paint(paint), 1.0, surface) for surface, paint in paints
            )
            label = f"{house.rooms[room].name} painted as {model.name}"
            summary = "Walls, ceiling, trim and doors, with their sheens."
            yield Suggestion(model.name, _quick(base, made), colours, summary, label)


def same_as(house: House, room: str, other: str) -> House:
    model = house.rooms[other]
    return change_entity(house, "rooms", room, paints=model.paints, sheens=model.sheens)


def tints_on(base: Report, target: Target) -> Iterator[Suggestion]:
    """Half and quarter strength, lighter, darker and greyer than the paint on a surface."""
    house, paint = base.house, target.paint_in(base.house)
    if paint is None:
        return
    for what, tint in tints(base.study.paint(paint)).items():
        [swatch] = all_chips({paint: tint}).swatches
        taken, own = take(house, f"{paint}-{what.split(' ')[-1]}", tint)
        colour = SuggestedColour(swatch, 1.0, target.surface, swatch.colour.undertone.words)
        summary = f"{swatch.colour.undertone.words}. It is computed: {ASK}."
        label = f"{target.name_in(house)}: {tint.name}"
        report = _quick(base, paint_on(taken, *target, own))
        yield Suggestion(what, report, (colour,), summary, label, f"LRV {swatch.lrv:.0f}")


def _quick(base: Report, house: House) -> Report:
    return report_of(house, base, deep=False)
