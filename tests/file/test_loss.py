"""Nothing is lost, tried a few times; `python -m tests.support.loss` tries it by the thousand."""

from pathlib import Path
from random import Random

from tests.support.loss import kill, race


def test_no_save_of_another_program_is_lost_to_ours(tmp_path: Path) -> None:
    random = Random(5)
    outcomes = {race(tmp_path, random) for _ in range(40)}
    assert outcomes == {"saved", "refused"}


def test_no_edit_that_was_shown_for_a_second_is_lost_to_a_kill(tmp_path: Path) -> None:
    random = Random(6)
    for number in range(3):
        folder = tmp_path / str(number)
        folder.mkdir()
        kill(folder, random)
