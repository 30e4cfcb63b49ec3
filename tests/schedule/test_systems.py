"""What a surface is painted with, by what is on it now.

Trade rules are common practice without a source, unless a test names one.
"""

from dataclasses import replace

import pytest

from housemap.file.reader import read_house
from housemap.model.house import (
    Condition,
    Ground,
    House,
    Notation,
    Paint,
    Primer,
    Srgb,
    State,
)
from housemap.schedule.existing import Existing, existing_coats
from housemap.schedule.systems import System, at_edge, cautions, hides_badly, system_of
from housemap.schedule.wording import coats
from housemap.study import study_of
from tests.support.papers import papers_house, schedule
from tests.support.project import DEMO

PAINTS = {
    "white": Paint("White", Srgb("#f4f1ea")),
    "grey": Paint("Grey", Srgb("#8a8a86")),
    "black": Paint("Black", Srgb("#2c2a28")),
    "yellow": Paint("Yellow", Notation("2.5Y 7/12")),
    "red": Paint("Red", Notation("5R 4/10")),
    "blue": Paint("Blue", Notation("5PB 4/10")),
    "cream": Paint("Cream", Notation("2.5Y 9/2")),
}
STUDY = study_of(House(paints=PAINTS, built=1995))


def system(
    new: str,
    old: str | None = None,
    ground: Ground | None = "painted",
    condition: Condition | None = "sound",
    house: House = STUDY.house,
) -> System:
    swatch = STUDY.paint(old) if old else None
    return system_of(house, STUDY.paint(new), "", Existing(swatch, ground, condition))


def test_two_coats_and_a_third_over_a_much_darker_colour() -> None:
    assert system("white", "white").coats == 2
    assert system("white", "black").coats == 3
    assert system("black", "white").coats == 2
    assert "lighter than the colour there now" in system("white", "black").why_coats.text


@pytest.mark.parametrize("colour", ["yellow", "red"])
def test_strong_yellows_and_reds_over_a_dark_colour_take_a_tinted_primer(colour: str) -> None:
    found = system(colour, "black")
    assert found.first
    assert "tinted toward" in found.first.text
    assert PAINTS[colour].name in found.first.text
    assert found.coats == 3
    assert system(colour, "white").first is None


def test_only_clean_yellows_oranges_and_reds_hide_badly() -> None:
    bad = {key for key in PAINTS if hides_badly(STUDY.paint(key))}
    assert bad == {"yellow", "red"}


def test_new_plaster_dries_out_and_takes_a_mist_coat() -> None:
    """Moisture and alkali: IS 2395 (Part 1):1994, foreword; a thinned first coat: Part 2."""
    found = system("white", None, "new-plaster")
    assert found.first
    assert found.first.is_paint
    assert "mist coat" in found.first.text
    assert coats(found) == "mist coat + 2"
    assert coats(system("white", None, "wood")) == "primer + 2"
    assert coats(system("white", None)) == "2"
    assert {"IS 2395 (Part 1):1994, foreword"} <= {step.source for step in found.preparation}
    assert found.first.source == "IS 2395 (Part 2):1994, foreword"


def test_an_eggshell_is_not_thinned_and_a_primer_of_the_house_goes_before_a_mist_coat() -> None:
    """A mist coat is of a matt paint (common practice, no source)."""
    bare = Existing(None, "new-plaster", "sound")
    eggshell = system_of(STUDY.house, STUDY.paint("white"), "", bare, "eggshell").first
    assert eggshell
    assert not eggshell.is_paint
    house = House(primers={"base": Primer("Plaster base", grounds=("new-plaster",))}, built=1990)
    primed = system_of(house, STUDY.paint("white"), "", bare, "matt").first
    assert primed
    assert primed.primer == "base"


@pytest.mark.parametrize("ground", ["plaster", "paper", "tile", "wood", "metal"])
def test_a_bare_ground_is_primed(ground: Ground) -> None:
    found = system("white", None, ground)
    assert found.first
    assert not found.first.is_paint
    assert found.preparation


def test_a_sound_painted_wall_is_washed_and_not_primed() -> None:
    found = system("white", "grey")
    assert found.first is None
    assert [step.text for step in found.preparation] == [
        "Wash down, rinse, let dry; dull any gloss with fine abrasive"
    ]


@pytest.mark.parametrize("ground", ["painted", None])
@pytest.mark.parametrize("condition", ["sound", "worn", "damaged", None])
def test_old_paint_is_tested_for_lead_before_it_is_rubbed_and_never_rubbed_dry(
    ground: Ground | None, condition: Condition | None
) -> None:
    """US EPA, 40 CFR 745: built before 1978, or of unknown age. No dry sanding: 24 CFR 35.140."""
    for built, tested in ((1936, True), (None, True), (1990, False)):
        house = House(built=built, country="US")
        found = system("white", "grey", ground, condition, house)
        first, *steps = [step.text for step in found.preparation]
        assert first.startswith("Have the old paint tested for lead first") is tested
        assert ("local rules and a licensed firm" in first) is tested
        dulled = [step for step in steps or [first] if "dull any gloss" in step]
        assert all(("wet abrasive, never dry" in step) is tested for step in dulled)
        if tested:
            assert dulled
            rubbed = [step for step in steps if "rub " in step or "abrasive" in step]
            assert all("wet abrasive" in step for step in rubbed)


def test_loose_paint_is_taken_off_before_anything_else_is_done_to_it() -> None:
    """Common practice, no source."""
    for built in (1936, 1995):
        house = House(built=built)
        texts = [step.text for step in system("white", "grey", house=house).preparation]
        damaged = system("white", "grey", condition="damaged", house=house).preparation
        extra = [step.text for step in damaged if step.text not in texts]
        assert extra[0].startswith("Take off loose and flaking paint")
        assert [s.text for s in damaged].index(extra[0]) == texts.index(texts[-1])


@pytest.mark.parametrize("ground", ["plaster", "new-plaster", "paper", "tile", "wood", "metal"])
def test_where_no_paint_is_there_none_is_taken_off_nor_tested(ground: Ground) -> None:
    found = system("white", None, ground, "damaged", House(built=1900))
    assert not any("paint back" in step.text or "lead" in step.text for step in found.preparation)


def test_old_red_under_a_pale_paint_is_tried_for_bleeding_first() -> None:
    """Common practice, no source."""
    assert "bleed" in system("white", "red").preparation[-1].text
    for new, old in (("red", "white"), ("white", "blue"), ("black", "red")):
        assert not any("bleed" in step.text for step in system(new, old).preparation)


@pytest.mark.parametrize(("country", "year"), [("US", 1978), ("GB", 1992), ("", 1992)])
def test_the_year_of_lead_is_that_of_the_country(country: str, year: int) -> None:
    """US: 40 CFR 745. Britain: SI 1992/31, from memory. Elsewhere the later of the two."""
    for built, warned in ((year - 1, True), (year, False)):
        told = " ".join(cautions(House(built=built, country=country)))
        assert ("Old paint" in told) is warned


@pytest.mark.parametrize(("built", "warned"), [(1999, True), (None, True), (2000, False)])
def test_asbestos_is_warned_of_up_to_the_year_2000(built: int | None, warned: bool) -> None:  # noqa: FBT001 - a row
    """UK HSE: in buildings that were built or refurbished before 2000."""
    assert any("Asbestos" in text for text in cautions(House(built=built))) is warned


def test_what_is_not_known_is_said_and_looked_at_first() -> None:
    found = system("white", None, None, None)
    assert found.now == "not given"
    assert found.preparation[0].text.startswith("Look at the surface first")


def test_the_primer_of_the_house_for_that_ground_is_taken() -> None:
    any_ground, wood = Primer("Any base"), Primer("Joinery base", grounds=("wood",))
    house = House(primers={"any": any_ground, "wood": wood}, built=1990)
    found = system("white", None, "wood", house=house).first
    assert found
    assert (found.primer, found.text) == ("wood", "Joinery base (primer for bare wood)")
    other = system("white", None, "metal", house=house).first
    assert other
    assert other.primer == "any"


def test_every_rule_names_its_source_or_says_common_practice() -> None:
    for ground in ("painted", "plaster", "new-plaster", "paper", "tile", "wood", "metal", None):
        for condition in ("sound", "worn", "damaged"):
            found = system("yellow", "black", ground, condition)
            steps = [*found.preparation, found.why_coats]
            assert all(step.source for step in steps)
            assert found.first is None or found.first.source


def test_states_are_read_surface_by_surface_and_walls_hold_for_accents() -> None:
    house = papers_house()
    coats = existing_coats(house, None)
    assert coats.on("hall", "walls").condition == "worn"
    assert coats.on("hall", "trim").ground == "wood"
    assert coats.on("hall", "ceiling").ground is None
    accent = coats.on("study", "accent n").swatch
    assert accent
    assert accent.name == "Peat Cut"


def test_the_colour_of_a_part_is_its_own() -> None:
    house = papers_house()
    hall = house.rooms["hall"]
    states = {**hall.states, "rail": State(colour=Srgb("#113355"), ground="painted")}
    house = House(
        rooms={"hall": type(hall)("Hall", size_m=hall.size_m, height_m=2.4, paints=hall.paints,
                                  parts=hall.parts, states=states)},
        paints=house.paints,
    )  # fmt: skip
    [line] = [each for each in schedule(house).quantities.lines if each.surface == "part rail"]
    assert line.system.now.startswith("painted, ")
    assert line.coats == 3


def test_in_open_plan_paint_changes_at_the_ends_of_the_wall_where_there_are_any() -> None:
    """Common practice, no source."""
    house = read_house(DEMO)
    through = house.openings["living-dining"]
    whole = replace(through, along_m=0.0, to_along_m=0.0, width_m=3.9)
    assert "agree a line" in at_edge(house, whole)
    narrower = replace(through, along_m=0.7, to_along_m=0.7, width_m=2.5)
    assert "outer corners of the wall" in at_edge(house, narrower)
    assert "corner or trim" in at_edge(house, replace(narrower, stop=True))
