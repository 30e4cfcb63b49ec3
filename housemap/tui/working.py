"""Work beside the screen that tells its progress by messages and is dropped when not wanted."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from textual.message import Message
from textual.widget import Widget
from textual.worker import get_current_worker

from housemap.errors import HousemapError


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
