"""Work beside the screen that tells its progress by messages and is dropped when not wanted."""

import asyncio
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from textual.message import Message
from textual.widget import Widget
from textual.worker import get_current_worker

from housemap.errors import HousemapError
from housemap.workbench.reporting import Reported
from housemap.workbench.room_detail import RoomDetailed


@dataclass
class ReportReady(Message):
    """A report was made beside the keys, or could not be made."""

    outcome: Reported


@dataclass
class RoomReady(Message):
    """The details of a room were computed beside the keys, or could not be."""

    outcome: RoomDetailed


class WidgetRunner:
    """Runs the work of the workbench for a widget, which gets the outcomes as messages."""

    def __init__(self, owner: Widget) -> None:
        self._owner = owner

    def soon(self, call: Callable[[], None]) -> None:
        """After the next frame; at once where a covered screen will have none."""
        if self._owner.screen.is_current:
            self._owner.call_after_refresh(call)
        else:
            self._owner.call_next(call)

    def after(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        # The event loop's own timer: one of Textual's costs a tenth of a key.
        return asyncio.get_running_loop().call_later(seconds, call).cancel

    def beside(self, group: str, work: Callable[[], None]) -> None:
        self._owner.run_worker(work, thread=True, group=group)

    def post(self, outcome: object) -> None:
        match outcome:
            case Reported():
                self._owner.post_message(ReportReady(outcome))
            case RoomDetailed():
                self._owner.post_message(RoomReady(outcome))
            case _:
                raise TypeError(outcome)


@dataclass
class WorkFailed(Message):
    """Work of a group ended with an error that is told in one line."""

    group: str
    fault: str


def work_beside(owner: Widget, group: str, steps: Callable[[], Iterator[Message]]) -> None:
    """Run steps in a thread and post to `owner` what they yield, until other work of the group
    is asked for.
    """  # noqa: D205 - one sentence

    def run() -> None:
        worker = get_current_worker()
        try:
            for message in steps():
                if worker.is_cancelled:
                    return
                owner.post_message(message)
        except HousemapError as error:
            owner.post_message(WorkFailed(group, str(error)))

    owner.run_worker(run, thread=True, exclusive=True, group=group)


class Dropped:
    """A signal for work that looks whether it is still wanted; made in its thread."""

    def __init__(self) -> None:
        self._worker = get_current_worker()

    def is_set(self) -> bool:
        return self._worker.is_cancelled


def drop_work(owner: Widget, group: str) -> None:
    """Give up the work of a group; a step that is being made is finished and not told."""
    owner.workers.cancel_group(owner, group)
