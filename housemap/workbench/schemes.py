"""Other ways to paint the house: its schemes, a room like another room, tints of a paint."""

import datetime as dt
from collections.abc import Iterator

from housemap.checks import Report, report_of
from housemap.choose.chips import all_chips, take
from housemap.choose.schemes.compare import compared
from housemap.choose.schemes.computed import ASK, tints
from housemap.model.edits import change_entity, paint_on
from housemap.model.house import House
from housemap.schedule.document import schedule_of
from housemap.schedule.sections import left_out
from housemap.schedule.wording import money
from housemap.workbench.choosing import Target
from housemap.workbench.suggesting import SuggestedColour, Suggestion


def schemes_of(base: Report, today: dt.date) -> Iterator[Suggestion]:
    """The house as it is, then in each of its schemes, with what the paint costs."""
    for each in compared(base):
        report, count = each.report, len(each.changed)
        schedule = schedule_of(report, today)
        cost = schedule.quantities.cost
        paid = "" if cost is None else f", paint {money(cost, base.house)}"
        what = f"{count} surface{'' if count == 1 else 's'} changed" if count else "No change"
        colours = tuple(
            SuggestedColour(report.study.paint(paint), share, f"{100 * share:.0f} %")
            for paint, share in each.shares.items()
        )
        left = left_out(schedule) if cost is not None else ()
        told = " ".join((f"{what}{paid}.", *left))
        label = f"Paint the house as in {each.name}"
        state = f"{each.findings} to look at"
        yield Suggestion(each.name, report, colours, told, label, state, key=each.key or "")


def rooms_like(base: Report, room: str) -> Iterator[Suggestion]:
    """A room with the paints and sheens of every other room that has any."""
    house = base.house
    for key, model in house.rooms.items():
        paints = model.paints.chosen()
        if key != room and paints:
            made = same_as(house, room, key)
            colours = tuple(
                SuggestedColour(base.study.paint(paint), 1.0, surface) for surface, paint in paints
            )
            label = f"{house.rooms[room].name} painted as {model.name}"
            told = "Walls, ceiling, trim and doors, with their sheens."
            yield Suggestion(model.name, _quick(base, made), colours, told, label)


def same_as(house: House, room: str, other: str) -> House:
    """Give a room the paints and sheens of another one."""
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
        told = f"{swatch.colour.undertone.words}. It is computed: {ASK}."
        label = f"{target.name_in(house)}: {tint.name}"
        report = _quick(base, paint_on(taken, *target, own))
        yield Suggestion(what, report, (colour,), told, label, f"LRV {swatch.lrv:.0f}")


def _quick(base: Report, house: House) -> Report:
    return report_of(house, base, deep=False)
