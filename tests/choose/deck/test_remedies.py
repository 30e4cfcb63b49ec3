"""A deck offers what the house lacks: paints near to the one there that clear a finding."""

import pytest

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.choose.deck.chips import Chips, all_chips
from housemap.choose.deck.remedies import TRIED, deck_trials
from housemap.choose.remedies import remedies_of
from housemap.deck.notation_deck import notation_deck
from housemap.file import read_house
from tests.support.chips import random_paints
from tests.support.project import DEMO

DECK = all_chips(random_paints(1500))


@pytest.mark.parametrize("check", ["undertone", "jar", "near-miss", "fixed", "backbone"])
def test_what_a_deck_offers_clears_the_finding_and_raises_nothing_grave(check: str) -> None:
    report = report_of(read_house(DEMO))
    finding = next(f for f in report.findings if f.check == check)
    known = {f.key for f in report.findings}
    offered = [trial.remedy for trial in deck_trials(finding, report, DECK, "fan") if trial.remedy]
    assert offered
    for remedy in offered:
        after = report_of(remedy.change.edit(report.house))
        assert finding.key not in {f.key for f in after.findings}
        assert {f.key for f in after.findings if f.severity != "note"} <= known
        assert remedy.change.label.endswith("of fan")


def test_the_least_change_comes_first_and_few_are_tried() -> None:
    report = report_of(two_rooms("5Y 9/1", "5PB 3/6", "open", trim="N 9.5/"))
    [jar] = [f for f in report.findings if f.check == "jar"]
    tried = list(deck_trials(jar, report, all_chips(notation_deck()), "notation"))
    sizes = [trial.remedy.change.size for trial in tried if trial.remedy]
    assert sizes == sorted(sizes)
    assert 0 < len(sizes) <= len(tried) <= TRIED * len(jar.places)
    house = remedies_of(jar, report)
    assert not house or sizes[0] < house[0].change.size


def test_an_empty_deck_and_a_finding_of_no_room_offer_nothing() -> None:
    report = report_of(read_house(DEMO))
    for finding in report.findings:
        assert list(deck_trials(finding, report, Chips(), "fan")) == []
        if not finding.rooms:
            assert list(deck_trials(finding, report, DECK, "fan")) == []
