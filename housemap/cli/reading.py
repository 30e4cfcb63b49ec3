"""Reading house files for a command, with everything wrong with all of them listed at once."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from housemap.errors import InputError, Problem
from housemap.file.reader import read_house
from housemap.model.house import House

T = TypeVar("T")


def each_house(files: Iterable[Path], compute: Callable[[House], T]) -> list[tuple[str, T]]:
    """What `compute` makes of each house, beside its file's name. Raises InputError."""
    made: list[tuple[str, T]] = []
    problems: list[Problem] = []
    for file in files:
        try:
            made.append((str(file), compute(read_house(file))))
        except InputError as error:
            problems += (replace(p, file=p.file or str(file)) for p in error.problems)
    if problems:
        raise InputError(problems)
    return made


def one_house(file: Path, compute: Callable[[House], T]) -> T:
    """What `compute` makes of the house in `file`. Raises InputError."""
    [(_, made)] = each_house([file], compute)
    return made
