"""Completion and manual page come from the command table; misspelt words name the nearest."""

import shutil
import subprocess
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.cli.command import every_command
from housemap.file.save import save_house
from tests.support.houses import small_house


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_command_and_option_is_completed(
    shell: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["completion", shell]) == 0
    text = capsys.readouterr().out
    assert all(command.name in text for command in every_command())
    assert "json" in text


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shell_reads_it(shell: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not there")
    main(["completion", shell])
    script = tmp_path / "completion"
    script.write_text(capsys.readouterr().out)
    assert subprocess.run([shell, "-n", script], check=False).returncode == 0


def test_bash_completes_a_command_and_an_option(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["completion", "bash"])
    asks = (
        "COMP_WORDS=(housemap sch) COMP_CWORD=1; _housemap; echo ${COMPREPLY[@]};"
        "COMP_WORDS=(housemap rank --surf) COMP_CWORD=2; _housemap; echo ${COMPREPLY[@]}"
    )
    script = f"{capsys.readouterr().out}\n{asks}"
    ran = subprocess.run(
        ["bash", "-c", script], check=True, capture_output=True, text=True, cwd=tmp_path
    )
    first, second = ran.stdout.splitlines()
    assert "schedule" in first.split()
    assert second == "--surface"


def test_the_manual_page_has_a_section_for_every_command(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["man"]) == 0
    page = capsys.readouterr().out
    assert all(f".SS {command.name}" in page for command in every_command())
    assert not [line for line in page.splitlines() if line.startswith("'")]


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (["chek", "{}"], "did you mean check?"),
        (["rank", "{}", "hal"], "the nearest is hall"),
        (["fill", "{}", "--keep", "stdy"], "the nearest is study"),
        (["guide", "key"], "the nearest is keys"),
        (["scheme", "mos", "--house", "{}"], "the nearest is moss"),
    ],
)
def test_a_misspelt_word_names_the_nearest(
    words: list[str], near: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = tmp_path / "house.toml"
    save_house(small_house(), house)
    assert main([word.format(house) for word in words]) == 2
    assert near in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (["check", "house.toml", "--jsno"], "--json"),
        (["schedule", "house.toml", "--issu"], "--issue"),
        (["schedule", "house.toml", "--for", "paintr"], "painter"),
        (["check", "house.toml", "--fail-on", "falt"], "fault"),
        (["completion", "bsh"], "bash"),
    ],
)
def test_a_misspelt_option_or_choice_names_the_nearest_and_does_nothing(
    words: list[str], near: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Half an option is none: "--issu" must not write to the house."""
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    assert f"did you mean {near}?" in capsys.readouterr().err
