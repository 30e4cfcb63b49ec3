"""A remedy clears its finding, raises nothing graver, and comes in a consultant's order."""

from dataclasses import replace

import numpy as np
import pytest

from housemap.checks import CHECKS, Cause, Check, Finding, Report, check_of, report_of
from housemap.checks.examples import two_rooms
from housemap.choose.chips import Chips, all_chips
from housemap.choose.remedies import Deck, Remedy, trials
from housemap.colorimetry.difference import ucs_parts
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import Brief, House, RoomBrief, Sample
from housemap.model.severity import SEVERITIES
from housemap.workbench.listed_findings import search_remedies
from tests.support.chips import random_paints
from tests.support.houses import paint
from tests.support.project import DEMO
from tests.support.remedies import remedies_of

DECK = Deck(all_chips(random_paints(1500)), "fan")


def first(house: House, check: str) -> tuple[Finding, Report]:
    report = report_of(house)
    return next(f for f in (*report.findings, *report.to_do) if f.check == check), report


def assert_sound(finding: Finding, report: Report, remedy: Remedy) -> None:
    """The finding is gone, and nothing is graver than it was."""
    known = {f.key: SEVERITIES.index(f.severity) for f in (*report.findings, *report.to_do)}
    after = report_of(remedy.change.edit(report.house))
    assert finding.key not in {f.key for f in (*after.findings, *after.to_do)}
    for found in after.findings:
        assert SEVERITIES.index(found.severity) <= max(known.get(found.key, 0), 0)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_every_remedy_offered_clears_its_finding(check: Check) -> None:
    report = report_of(check.caught.house)
    for finding in (*report.findings, *report.to_do):
        for remedy in remedies_of(finding, report):
            assert_sound(finding, report, remedy)


@pytest.mark.parametrize("check", ["undertone", "jar", "fixed"])
def test_what_a_deck_offers_is_as_sound(check: str) -> None:
    finding, report = first(read_house(DEMO), check)
    found = remedies_of(finding, report, 9, DECK)
    assert any(remedy.change.label.endswith("of fan") for remedy in found)
    for remedy in found:
        assert_sound(finding, report, remedy)


def test_lighter_comes_before_greyer_and_that_before_another_hue() -> None:
    finding, report = first(two_rooms("5Y 9/1", "5PB 3/6", "open", trim="N 9.5/"), "jar")
    deck = Deck(all_chips(notation_deck()), "notation")
    labels = [r.change.label for r in remedies_of(finding, report, 20, deck)]
    study = [label for label in labels if label.startswith("Paint Study walls")]
    assert "PB" in study[0], study
    others = [label for label in study if "PB" not in label and "5P" not in label]
    assert others
    assert study.index(others[0]) > 0


def test_other_families_come_once_each() -> None:
    finding, report = first(read_house(DEMO), "undertone")
    labels = [r.change.label for r in remedies_of(finding, report, 20, DECK)]
    assert len(labels) == len(set(labels))
    assert sum(label.startswith("Paint Dining room walls") for label in labels) <= 2 * 7


def test_a_door_may_be_kept_shut_and_a_finding_accepted_last() -> None:
    finding, report = first(two_rooms("5Y 9/1", "5PB 3/6", "doorway"), "jar")
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 20)]
    assert "Keep the door between Hall and Study shut" in labels
    assert labels[-1] == "Accept it here, with a reason"


def test_a_matter_of_several_findings_is_accepted_as_one_where_nothing_else_clears_it() -> None:
    house = two_rooms("5Y 9/1", "5Y 9/1", trim="5Y 8.8/1")
    kept = Brief(rooms={room: RoomBrief(keep=True) for room in house.rooms})
    report = report_of(replace(house, brief=kept))
    matter = next(each for each in report.causes if each.check == "near-miss")
    assert len(matter.findings) > 1
    *_, search = search_remedies(matter, report, None)
    *_, accepted = search.remedies
    assert len(accepted.change.accepts) == len(matter.findings)
    left = {finding.key for finding in accepted.report.findings}
    assert not left & {finding.key for finding in matter.findings}


def test_a_corner_is_recorded_where_two_paints_meet_in_open_plan() -> None:
    finding, report = first(two_rooms("5Y 8/1", "5Y 7/1", "open"), "stop")
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 9)]
    assert any("corner or trim" in label for label in labels)


def test_two_whites_that_nearly_match_become_one_everywhere_and_no_colour() -> None:
    house = two_rooms("5Y 7/1", "5Y 7/1.5", trim="N 9.4/")
    house = put(house, "paints", "second", paint("#f1f0ee", "Second"))
    house = put(house, "paints", "fern", paint("#4f7a4a", "Fern"))
    study = house.rooms["study"]
    house = put(
        house, "rooms", "study", replace(study, paints=replace(study.paints, trim="second"))
    )
    finding, report = first(house, "near-miss")
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 20)]
    assert "Paint Study trim in Trim" in labels
    assert not any("trim in Fern" in label for label in labels)
    finding, report = first(read_house(DEMO), "near-miss")
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 20)]
    assert labels[0].startswith("Use Ferry Chalk instead of Kiln Milk everywhere (")


def test_an_accent_room_is_never_given_its_neighbours_colour() -> None:
    house = two_rooms("5Y 8.5/1", "5PB 3/6", "open")
    study = replace(house.rooms["study"], role="accent")
    finding, report = first(put(house, "rooms", "study", study), "jar")
    hall = np.array(report.study.paint("hall").colour.ucs)
    for remedy in remedies_of(finding, report, 20, DECK):
        after = report_of(remedy.change.edit(report.house))
        walls = after.study.rooms["study"].coats["walls"].swatch
        if walls.id != "study":
            assert float(ucs_parts(hall, np.array(walls.colour.ucs))[0]) >= 8.0


def test_a_remedy_keeps_to_the_brief_where_it_can_and_leaves_kept_rooms_alone() -> None:
    house = two_rooms("5Y 9/1", "5PB 3/6", "open", trim="N 9.5/")
    brief = Brief(strength="greyish", rooms={"hall": RoomBrief(keep=True)})
    finding, report = first(replace(house, brief=brief), "jar")
    deck = Deck(all_chips(notation_deck()), "notation")
    labels = [r.change.label for r in remedies_of(finding, report, 20, deck)]
    assert not any(label.startswith("Paint Hall") for label in labels)
    offered = [label for label in labels if label.startswith("Paint Study walls")]
    assert offered
    assert not any("further from the wishes" in label for label in offered)


def test_backbone_offers_more_than_one_way() -> None:
    finding, report = first(check_of("backbone").caught.house, "backbone")
    assert len(remedies_of(finding, report, 9)) >= 3


def test_an_accent_is_echoed_on_something_small_in_view_before_it_is_given_up_elsewhere() -> None:
    """Cushions, a door, one wall: common practice, no source."""
    house = two_rooms("5G 8/1", "10R 4/8", trim="N 9.4/")
    study = replace(house.rooms["study"], role="accent")
    finding, report = first(put(house, "rooms", "study", study), "lone")
    found = {r.change.label: r for r in remedies_of(finding, report, 20)}
    echoes = [label for label in found if label.startswith("Echo it: ")]
    assert echoes[0] == "Echo it: cushions, a rug or towels of that colour in Hall"
    after = found[echoes[0]].report.house
    [cloth] = after.rooms["hall"].fixed
    assert after.finishes[cloth].colour == after.paints["study"].colour


def test_a_room_that_nothing_is_seen_from_has_its_echo_in_itself() -> None:
    report = report_of(read_house(DEMO))
    [finding] = [f for f in report.findings if f.check == "lone" and f.rooms == ("cloakroom",)]
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 20)]
    assert "Echo it: cushions, a rug or towels of that colour in Cloakroom" in labels
    assert "Echo it: paint Cloakroom doors in Marigold Jar" in labels


def test_an_echo_is_small_and_where_somebody_stays() -> None:
    """The accent of a study: no cushions on the stairs, and no larger wall, nor one half open."""
    house = read_house(DEMO)
    report = report_of(house)
    [finding] = [f for f in report.findings if f.check == "lone" and f.rooms == ("study",)]
    accent = report.study.rooms["study"].areas.to_paint_m2["walls"]  # type: ignore[union-attr]  # measured
    echoes = [each for trial in trials(Cause((finding,)), report) for each in trial.remedies]
    labels = [each.change.label for each in echoes if each.change.label.startswith("Echo it: ")]
    assert labels
    assert not any(each in label for label in labels for each in ("Stairs", "Hall", "Landing"))
    for remedy in echoes:
        for key, room in remedy.report.house.rooms.items():
            if room.paints.walls != house.rooms[key].paints.walls and key != "study":
                assert report.study.rooms[key].areas.to_paint_m2["walls"] <= accent  # type: ignore[union-attr]  # measured
    assert not any("west wall, 3.9 m" in label for label in labels), "mostly opening"


def test_to_cure_a_note_nothing_larger_than_what_is_at_fault_is_painted() -> None:
    report = report_of(assign(read_house(DEMO), "utility", "trim", "barley-tin"))
    [trim] = [f for f in report.findings if f.check == "trim"]
    labels = [remedy.change.label for remedy in remedies_of(trim, report, 20)]
    assert labels
    assert not any("Utility room walls" in each or "of Moth Felt" in each for each in labels)
    [wall] = [f for f in report.findings if f.check == "turn" and f.rooms == ("front-bedroom",)]
    labels = [remedy.change.label for remedy in remedies_of(wall, report, 20)]
    assert any(label.startswith("Paint Front bedroom walls in ") for label in labels)
    assert not any("everywhere" in label for label in labels)


def test_a_paint_in_one_room_is_not_said_to_be_replaced_everywhere() -> None:
    finding, report = first(two_rooms("5Y 8.5/1", "5Y 8.3/1.1"), "near-miss")
    labels = [remedy.change.label for remedy in remedies_of(finding, report, 20)]
    assert not any("1 room" in label for label in labels)


def test_a_dull_bathroom_is_offered_the_least_sheen_that_will_do() -> None:
    finding, report = first(check_of("sheen").caught.house, "sheen")
    remedy, *_ = remedies_of(finding, report)
    assert remedy.report.house.rooms["hall"].sheens.walls == "eggshell"


@pytest.mark.parametrize("check", ["untried", "gamut"])
def test_what_only_a_sample_clears_says_put_a_sample_up(check: str) -> None:
    assert "put a sample up" in check_of(check).advice


def test_trials_count_how_far_they_are_and_give_the_same_remedies() -> None:
    finding, report = first(two_rooms("5Y 8/1", "5Y 7/1", "open"), "stop")
    tried = list(trials(Cause((finding,)), report))
    assert [trial.number for trial in tried] == list(range(1, tried[0].count + 1))
    labels = [remedy.change.label for trial in tried for remedy in trial.remedies]
    assert labels == [remedy.change.label for remedy in remedies_of(finding, report, len(tried))]


def test_a_deck_that_was_opened_takes_no_remedy_of_the_houses_own_paints_away() -> None:
    report = report_of(read_house(DEMO), deep=False)
    deck = Deck(all_chips(notation_deck()), "notation")
    for cause in report.causes[:4]:
        own = {r.change.label for r in remedies_of(cause.first, report, 99)}
        with_deck = {r.change.label for r in remedies_of(cause.first, report, 99, deck)}
        assert {label for label in own if label.startswith("Paint ")} <= with_deck


def test_an_empty_deck_offers_what_the_house_does() -> None:
    finding, report = first(read_house(DEMO), "jar")
    empty = remedies_of(finding, report, 9, Deck(Chips(), "none"))
    own = remedies_of(finding, report, 9)
    assert [r.change.label for r in empty] == [r.change.label for r in own]


def test_a_remedy_against_a_sample_comes_after_the_others_and_says_so() -> None:
    """Clay Petal is marked unsure in the demo's living room, and Lichen Slip approved next door."""
    approved = Sample("lichen-slip", "dining", verdict="keep")
    house = read_house(DEMO)
    house = put(house, "samples", "lichen-slip-dining", approved)
    unsure = Sample("gull-chute", "dining", verdict="unsure")
    house = put(house, "samples", "gull-chute-dining", unsure)
    doubted = (", though Lichen Slip is approved in Dining room",
               ", though Gull Chute is marked unsure in Dining room")  # fmt: skip
    finding, report = first(house, "stop")
    assert "dining" in finding.rooms
    tried = [trial.remedies for trial in trials(Cause((finding,)), report)]
    *others, accepted = (remedy for remedies in tried for remedy in remedies)
    assert accepted.change.accepts
    against = [any(words in r.change.label for words in doubted) for r in others]
    assert any(against)
    assert against == sorted(against), [r.change.label for r in others]
    for remedy, doubt in zip(others, against, strict=True):
        walls = remedy.report.house.rooms["dining"].paints.walls
        assert doubt == (walls != "lichen-slip")
    for remedies in tried:
        left = [len(remedy.report.causes) for remedy in remedies]
        assert left == sorted(left), "of one kind those that clear most come first"
