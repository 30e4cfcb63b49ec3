"""The next step goes from the first room to the schedule, one line at a time."""

import datetime as dt
from dataclasses import replace

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import House, Room, Sample, SurfacePaints
from housemap.model.samples import samples_to_see
from housemap.schedule import sections
from housemap.schedule.blocks import Section, Table
from housemap.schedule.document import schedule_of
from housemap.schedule.samples import trials_of_house
from housemap.tui.commands import COMMANDS
from housemap.workbench.next_step import NextStep, next_step
from housemap.workbench.session import Session, Written
from tests.support.project import DEMO

CALM = two_rooms("5Y 8/1", "5Y 8/1")
JARRING = two_rooms("5Y 9/1", "5PB 3/6", "open")


def step(house: House) -> NextStep:
    return next_step(Session.of(house))


def test_a_ceiling_or_trim_without_paint_is_named_before_the_papers() -> None:
    house = whole(approved(measured(CALM)))
    assert step(house).command == "schedule"
    study = house.rooms["study"]
    for surface in ("ceiling", "trim"):
        bare = replace(study, paints=replace(study.paints, **{surface: None}))
        found = step(replace(house, rooms={**house.rooms, "study": bare}))
        assert found == NextStep("choose ceiling and trim of Study: find alike", "find")


def whole(house: House) -> House:
    """Every surface in the paint of the walls."""
    rooms = {
        key: replace(room, paints=SurfacePaints(*[room.paints.walls] * 4))
        for key, room in house.rooms.items()
    }
    return replace(house, rooms=rooms)


def approved(house: House) -> House:
    samples = {
        key: Sample(str(room.paints.walls), key, verdict="keep")
        for key, room in house.rooms.items()
        if room.paints.walls
    }
    return replace(house, samples=samples)


def measured(house: House) -> House:
    rooms = {key: replace(room, size_m=(3, 3)) for key, room in house.rooms.items()}
    return replace(house, rooms=rooms)


def test_an_empty_house_wants_its_first_room() -> None:
    assert step(House()) == NextStep("write down the first room", "new")


def test_what_is_not_measured_is_measured_next() -> None:
    rooms = {name: Room(name) for name in ("Hall", "Study", "Den")}
    found = step(House(rooms=rooms))
    assert found.text == "measure Hall and 2 more rooms"
    assert found.command == "new"


def test_a_room_that_nothing_joins_to_another_is_joined_next() -> None:
    apart = replace(CALM, rooms={**CALM.rooms, "den": Room("Den", size_m=(3, 3))}, paints={})
    unpainted = {key: replace(room, paints=SurfacePaints()) for key, room in apart.rooms.items()}
    house = measured(replace(apart, rooms=unpainted))
    assert step(house) == NextStep("join Den to another room by a door or an opening", "new")
    assert step(House(rooms={"den": Room("Den", size_m=(3, 3))})).command == "decks"


def test_a_house_without_paints_opens_a_deck() -> None:
    assert step(House(rooms={"hall": Room("Hall", size_m=(2, 3))})).command == "decks"


def test_bare_walls_are_named_but_not_those_of_a_terrace() -> None:
    terrace = Room("Terrace", use="outdoor", size_m=(3, 3))
    study = replace(CALM.rooms["study"], paints=replace(CALM.rooms["study"].paints, walls=None))
    house = replace(CALM, rooms={**CALM.rooms, "study": study, "terrace": terrace})
    assert step(house).text == "go to Study: no wall paint yet"
    assert step(house).command == "search"


def test_serious_findings_come_before_samples_once_they_are_known() -> None:
    session = Session.of(JARRING)
    assert next_step(session).command == "samples"
    session.take_report(report_of(JARRING, deep=False))
    assert next_step(session).command == "findings"
    bare = assign(
        replace(JARRING, rooms={**JARRING.rooms, "den": Room("Den")}), "den", "walls", None
    )
    session = Session.of(bare)
    assert next_step(session).command == "search"
    session.take_report(report_of(bare, deep=False))
    found = next_step(session)
    assert f"{found.text}{found.where}" == "look at 2 serious findings, first in Hall", (
        "before a bare room"
    )


def test_a_rejected_sample_asks_for_another_paint_of_its_surface_before_more_samples() -> None:
    house = measured(CALM)
    study, paint = house.rooms["study"], str(house.rooms["study"].paints.walls)
    trimmed = replace(study, paints=replace(study.paints, trim=paint))
    sample = Sample(paint, "study", verdict="reject", surface="trim")
    house = replace(house, rooms={**house.rooms, "study": trimmed}, samples={"one": sample})
    session = Session.of(house)
    session.take_report(report_of(house, deep=False))
    assert session.selection.room == "hall"
    assert next_step(session) == NextStep("go to the Study trim: its sample was rejected", "search")
    session.select("study")
    assert next_step(session) == NextStep(
        "choose another paint for the Study trim: sample rejected", "samples"
    )


def test_paints_without_an_approved_sample_are_tried_next() -> None:
    assert step(CALM).command == "samples"
    assert step(whole(approved(measured(CALM)))).command == "schedule"


def test_list_papers_findings_and_the_next_step_ask_for_the_same_samples() -> None:
    """And no pot is bought of a paint that is on the wall already."""
    house = assign(read_house(DEMO), "nursery", "walls", "gull-chute")
    made = schedule_of(report_of(house, deep=False), dt.date(2026, 5, 2))
    to_see = samples_to_see(house)
    asked = {(each.paint, each.room) for each in to_see}
    trials = trials_of_house(house, made.study.graph, {})
    assert {(t.paint, t.room, t.surface) for t in trials if not t.is_done} == {
        (each.paint, each.room, each.surface) for each in to_see
    }
    to_do = [f for f in made.report.to_do if f.check in {"untried", "one-light"}]
    assert {(f.paints[0], f.rooms[0]) for f in to_do} == asked
    names = {house.paints[paint].name for paint, _ in asked}
    up = {house.paints[sample.paint].name for sample in house.samples.values()}
    assert _paints_in(sections.samples_to_put_up(made)) == names
    assert _paints_in(sections.tester_list(made)) == names - up
    more = len(names - up) - 1
    assert step(house).text == f"put up samples of Barley Tin and {more} more paints"


def _paints_in(section: Section) -> set[str]:
    [shown] = section.blocks
    assert isinstance(shown, Table)
    return {row.cells[0].text.split(" (")[0] for row in shown.rows}


def test_before_the_schedule_every_room_is_measured() -> None:
    assert step(approved(CALM)).text.startswith("measure Hall and 1 more room")


def test_after_the_schedule_is_written_the_step_says_what_remains() -> None:
    """Until the house is changed: then it is to be written again."""
    house = whole(approved(measured(CALM)))
    session = Session.of(house)
    session.written = Written(house, dt.date(2026, 11, 30))
    assert next_step(session).text == "Nothing left to do: the papers of 30 November are current."
    assert next_step(session).done
    session.apply(replace(house, samples={}), "samples taken away")
    assert next_step(session).text.startswith("put up samples of ")
    session.written = Written(session.house, dt.date(2026, 11, 30))
    assert next_step(session) == NextStep("2 samples still to approve", "samples")
    session.apply(replace(house, notes="changed"), "notes")
    assert next_step(session).command == "schedule"


def test_every_step_is_a_command_and_no_line_is_long() -> None:
    houses = (House(), House(rooms={"hall": Room("Hall")}), CALM, approved(measured(CALM)))
    for found in map(step, houses):
        assert found.command in {command.id for command in COMMANDS}
        assert all(len(sentence.split()) <= 20 for sentence in found.text.split(". "))
