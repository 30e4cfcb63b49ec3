"""Work beside the keys: done in a thread, heard of where keys are handled."""

import asyncio
import gc
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget
from textual.worker import get_current_worker

from housemap.errors import HousemapError

T = TypeVar("T")
Then = Callable[[T], object]


@dataclass(eq=False, repr=False)
class Outcome(Message):
    """Something to do about what a thread has found; the screen does it."""

    do: Callable[[], object]


@dataclass(eq=False, repr=False)
class WorkFailed(Message):
    """Work ended with an error that nobody but the status line tells of."""

    fault: str


class WidgetRunner:
    def __init__(self, owner: Screen[None]) -> None:
        self._owner = owner

    def soon(self, call: Callable[[], None]) -> None:
        """After the next frame; at once where a covered screen will have none."""
        if self._owner.is_current:
            self._owner.call_after_refresh(call)
        else:
            self._owner.call_next(call)

    def after(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        # The event loop's own timer: one of Textual's costs a tenth of a key.
        return asyncio.get_running_loop().call_later(seconds, call).cancel

    def beside(self, group: str, work: Callable[[], None]) -> None:
        self._owner.run_worker(work, thread=True, group=group)

    def post(self, call: Callable[[], object]) -> None:
        self._owner.post_message(Outcome(call))


def work_beside(
    owner: Widget, group: str, work: Callable[[], T], then: Then[T],
    failed: Then[str] | None = None,
) -> None:  # fmt: skip
    """As `steps_beside`, of work that finds one thing."""
    steps_beside(owner, group, lambda: iter((work(),)), then, failed)


def steps_beside(
    owner: Widget, group: str, steps: Callable[[], Iterator[T]], then: Then[T],
    failed: Then[str] | None = None,
) -> None:  # fmt: skip
    """Run steps in a thread and have `then` called with each thing that they yield, until other
    work of the group is begun.

    An error is told by `failed`, else in the status line of the screen.
    """  # noqa: D205 - one sentence

    def run() -> None:
        worker = get_current_worker()
        try:
            for found in steps():
                if worker.is_cancelled:
                    return
                owner.post_message(Outcome(partial(then, found)))
        except HousemapError as error:
            fault = str(error)
            owner.post_message(Outcome(partial(failed, fault)) if failed else WorkFailed(fault))

    owner.run_worker(run, thread=True, exclusive=True, group=group)


class Dropped:
    """A signal for work that looks whether it is still needed; made in its thread."""

    def __init__(self) -> None:
        self._worker = get_current_worker()

    def is_set(self) -> bool:
        return self._worker.is_cancelled


def drop_work(owner: Widget, group: str) -> None:
    """Give up the work of a group; a step that is being made is finished and ignored."""
    owner.workers.cancel_group(owner, group)


COLLECT_AFTER = 10_000
"""New objects between two looks for garbage; Python's own 700 are a fraction of one frame."""


def settle_memory() -> None:
    """Collect garbage again (see `opening`), without looking at what is there now.

    Of a large house that would take a tenth of a second, in which no key is handled.
    """
    gc.freeze()
    gc.set_threshold(COLLECT_AFTER)
    gc.enable()
