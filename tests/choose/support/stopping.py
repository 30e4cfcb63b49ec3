"""Signals to stop that do not depend on time."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from housemap.choose.optimiser import incumbent


class After:
    """A signal that is set after it was looked at so many times."""

    def __init__(self, looks: int) -> None:
        self.looks = looks

    def is_set(self) -> bool:
        self.looks -= 1
        return self.looks < 0


@contextmanager
def always_looked_at() -> Iterator[None]:
    """The signal is looked at by every poll, not now and then."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(incumbent, "LOOK_SECONDS", 0.0)
        yield
