"""The log of samples: what is to be tried where, and what was seen beside what was predicted."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.model.house import House, Light, Sample
from housemap.tui.render.choosing import title_row
from housemap.tui.render.light_view import LIGHT_WORDS
from housemap.tui.render.listing import Line, names_below, patch, side_by_side
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import LIGHTS, Shades, shades_under

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.model.verdicts import Tried
    from housemap.schedule.samples import Trial

LEAST_ENTRIES = 3
"""So many stay in view below the head."""
ROWS_OF_ENTRY = 2
TRIED_WORDS: "dict[Tried, str]" = {
    "kept": "kept", "rejected": "rejected", "unsure": "unsure", "put up": "put up",
    "untried": "to put up",
}  # fmt: skip
SCOPES = {True: "whole house", False: "this room"}


@dataclass(frozen=True, slots=True)
class SamplesView:
    """Everything that is told of the chosen paint in its room."""

    house: House
    report: "Report | None"
    trial: "Trial | None"
    wall: str | None
    """Where the next look is logged."""
    light: Light
    """That is shown."""
    whole: bool
    """Whether the whole house is listed."""
    look: Look

    def shades(self, light: Light) -> Shades:
        return shades_under(light, self.house, self.report)


def logged_light(light: Light) -> Light:
    """In which light somebody looks while the program shows a light: the reference means by day."""
    return "evening" if light == "evening" else "day"


def tried_text(tried: "Tried", look: Look) -> str:
    """As in "✓K kept"."""
    return f"{look.glyphs.tried[tried]} {TRIED_WORDS[tried]}".strip()


def trial_rows(trial: "Trial", shades: Shades, line: Line) -> tuple[Row, Row]:
    """A paint, what its samples came to, and the room."""
    house = shades.house
    swatch = patch(shades.on(trial.room, trial.surface, trial.paint), SWATCH, line.look)
    lead, gap = (line.mark(), swatch, line.run(" ")), line.run(" ")
    told = tried_text(trial.tried, line.look)
    place = f"{house.rooms[trial.room].name}, {trial.surface}"
    return (
        line.row(lead, house.paints[trial.paint].name, told, strong=line.chosen),
        line.row((gap, swatch, gap), place, quiet=True),
    )


def samples_head(view: SamplesView, width: int, height: int) -> list[Row]:
    """Title, the chosen paint in each light, where and when to look, and what was seen."""
    page = Page(view.look, width)
    line = Line(view.look, width)
    rows = [title_row("Samples", SCOPES[view.whole], line), page.blank()]
    if view.trial is not None:
        rows += _told(view, view.trial, page)
    rows.append(page.blank())
    room = max(height - LEAST_ENTRIES * ROWS_OF_ENTRY, len(rows[:2]))
    return rows if len(rows) <= room else [*rows[: room - 1], page.line(view.look.glyphs.more)]


def _told(view: SamplesView, trial: "Trial", page: Page) -> Iterator[Row]:
    coats = [view.shades(light).on(trial.room, trial.surface, trial.paint) for light in LIGHTS]
    yield side_by_side(coats, page.width, view.look)
    yield side_by_side(coats, page.width, view.look)
    yield names_below(LIGHTS, page.width, view.look, quiet=True)
    now = f"now: wall {view.wall}, " if view.wall else "now: "
    yield page.line(f"{now}{LIGHT_WORDS[logged_light(view.light)]}", strong=True)
    for sample in reversed(trial.samples):
        yield from page.text(sample_text(sample))
        yield from page.text(predicted_text(view, trial, sample), quiet=True, indent=2)
    if not trial.samples:
        yield from page.text(_both_lights(view, trial), quiet=True)
    yield from page.text(where_text(trial))
    yield from page.text(f"Look {'; '.join(trial.hours)}.", quiet=True)


def sample_text(sample: Sample) -> str:
    """As in "2026-05-02, wall e, by day: unsure: a little green by noon"."""
    where = (
        sample.when.isoformat() if sample.when else "some day",
        f"wall {sample.wall}" if sample.wall else "",
        LIGHT_WORDS[sample.light] if sample.light else "",
    )
    verdict = sample.verdict or "put up"
    told = f"{', '.join(word for word in where if word)}: {verdict}"
    return f"{told}: {sample.seen}" if sample.seen else told


def predicted_text(view: SamplesView, trial: "Trial", sample: Sample) -> str:
    """What the program makes of the paint in the light of a sample."""
    if sample.light is None:
        return f"predicted {_both_lights(view, trial)}"
    return f"predicted {LIGHT_WORDS[sample.light]}: {_undertone(view, trial, sample.light)}"


def _both_lights(view: SamplesView, trial: "Trial") -> str:
    return "; ".join(
        f"{LIGHT_WORDS[light]}: {_undertone(view, trial, light)}" for light in LIGHTS[1:]
    )


def _undertone(view: SamplesView, trial: "Trial", light: Light) -> str:
    """The undertone as seen there, or why that is not known."""
    shades = view.shades(light)
    if shades.light_to_come:
        return "being computed"
    if lacks := shades.lacks(trial.room):
        return f"not known, {lacks}"
    tone = shades.undertone(trial.room, trial.surface, trial.paint)
    return tone.name if tone else "not known yet"


def where_text(trial: "Trial") -> str:
    if not trial.walls:
        return f"Put it on the {trial.surface}."
    walls = " and ".join(f"wall {wall} ({why})" for wall, why in trial.walls)
    return f"Put it on {walls}."


def no_samples(view: SamplesView, width: int) -> Sequence[Row]:
    text = "Nothing is painted here yet, and no sample was put up."
    return [*Page(view.look, width).text(text, quiet=True)]
