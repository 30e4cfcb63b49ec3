"""Work in another process: what it finds comes back, and nothing where it cannot be done."""

import os
from threading import Thread
from typing import NoReturn

import pytest

from housemap.file import processes
from housemap.file.processes import begin_apart, in_two

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no other process to be had")


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "cores", lambda: 2)


def refused() -> NoReturn:
    raise BlockingIOError(11, "Resource temporarily unavailable")


def test_another_process_works_and_what_it_found_comes_back() -> None:
    large = "x" * 1_000_000
    begun = [begin_apart(lambda: (os.getpid(), large)) for _ in range(2)]
    found = [each() for each in begun]
    assert len({os.getpid(), *(each[0] for each in found if each)}) == 3
    assert all(each and each[1] == large for each in found)


def test_what_fails_there_is_left_to_who_asked() -> None:
    assert begin_apart(refused)() is None
    assert begin_apart(lambda: lambda: None)() is None, "a function cannot be sent"


def test_in_two_processes_each_is_made_once_and_comes_in_its_order() -> None:
    here = os.getpid()
    for count in range(7):
        made = in_two(lambda item: (item, os.getpid() == here), range(count), worth=4)
        mine = [place < count // 2 or count < 4 for place in range(count)]
        assert made == [*enumerate(mine)]
    calls = in_two(lambda item: (item, lambda: None), range(6), worth=2)
    assert [item for item, _ in calls] == [*range(6)], "what cannot be sent is made here"


def test_nothing_is_begun_where_nothing_would_be_gained(monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[object] = []
    beside = Thread(target=lambda: found.append(begin_apart(os.getpid)()))
    beside.start()
    beside.join()
    monkeypatch.setattr(os, "fork", refused)
    found.append(begin_apart(os.getpid)())
    monkeypatch.setattr(processes, "cores", lambda: 1)
    found.append(begin_apart(os.getpid)())
    assert found == [None, None, None]
