"""Whatever is typed as a path is one, and whether it is there can be asked of any."""

from pathlib import Path

import pytest

from housemap.errors import InputError
from housemap.file.deck_file import find_deck
from housemap.file.paths import house_path, is_there, typed_path


def test_a_tilde_is_the_own_home_and_that_of_nobody_is_kept() -> None:
    assert typed_path("~/house.toml") == Path.home() / "house.toml"
    assert typed_path("~nosuchuser/a.toml") == Path("~nosuchuser/a.toml")


def test_a_bare_name_is_a_house_file_beside_the_one_that_is_open() -> None:
    old = Path("/houses/old.toml")
    assert house_path("mill lane", old) == Path("/houses/mill lane.toml")
    assert house_path("mill.toml", old) == Path("/houses/mill.toml")
    assert house_path("/else/mill", old) == Path("/else/mill.toml")
    assert house_path("./mill", old) == house_path("mill") == Path("mill.toml")


@pytest.mark.parametrize("name", ["a" * 5000, "\0", "no such file"])
def test_a_name_that_no_file_can_have_is_not_there(name: str) -> None:
    assert not is_there(Path(name))


@pytest.mark.parametrize("name", ["a" * 5000, "~nosuchuser/deck.csv"])
def test_no_name_of_a_deck_ends_in_a_traceback(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no deck"):
        find_deck(name, tmp_path, "notation")
