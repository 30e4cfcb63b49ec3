"""What was found is listed, told with its reason, and cleared by a remedy that can be undone."""

import datetime as dt
import re
from dataclasses import replace

from housemap.checks import Cause, causes_of, check_of
from housemap.choose.chips import all_chips
from housemap.choose.remedies import Deck
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import DeckFile
from housemap.file.reader import read_house
from housemap.model.house import House, SurfacePaints
from housemap.model.severity import change_text
from housemap.tui.tasks.choose import ChoosingPanel
from housemap.tui.tasks.decks import DecksTask
from housemap.tui.tasks.findings import FindingPanel, FindingsPanel
from housemap.tui.tasks.findings_drawing import NO_REMEDY
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.listed_findings import MOST_REMEDIES, RemedySearch
from tests.support.chips import random_paints
from tests.support.finding import CLASH, HOUSE, FindingDesk, found
from tests.support.project import DEMO
from tests.support.remedies import remedies_of
from tests.support.screens import app_on

# The list


async def test_every_matter_is_listed_gravest_first() -> None:
    async with found() as desk:
        base = desk.session.base
        assert base is not None
        matters = causes_of(base.findings)
        titles = [check_of(matter.check).title for matter in matters]
        places = [desk.panel_text.find(title) for title in dict.fromkeys(titles)]
        assert -1 not in places
        assert places == sorted(places)


async def test_leaving_the_list_gives_back_the_surface_that_was_selected() -> None:
    async with found() as desk:
        desk.session.select("hall")
        desk.session.select_surface("trim")
        await desk.press("f", "end", "home", "escape")
        assert (desk.session.selection.room, desk.session.selection.surface) == ("hall", "trim")


async def test_the_marks_of_the_map_agree_with_the_list() -> None:
    async with found() as desk:
        base = desk.session.base
        assert base is not None
        await desk.press("h")
        listed = base.causes_by_room["hall"]
        await desk.shows(f"▲L{len(listed)}")
        assert f"{len(listed)} to look at again" in desk.panel_text


async def test_the_map_goes_to_the_rooms_of_the_chosen_matter() -> None:
    async with found() as desk:
        levels = []
        for _ in range(2):
            assert isinstance(desk.panel, FindingsPanel)
            matter = desk.panel.item
            assert matter is not None
            assert desk.selected() in matter.rooms
            levels.append(desk.session.selection.level)
            await desk.press("down")
        assert levels == [0, 1]


async def test_a_finding_about_a_paint_selects_a_room_that_has_it() -> None:
    oat = replace(HOUSE.paints["oat"], lrv=20.0)  # a wrong LRV; the paint is in the bathroom alone
    async with found(replace(HOUSE, paints={**HOUSE.paints, "oat": oat})) as desk:
        while chosen_matter(desk).check != "label":
            await desk.press("down")
        assert (desk.selected(), desk.session.selection.level) == ("bath", 1)


async def test_this_room_only_or_the_whole_house() -> None:
    async with found() as desk:
        await desk.press("h")
        assert "Hall" in desk.panel_text
        assert "Sheen" not in desk.panel_text
        await desk.press("h")
        assert "Sheen" in desk.panel_text


async def test_graver_only_and_everything_again() -> None:
    async with found() as desk:
        await desk.press("v")
        assert "serious and look again" in desk.panel_text
        assert "Sheen" not in desk.panel_text
        await desk.press("v")
        await desk.shows("Nothing serious; 2 slighter findings.")
        await desk.press("v")
        assert "Sheen" in desk.panel_text


async def test_the_ends_of_a_finding_are_a_key_away() -> None:
    async with found() as desk:
        await desk.press("enter")
        await desk.until(lambda: isinstance(desk.panel, FindingPanel))
        first = desk.panel_text
        await desk.press("end")
        assert desk.panel_text != first
        await desk.press("home")
        assert desk.panel_text == first


async def test_a_house_in_which_nothing_is_found_says_so() -> None:
    bare = replace(HOUSE.rooms["hall"], paints=SurfacePaints())
    async with found(House(rooms={"hall": bare})) as desk:
        await desk.shows("Nothing was found.")


async def test_escape_goes_back_step_by_step() -> None:
    async with found() as desk:
        await desk.press("enter")
        await desk.until(lambda: isinstance(desk.panel, FindingPanel))
        await desk.press("escape")
        await desk.until(lambda: isinstance(desk.panel, FindingsPanel))
        await desk.press("escape")
        await desk.until(lambda: desk.panel.id == "card")


# One finding


async def test_a_finding_tells_its_limit_the_source_and_why_it_matters() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.shows("Undertones that fight", "one leans pink, the other green")
        check = check_of("undertone")
        assert check.help[:60] in " ".join(desk.panel_text.split())
        await desk.press("pagedown")
        text = " ".join(desk.panel_text.split())
        assert f"hue: {check.limits[0].default:g} degrees" in text
        assert check.limits[0].source in text
        assert "CIEDE2000" in text


async def test_the_remedies_are_those_that_clear_it_with_what_they_do() -> None:
    async with found(HOUSE, "enter") as desk:
        base = desk.session.base
        assert base is not None
        wanted = remedies_of(base.causes[0].first, base)
        assert wanted
        await desk.remedies_found()
        text = " ".join(desk.panel_text.split())
        for remedy in wanted:
            assert change_text(base.tally, remedy.report.tally) in text


async def test_a_remedy_is_shown_applied_and_undone() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.remedies_found()
        await desk.press("down")
        tried = desk.session.tried
        assert tried is not None
        assert desk.session.house is HOUSE
        await desk.press("enter")
        assert desk.session.house == tried
        await desk.shows("Press u to undo")
        await desk.until(lambda: isinstance(desk.panel, FindingsPanel))
        assert desk.session.base is not None
        assert "undertone" not in {f.check for f in desk.session.base.findings}
        await desk.press("u")
        assert desk.session.house == HOUSE
        await desk.shows("Undertones that fight")


async def test_a_remedy_is_tried_where_there_is_no_room_to_tell_it() -> None:
    """In a terminal so small that the panel is hidden."""
    app = app_on(HOUSE)
    async with app.run_test(size=(30, 8)) as pilot:
        desk = FindingDesk(app, pilot)
        await desk.until(lambda: desk.session.base_is_current)
        await desk.press("f", "enter")
        await desk.until(lambda: isinstance(desk.panel, FindingPanel))
        panel = desk.panel
        assert isinstance(panel, FindingPanel)
        await desk.until(lambda: panel._view is not None and bool(panel._view.search.remedies))
        await desk.press("down")
        assert desk.session.tried is not None


async def test_enter_alone_shows_a_remedy_before_it_applies_it() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.remedies_found()
        await desk.shows("enter try the first")
        await desk.press("enter")
        assert desk.session.house is HOUSE
        assert desk.session.tried is not None
        await desk.shows("enter apply")
        await desk.press("up")
        assert desk.session.tried is None


async def test_while_remedies_are_looked_for_the_arrow_says_so() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.remedies_found()
        panel = desk.panel
        assert isinstance(panel, FindingPanel)
        assert panel._view is not None
        panel._view = panel._view._replace(search=RemedySearch())
        await desk.press("down")
        await desk.shows("Still looking for what would clear it.")


async def test_where_nothing_clears_it_the_panel_says_what_could_still_be_done() -> None:
    async with found(CLASH, "enter") as desk:
        base = desk.session.base
        assert base is not None
        if not remedies_of(base.causes[0].first, base):
            await desk.until(lambda: NO_REMEDY in " ".join(desk.panel_text.split()))


async def test_paints_of_the_open_deck_stand_among_the_remedies() -> None:
    async with found() as desk:
        deck = DeckBrowser(DeckFile(NAME, None))
        deck.take_chips(all_chips(random_paints(400)), done=True)
        desk.screen.find_task(DecksTask).browser = deck
        await desk.press("enter")
        await desk.remedies_found()
        base = desk.session.base
        assert base is not None
        source = Deck(deck.chips, deck.deck.name)
        offered = remedies_of(base.causes[0].first, base, MOST_REMEDIES, source)
        of_deck = [remedy.change.label.endswith("of notation") for remedy in offered]
        assert any(of_deck)
        for _ in range(of_deck.index(True) + 1):
            await desk.press("down")
        house = desk.session.shown
        assert len(house.paints) == len(HOUSE.paints) + 1, "the paint is taken into the house"
        await desk.press("enter")
        assert desk.session.house is house


async def accepting(desk: FindingDesk) -> None:
    """Go down to the last remedy, which is to accept it, and press enter."""
    await desk.remedies_found()
    panel = desk.panel
    assert isinstance(panel, FindingPanel)
    assert panel._view is not None
    remedies = panel._view.search.remedies
    assert remedies[-1].change.label == "Accept it here, with a reason"
    await desk.press(*("down",) * len(remedies), "enter")
    await desk.shows("Why is it accepted here?")


async def test_a_finding_is_accepted_with_who_when_and_why() -> None:
    house = replace(HOUSE, client=replace(HOUSE.client, by="Studio Ash"))
    async with found(house, "enter") as desk:
        await accepting(desk)
        await desk.press(*"dark box", "enter")
        await desk.shows("Accepted. It returns when the colours here change.")
        (entry,) = desk.house.accepted.values()
        assert (entry.check, entry.why, entry.by) == ("undertone", "dark box", "Studio Ash")
        assert entry.when == dt.datetime.now().astimezone().date()
        await desk.until(lambda: isinstance(desk.panel, FindingsPanel))
        await desk.shows("1 accepted", "dark box")
        await desk.press("end", "enter")
        await desk.shows(f"Accepted by Studio Ash on {entry.when}: dark box")
        await desk.press("a")
        assert not desk.house.accepted
        await desk.until(lambda: "1 accepted" not in desk.text)


def chosen_matter(desk: FindingDesk) -> Cause:
    assert isinstance(desk.panel, FindingsPanel)
    assert desk.panel.item is not None
    return desk.panel.item


async def list_of(desk: FindingDesk, count: int) -> None:
    """Wait until that many findings count."""
    await desk.until(lambda: desk.session.base_is_current and isinstance(desk.panel, FindingsPanel))
    await desk.until(lambda: len(desk.session.base.causes if desk.session.base else ()) == count)
    await desk.pilot.pause()


async def test_after_a_remedy_the_next_finding_of_the_list_is_chosen() -> None:
    async with found(read_house(DEMO), "down", "down", "enter") as desk:
        base = desk.session.base
        assert base is not None
        assert [cause.severity for cause in base.causes[2:4]] == ["warn", "warn"]
        await desk.remedies_found()
        await desk.press("down", "enter")
        await list_of(desk, len(base.causes) - 1)
        assert chosen_matter(desk).first.key == base.causes[3].first.key


async def test_after_a_remedy_the_map_stays_at_the_rooms_repaired_and_the_next_is_named() -> None:
    async with found(read_house(DEMO), "down", "enter") as desk:
        base = desk.session.base
        assert base is not None
        await desk.remedies_found()
        await desk.press("down")
        repaired = desk.session.selection
        assert repaired.room in base.causes[1].rooms
        await desk.press("enter")
        await list_of(desk, len(base.causes) - 2)
        coming = chosen_matter(desk)
        assert repaired.room not in coming.rooms
        assert desk.session.selection == repaired
        await desk.shows("Press u to undo. Next: " + check_of(coming.check).title)
        await desk.press("enter")
        await desk.until(lambda: desk.selected() != repaired.room)


async def test_a_remedy_says_what_serious_finding_it_leaves_in_these_rooms() -> None:
    async with found(read_house(DEMO), "enter") as desk:
        base = desk.session.base
        assert base is not None
        first, second = base.causes[:2]
        assert (first.severity, second.severity) == ("fault", "fault")
        assert {*first.rooms} & {*second.rooms}
        await desk.remedies_found()
        text = " ".join(desk.panel_text.split())
        remedies = remedies_of(first.first, base)
        left = [remedy for remedy in remedies if any(
            cause.severity == "fault" and {*cause.rooms} & {*first.rooms}
            for cause in remedy.report.causes
        )]  # fmt: skip
        assert len(re.findall(r"leaves (\d+ fewer )?1 serious", text)) == len(left)


async def test_a_remedy_that_clears_what_comes_before_it_too_skips_nothing() -> None:
    async with found(read_house(DEMO), "down", "enter") as desk:
        base = desk.session.base
        assert base is not None
        await desk.remedies_found()
        await desk.press("down", "enter")  # it clears both serious findings
        await list_of(desk, len(base.causes) - 2)
        assert chosen_matter(desk).first.key == base.causes[2].first.key


async def test_after_an_acceptance_the_next_finding_of_the_list_is_chosen() -> None:
    async with found(read_house(DEMO), "enter") as desk:
        base = desk.session.base
        assert base is not None
        await desk.press("tab")
        await accepting(desk)
        await desk.press(*"once", "enter")
        await list_of(desk, len(base.causes) - 1)
        assert chosen_matter(desk).first.key == base.causes[2].first.key


async def test_a_finding_is_not_accepted_without_a_reason() -> None:
    async with found(HOUSE, "enter") as desk:
        await accepting(desk)
        await desk.press("enter")
        await desk.shows("Not accepted: it needs a reason.")
        assert not desk.house.accepted
        await desk.press("enter")
        await desk.shows("Why is it accepted here?")
        await desk.press("escape")
        assert isinstance(desk.panel, FindingPanel)
        assert not desk.house.accepted


async def test_next_and_previous_go_through_the_matters() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.shows("1 of ")
        await desk.press("tab")
        await desk.shows("2 of ")
        await desk.press("shift+tab")
        await desk.shows("1 of ")
        await desk.press("shift+tab")  # the other end of the list
        await desk.shows("Before the first finding comes the last.")
        await desk.press("tab")
        await desk.shows("After the last finding comes the first.")
        await desk.shows("1 of ")


async def test_another_paint_for_a_place_of_the_finding() -> None:
    async with found(HOUSE, "enter") as desk:
        await desk.until(lambda: isinstance(desk.panel, FindingPanel))
        await desk.run("repaint")
        await desk.shows("Another paint for which?")
        await desk.press("2")
        await desk.until(lambda: isinstance(desk.panel, ChoosingPanel))
        await desk.shows("Study walls")
        assert desk.selected() == "study"
