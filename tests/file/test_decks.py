"""Decks are asked for by name or path; the built-in one is always there."""

from pathlib import Path

import pytest

from housemap.errors import InputError
from housemap.file import save_house
from housemap.file.deck_file import save_deck
from housemap.file.decks import DeckFile, deck_files, deck_path, find_deck, read_deck_file
from housemap.model.colour import Srgb
from housemap.model.house import House, Paint

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
