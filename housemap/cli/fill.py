"""`housemap fill`: suggests wall paints, from the house's paints or out of a deck."""

import time
from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from math import inf
from pathlib import Path
from typing import Any

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips
from housemap.choose.house_problem import HouseProblem, choices, filled, house_problem
from housemap.choose.optimiser import problem as asked
from housemap.choose.optimiser.problem import Progress, answer_json
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.compare import too_few
from housemap.choose.schemes.house_rules import Plan, Rule, broken_rules, broken_wishes
from housemap.choose.schemes.kinds import KINDS
from housemap.choose.schemes.shortlist import PaletteRequest, screen
from housemap.choose.schemes.suggestion import VARIANTS, Palette, palettes
from housemap.cli.command import DONE, FORCE, HOUSE, Command, arg, whole_number
from housemap.cli.deck_paints import deck_chips
from housemap.cli.output import note, show, table
from housemap.cli.reading import one_house
from housemap.cli.written import check_free, remember
from housemap.errors import InputError
from housemap.file.save import save_house
from housemap.model.house import House
from housemap.model.severity import findings_text
from housemap.study import Swatch

LEAST_SECONDS = 0.2
"""A search has so long, however much of the time reading and judging took."""
NONE_IN_TIME = "no suggestion in the time given: allow more seconds, or more wall paints"
LAST_SECONDS = 1.0
"""So shortly before the end no further palette is begun, and the trim is chosen quickly."""


def run_deck(arguments: Namespace) -> int:
    end: float = time.monotonic() + arguments.seconds
    deck, chips = deck_chips(arguments.deck)
    report = one_house(arguments.file, report_of)
    own = frozenset(arguments.pin) & report.house.paints.keys()
    request = PaletteRequest(
        paints=arguments.paints,
        keep=None if arguments.keep is None else frozenset(arguments.keep),
        own=own,
        chips=frozenset(arguments.pin) - own,  # what is no paint of the file is one of the deck
        around=_around(arguments, report, chips),
        kind=arguments.kind,
    )
    screened = screen(report, chips, deck.name, request)

    def over() -> bool:
        return time.monotonic() >= end - LAST_SECONDS

    made = palettes(screened, _search(end, part=0.7), stopped=over)
    found = [palette for palette in made if palette.done]
    told = found[-1].summary if found else screened.summary
    show(
        arguments,
        lambda: {"told": told, "palettes": [_deck_json(report, palette) for palette in found]},
        _deck_lines(report, found, "" if over() else too_few(len(found), VARIANTS, "suggestion")),
    )
    if arguments.out and found:
        _write(found[0].house, arguments, "palette 1 written")
    return DONE


def _write(house: House, arguments: Namespace, what: str) -> None:
    save_house(house, arguments.out)
    remember(arguments.out)
    note(arguments, f"{what} to {arguments.out}")


def _search(end: float, part: float = 1.0) -> Callable[[asked.Problem], list[Progress]]:
    """Searches that may each take a part of the time that is left until `end`."""

    def search(problem: asked.Problem) -> list[Progress]:
        seconds = max((end - time.monotonic()) * part, LEAST_SECONDS)
        return [solve(problem, seconds=seconds)]

    return search


def _deck_lines(report: Report, found: list[Palette], few: str) -> Iterator[str]:
    for palette in found:
        yield f"palette {palette.number + 1}: {describe(palette.progress, palette.compared)}"
        after = report.after(palette.house)
        yield from (f"  {line}" for line in _said(palette.missed(after), palette.unusual()))
        yield from table(_rows(palette))
        yield f"  {findings_text(report.tally, after.tally)}"
        yield f"  {palette.summary}"
    if few or not found:
        yield few if found else NONE_IN_TIME


def _rows(palette: Palette) -> Iterator[tuple[str, ...]]:
    house = palette.house
    for paint, share in palette.shares.items():
        rooms = [r.name for r in house.rooms.values() if r.paints.walls == paint]
        on = ", ".join(rooms) or "not used"
        yield f"  {house.paints[paint].name}", f"{100 * share:.0f} %", on
    if palette.trim is not None:
        yield f"  {house.paints[palette.trim].name}", "", "trim"


def _deck_json(report: Report, palette: Palette) -> dict[str, Any]:
    house, chosen = palette.house, palette.progress.assignment
    missed = palette.missed(report.after(house))
    return {
        **_as_json(palette.made, palette.progress, missed, palette.unusual()),
        "assignment": {room: chosen[room] for room in house.rooms if room in chosen},
        "trim": palette.trim,
        "names": {p: house.paints[p].name for p in (*palette.shares, palette.trim) if p},
        "shares": dict(palette.shares),
    }


# The command


def _run(arguments: Namespace) -> int:
    if arguments.out:
        check_free(arguments.out, force=arguments.force)
    if arguments.deck is not None:
        return run_deck(arguments)
    if arguments.pin:
        raise InputError.of("--pin needs --deck: without one, --keep keeps rooms")

    end = time.monotonic() + arguments.seconds
    report = one_house(arguments.file, report_of)
    around = _around(arguments, report, Chips())
    plan = Plan(arguments.paints, around, arguments.kind or KINDS[-1])
    make = partial(house_problem, keep=arguments.keep, paints=arguments.paints, plan=plan)
    found = [*choices(report, make, _search(end), lambda: time.monotonic() >= end)]
    if not found:
        raise InputError.of(NONE_IN_TIME)
    made, solution = found[-1]
    after = report.after(filled(report.house, solution.assignment))
    chosen, candidates = solution.assignment, made.problem.candidates
    painted = {room for room, paints in candidates.items() if len(paints) > 1}
    missed = broken_wishes(after.study, None, painted)
    unusual = broken_rules(made.rules, made.problem, chosen, chosen.keys())
    show(
        arguments,
        lambda: _as_json(made, solution, missed, unusual),
        (*_said(missed, unusual), *_lines(report, after, made, solution)),
    )
    if arguments.out:
        _write(after.house, arguments, "written")
    return DONE


def _around(arguments: Namespace, report: Report, chips: Chips) -> Swatch | None:
    """The paint to build around, of the file or else of the deck. Raises InputError."""
    id_ = arguments.around
    if id_ is None:
        return None
    if id_ in report.house.paints:
        return report.study.paint(id_)
    if id_ not in chips.rows:
        raise InputError.of(f'there is no paint "{id_}" to build around')
    return chips.swatch(id_)


def _as_json(
    made: HouseProblem, solution: Progress, missed: Iterable[str], unusual: str
) -> dict[str, Any]:
    return {
        **answer_json(made.problem, solution),
        "brief": {"broken": [*filter(None, (*missed, unusual))]},
        "rules": rules_json(made.rules),
        "rules_shown": list(made.shown),
    }


def rules_json(rules: Iterable[Rule]) -> list[dict[str, Any]]:
    """What of the problem's costs is due to each rule, in the same form."""
    return [
        {
            "rule": rule.name,
            "own": {room: cost.tolist() for room, cost in rule.own.items()},
            "pairs": [{"rooms": list(p.rooms), "cost": p.cost.tolist()} for p in rule.pairs],
        }
        for rule in rules
    ]


def _said(missed: Iterable[str], unusual: str) -> Iterator[str]:
    """Wishes that are not kept, a line each; then the usual rules that are not, which are none."""
    yield from (f"not kept: {words}" for words in missed)
    if unusual:
        yield f"not as usual: {unusual}"


def _lines(before: Report, after: Report, made: HouseProblem, solution: Progress) -> Iterator[str]:
    house, problem = before.house, made.problem
    yield from table(
        (house.rooms[room].name, house.paints[paint].name)
        for room, paint in solution.assignment.items()
        if house.rooms[room].paints.walls != paint
    )
    compared = len({paint for each in problem.candidates.values() for paint in each})
    yield describe(solution, compared)
    yield findings_text(before.tally, after.tally)
    if problem.paints is not None:
        yield f"{len(set(solution.assignment.values()))} wall paints of at most {problem.paints}"


def describe(solution: Progress, compared: int) -> str:
    """How good a suggestion is, and what it was compared with."""
    penalty = f"penalty {solution.cost:.1f} (less is better)"
    if solution.bound == -inf:
        return f"{penalty}: a first choice, by the reference light alone; allow more seconds"
    if solution.gap == 0.0:
        return f"{penalty}: best of the {compared} paints compared, under these rules"
    return (
        f"{penalty}: the best found in {solution.seconds:.1f} s of the {compared} paints compared;"
        f" no choice of them has fewer than {solution.bound:.1f}"
    )


FILL = Command(
    name="fill",
    summary="Suggest wall paints for the rooms that have none, or for all but some.",
    examples=(
        "housemap fill house.toml",
        "housemap fill house.toml --keep hall landing --paints 5 -o filled.toml",
        "housemap fill house.toml --keep hall --deck notation --paints 5 -o palette.toml",
        "housemap fill --json house.toml",
    ),
    arguments=(
        HOUSE,
        arg("--paints N", "at most so many distinct wall paints", type=whole_number),
        arg("--keep ROOM",
            "fill every room but these (default: only the rooms without a wall paint)", nargs="+"),
        arg("--deck DECK",
            "choose the paints, and a trim, from a deck: its name, or the path of a file; lists"
            " up to three palettes that differ"),
        arg("--pin PAINT",
            "with --deck: paints of the file or the deck, by id, that the palette has in any case",
            nargs="+", default=[]),
        arg("--around PAINT", "build the scheme around this paint of the file or deck"),
        arg("--kind", "one kind of scheme only", choices=KINDS),
        arg("-o OUT", "write the filled house", dest="out", type=Path),
        FORCE,
        arg("--seconds S", "stop by then (default: 30)", type=whole_number, default=30.0),
    ),
    run=_run,
)  # fmt: skip
