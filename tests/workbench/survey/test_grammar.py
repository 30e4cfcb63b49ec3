"""A survey line is read by its words; no text breaks the reader, and what is written reads back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.fieldtypes import ILLUMINANTS
from housemap.model.house import AIMS, OPENING_KINDS, ROLES, SURFACES, USES, Units
from housemap.workbench.survey.grammar import parse_line, tokens_of
from housemap.workbench.survey.vocabulary import (
    Along,
    Clause,
    Cut,
    FinishWords,
    LampWords,
    NowWords,
    OpeningWords,
    RoomWords,
    WindowWords,
    lumens_of,
)
from tests.support.survey_lines import write_line

STUDY = RoomWords("Study", (3.1, 2.8))
NAMES = ("Kitchen", "Living room", "Stairs", "Bed at the back", "WC")


def clauses(text: str, units: Units = "m") -> tuple[Clause, ...]:
    line = parse_line(text, units, NAMES)
    assert line.fault is None, line.fault
    return line.clauses


def clause(text: str, units: Units = "m") -> Clause:
    (only,) = clauses(text, units)
    return only


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("n doorway 0.8 at 1.2 > Study 3.1 x 2.8",
         OpeningWords(STUDY, "n", "doorway", 0.8, along=Along(1.2))),
        ("n.8@1.2>Study 3.1x2.8", OpeningWords(STUDY, "n", "doorway", 0.8, along=Along(1.2))),
        ("north 80 cm at 1,2 > Study 310cm x 2800 mm",
         OpeningWords(STUDY, "n", "doorway", 0.8, along=Along(1.2))),
        ("e cased at 0.5 from n 0.9 x 2.1 > Kitchen",
         OpeningWords(RoomWords("Kitchen"), "e", "cased", 0.9, 2.1, Along(0.5, "n"))),
        ("s shut height 2.0 > Kitchen at 0.5 from e",
         OpeningWords(RoomWords("Kitchen", along=Along(0.5, "e")), "s", height_m=2.0, shut=True)),
        ("e open stop > Dining 3 x 4 x 2.6 office",
         OpeningWords(RoomWords("Dining", (3.0, 4.0), 2.6, use="office"), "e", "open", stop=True)),
        ("stairs up > Landing 2 x 3 level 1",
         OpeningWords(RoomWords("Landing", (2.0, 3.0), level=1), None, "stairs", rise=1)),
        ("up > Landing", OpeningWords(RoomWords("Landing"), None, "stairs", rise=1)),
        ("3 glazed 1.6 > Terrace 3 x 2 wall n",
         OpeningWords(RoomWords("Terrace", (3.0, 2.0), wall="n"), "3", "glazed", 1.6)),
        ("s front door 0.95 at 0.5",
         OpeningWords(RoomWords("Outside"), "s", width_m=0.95, along=Along(0.5), outer=True)),
        ("back door n", OpeningWords(RoomWords("Outside"), "n", outer=True)),
        ("n glazed back door 1.6 > Terrace",
         OpeningWords(RoomWords("Terrace"), "n", "glazed", 1.6, outer=True)),
        ("Front bedroom 3 x 4", RoomWords("Front bedroom", (3.0, 4.0))),
        ("window s 1.2 x 1.1 at 0.6 sill 0.9", WindowWords("s", 1.2, 1.1, Along(0.6), 0.9)),
        ("s w 1.2x1.1@.6", WindowWords("s", 1.2, 1.1, Along(0.6))),
        ("lamp 1400 lm 2700 K down", LampWords(1400.0, 2700.0, "down")),
        ("l 1,400lm 2700K", LampWords(1400.0, 2700.0)),
        ("lamp 2700 K 900", LampWords(900.0, 2700.0)),
        ("lamp 60 watt 2700 K", LampWords(806.0, 2700.0)),
        ("lamp FL3.15 all at 0.9 2.6 2.4", LampWords(None, None, "all", "FL3.15", (0.9, 2.6, 2.4))),
        ("Hall 1.8 x 5.2", RoomWords("Hall", (1.8, 5.2))),
        ("Hall 4 x 5 less 1 x 2 ne", RoomWords("Hall", (4.0, 5.0), cut=Cut((1.0, 2.0), "ne"))),
        ("Bedroom 2 3 x 4", RoomWords("Bedroom 2", (3.0, 4.0))),
        ("Stairs 1 x 3", RoomWords("Stairs", (1.0, 3.0))),
        ('"At work" 3x3', RoomWords("At work", (3.0, 3.0))),
        ("living ROOM", RoomWords("living ROOM")),
        ("Bed at the back", RoomWords("Bed at the back")),
        ("height 2.5 use office role accent level -1",
         RoomWords("", height_m=2.5, use="office", role="accent", level=-1)),
        ("size 3.1 x 2.8", RoomWords("", (3.1, 2.8))),
        ("4.0 x 3.0 height 2.5", RoomWords("", (4.0, 3.0), height_m=2.5)),
        ("floor oak boards", FinishWords("oak boards", is_floor=True)),
        ("floor: grey carpet #88888a", FinishWords("grey carpet #88888a", is_floor=True)),
        ("worktop oak 10YR 6/4", FinishWords("oak 10YR 6/4 worktop")),
        ("keep oak table", FinishWords("oak table")),
        ("Floor store 2 x 3", RoomWords("Floor store", (2.0, 3.0))),
        ("walls now #d9d0bf", NowWords("walls", "#d9d0bf")),
        ("woodwork now white, worn", NowWords("trim", "white, worn")),
        ("now bare plaster", NowWords("walls", "bare plaster")),
    ],
)  # fmt: skip
def test_plain_words_and_their_short_forms_are_understood(text: str, meant: Clause) -> None:
    assert clause(text) == meant


def test_feet_and_inches_are_understood() -> None:
    # The international foot is 0.3048 m, the inch 0.0254 m (agreement of 1959).
    line = clause("n 2'8\" at 4' 2 1/2\" > Study 10'2\" x 9 ft 2 in", "ft")
    study = RoomWords("Study", (3.0988, 2.794))
    assert line == OpeningWords(study, "n", "doorway", 0.8128, along=Along(1.2827))
    assert clause("Hall 6 x 17", "ft") == RoomWords("Hall", (1.8288, 5.1816))


def test_several_things_stand_on_one_line() -> None:
    meant = (OpeningWords(STUDY, "n"), WindowWords("s", 1.2, 1.1), LampWords(800.0))
    assert clauses("n > Study 3.1x2.8; s w 1.2 x 1.1; lamp 800;") == meant
    assert clauses("n > Study, 3.1 x 2.8, s window 1.2 x 1.1, lamp, 800 lm") == meant


def test_a_comma_ends_what_is_kept_where_another_thing_begins() -> None:
    kept = FinishWords("oak, oiled", is_floor=True)
    assert clauses("floor oak, oiled, s window 1.2 x 1.1") == (kept, WindowWords("s", 1.2, 1.1))


def test_the_name_of_a_room_there_is_goes_before_any_other_meaning() -> None:
    assert clause("Stairs") == RoomWords("Stairs")
    assert clause("n > Bed at the back at 0.4") == OpeningWords(
        RoomWords("Bed at the back", along=Along(0.4)), "n"
    )


@pytest.mark.parametrize(
    ("text", "word", "says"),
    [
        ("n dorway 0.8 > Study", "dorway", "did you mean doorway?"),
        ("n 0.8 at 1.2 at 2 > Study", "at 2", "said twice"),
        ("n 0.8 > Study 3 x 2 bright", "bright", "a room has a size"),
        ("window q 1.2", "q", "n, e, s or w"),
        ("lamp 2.4 m", "2.4 m", "lumens and kelvin"),
        ("lamp 9 watts", "9 watts", "of the old bulb"),
        ("s window 1.2 x tall", "tall", "no length"),
        ("height 8'14\"", "8'14\"", "a foot has 12 inches; is it 9'2\"? Write it so"),
        ("Hall 4 x 5 less 1 x 2 up", "up", "ne, nw, se or sw"),
        ("Study 3 x 4 level high", "high", "a whole number"),
        ("n at 1 from up > Study", "up", "n, e, s or w"),
        ("n > > Study", ">", "a room's name is needed"),
        ("q window 1 x 1", "q", "which wall? Write n, e, s or w"),
    ],
)
def test_a_mistake_is_told_at_its_word(text: str, word: str, says: str) -> None:
    fault = parse_line(text, "m", NAMES).fault
    assert fault is not None
    assert not fault.unfinished
    assert text[fault.start : fault.end] == word
    assert says in fault.text


@pytest.mark.parametrize(
    "text",
    ["n", "n 0.8", "n 0.8 at", "n at 1.2 >", "window", "window s 1.2 x", "n > Study 3.1 x",
     "floor", "walls now", "n doorw", "Hall 3.1 x 2.8 less", "Hall 3 x 2 use", "n at 1 from"],
)  # fmt: skip
def test_a_line_that_is_not_finished_is_no_mistake_and_says_what_comes(text: str) -> None:
    line = parse_line(text, "m", NAMES)
    assert line.fault is not None
    assert line.fault.unfinished
    assert line.hints or len(line.fault.text) > 10


def test_the_next_words_are_hinted() -> None:
    def hinted(text: str) -> set[str]:
        return {hint.text for hint in parse_line(text, "m", NAMES).hints}

    assert {"n", "window", "lamp", "Kitchen"} <= hinted("")
    assert {"doorway", "window", ">", "at 1.2"} <= hinted("n ")
    assert {"up", "down"} <= hinted("stairs ") or {"up", "down"} <= hinted("n stairs ")
    assert {"Kitchen", "Study 3.1 x 2.8"} <= hinted("n > ")
    assert "Living room" in hinted("n > liv")
    assert "3.1 x 2.8" not in hinted("n > Kitchen ")
    assert {hint.text for hint in parse_line("").hints} == {"Hall 1.8 x 5.2"}


def test_examples_are_in_the_units_of_the_house() -> None:
    assert "at 4'" in {hint.text for hint in parse_line("n ", "ft", NAMES).hints}
    fault = parse_line("n at", "ft", NAMES).fault
    assert fault is not None
    assert fault.text.endswith("such as 4'")


# What always holds

PIECES = (
    "n e s w north window win lamp l doorway d cased open glazed stairs > ; @ at from x 0.8 1.2"
    " 3.1x2.8 12'4\" 2' 1/0 1/2\" less ne height use office level - 1 2 role accent backbone up"
    " down shut stop sill wall 3 Study Living room Kitchen \" ' , . 1400lm 2700 K LED-B1 FL3.15"
    " size \u00d7 -> \u2192 \u2033 \U0001f6aa"
)
WORDS = (*PIECES.split(), "")
lines = st.lists(st.sampled_from(WORDS)).map(" ".join) | st.text()
units = st.sampled_from(("m", "ft"))


@given(lines, units)
def test_any_text_is_read_and_its_faults_lie_in_it(text: str, units: Units) -> None:
    line = parse_line(text, units, NAMES)
    if line.fault:
        assert 0 <= line.fault.start <= line.fault.end <= len(text)
        assert line.fault.text
    for hint in line.hints:
        assert hint.start is None or hint.start <= len(text)


@given(lines)
def test_tokens_stand_in_their_order_and_leave_out_nothing_but_spaces(text: str) -> None:
    rest, end = [], 0
    for token in tokens_of(text):
        assert end <= token.start < token.end
        rest.append(text[end : token.start])
        end = token.end
    assert not "".join((*rest, text[end:])).strip()


metres = st.integers(1, 99_999).map(lambda mm: mm / 1000)
sides = st.sampled_from(("n", "e", "s", "w"))
walls = sides | st.integers(0, 99).map(str)
alongs = st.none() | st.builds(Along, metres, st.none() | sides)
sizes = st.tuples(metres, metres)
names = st.sampled_from(
    ("Study", "Bedroom 2", "At work", "North room", "Lamp store", "s", "Tom's den", "Salle de bain",
     "2", "Ost & West", "x", "use it", "浴室")
)  # fmt: skip
details = {
    "height_m": st.none() | metres, "use": st.none() | st.sampled_from(USES),
    "role": st.none() | st.sampled_from(ROLES), "level": st.none() | st.integers(-9, 99),
}  # fmt: skip
cuts = st.none() | st.builds(Cut, sizes, st.sampled_from(("ne", "nw", "se", "sw")))
alone = st.builds(RoomWords, names, st.none() | sizes, cut=cuts, **details)
behind = st.builds(
    RoomWords, names, st.none() | sizes, cut=cuts, wall=st.none() | walls, along=alongs, **details
)
openings = st.builds(
    OpeningWords, behind, st.none() | walls, st.sampled_from(OPENING_KINDS), st.none() | metres,
    st.none() | metres, alongs, st.booleans(), st.booleans(), st.sampled_from((-1, 0, 1)),
)  # fmt: skip
windows = st.builds(
    WindowWords, walls, st.none() | metres, st.none() | metres, alongs, st.none() | metres
)
amounts = st.none() | st.integers(1, 99_999).map(float)
lamps = st.builds(
    LampWords, amounts, amounts, st.none() | st.sampled_from(AIMS),
    st.none() | st.sampled_from(ILLUMINANTS), st.none() | st.tuples(metres, metres, metres),
)  # fmt: skip
changes = st.builds(RoomWords, st.just(""), sizes, cut=cuts, **details)
kept = st.builds(
    FinishWords, st.sampled_from(("oak 10YR 6/4", "grey", "L 62 a 1 b 8")), st.booleans()
)
now = st.builds(NowWords, st.sampled_from(SURFACES), st.sampled_from(("white, worn", "#d9d0bf")))
meant = st.lists(
    st.one_of(alone, openings, windows, lamps, changes, kept, now), min_size=1, max_size=3
)


@given(st.floats(0.0, 300.0), st.floats(0.5, 50.0))
def test_more_watts_are_more_lumens(watts: float, more: float) -> None:
    assert lumens_of(watts + more) > lumens_of(watts)
    assert lumens_of(60.0) == 806.0


@given(meant, units)
def test_what_is_written_out_reads_back_as_the_same(meant: list[Clause], units: Units) -> None:
    text = write_line(meant, units)
    line = parse_line(text, units)
    assert line.fault is None, (text, line.fault)
    assert line.clauses == tuple(meant), text
