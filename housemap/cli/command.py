"""What a command of the command line is."""

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import dataclass

DONE = 0
FOUND = 1
UNUSABLE = 2
INTERRUPTED = 130
"""Exit statuses: done, done and something found, the input could not be used; ended by ctrl+c, as
shells have it."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command; its module is imported when it is asked for (`every.MODULES`)."""

    name: str
    summary: str
    examples: tuple[str, ...]
    arguments: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], int]
