"""Commands write over nothing that they did not make; earlier saves are listed and removed."""

import json
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.file.earlier_saves import earlier_saves, keep_save
from housemap.file.save import save_house
from housemap.model.house import House
from tests.support.houses import small_house


@pytest.fixture(autouse=True)
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    return tmp_path / "state"


@pytest.fixture
def house(tmp_path: Path) -> str:
    save_house(small_house(), tmp_path / "house.toml")
    return str(tmp_path / "house.toml")


COMMANDS = (
    (["view", "hall"], "view.png"),
    (["schedule"], "paint.html"),
    (["fill"], "filled.toml"),
    (["deck"], "deck.toml"),
    (["scheme", "--sets", "1", "--kind", "tonal", "10YR 7/1", "--house"], "card.html"),
)


@pytest.mark.parametrize(("words", "name"), COMMANDS, ids=lambda each: str(each[0]))
def test_a_command_writes_again_what_it_made_and_nothing_else(
    words: list[str], name: str, house: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    placed = [*words, house] if words[-1] == "--house" else [words[0], house, *words[1:]]
    out = tmp_path / f"\x1b[31m{name}"
    command = [*placed, "-o", str(out)]
    assert main(command) == 0
    assert "\x1b" not in "".join(capsys.readouterr()), "a name is cleaned before it is shown"
    made = out.read_bytes()
    assert main(command) == 0
    out.write_bytes(made + b"\n")
    capsys.readouterr()
    assert main(command) == 2
    assert f'{name}": is there already' in capsys.readouterr().err
    assert out.read_bytes() == made + b"\n"
    assert main([*command, "--force"]) == 0


def test_fill_does_not_write_over_the_house_that_it_fills(
    house: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = Path(house).read_bytes()
    assert main(["fill", house, "-o", house]) == 2
    assert "add --force" in capsys.readouterr().err
    assert Path(house).read_bytes() == before


def test_what_is_remembered_says_nothing_of_a_client(
    house: str, tmp_path: Path, state: Path
) -> None:
    out = tmp_path / "a-clients-name.md"
    assert main(["schedule", house, "-o", str(out)]) == 0
    remembered = (state / "written.txt").read_text()
    assert len(remembered) == 64
    assert (state / "written.txt").stat().st_mode & 0o777 == 0o600


def test_earlier_saves_are_listed_and_removed(
    house: str, tmp_path: Path, state: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["saves"]) == 0
    assert capsys.readouterr().out == "no earlier saves\n"
    other = tmp_path / "other.toml"
    save_house(House("Other"), other)
    for file in (house, other):
        keep_save(state, file)
    assert main(["saves", house]) == 0
    told = capsys.readouterr().out
    assert str(earlier_saves(state, house)[0].path) in told
    assert "none longer than 180 days" in told
    assert main(["saves", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert {each["file"]: len(each["saves"]) for each in listed["files"]} == {
        house: 1, str(other): 1,
    }  # fmt: skip
    assert main(["saves", house, "--remove"]) == 0
    assert capsys.readouterr().out == "removed 1 earlier save\n"
    assert earlier_saves(state, house) == ()
    assert main(["saves", "--remove"]) == 0
    assert earlier_saves(state, other) == ()
