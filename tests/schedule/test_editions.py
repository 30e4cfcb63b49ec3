"""What each reader gets, what has changed since the last issue, and what a specification covers."""

import datetime as dt
import re
from dataclasses import replace
from itertools import pairwise, product
from typing import cast

import pytest

from housemap.checks.every import CHECKS
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import (
    Brief,
    Edition,
    House,
    Opening,
    Part,
    Room,
    RoomBrief,
    Sample,
    SurfaceSheens,
    Verdict,
)
from housemap.model.samples import CHECKS as SAMPLES
from housemap.schedule import editions, wording
from housemap.schedule.as_text import as_markdown
from housemap.schedule.blocks import Bullets, Section, SignOff, Table, Text
from housemap.schedule.document import Schedule, issued
from housemap.schedule.editions import sections_of
from housemap.schedule.reasons import OF_RECORDS, relation, rooms_in_doubt
from housemap.schedule.systems import QUESTIONS
from housemap.study import study_of
from tests.support.papers import bare_house, papers, papers_house, schedule
from tests.support.project import DEMO

FULL: tuple[Edition, ...] = ("full", "painter", "client", "supplier")


@pytest.fixture(scope="module")
def made() -> Schedule:
    return papers()


def titles(made: Schedule, edition: Edition) -> list[str]:
    return [section.title for section in sections_of(made, edition)]


def words_of(section: Section) -> str:
    found: list[str] = []
    for block in section.blocks:
        match block:
            case Table():
                found += [cell.text for row in block.rows for cell in row.cells]
            case Bullets():
                found += block.items
            case Text():
                found.append(block.text)
    return "\n".join([*found, *map(words_of, section.parts)])


def section(made: Schedule, edition: Edition, title: str) -> Section:
    return next(each for each in sections_of(made, edition) if each.title == title)


def test_the_painter_gets_everything_to_do_the_work_and_no_findings(made: Schedule) -> None:
    assert titles(made, "painter") == [
        "Cautions", "Not settled yet", "Paints", "Plan", "Paint systems",
        "Room by room", "Where colours meet", "Paint to buy", "Primer and sundries",
        "Samples to put up", "Samples seen", "Hours", "How it was measured",
        "Conditions of the work", "What this specification covers", "Agreed",
    ]  # fmt: skip


def test_the_client_gets_the_idea_pictures_schemes_and_what_was_accepted(made: Schedule) -> None:
    assert titles(made, "client") == [
        "The idea", "The paints in proportion", "Plan", "Views", "Room by room",
        "Before and after", "Schemes side by side", "Still to settle", "Samples to put up",
        "Samples seen", "Looked at and accepted", "What it costs", "Cautions", "Agreed",
    ]  # fmt: skip
    idea = words_of(section(made, "client", "The idea"))
    assert "Quiet, but not cold." in idea
    assert "Study: May be bold." in idea
    noted = schedule(replace(made.house, notes="Loud neighbours."))
    assert "Loud" not in words_of(section(noted, "client", "The idea"))
    assert "Loud" in words_of(section(noted, "full", "The idea"))
    assert "Study walls: vivid" in words_of(section(made, "client", "Still to settle"))
    assert "A surprise is wanted." in words_of(section(made, "client", "Looked at and accepted"))


def test_the_supplier_gets_codes_and_tins_and_no_rooms(made: Schedule) -> None:
    assert titles(made, "supplier")[:3] == ["Draft order", "Paint to buy", "Primer and sundries"]
    paint = words_of(section(made, "supplier", "Paint to buy"))
    assert "OC-7" in paint
    assert "Corner counter" in paint
    text = as_markdown(made, "supplier")
    assert "- deliver to: A. Reader, 12 Long Row Mill End" in text
    assert "- day of delivery: not given" in text
    assert not re.search("picture rail|surprise|finding| m2|Hall|Study", text)


@pytest.mark.parametrize("edition", FULL)
def test_every_edition_says_for_whom_by_whom_and_which_issue(
    made: Schedule, edition: Edition
) -> None:
    text = as_markdown(made, edition)
    for words in ("A. Reader", "12 Long Row Mill End", "B. Writer", "draft of 2 May 2026"):
        assert words in text


def test_money_is_in_the_currency_of_the_house_with_its_tax(made: Schedule) -> None:
    cost = made.quantities.cost
    assert cost is not None
    text = words_of(section(made, "client", "What it costs"))
    assert f"£{cost:,.2f} before tax; with 20 % tax £{1.2 * cost:,.2f}" in text


def test_without_a_currency_the_total_says_so() -> None:
    house = papers_house()
    house = replace(house, client=replace(house.client, currency="", tax=None))
    assert "(currency not given)" in words_of(section(schedule(house), "client", "What it costs"))


def test_a_rejected_or_unsure_paint_is_marked_in_its_own_line() -> None:
    """A rejected one has no line in the order: it is left off."""
    house = papers_house()
    paint = str(house.rooms["hall"].paints.walls)
    name = house.paints[paint].name
    places = ("supplier", "Paint to buy"), ("client", "Room by room")
    for verdict, mark, marked in (
        ("reject", "(sample rejected: choose again)", {"client"}),
        ("unsure", "(sample unsure: look again first)", {"supplier", "client"}),
    ):
        sample = Sample(paint, "hall", verdict=cast("Verdict", verdict))
        made = schedule(replace(house, samples={"no": sample}))
        for edition, title in places:
            words = words_of(section(made, cast("Edition", edition), title))
            lines = [line for line in words.splitlines() if mark in line]
            assert bool(lines) is (edition in marked)
            assert all(name in line for line in lines)


@pytest.mark.parametrize(
    ("paint", "words"),
    [
        ("moth-felt", "of the same undertone"),  # 5.6Y 8.9/1.9 beside 1.9Y 8.2/1.2
        ("marigold-jar", "of the same hue, stronger"),  # 2.5Y 7/12
        ("sedge-mat", "a green beside its yellow"),  # 3.4GY 6.7/2.5
        ("gull-chute", "a grey that hardly leans"),  # 1.9Y 7.3/0.7
        ("rain-gutter", "a blue, cool against its warm yellow"),  # 1.7PB 6.9/3.5
        ("clay-petal", "a pink beside its yellow, both warm"),  # 3.7YR 8.2/1.9
    ],
)
def test_a_colour_is_related_to_the_neutral_by_their_notations(paint: str, words: str) -> None:
    study = study_of(read_house(DEMO))
    assert relation(study.paint(paint), study.paint("barley-tin")) == words


@pytest.fixture(scope="module")
def of_demo() -> Schedule:
    return schedule(read_house(DEMO))


def test_the_idea_says_where_a_colour_is_and_why_there(of_demo: Schedule) -> None:
    """By the plan of the demo: who opens to whom, and which way the windows face."""
    why = words_of(section(of_demo, "client", "The idea"))
    for words in (
        "Hall, Kitchen, Landing and Stairs, from which 10 other rooms open",
        "Dining room: open to Kitchen and Living room and seen from there, daylight from the west",
        "Bathroom and Shower room: behind a door. Not settled",
        "Dressing room: daylight from the east; Front bedroom: behind a door, so it may be deeper,",
        "Also on the outer side of the door of Porch.",
        "Cloakroom: behind a door, so it may be deeper, without a window: seen by lamplight",
        "clearly lighter than the walls, but not in Utility room",
        "the south wall of Garden bedroom, lighter than Sedge Mat beside it",
    ):
        assert words in why


def test_what_is_open_is_said_beside_every_colour_that_it_is_about(of_demo: Schedule) -> None:
    house, why = of_demo.house, words_of(section(of_demo, "client", "The idea")).splitlines()
    places = {
        (place.paint, place.room)
        for cause in of_demo.report.causes
        if cause.severity != "note" and cause.check not in OF_RECORDS
        for finding in cause.findings
        for place in finding.places
        if place.paint
    }
    assert {"kiln-milk", "ferry-chalk", "coal-barge"} <= {paint for paint, _ in places}
    for paint, room in places:
        [line] = [each for each in why if each.startswith(wording.paint(house, str(paint)))]
        assert house.rooms[room].name in line[line.index("Not settled yet in") :]
    settled = of_demo.numbers.keys() - {paint for paint, _ in places}
    assert sum("Not settled yet" in line for line in why) == len(of_demo.numbers) - len(settled)


def test_a_room_without_doors_lists_none(of_demo: Schedule) -> None:
    [colours] = section(of_demo, "client", "Room by room").blocks
    assert isinstance(colours, Table)
    doors = {row.cells[0].text: row.cells[4].text for row in colours.rows}
    assert [room for room, paint in doors.items() if not paint] == [
        "Dining room (question open)", "Dressing room", "Stairs",
    ]  # fmt: skip
    assert doors["Porch"] == "Coal Barge (c9.07), gloss", "a client asks for the sheen"


def test_a_client_is_asked_and_reads_no_remark_of_the_consultant(of_demo: Schedule) -> None:
    [_, asked] = section(of_demo, "client", "Still to settle").blocks
    assert isinstance(asked, Bullets)
    assert all(question.endswith("?") for question in asked.items)
    assert "Dining room and Living room meet without an edge. Where shall the colour change?" in (
        asked.items
    )
    assert "Nursery: which colour shall the walls have?" in asked.items
    text = as_markdown(of_demo, "client")
    assert not re.search(r"mistake|too big|clash|fight|lean green|limit \d", text)
    assert "to be settled with the household" not in text, "a note of the room is the consultant's"


def test_every_finding_that_a_client_may_meet_has_a_question() -> None:
    asked = {check.id for check in CHECKS} - OF_RECORDS - {*SAMPLES} - {"brief"}
    assert set(QUESTIONS) == asked


def test_only_an_issue_with_nothing_serious_open_is_signed(
    made: Schedule, of_demo: Schedule
) -> None:
    for draft, edition in product((made, of_demo), ("full", "painter", "client")):
        words = words_of(section(draft, cast("Edition", edition), "Agreed"))
        assert words == "Not for signature: this is a draft."
    assert not made.report.tally.serious
    _, final = issued(made, "client")
    assert isinstance(section(final, "client", "Agreed").blocks[0], SignOff)
    assert "An estimate" in words_of(section(made, "client", "What it costs"))
    assert "An estimate" not in words_of(section(final, "client", "What it costs"))
    _, open_ = issued(of_demo, "client")
    assert "serious questions" in words_of(section(open_, "client", "Agreed"))


def test_every_place_where_colours_meet_is_listed(of_demo: Schedule) -> None:
    """At openings, over stairs, of two sheens of one paint, and at the ends of an accent wall."""
    [meet] = section(of_demo, "painter", "Where colours meet").blocks
    assert isinstance(meet, Bullets)
    assert [item.split(":")[0] for item in meet.items] == [
        "Dining room and Kitchen, walls, Lichen Slip (c5.22) to Barley Tin (c2.14)",
        "Hall and Kitchen, walls, Barley Tin (c2.14), matt to eggshell",
        "Living room and Dining room, walls, Clay Petal (c3.31) to Lichen Slip (c5.22)",
        "Porch and Hall, doors, Coal Barge (c9.07) to Ferry Chalk (c0.02)",
        "Stairs and Landing, ceiling, Ferry Chalk (c0.02) to Kiln Milk (c0.05)",
        "Stairs and Landing, trim, Barley Tin (c2.14) to Kiln Milk (c0.05)",
        "Garden bedroom, south wall (accent), Thatch End (c2.88) to Sedge Mat (c5.45)",
    ]


def test_ceilings_meet_in_open_plan_where_no_wall_is_left_above_it() -> None:
    house = assign(read_house(DEMO), "dining", "ceiling", "kiln-milk")
    through = replace(house.openings["living-dining"], height_m=2.55)
    for opening, listed in ((through, True), (replace(through, height_m=2.3), False)):
        made = schedule(put(house, "openings", "living-dining", opening))
        meet = words_of(section(made, "painter", "Where colours meet"))
        assert ("Living room and Dining room, ceiling, Ferry Chalk" in meet) is listed


def test_before_and_after_names_what_it_leaves_out(of_demo: Schedule) -> None:
    words = words_of(section(of_demo, "client", "Before and after"))
    assert "Not shown: Kitchen (new plaster, sound); Nursery (no colour chosen yet)." in words


def test_the_idea_gives_every_colour_its_reason_once(made: Schedule) -> None:
    """By its place, its LRV and undertone beside the main wall colour (common practice)."""
    idea = words_of(section(made, "client", "The idea"))
    reasons = idea[idea.index("Why these colours:") :].splitlines()[1:]
    named = [wording.paint(made.house, paint) for paint in made.numbers]
    told = [line.split(",")[0] for line in reasons[: len(named)]]
    assert sorted(told) == sorted(named)
    assert "the colour that joins the rooms" in reasons[0]
    assert "woodwork near white" in idea[idea.index("Quarry Chalk (A-001)") :]


def test_the_clients_paper_speaks_to_the_client() -> None:
    """The others speak of them; the wish is that of the finding too."""
    house = replace(papers_house(), brief=Brief(avoid=("grey",), strength="vivid"))
    made = schedule(house)
    words = words_of(section(made, "client", "The idea"))
    assert "You asked for:" in words
    assert "no grey" in words
    assert "the client" not in words.casefold()
    assert "The client asked for:" in words_of(section(made, "full", "The idea"))


def test_without_a_country_both_years_of_lead_are_named() -> None:
    text = words_of(section(schedule(replace(papers_house(), country="")), "client", "Cautions"))
    assert "before 1978 in the US, 1992 in Britain" in text


def test_notes_of_rooms_and_paints_are_where_they_belong(made: Schedule) -> None:
    assert "Keep the picture rail." in words_of(section(made, "painter", "Room by room"))
    assert "Stir well." in words_of(section(made, "painter", "Paints"))


def test_parts_have_lines_of_their_own_and_what_is_left_is_named(made: Schedule) -> None:
    rooms = words_of(section(made, "painter", "Room by room"))
    assert "panelling, east wall" in rooms
    assert "tiled wall, north wall, 1.0 m2: leave as it is, protect. Hearth." in rooms


def test_another_part_is_called_by_its_id_and_its_notes_are_shown() -> None:
    house = papers_house()
    hall = house.rooms["hall"]
    balusters = Part("other", area_m2=4.0, paint="oat", notes="And the handrail.")
    hall = replace(hall, parts={**hall.parts, "stair-balusters": balusters})
    made = schedule(replace(house, rooms={**house.rooms, "hall": hall}))
    rooms = words_of(section(made, "painter", "Room by room"))
    assert "stair balusters: And the handrail." in rooms


def test_surfaces_without_a_paint_are_named_in_their_room() -> None:
    made = schedule(assign(papers_house(), "hall", "ceiling", None))
    assert "ceiling: no paint chosen yet." in words_of(section(made, "painter", "Room by room"))


def test_what_has_no_sheen_yet_is_still_open() -> None:
    house = papers_house()
    hall = replace(house.rooms["hall"], sheens=SurfaceSheens(), parts={})
    other = schedule(replace(house, rooms={**house.rooms, "hall": hall}))
    text = words_of(section(other, "full", "Still open"))
    assert re.search(r"to do: choose the sheen of \d+ surfaces: Hall", text)
    rooms = {part.title: part for part in section(other, "full", "Room by room").parts}
    [listed] = [block for block in rooms["Hall"].blocks if isinstance(block, Table)]
    assert "sheen" not in [column.name for column in listed.columns], "said once, for all rooms"
    top = words_of(section(other, "full", "Room by room"))
    assert re.search(r"\d+ surfaces without a sheen: agree it first", top)


def test_the_painter_reads_what_a_sample_of_a_surface_came_to() -> None:
    house = papers_house()
    paint = house.rooms["hall"].paints.walls
    assert paint
    seen = {"s": Sample(paint, "hall", light="day", verdict="keep")}
    no = {"s": Sample(paint, "hall", verdict="reject")}
    for samples, words in (
        (seen, "approved by day only"),
        ({}, "no sample"),
        (no, "rejected: do not paint yet"),
    ):
        made = schedule(replace(house, samples=samples))
        [hall] = [p for p in section(made, "painter", "Room by room").parts if p.title == "Hall"]
        assert words in words_of(hall)


def test_the_papers_say_how_far_each_paint_is_approved_and_where_it_was_rejected() -> None:
    """One paint was approved by day on walls; another was judged on ceilings, not on woodwork."""
    seen = {
        "day": Sample("oat", "hall", surface="walls", light="day", verdict="keep"),
        "no": Sample("chalk", "hall", surface="ceiling", verdict="reject"),
        "may": Sample("chalk", "study", surface="ceiling", verdict="unsure"),
    }
    made = schedule(replace(papers_house(), samples=seen))
    oat, chalk = (made.house.paints[key].name for key in ("oat", "chalk"))
    draft = words_of(section(made, "supplier", "Draft order"))
    assert f"Approved, but not yet in every light and room: {oat}." in draft
    assert f"Samples are up, but not approved yet, of: {chalk}." in draft
    ordered = words_of(section(made, "supplier", "Paint to buy")).splitlines()
    marks = {then: "look again" in now for now, then in pairwise(ordered) if now.startswith(chalk)}
    assert marks == {"satin": False, "choose, for walls and ceilings": True}
    assert "ceiling, sample rejected: Hall" in words_of(section(made, "painter", "Paints"))


def test_what_is_not_settled_is_said_before_anybody_paints_or_supplies(of_demo: Schedule) -> None:
    fights = "Dining room walls (Lichen Slip) and Living room walls (Clay Petal) fight"
    wait = words_of(section(of_demo, "painter", "Not settled yet"))
    assert fights in wait
    for room in rooms_in_doubt(of_demo):
        assert of_demo.house.rooms[room].name in wait, "as the client is asked"
    kept = replace(of_demo.house, brief=Brief(rooms={"hall": RoomBrief(keep=True)}))
    waits = words_of(section(schedule(kept), "painter", "Not settled yet")).splitlines()[0]
    assert "Study" in waits
    assert "Hall" not in waits, "nothing is painted there"
    order = words_of(section(of_demo, "supplier", "Draft order"))
    assert "Do not supply the paint yet" in order
    assert "finding" not in order
    pots = words_of(section(of_demo, "supplier", "Sample pots to buy"))
    for name in {of_demo.house.paints[tester.paint].name for tester in of_demo.testers}:
        assert name in wait[wait.index("before a sample") :], "as the consultant is to put up"
        assert (name in order.split("not approved yet, of")[0]) == (name in pots)
    assert titles(of_demo, "supplier")[0] == "Draft order"


def test_without_a_paint_there_is_nothing_to_sign() -> None:
    made = schedule(House(rooms={"hall": Room("Hall")}))
    for edition in FULL:
        assert titles(made, edition)[0] == "Nothing to paint yet"
        assert "Agreed" not in titles(made, edition)


def test_a_hue_asked_for_a_room_and_not_given_is_said_to_the_client() -> None:
    house = papers_house()
    hall = RoomBrief(like=("purple",))
    brief = replace(house.brief, colours=4, rooms={**house.brief.rooms, "hall": hall})
    idea = words_of(section(schedule(replace(house, brief=brief)), "client", "The idea"))
    assert "at most 4 wall colours" in idea
    assert re.search(r"Hall walls: [a-z ]+; you asked for purple", idea)


def test_what_has_no_product_and_no_code_is_said_to_supplier_and_client() -> None:
    house = papers_house()
    paints = {
        key: replace(each, code="", order="", products=()) for key, each in house.paints.items()
    }
    made = schedule(replace(house, paints=paints))
    assert "Without product and code:" in words_of(section(made, "supplier", "Paint to buy"))
    idea = words_of(section(made, "client", "The idea"))
    assert re.search("No product yet: .*Stubble Row.*A supplier matches", idea)


@pytest.mark.parametrize("edition", ["painter", "supplier"])
def test_a_doubt_about_a_card_is_said_where_the_paint_is_ordered(edition: Edition) -> None:
    house = papers_house()
    wrong = replace(house.paints["oat"], lrv=20.0)
    made = schedule(replace(house, paints={**house.paints, "oat": wrong}))
    order = words_of(section(made, edition, "Paint to buy"))
    assert "The LRV on the card of Stubble Row looks wrong: make sure of it" in order


def test_markdown_has_no_heading_without_a_word_below(made: Schedule) -> None:
    text = as_markdown(made, "client")
    assert "as they are drawn: Plan, Views" in text
    assert not re.search(r"^## .*\n\s*(## |\Z)", text, re.MULTILINE)


def test_woodwork_and_walls_are_never_one_order_while_their_sheens_are_open() -> None:
    house = papers_house()
    paint = replace(house.paints["chalk"], products=())
    bare = {
        key: replace(room, sheens=SurfaceSheens(), parts={}) for key, room in house.rooms.items()
    }
    house = replace(house, rooms=bare, paints={**house.paints, "chalk": paint})
    text = words_of(section(schedule(house), "supplier", "Paint to buy"))
    assert "choose, for woodwork" in text
    assert "choose, for walls and ceilings" in text


def test_before_and_after_shows_both_colours_of_each_room(made: Schedule) -> None:
    table = next(
        block
        for block in section(made, "client", "Before and after").blocks
        if isinstance(block, Table)
    )
    assert [cell.text for cell in table.rows[0].cells] == [
        "Hall", "Peat Cut, LRV 4", "Stubble Row (A-102)",
    ]  # fmt: skip


def test_what_was_accepted_no_longer_holds_once_the_paints_are_others() -> None:
    house = papers_house()
    kept = replace(house.accepted["jar"], paints=("oat", "ember"))
    house = replace(house, accepted={"jar": kept})
    before = words_of(section(schedule(house), "client", "Looked at and accepted"))
    assert "look again" not in before
    after = assign(house, "study", "walls", "chalk")
    assert "look again" in words_of(section(schedule(after), "client", "Looked at and accepted"))


def test_notes_of_the_house_reach_the_painter_too() -> None:
    made = schedule(replace(papers_house(), notes="Mind the dog."))
    assert words_of(section(made, "painter", "Notes")) == "Mind the dog."


def test_tins_of_several_sizes_are_to_be_one_batch_or_mixed(made: Schedule) -> None:
    need = made.quantities.needs[0]
    sizes = (0.35 * need.litres, 0.7 * need.litres)  # one of each is enough, with little over
    house, paint = papers_house(), replace(made.house.paints[need.paint], tins=sizes, prices=())
    made = schedule(replace(house, paints={**house.paints, need.paint: paint}))
    mixed = sum(len(need.purchase.tins) > 1 for need in made.quantities.needs if need.purchase)
    assert mixed
    text = words_of(section(made, "painter", "Paint to buy"))
    words = "1 line takes" if mixed == 1 else f"{mixed} lines take"
    assert f"{words} tins of more than one size" in text


def test_hours_follow_the_rates_of_the_user(made: Schedule) -> None:
    """Walls at 10 m2 an hour and coat; the study's take a tinted primer and three coats."""
    hours = {
        (line.room, line.surface): line.hours / line.area_m2
        for line in made.quantities.lines
        if line.hours is not None and line.area_m2
    }
    assert hours["hall", "walls"] == pytest.approx(3 / 10)
    assert hours["study", "walls"] == pytest.approx(4 / 10)
    assert ("hall", "ceiling") not in hours


def after_an_issue() -> tuple[House, Schedule]:
    house, made = issued(papers(), "painter", "The painter")
    assert made.issue == "1"
    return house, made


def test_an_issue_is_numbered_and_noted_in_the_house() -> None:
    house, made = after_an_issue()
    assert "1, 2 May 2026" in as_markdown(made, "painter")
    assert house.issues["1"].to == "The painter"
    assert house.issues["1"].when == dt.date(2026, 5, 2)
    assert house.issues["1"].said["hall"]["part-rail"].startswith("Quarry Chalk (A-001), satin")
    again, second = issued(schedule(house), "painter")
    assert second.issue == "2"
    assert set(again.issues) == {"1", "2"}


def test_what_changed_since_the_last_issue_is_marked_in_its_line() -> None:
    house, _ = after_an_issue()
    unchanged = schedule(house)
    assert "Nothing has changed since issue 1." in as_markdown(unchanged, "painter")
    made = schedule(assign(house, "hall", "walls", "ember"))
    lines = {(line.room, line.surface): made.change(line) for line in made.quantities.lines}
    changed = {place: was for place, was in lines.items() if was is not None}
    assert list(changed) == [("hall", "walls")]
    assert changed["hall", "walls"].startswith("Stubble Row (A-102), matt")
    text = as_markdown(made, "painter")
    assert "walls (changed)" in text
    assert "## Changed since issue 1" in text


def test_a_surface_that_is_no_longer_painted_is_listed_as_left_out() -> None:
    house, _ = after_an_issue()
    made = schedule(assign(house, "hall", "ceiling", None))
    assert "left out now; was: Quarry Chalk" in as_markdown(made, "painter")


# What a painting specification contains, by the contents of UFGS 09 90 00 (May 2011, change 4),
# and by what IS 1200 asks of measurements. Each item with the words that must be found.
CHECKLIST = (
    ("Client and address", "A. Reader"),
    ("Surfaces to be painted", "surfaces"),
    ("Surfaces left unpainted", "1 part"),
    ("Window frames and stairs", "in no amount or sum: window frames (Hall, Study)"),
    ("Surfaces as they are now", "of"),
    ("Preparation", "paint system"),
    ("Paint products", "of"),
    ("Who supplies the paint", "Corner counter; 2 of 9 surfaces; the rest not given"),
    ("Primers", "paint system"),
    ("Coats", "surface by surface"),
    ("Colours", "code"),
    ("Sheens", "of"),
    ("Approved samples", "approved in one light only"),
    ("Areas and amounts", "IS 1200"),
    ("Labour", "hours"),
    ("Lead in old paint", "Cautions"),
    ("Asbestos", "Cautions"),
    ("Other hazards", "not given"),
    ("Dates and working hours", "not given"),
    ("Access, scaffold, parking, power, water", "not given"),
    ("Insurance and guarantee", "not given"),
    ("Protection", "Conditions"),
    ("Labels and storage", "Conditions"),
    ("Temperature and damp", "Conditions"),
    ("Waste", "Conditions"),
    ("Left over", "Conditions"),
)


def contents(made: Schedule) -> dict[str, str]:
    [table] = section(made, "painter", "What this specification covers").blocks
    assert isinstance(table, Table)
    return {row.cells[0].text: row.cells[1].text for row in table.rows}


def test_each_item_of_a_painting_specification_is_there_or_said_to_be_not_given(
    made: Schedule,
) -> None:
    found = contents(made)
    assert list(found) == [item for item, _ in CHECKLIST]
    for item, words in CHECKLIST:
        assert words in found[item], item


def test_what_is_not_measured_is_declared_until_it_is_a_part_of_its_room() -> None:
    """Window frames and balustrades: painters paint them as a rule (common practice)."""
    house = papers_house()
    stairs = Opening(("hall", "study"), "stairs")
    house = replace(house, openings={**house.openings, "flight": stairs})
    declared = "stairs (Hall to Study). Agree a price for each."
    for edition, title in (("painter", "How it was measured"), ("client", "What it costs")):
        text = words_of(section(schedule(house), cast("Edition", edition), title))
        assert "window frames (Hall, Study)" in text
        assert declared in text
    parts = {"frames": Part("window", paint="chalk"), "handrail": Part("other", area_m2=1.0)}
    hall = replace(house.rooms["hall"], parts=parts)
    listed = schedule(replace(house, rooms={**house.rooms, "hall": hall}))
    text = words_of(section(listed, "painter", "How it was measured"))
    assert "window frames (Study)" in text
    assert "stairs" not in text


def test_a_house_that_says_nothing_gives_a_specification_that_says_so() -> None:
    found = contents(schedule(bare_house()))
    for item in ("Client and address", "Surfaces as they are now", "Paint products", "Primers",
                 "Who supplies the paint", "Sheens", "Approved samples", "Labour"):  # fmt: skip
        assert found[item] == "not given", item


def test_what_the_checklist_refers_to_is_in_the_specification(made: Schedule) -> None:
    conditions = words_of(section(made, "painter", "Conditions of the work"))
    for item, words in CHECKLIST:
        if words == "Conditions":
            assert item in conditions
    assert "lead" in words_of(section(made, "painter", "Cautions"))


def test_shares_of_the_walls_make_a_whole_and_follow_the_scheme() -> None:
    house = papers_house()
    shares = editions.wall_shares(house)
    assert sum(shares.values()) == pytest.approx(1.0)
    assert set(shares) == {"oat", "ember"}


@pytest.mark.parametrize("edition", FULL)
def test_an_edition_of_an_empty_house_is_still_a_page(edition: Edition) -> None:
    assert as_markdown(schedule(House(name="Empty")), edition).startswith("# ")
