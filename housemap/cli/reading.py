"""Reading house files for a command, with everything wrong with all of them listed at once."""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

from housemap.errors import InputError, Problem
from housemap.file.reader import load_house, placed, printable
from housemap.model.house import House

S = TypeVar("S")
T = TypeVar("T")


def each_of(items: Iterable[S], make: Callable[[S], T]) -> list[T]:
    """What `make` makes of each. Raises InputError with all that is wrong with any of them."""
    made: list[T] = []
    problems: list[Problem] = []
    for item in items:
        try:
            made.append(make(item))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return made


def each_house(files: Iterable[Path], compute: Callable[[House], T]) -> list[tuple[str, T]]:
    """What `compute` makes of each house, beside its file's name. Raises InputError."""

    def make(file: Path) -> tuple[str, T]:
        held = load_house(file)
        try:
            return str(file), compute(held.house)
        except InputError as error:
            raise InputError(placed(error.problems, held.text, printable(str(file)))) from error

    return each_of(files, make)


def one_house(file: Path, compute: Callable[[House], T]) -> T:
    """What `compute` makes of the house in `file`. Raises InputError."""
    [(_, made)] = each_house([file], compute)
    return made
