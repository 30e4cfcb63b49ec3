"""The log of samples: what is to be tried where, and what was seen beside what was predicted."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from housemap.checks import Report
from housemap.checks.words import surface_name
from housemap.model.edits import put
from housemap.model.geometry import walls
from housemap.model.house import House, Light, Sample, SampleLight, Verdict
from housemap.model.samples import Tried
from housemap.plan.floor_plan import wall_name
from housemap.plan.house_graph import HouseGraph, graph_of
from housemap.schedule.proportions import rounds_of
from housemap.schedule.samples import Trial, trials_of_house, trials_of_room
from housemap.tui.background import work_beside
from housemap.tui.house_screen import Task
from housemap.tui.panels import ListPanel
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import LIGHT_WORDS, LIGHTS, Shades, shades_of
from housemap.tui.tasks.edit import EditTask
from housemap.workbench.forms.targets import Target
from housemap.workbench.session import today

LEAST_ENTRIES = 3
"""So many stay in view below the head."""
TRIED_WORDS: dict[Tried, str] = {
    "kept": "approved", "rejected": "rejected", "unsure": "unsure", "put up": "put up",
    "untried": "to put up",
}  # fmt: skip
SCOPES = {True: "whole house", False: "this room"}


def graph_for(house: House, report: Report | None) -> HouseGraph:
    """The graph of the house, which is that of a report with the same openings."""
    same = report is not None and report.house.openings is house.openings
    return report.study.graph if report and same else graph_of(house)


def logged_light(light: Light) -> SampleLight:
    """In which light somebody looks while the program shows a light: the reference means by day."""
    return "evening" if light == "evening" else "day"


def tried_text(tried: Tried, look: Look) -> str:
    """As in "✓A approved"."""
    return f"{look.glyphs.tried[tried]} {TRIED_WORDS[tried]}".strip()


def trial_rows(trial: Trial, shades: Shades, page: Page) -> tuple[Row, Row]:
    """A paint, what its samples came to, and the room."""
    house = shades.house
    swatch = page.swatch(shades.on(trial.room, trial.surface, trial.paint))
    lead, gap = (page.mark(), swatch, page.run(" ")), page.run(" ")
    summary = tried_text(trial.tried, page.look)
    place = f"{house.rooms[trial.room].name}, {surface_name(house, trial.room, trial.surface)}"
    return (
        page.row(lead, house.paints[trial.paint].name, summary, strong=page.chosen),
        page.row((gap, swatch, gap), place, quiet=True),
    )


def sample_text(house: House, sample: Sample, graph: HouseGraph) -> str:
    """As in "2026-05-02, east wall, 3.1 m, by day: unsure: a little green by noon"."""
    where = (
        sample.when.isoformat() if sample.when else "some day",
        wall_name(house, sample.room, sample.wall, graph) if sample.wall else "",
        LIGHT_WORDS[sample.light] if sample.light else "",
    )
    verdict = VERDICT_WORDS[sample.verdict]
    summary = f"{', '.join(word for word in where if word)}: {verdict}"
    return f"{summary}: {sample.seen}" if sample.seen else summary


def places_text(house: House, trial: Trial, graph: HouseGraph) -> Iterator[str]:
    """As in "Put it on the east wall, 2.0 m, door to Study: opposite the window."."""
    if not trial.walls:
        yield f"Put it on the {surface_name(house, trial.room, trial.surface)}."
    lead = "Put it on"
    for wall, why in trial.walls:
        yield f"{lead} the {wall_name(house, trial.room, wall, graph)}: {why}."
        lead = "And on"


# The panel of samples: it shows what is to be tried, and reports what was judged.


class SamplesPanel(ListPanel[Trial]):
    """Paints with the rooms in which they are tried."""

    owner: "SamplesTask"
    CONTEXT = "samples"
    BAR = ("open", "new", "right", "edit", "scope", "back")
    NOTHING = (
        "Nothing is painted here yet, and no sample was put up. Press esc, then enter to choose."
    )

    def __init__(
        self, owner: "SamplesTask", *, whole: bool = False, at: Hashable | None = None
    ) -> None:
        super().__init__(owner)
        self.whole = whole
        """Whether the whole house is listed."""
        self._first = at
        """The trial that is chosen at the start, by its key."""
        self.most_seen: Mapping[str, str] = {}
        """By room: the wall most seen from others, once that has been found."""
        self._walls: dict[tuple[str, str], str | None] = {}
        """What was chosen in place of the wall of the plan."""
        self._page = 0
        self.follow()  # at once: the next key is meant for an entry

    def follow(self) -> None:
        session = self.session
        house, room = session.house, session.selection.room
        graph = graph_for(house, session.report)
        if self.whole or room not in house.rooms:
            trials = trials_of_house(house, graph, self.most_seen)
        else:
            trials = trials_of_room(house, graph, str(room), self.most_seen)
        at, self._first = self.chosen or self._first, None
        listed = self._as_listed(trials)
        self.show_entries(listed, at, [trial.key for trial in listed])
        self.redraw()

    def _as_listed(self, trials: Sequence[Trial]) -> Sequence[Trial]:
        """In the order in which they are on show: what was just judged does not move away."""
        now = [trial.key for trial in self.items]
        return sorted(trials, key=lambda t: now.index(t.key) if t.key in now else len(now))

    @property
    def trial(self) -> Trial | None:
        return self.item

    @property
    def wall(self) -> str | None:
        """Where the next look is logged: as chosen, else where the plan wants the tester first."""
        trial = self.trial
        if trial is None:
            return None
        first = trial.walls[0][0] if trial.walls else None
        return self._walls.get(trial.key, first)

    @property
    def _graph(self) -> HouseGraph:
        return graph_for(self.session.house, self.session.base or self.session.report)

    def _shades(self, light: Light) -> Shades:
        return Shades(light, self.session.house, self.session.base or self.session.report)

    # Drawing

    def head(self, page: Page) -> Sequence[Row]:
        """Title, then a page of what is known of the chosen paint."""
        pages = self._pages(page)
        self._page = min(self._page, len(pages) - 1)
        return [page.title_row("Samples", SCOPES[self.whole]), page.blank(), *pages[self._page]]

    def entry(self, item: Trial, page: Page) -> Sequence[Row]:
        return trial_rows(item, shades_of(self.session), page)

    def _pages(self, page: Page) -> list[list[Row]]:
        """The chosen paint in each light, where and when to look, what was seen; as far as fits."""
        rows = [*(self._chosen_rows(self.trial, page) if self.trial else ()), page.blank()]
        entries = min(LEAST_ENTRIES, len(self.items))
        room = max(self.size.height - entries * self.ENTRY_ROWS - 2, 2)
        if len(rows) <= room:
            return [rows]
        pages = [rows[at : at + room - 1] for at in range(0, len(rows), room - 1)]
        more = [page.line(f"{page.more} pgdn: more", quiet=True)]
        back = [page.line(f"{page.more} pgup: back", quiet=True)]
        last = [*pages[-1], *[page.blank()] * (room - 1 - len(pages[-1])), *back]
        return [*([*each, *more] for each in pages[:-1]), last]

    def _chosen_rows(self, trial: Trial, page: Page) -> Iterator[Row]:
        house, graph = self.session.house, self._graph
        coats = [self._shades(each).on(trial.room, trial.surface, trial.paint) for each in LIGHTS]
        yield from [page.side_by_side(coats)] * 2
        yield page.names_below(LIGHTS, quiet=True)
        wall = wall_name(house, trial.room, self.wall, graph) if self.wall else ""
        now = f"next look: {wall}, " if wall else "next look: "
        now += LIGHT_WORDS[logged_light(self.session.selection.light)]
        if rejected := trial.tried == "rejected":
            now = "next look: another paint. Press esc, then enter to choose it."
        yield from page.text(now, strong=True)
        for sample in reversed(trial.samples):
            yield from page.text(sample_text(house, sample, graph))
            yield from page.text(self._predicted(trial, sample), quiet=True, indent=2)
        if not trial.samples:
            yield from page.text(self._both_lights(trial), quiet=True)
        if rejected:
            return
        for text in places_text(house, trial, graph):
            yield from page.text(text)
        yield page.line("When to look:", quiet=True)
        for hours in trial.hours:
            yield from page.text(f"{hours}.", quiet=True, indent=2)

    def _predicted(self, trial: Trial, sample: Sample) -> str:
        """What the program makes of the paint in the light of a sample."""
        if sample.light is None:
            return f"predicted {self._both_lights(trial)}"
        return f"predicted {LIGHT_WORDS[sample.light]}: {self._undertone(trial, sample.light)}"

    def _both_lights(self, trial: Trial) -> str:
        return "; ".join(
            f"{LIGHT_WORDS[light]}: {self._undertone(trial, light)}" for light in LIGHTS[1:]
        )

    def _undertone(self, trial: Trial, light: Light) -> str:
        """The undertone as seen there, or why that is not known."""
        shades = self._shades(light)
        if shades.light_to_come:
            return "being computed"
        if lacks := shades.lacks(trial.room):
            return f"not known, {lacks}"
        return shades.undertone(trial.room, trial.surface, trial.paint) or "not known yet"

    # What the user does

    def moved(self) -> None:
        self._page = 0
        if self.trial is not None and self.whole:
            self.owner.desk.select(self.trial.room)

    def action_page(self, by: int) -> None:
        """What is known of the chosen paint first, then the list."""
        if 0 <= self._page + by < len(self._pages(Page(self.look, self.size.width))):
            self._page += by
            self.redraw_head()
        else:
            super().action_page(by)

    def action_new(self) -> None:
        if self.trial is not None:
            self.owner.ask_what_was_seen(self.trial, self.wall, None)

    def picked(self) -> None:
        if self.trial is not None:
            self.owner.ask_verdict(self.trial, self.wall)

    def step_aside(self, by: int) -> None:
        """Name another wall for what is seen next."""
        trial = self.trial
        if trial is None:
            return
        keys: list[str | None] = [each.key for each in walls(self.session.house.rooms[trial.room])]
        keys.append(None)
        now = keys.index(self.wall) if self.wall in keys else -1
        self._walls[trial.key] = keys[(now + by) % len(keys)]
        self.redraw_head()

    def action_edit(self) -> None:
        if self.trial is not None:
            self.owner.edit(self.trial, self.wall, whole=self.whole)

    def action_delete(self) -> None:
        if self.trial is not None and self.trial.samples:
            self.owner.delete(self.trial)

    def action_scope(self) -> None:
        self.whole = not self.whole
        self.items = ()  # to be listed in the usual order
        self.follow()
        self.moved()

    def action_back(self) -> None:
        self.owner.desk.close_panel()


# Samples on site: where testers go, and a log of what was seen by few keys.

SAMPLE = Target("sample")
VERDICTS: tuple[tuple[str, str, Verdict], ...] = (
    ("a", "approve", "keep"), ("r", "reject", "reject"), ("n", "not sure", "unsure"),
)  # fmt: skip
"""The key, the word, and how a house file has it."""
VERDICT_WORDS: Mapping[Verdict | None, str] = {
    "keep": "approved", "reject": "rejected", "unsure": "unsure", None: "put up",
}  # fmt: skip


class SamplesTask(Task):
    def open(self) -> None:
        self._open_samples(whole=False)

    def _open_samples(self, *, whole: bool, at: tuple[str, str] | None = None) -> None:
        self.desk.open_panel(SamplesPanel(self, whole=whole, at=at))
        report = self.session.base
        if report is not None:
            study = report.study
            work_beside(
                self.desk, "most seen", lambda: rounds_of(study).most_seen, self._know_walls
            )

    @property
    def _samples(self) -> "SamplesPanel | None":
        return self.desk.panel if isinstance(self.desk.panel, SamplesPanel) else None

    def _know_walls(self, most_seen: Mapping[str, str]) -> None:
        panel = self._samples
        if panel is not None:
            panel.most_seen = most_seen
            panel.follow()

    def ask_verdict(self, trial: Trial, wall: str | None) -> None:
        choices = [
            Choice(key, words, partial(self.ask_what_was_seen, trial, wall, verdict))
            for key, words, verdict in VERDICTS
        ]
        self.desk.ask(f"{self._name(trial)}: is it right?", choices, "back")

    def _name(self, trial: Trial) -> str:
        house = self.session.house
        return f"{house.paints[trial.paint].name} in {house.rooms[trial.room].name}"

    def ask_what_was_seen(self, trial: Trial, wall: str | None, found: Verdict | None) -> None:
        """Ask for it, and log it with today's date."""
        light, name = self._light_to_log, self._name(trial)
        sample = Sample(trial.paint, trial.room, wall, today(), light, found)
        verdict = VERDICT_WORDS[found]
        graph = graph_for(self.session.house, self.session.report)
        where = f", {wall_name(self.session.house, trial.room, wall, graph)}" if wall else ""
        text = f"{name}{where}, {LIGHT_WORDS[light]}: {verdict}. What was seen?"
        self.desk.ask_line(
            text, "", lambda seen: self._log(sample, seen, f"{name}: {verdict}"), empty=True
        )

    def _log(self, sample: Sample, seen: str, label: str) -> None:
        def logged(house: House) -> House:
            made = replace(sample, seen=seen)
            return put(house, "samples", SAMPLE.new_key(house, made), made)

        self.desk.apply(logged, label)

    @property
    def _light_to_log(self) -> SampleLight:
        return logged_light(self.session.selection.light)

    def edit(self, trial: Trial, wall: str | None, *, whole: bool) -> None:
        """Open the form of the newest sample; it leads back here."""
        if self._samples is None:  # the form is open already: the key came twice at once
            return
        given = {
            "paint": trial.paint, "room": trial.room, "wall": wall, "when": today(),
            "light": self._light_to_log,
        }  # fmt: skip
        edit = self.desk.find_task(EditTask)
        edit.open_form(Target("sample", _newest(self.session.house, trial)), given)
        edit.back = lambda target: self._open_samples(whole=whole, at=self._tried(target, trial))

    def _tried(self, target: Target, trial: Trial) -> tuple[str, str]:
        """The paint and room of a sample as it is now; those of before where it is gone."""
        sample = self.session.house.samples.get(target.key or "")
        return (sample.paint, sample.room) if sample else trial.key

    def delete(self, trial: Trial) -> None:
        target = Target("sample", _newest(self.session.house, trial))
        self.desk.find_task(EditTask).delete(target)


def _newest(house: House, trial: Trial) -> str | None:
    """The id of the sample that stands last in the file; None where there is none."""
    found = [key for key, each in house.samples.items() if (each.paint, each.room) == trial.key]
    return found[-1] if found else None
