"""Alternatives for the house: its schemes, another room's paints, tints of a paint."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from housemap.checks import Report
from housemap.choose.chips import all_chips, take
from housemap.choose.schemes.compare import compared
from housemap.choose.schemes.computed import tints
from housemap.model.edits import change_entity, paint_on, take_scheme
from housemap.model.house import House, Paint
from housemap.schedule.document import schedule_of
from housemap.study import Swatch
from housemap.workbench.choosing import Target
from housemap.workbench.session import Edit


@dataclass(frozen=True, eq=False)
class Alternative:
    """One way to paint the house, or a part of it."""

    key: str
    """Empty for the house as it is."""
    name: str
    state: str
    """Beside the name."""
    colours: tuple[tuple[Swatch, float], ...]
    """With their shares."""
    words: str
    """What it changes, or is."""
    cost: str = ""
    edit: Edit | None = None
    label: str = ""
    """Of the edit."""
    report: Report | None = None
    """Of the house so painted, where that is known."""


def schemes_of(base: Report, today: dt.date) -> Iterator[Alternative]:
    """The house as it is, then in each of its schemes, with what the paint costs."""
    for each in compared(base):
        report, changed = each.report, len(each.changed)
        cost = schedule_of(report, today).quantities.cost
        paid = "" if cost is None else f"paint {base.house.client.currency} {cost:,.0f}"
        what = f"{changed} surface{'' if changed == 1 else 's'} changed" if changed else "no change"
        swatches = report.study.swatches
        colours = tuple(
            (swatches["Paint", paint], share)
            for paint, share in each.shares.items() if ("Paint", paint) in swatches
        )  # fmt: skip
        yield Alternative(
            each.key or "", each.name, f"{each.findings} to look at", colours, what,
            " ".join(paid.split()), partial(take_scheme, key=each.key) if each.key else None,
            f"Paint the house as in {each.name}", report,
        )  # fmt: skip


def rooms_like(base: Report, room: str) -> Iterator[Alternative]:
    """The paints and sheens of every other room that has any, for a room."""
    house = base.house
    for key, model in house.rooms.items():
        paints = [paint for _, paint in model.paints.chosen()]
        if key == room or not paints:
            continue
        edit = partial(same_as, room=room, other=key)
        names = ", ".join(dict.fromkeys(house.paints[paint].name for paint in paints))
        colours = tuple((base.study.paint(paint), 1.0) for paint in paints)
        label = f"{house.rooms[room].name} painted as {model.name}"
        yield Alternative(key, model.name, "", colours, names, "", edit, label)


def same_as(house: House, room: str, other: str) -> House:
    """Give a room the paints and sheens of another one."""
    model = house.rooms[other]
    return change_entity(house, "rooms", room, paints=model.paints, sheens=model.sheens)


def tints_on(base: Report, target: Target) -> Iterator[Alternative]:
    """Half and quarter strength, lighter, darker and greyer than the paint on a surface."""
    paint = target.paint_in(base.house)
    if paint is None:
        return
    made = tints(base.study.paint(paint))
    chips = all_chips({what.replace(" ", "-"): tint for what, tint in made.items()})
    for swatch, (what, tint) in zip(chips.swatches, made.items(), strict=True):

        def mixed(house: House, tint_id: str = swatch.id, tint: Paint = tint) -> House:
            house, own = take(house, tint_id, tint)
            return paint_on(house, *target, own)

        state, words = f"LRV {swatch.lrv:.0f}", swatch.colour.undertone.words
        label = f"{target.name_in(base.house)}: {tint.name}"
        colours = ((swatch, 1.0),)
        yield Alternative(swatch.id, what, state, colours, words, "", mixed, label)
