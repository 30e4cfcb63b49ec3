"""Suggestions for a house: by a search of its own paints or a deck, or in a set around a paint."""

import datetime as dt
import time
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import cycle
from threading import Event
from typing import Literal, NamedTuple

import numpy as np

from housemap.checks import Report, check_of, report_of
from housemap.checks.wishes import BROKEN
from housemap.checks.words import listed
from housemap.choose.chips import Chips, all_chips, take
from housemap.choose.house_problem import approved_rooms
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import Run
from housemap.choose.schemes.card import AREAS, DEEP, reason, reason_for
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
from housemap.choose.schemes.kinds import KIND_WORDS, KINDS
from housemap.choose.schemes.sets import (
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
from housemap.colorimetry.arrays import Floats
from housemap.deck.notation_deck import notation_deck
from housemap.errors import HousemapError
from housemap.file.deck_file import DeckFile, read_deck_file
from housemap.model.edits import change, change_entity, paint_on
from housemap.model.geometry import floor_area_m2
from housemap.model.grouping import grouped
from housemap.model.house import House, Paint, SurfacePaints
from housemap.model.samples import all_tried, trying
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms, rooms_to_paint
from housemap.schedule.document import schedule_of
from housemap.schedule.sections import left_out
from housemap.schedule.wording import money
from housemap.study import Swatch, study_of
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
        f"{head}{palette.screened.summary}", state=state,
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
    ways: tuple[int, ...] = ()
    """How each set is laid out in the house, as in `WAYS`; none before that is known."""
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
        sets = (*self.sets[: self.number], shown, *self.sets[self.number + 1 :])
        return replace(self, sets=sets, place=place % len(shown.colours), others=(), other=0)

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
        return replace(self, sets=sets, number=0, place=0, others=(), other=0, ways=())


WALLS_FIRST: tuple[Part, ...] = ("room", "backbone", "neutral", "accent")
"""Parts of a set whose colours take the place of one that was rejected in a room."""


def beside_walls(before: House, after: House) -> Iterator[str]:
    """What else is painted: of ceilings, trim and doors a line a paint, with how many rooms."""
    changed = Counter((each.surface, each.then) for each in changes(before, after))
    for surface, words in PLURAL.items():
        for (on, paint), rooms in changed.items():
            if on == surface and paint:
                yield f"{words}: {after.paints[paint].name} in {counted(rooms, 'room')}"


def painted_in(
    house: House, shown: ColourSet, *, way: int | None = None, dark_doors: bool = True
) -> House:
    """The house with a set on its walls, ceilings, trim and doors; kept rooms stay as they are.

    So does one whose wall paint was approved there. A colour that was rejected in a room, or that
    breaks a wish there, gives way (see `_in_order`). `way` is one of `WAYS`; None: as usual for the
    kind. Trim and ceilings get the trim, and so do doors but those that get the dark of the set:
    where it is wanted and clearly darker than the walls (common practice, no source).
    """
    parts: dict[Part, list[str]] = {}
    swatches: dict[str, Swatch] = {}
    for one in sorted(shown.colours, key=lambda each: -each.swatch.lrv):
        house, paint = _with(house, one.swatch)
        parts.setdefault(one.part, []).append(paint)
        swatches[paint] = one.swatch
    trim = parts.get("trim", [None])[0]
    dark = next(
        (one.swatch for one in shown.colours if one.part == "dark" and not one.broken), None
    )
    doorways = [each.between for each in house.openings.values() if each.kind == "doorway"]
    stay = approved_rooms(house) | kept_rooms(house)
    tried = all_tried(house)
    others = [paint for part in WALLS_FIRST for paint in parts.get(part, ())]
    way = KINDS.index(shown.kind) if way is None else way
    painted = {}
    for rooms, paint in _walls_in_set(house, parts, swatches, WAYS[way]):
        kept = [own for room in rooms if room in stay and (own := house.rooms[room].paints.walls)]
        given = kept[0] if kept else paint
        colours = [] if kept else [swatches[each] for each in (paint, *others)]
        for swatch in _in_order(house, rooms, colours, shown) if colours else ():
            house, own = _with(house, swatch)
            if all(tried.get(trying(own, room, "walls")) != "rejected" for room in rooms):
                given = own
                break
        reads = dark_doors and dark is not None and _reads_against(house, given, dark)
        for key in {*rooms} - stay:
            doors = parts["dark"][0] if reads and any(key in each for each in doorways) else trim
            paints = SurfacePaints(given, trim, trim, doors)
            painted[key] = replace(house.rooms[key], paints=paints, accents={})
    return change(house, rooms={**house.rooms, **painted})


def _with(house: House, swatch: Swatch) -> tuple[House, str]:
    """The house with a paint, and its id there: its own one of that colour, whatever its name."""
    paint = swatch.entity
    assert isinstance(paint, Paint)
    own = next((key for key, each in house.paints.items() if each.colour == paint.colour), None)
    return (house, own) if own else take(house, swatch.id, paint)


def _in_order(
    house: House, rooms: Sequence[str], colours: Sequence[Swatch], shown: ColourSet
) -> Iterator[Swatch]:
    """What the walls of rooms get: the first colour of a set where it keeps the wishes there.

    Else, and where hues were named for a room, those first that break the fewest wishes, how strong
    that hue is to be too; of these the colours of the set before all that it was chosen from; and
    of these those that cost least by the rules of a suggestion.
    """
    plan = Plan(around=shown.neutral, kind=shown.kind)
    every = shown.basis.chips

    def wishes_and_all(chips: Chips) -> Floats:
        costs = [own_rule_costs(house, room, chips, plan) for room in rooms]
        both = [c["brief"] for c in costs], [rule for c in costs for rule in c.values()]
        return np.array([np.sum(each, axis=0) for each in both])

    few = wishes_and_all(Chips((*colours,)))
    named = any(own.like for room in rooms if (own := house.brief.rooms.get(room)))
    if few[0, 0] < BROKEN and not named:
        yield from colours
        return
    brief, least = np.hstack([few, wishes_and_all(every)])
    further = np.arange(len(brief)) >= len(colours)
    least[further] += clash_costs(shown.basis.own, every.colours)[0]
    missed = brief // (SHORT_OF_STRENGTH if named else BROKEN)
    for row in np.lexsort((least, further, missed)).tolist():
        yield (*colours, *every.swatches)[row]


def _reads_against(house: House, walls: str, dark: Swatch) -> bool:
    """Whether doors in the dark stand out from walls: as trim does, for low vision as an edge."""
    [swatch] = all_chips({walls: house.paints[walls]}).swatches
    step = check_of("edge").limits_in(house)["lrv"] if house.low_vision else TRIM_STEP
    return swatch.lrv - dark.lrv >= step


def _where(one: SetColour, house: House, *, dark_doors: bool) -> Iterator[str]:
    """Of an accent that it is not used; of the dark, where it is and why, or why not."""
    painted = house.rooms.values()
    if one.part == "accent" and one.swatch.entity not in {
        house.paints[p] for room in painted if (p := room.paints.walls)
    }:  # fmt: skip
        deep = ": deep colours go on accent rooms with a window" if one.swatch.lrv < DEEP else ""
        yield f"Not used on a wall here{deep}."
    doors = [house.paints[p] for room in painted if (p := room.paints.doors)]
    if one.part != "dark":
        return
    if one.broken:
        yield f"Doors have the trim colour instead ({one.broken[0]})."
    elif not dark_doors:
        yield "Doors have the trim colour. Press 4 to paint them in this."
    elif one.swatch.entity not in doors:
        yield "No walls here are light enough for doors in it."
    else:
        rooms = counted(doors.count(one.swatch.entity), "room")
        yield f"Doors in {rooms} have it, to stand out from walls. Press 4 for trim."


Step = Literal["calm", "lively", "light"]
WAYS: Sequence[Sequence[Step]] = (
    ("calm", "lively"), ("light", "lively", "lively", "calm"), ("calm", "calm", "lively", "lively"),
    ("light", "calm", "lively"), ("lively", "calm"), ("lively", "lively", "calm"),
)  # fmt: skip
"""What rooms that close get in turn, the largest first: a tone, an accent that is not deep, or the
backbone. First those of the kinds; another where a set would be the same house as one before."""


def _walls_in_set(
    house: House, parts: Mapping[Part, Sequence[str]], swatches: Mapping[str, Swatch],
    way: Sequence[Step],
) -> Iterator[tuple[Sequence[str], str]]:  # fmt: skip
    """The rooms of each space indoors with the colour of a set that suits it.

    A space has one colour: what is in open plan without a place to stop, or a hall with its stairs
    and landing. The backbone goes where a room links the others. The rest take turns, the largest
    first; deep accents go on accent rooms; all accents where there is a window, or where none is
    known (common practice, no source).
    """
    neutral = parts["neutral"][0]
    backbone = parts.get("backbone", [neutral])[0]
    tones = [paint for paint in (neutral, *parts.get("room", ())) if paint != backbone] or [neutral]
    accents = parts.get("accent", ())
    mid = [paint for paint in accents if swatches[paint].lrv >= DEEP] or tones
    at = WAYS.index(way) % len(mid)
    strong, turns = cycle(accents[::-1] or tones), cycle(way)
    in_turn = {"calm": cycle(tones), "lively": cycle((*mid[at:], *mid[:at])),
               "light": cycle([backbone])}  # fmt: skip
    for rooms in _spaces_by_size(house):
        held = [house.rooms[room] for room in rooms]
        lit = any(room.windows or floor_area_m2(room) is None for room in held)
        if any(room.role == "backbone" or usual_role(room.use) for room in held):
            yield rooms, backbone
        elif all(room.role == "accent" for room in held):
            yield rooms, next(strong if lit else in_turn["lively"])
        else:
            step = next(turns)
            yield rooms, next(in_turn[step if lit or step == "light" else "calm"])


def _spaces_by_size(house: House) -> Sequence[Sequence[str]]:
    """The rooms indoors that share their colour, the largest floor first."""
    rooms = grouped(
        (space, room) for room, space in spaces(house).items() if house.rooms[room].use != "outdoor"
    )

    def area_m2(space: Sequence[str]) -> float:
        return sum(floor_area_m2(house.rooms[room]) or 0.0 for room in space)

    return sorted(rooms.values(), key=area_m2, reverse=True)


ORDER_OF_SETS = f"Wishes kept first. {ORDER}."


def best_set_first(builder: SchemeBuilder, base: Report) -> tuple[SchemeBuilder, Suggestions]:
    """With the sets that truly differ as houses, and what they make.

    Those that keep most wishes first, of these as `ORDER` says.
    """
    differing = sets_that_differ(builder, base)
    found = suggested_sets(differing, base).found
    ranks = [(len(one.missed), one.report.tally.rank) for one in found]
    order = sorted(range(len(ranks)), key=ranks.__getitem__)
    ordered = replace(
        differing,
        sets=tuple(differing.sets[number] for number in order),
        ways=tuple(differing.ways[number] for number in order),
    )
    return ordered, suggested_sets(ordered, base, [one.report for one in found])


def sets_that_differ(builder: SchemeBuilder, base: Report) -> SchemeBuilder:
    """Without sets that would be the same house as one before, in whatever way they are laid out.

    Only the walls that a set paints count.
    """
    if builder.ways or not builder.sets:
        return builder
    house, before = base.house, list[Mapping[str, Swatch]]()
    made: dict[ColourSet, int] = {}
    rooms = rooms_to_paint(house).keys() - approved_rooms(house)
    for one in builder.sets:
        for way in dict.fromkeys((KINDS.index(one.kind), *range(len(WAYS)))):
            study = study_of(painted_in(house, one, way=way), base.study)
            painted = {room: study.house.rooms[room].paints.walls for room in rooms}
            walls = {room: study.paint(paint) for room, paint in painted.items() if paint}
            if truly_differ(study, walls, before):
                made[one] = way
                before.append(walls)
                break
    note = too_few(len(made), len(builder.sets), "set")
    return replace(builder, sets=(*made,), ways=(*made.values(),), note=note)


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
        way = builder.ways[one.number] if builder.ways else None
        house = painted_in(base.house, shown, way=way, dark_doors=builder.dark_doors)
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
        number += f" {KIND_WORDS[shown.kind]}. {ORDER_OF_SETS}"
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
