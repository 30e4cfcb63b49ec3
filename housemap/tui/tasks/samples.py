"""The log of samples: what is to be tried where, and what was seen beside what was predicted."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from functools import partial

from housemap.model.edits import put
from housemap.model.geometry import walls
from housemap.model.house import LIGHT_WORDS, House, Light, Sample, SampleLight, Verdict
from housemap.model.samples import OF_VERDICT, OTHER_LIGHT, Trying, tryings
from housemap.plan.floor_plan import wall_name
from housemap.plan.house_graph import HouseGraph, graph_of
from housemap.schedule import wording
from housemap.schedule.proportions import rounds_of
from housemap.schedule.samples import Trial, trials_of_house, trials_of_room
from housemap.schedule.sections import TRIED
from housemap.tui.background import work_beside
from housemap.tui.house_screen import Task
from housemap.tui.panels import ListPanel
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import LIGHTS, Shades, shades_of
from housemap.tui.tasks.choose import ChooseTask
from housemap.tui.tasks.edit import EditTask
from housemap.workbench import choosing
from housemap.workbench.forms.targets import Target
from housemap.workbench.session import today

LEAST_ENTRIES = 3
"""So many stay in view below the head."""
SCOPES = {True: "whole house", False: "this room"}
VERDICTS: tuple[tuple[str, str, Verdict], ...] = (
    ("a", "approve", "keep"), ("r", "reject", "reject"), ("n", "not sure", "unsure"),
)  # fmt: skip
"""The key, the word, and how a house file has it."""


def sample_text(house: House, sample: Sample, graph: HouseGraph) -> str:
    """As in "2026-05-02, east wall, 3.1 m, by day: unsure: a little green by noon"."""
    where = (
        sample.when.isoformat() if sample.when else "some day",
        wall_name(house, sample.room, sample.wall, graph) if sample.wall else sample.surface,
        LIGHT_WORDS[sample.light] if sample.light else "",
    )
    words = (", ".join(filter(None, where)), TRIED[OF_VERDICT[sample.verdict]], sample.seen)
    return ": ".join(filter(None, words))


def _surface(house: House, trial: Trial) -> str:
    return wording.surface(house, trial.room, trial.surface)


def places_text(house: House, trial: Trial, graph: HouseGraph) -> Iterator[str]:
    """As in "Put it on the east wall, 2.0 m, door to Study: opposite the window."."""
    if not trial.walls:
        yield f"Put it on the {_surface(house, trial)}."
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
        self._walls: dict[Trying, str | None] = {}
        """What was chosen in place of the wall of the plan."""
        self._page = 0
        self.follow()  # at once: the next key is meant for an entry

    def follow(self) -> None:
        session = self.session
        house, room = session.house, session.selection.room
        if self.whole or room not in house.rooms:
            trials = trials_of_house(house, self._graph, self.most_seen)
        else:
            trials = trials_of_room(house, self._graph, str(room), self.most_seen)
        at, self._first = self.chosen or self._first, None
        # In the order in which they are on show: what was just judged does not move away. At the
        # start what was rejected comes first.
        now = {trial.key: place for place, trial in enumerate(self.items)}
        listed = sorted(trials, key=lambda t: now.get(t.key, len(now) + (t.tried != "rejected")))
        self.show_entries(listed, at, [trial.key for trial in listed])

    @property
    def wall(self) -> str | None:
        """Where the next look is logged: as chosen, else where the plan wants the tester first."""
        trial = self.item
        first = trial.walls[0][0] if trial and trial.walls else None
        return self._walls.get(trial.key, first) if trial else None

    @property
    def _graph(self) -> HouseGraph:
        """That of a report with the same openings, where there is one."""
        house, report = self.session.house, self.session.base or self.session.report
        same = report is not None and report.house.openings is house.openings
        return report.study.graph if report and same else graph_of(house)

    @property
    def _light(self) -> SampleLight:
        """In which somebody looks now: what is left to see, else as shown; reference means day."""
        left = self.item.light if self.item else None
        return left or ("evening" if self.session.selection.light == "evening" else "day")

    def _shades(self, light: Light) -> Shades:
        return Shades(light, self.session.house, self.session.base or self.session.report)

    def head(self, page: Page) -> Sequence[Row]:
        """Title, then a page of what is known of the chosen paint."""
        pages = self._pages(page)
        self._page = min(self._page, len(pages) - 1)
        return [page.title_row("Samples", SCOPES[self.whole]), page.blank(), *pages[self._page]]

    def entry(self, item: Trial, page: Page) -> Sequence[Row]:
        """A paint, what its samples came to as in "✓A by day only", and where."""
        shades = shades_of(self.session)
        house, gap = shades.house, page.run(" ")
        swatch = page.swatch(shades.on(item.room, item.surface, item.paint))
        name, tried = house.paints[item.paint].name, item.tried
        sign, words = page.look.glyphs.tried[tried], TRIED[tried]
        if item.light:
            words = f"{LIGHT_WORDS[OTHER_LIGHT[item.light]]} only"
        place = f"{house.rooms[item.room].name}, {_surface(house, item)}"
        return (
            page.whole(
                (page.mark(), swatch, gap),
                name,
                f"{sign} {words}".strip(),
                sign,
                strong=page.chosen,
            ),
            page.row((gap, swatch, gap), place, quiet=True),
        )

    def _pages(self, page: Page) -> list[list[Row]]:
        """The chosen paint in each light, where and when to look, what was seen; as far as fits."""
        rows = [*(self._chosen_rows(self.item, page) if self.item else ()), page.blank()]
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
        now += LIGHT_WORDS[self._light]
        if rejected := trial.tried == "rejected":
            now = "Next: another paint. Press enter to choose it."
        elif trial.tried == "kept" and trial.light is None:
            now = "Approved by day and by lamplight: nothing more to see here."
        yield from page.text(now, strong=True)
        for sample in reversed(trial.samples):
            yield from page.text(sample_text(house, sample, graph))
            words = self._both_lights(trial)
            if sample.light:
                words = f"{LIGHT_WORDS[sample.light]}: {self._undertone(trial, sample.light)}"
            yield from page.text(f"predicted {words}", quiet=True, indent=2)
        if not trial.samples:
            yield from page.text(self._both_lights(trial), quiet=True)
        if rejected:
            return
        yield from page.texts(places_text(house, trial, graph))
        yield page.line("When to look:", quiet=True)
        yield from page.texts((f"{hours}." for hours in trial.hours), quiet=True, indent=2)

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

    def moved(self) -> None:
        self._page = 0
        if self.item is not None and self.whole:
            self.owner.desk.select(self.item.room)

    def action_page(self, by: int) -> None:
        """What is known of the chosen paint first, then the list."""
        if 0 <= self._page + by < len(self._pages(Page(self.look, self.size.width))):
            self._page += by
            self.redraw_head()
        else:
            super().action_page(by)

    @property
    def bar_words(self) -> Mapping[str, str]:
        is_rejected = self.item is not None and self.item.tried == "rejected"
        return {"open": "choose another paint"} if is_rejected else {}

    def picked(self) -> None:
        if self.item is None:
            return
        if self.item.tried == "rejected":
            self._choose_another(self.item)
        else:
            self._ask_verdict(self.item, self._light)

    def _choose_another(self, trial: Trial) -> None:
        """For the surface of which it was rejected; the paint of a part is in its form."""
        find, (kind, _, key) = self.owner.desk.find_task, trial.surface.partition(" ")
        if kind == "part":
            find(EditTask).open_form(Target("part", key, trial.room))
        else:
            find(ChooseTask).choose_for(choosing.Target(trial.room, trial.surface))

    def _ask_verdict(self, trial: Trial, light: SampleLight) -> None:
        """Ask for it, with the light in which it was seen; one key says that it was the other."""
        ask, other = partial(self._ask_what_was_seen, trial, light), OTHER_LIGHT[light]
        choices = [Choice(key, words, partial(ask, verdict)) for key, words, verdict in VERDICTS]
        turn = Choice(
            "t", f"{LIGHT_WORDS[other]} instead", partial(self._ask_verdict, trial, other)
        )
        text = f"{self._called(trial)}, seen {LIGHT_WORDS[light]}: is it right?"
        self.owner.desk.ask(text, [*choices, turn], "back")

    def action_new(self) -> None:
        if self.item is not None:
            self._ask_what_was_seen(self.item, None, None)  # nobody has looked at it yet

    def _called(self, trial: Trial) -> str:
        house = self.session.house
        on = "" if trial.key.kind == "walls" else f" on the {_surface(house, trial)}"
        return f"{house.paints[trial.paint].name}{on} in {house.rooms[trial.room].name}"

    def _ask_what_was_seen(
        self, trial: Trial, light: SampleLight | None, found: Verdict | None
    ) -> None:
        """Ask for it, and log it with today's date."""
        name, wall = self._called(trial), self.wall
        verdict = TRIED[OF_VERDICT[found]]
        where = f", {wall_name(self.session.house, trial.room, wall, self._graph)}" if wall else ""

        def log(seen: str) -> None:
            judged = trial.key.kind
            made = Sample(trial.paint, trial.room, wall, today(), light, found, seen, judged)

            def logged(house: House) -> House:
                return put(house, "samples", Target("sample").new_key(house, made), made)

            self.owner.desk.apply(logged, f"{name}: {verdict}")

        hour = f", {LIGHT_WORDS[light]}" if light else ""
        text = f"{name}{where}{hour}: {verdict}. What was seen?"
        self.owner.desk.ask_line(text, "", log, empty=True)

    def step_aside(self, by: int) -> None:
        trial = self.item
        if trial is None:
            return
        keys: list[str | None] = [each.key for each in walls(self.session.house.rooms[trial.room])]
        keys.append(None)
        now = keys.index(self.wall) if self.wall in keys else -1
        self._walls[trial.key] = keys[(now + by) % len(keys)]
        self.redraw_head()

    def action_edit(self) -> None:
        """Open the form of the newest sample; it leads back here."""
        trial, task, edit = self.item, self.owner, self.owner.desk.find_task(EditTask)
        if trial is None or task.desk.panel is not self:
            return  # the form is open already: the key came twice at once
        given = {
            "paint": trial.paint, "room": trial.room, "wall": self.wall, "when": today(),
            "light": self._light, "surface": trial.key.kind,
        }  # fmt: skip

        def back(target: Target) -> None:
            sample = self.session.house.samples.get(target.key or "")
            at = next(tryings(sample)) if sample else trial.key
            task.open(whole=self.whole, at=at)

        edit.open_form(self._newest(trial), given, back)

    def action_delete(self) -> None:
        if self.item is not None and self.item.samples:
            self.owner.desk.find_task(EditTask).delete(self._newest(self.item))

    def _newest(self, trial: Trial) -> Target:
        """The sample that stands last in the file; a new one where there is none."""
        samples = self.session.house.samples.items()
        found = [key for key, each in samples if trial.key in tryings(each)]
        return Target("sample", found[-1] if found else None)

    def action_scope(self) -> None:
        self.whole = not self.whole
        self.items = ()  # to be listed in the usual order
        self.follow()
        self.moved()


class SamplesTask(Task):
    def open(self, *, whole: bool = False, at: Trying | None = None) -> None:
        panel, report = SamplesPanel(self, whole=whole, at=at), self.session.base
        self.desk.open_panel(panel)
        if report is None:
            return

        def show(most_seen: Mapping[str, str]) -> None:
            if panel is self.desk.panel:
                panel.most_seen = most_seen
                panel.follow()

        study = report.study
        work_beside(self.desk, "most seen", lambda: rounds_of(study).most_seen, show)
