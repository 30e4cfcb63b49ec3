"""A deck is a TOML file of paints, read quickly and exactly, written whole or not at all."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.notation_deck import notation_deck
from housemap.errors import ChangedOnDiskError, HouseFileError, InputError
from housemap.file import deck_file
from housemap.file.deck_file import (
    DeckFile,
    deck_files,
    deck_path,
    dump_deck,
    find_deck,
    parse_deck,
    read_deck,
    read_deck_file,
    save_deck,
)
from housemap.file.save import NEW_FILE, save_house
from housemap.file.writer import dump_house
from housemap.model.house import House, Lab, Paint, Reflectance, Srgb
from tests.support.strategies import ids, paints

decks = st.dictionaries(ids, paints, max_size=6)


@given(decks)
def test_a_deck_that_was_written_reads_back_equal_and_in_order(deck: dict[str, Paint]) -> None:
    text = dump_deck(deck)
    assert parse_deck(text) == deck
    assert list(parse_deck(text)) == list(deck)


def test_the_notation_deck_can_be_kept_as_a_file() -> None:
    assert parse_deck(dump_deck(notation_deck())) == notation_deck()


def test_format_may_be_missing_and_comments_may_stand_anywhere() -> None:
    text = '# our fan\n[paint.oat]\nname = "Oat" # pale\nsrgb = "#D9D0BF"\n'
    assert parse_deck(text) == {"oat": Paint("Oat", Srgb("#d9d0bf"))}


def test_the_paints_of_a_house_file_are_a_deck() -> None:
    oat = Paint("Oat", Lab((84.0, 1.0, 9.0), "D50/2"))
    assert parse_deck(dump_house(House(name="Alder Row 12", paints={"oat": oat}))) == {"oat": oat}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[paint.oat]\nname = "Oat"\nsrgb = "#d9d0b"\n', "deck.toml:3: "),
        ('[paint.oat]\nsrgb = "#d9d0bf"\n', "deck.toml:1: "),
        ('format = 2\n[paint.oat]\nname = "Oat"\n', "deck.toml:1: format 2 is newer"),
        ('[paints.oat]\nname = "Oat"\n', "deck.toml:1: .*the nearest one is paint"),
        ('[paint.oat]\nname = "Oat\n', "deck.toml:2: not TOML"),
        ('[paint.oat]\nname = "Oat"\nlrv = 640\nsrgb = "#d9d0bf"\n', "deck.toml:3: "),
        ('[paint.oat]\nname = "Oat"\nlvr = 64\nsrgb = "#d9d0bf"\n', "nearest one is lrv"),
    ],
)
def test_what_is_wrong_with_a_deck_is_told_with_its_line(text: str, message: str) -> None:
    with pytest.raises(HouseFileError, match=message):
        parse_deck(text, "deck.toml")


def table(name: str) -> str:
    return f'[paint.{name}]\nname = "{name}"\nsrgb = "#d9d0bf"\n'


A, B, C = map(table, "abc")


@pytest.mark.parametrize(
    "text",
    [
        dump_deck(notation_deck()),
        f"format = 1\n{A}\n{B}\n{C}",
        f'{A}notes = """\n{B}\n{C}"""\n',
        f"{A}\n{B}\n{C}\n{A}",
        f"{A}\n{B}\n{C}lvr = 60\n",
        f"{A}lrv = [\n{B}\n{C}",
        f"{A}\n{B}\n{C}\n[room.hall]\nname = 1\n",
        f"{A}\n{B}\n{C}".replace("\n", "\r\n"),
    ],
)
def test_a_deck_that_two_processes_read_is_as_it_is_read_by_one(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = outcome(text)
    monkeypatch.setattr(deck_file, "LARGE", 1)
    assert outcome(text) == whole


def outcome(text: str) -> list[tuple[str, Paint]] | str:
    try:
        return [*parse_deck(text).items()]
    except HouseFileError as error:
        return str(error)


def test_everything_wrong_is_told_at_once() -> None:
    text = '[paint.oat]\nname = 1\nsrgb = "#d9d0bf"\n\n[paint.moss]\nname = "Moss"\nlrv = "x"\n'
    with pytest.raises(HouseFileError) as error:
        parse_deck(text)
    assert [problem.line for problem in error.value.problems] == [2, 5, 7]


def test_a_deck_is_saved_and_read_from_the_disk(tmp_path: Path) -> None:
    path = tmp_path / "fan.toml"
    deck = {"oat": Paint("Oat", Srgb("#d9d0bf"), notes="by the\ndoor")}
    save_deck(deck, path)
    assert read_deck(path) == deck
    assert path.read_text("utf-8").startswith("format = 1\n\n[paint.oat]\n")


def test_a_deck_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    with pytest.raises(HouseFileError, match="cannot be read"):
        read_deck(tmp_path / "nothing.toml")
    large = tmp_path / "large.toml"
    with large.open("wb") as file:
        file.truncate(100 * 2**20)
    with pytest.raises(HouseFileError, match="too large: a deck is at most 32 MiB"):
        read_deck(large)


def test_a_deck_too_large_for_a_house_file_is_saved_and_read(tmp_path: Path) -> None:
    spectrum = Reflectance(380.0, 0.5, tuple(0.123456789 + i / 10_000 for i in range(810)))
    deck = {f"p-{i}": Paint(f"Paint {i}", spectrum) for i in range(250)}
    path = tmp_path / "large.toml"
    save_deck(deck, path)
    assert path.stat().st_size > 2 * 2**20
    assert read_deck(path) == deck


def test_a_large_deck_is_found_again_in_the_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As it was read, with what is wrong in its line; another text is read anew."""
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path / "cache"))
    text = dump_deck({f"p-{i}": Paint(f"Sea {i}", Srgb("#aabbcc")) for i in range(6000)})
    wrong = text.replace('"Sea 5"', '"Sea\\u200b"')
    assert len(text) > deck_file.LARGE
    for _ in "12":
        assert parse_deck(text) == parse_deck(text)
        with pytest.raises(HouseFileError, match=r":24: .*hidden character"):
            parse_deck(wrong)
        monkeypatch.delattr(deck_file, "parse_toml", raising=False)
    with pytest.raises(NameError):
        parse_deck(text + "\n")


def test_a_deck_of_more_paints_than_can_be_read_is_not_written(tmp_path: Path) -> None:
    oat = Paint("Oat", Srgb("#d9d0bf"))
    path = tmp_path / "fan.toml"
    with pytest.raises(HouseFileError, match="at most 50,000 paints"):
        save_deck({f"p-{i}": oat for i in range(50_001)}, path)
    assert not path.exists()


def test_a_deck_is_not_written_over_another_where_a_new_file_is_expected(tmp_path: Path) -> None:
    path = tmp_path / "fan.toml"
    save_deck({"oat": Paint("Oat", Srgb("#d9d0bf"))}, path)
    with pytest.raises(ChangedOnDiskError):
        save_deck({}, path, expected=NEW_FILE)
    assert list(read_deck(path)) == ["oat"]


# Decks are asked for by name or path; the built-in one is always there.

OAT = {"oat": Paint("Oat", Srgb("#d9d0bf"))}
BUILT_IN = "notation"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("Fan 12", "autumn"):
        path = deck_path(tmp_path, name, BUILT_IN)
        path.parent.mkdir(exist_ok=True)
        save_deck(OAT, path)
    return tmp_path


def test_the_built_in_deck_comes_first_then_the_users_own_by_name(folder: Path) -> None:
    assert [deck.name for deck in deck_files(folder, BUILT_IN)] == ["notation", "autumn", "Fan 12"]


def test_without_a_folder_there_is_the_built_in_deck(tmp_path: Path) -> None:
    assert deck_files(tmp_path / "none", BUILT_IN) == (DeckFile(BUILT_IN, None),)


def test_a_deck_is_found_by_its_name_in_any_case(folder: Path) -> None:
    deck = find_deck("fan 12", folder, BUILT_IN)
    assert deck.name == "Fan 12"
    assert read_deck_file(deck, {}) == OAT
    assert read_deck_file(find_deck("NOTATION", folder, BUILT_IN), {"n": OAT["oat"]}) == {
        "n": OAT["oat"]
    }


def test_any_deck_or_house_file_is_found_by_its_path(folder: Path) -> None:
    path = folder / "house.toml"
    save_house(House(paints=OAT), path)
    assert read_deck_file(find_deck(str(path), folder, BUILT_IN), {}) == OAT


def test_a_deck_that_is_not_there_is_told_with_those_that_are(folder: Path) -> None:
    with pytest.raises(InputError, match=r'no deck "spring".*notation, autumn, Fan 12'):
        find_deck("spring", folder, BUILT_IN)
    with pytest.raises(InputError, match="no deck"):
        find_deck("a\0b", folder, BUILT_IN)


def test_a_house_without_paints_is_no_deck(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(House(name="Empty"), path)
    with pytest.raises(InputError, match="holds no paint"):
        read_deck_file(find_deck(str(path), tmp_path, BUILT_IN), {})


@pytest.mark.parametrize(
    "name", ["", "../fan", "a/b", ".hidden", "Notation", "x" * 61, "a\nb", "~", "a\0"]
)
def test_a_name_that_leads_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError) as error:
        deck_path(tmp_path, name, BUILT_IN)
    assert "\n" not in str(error.value)
