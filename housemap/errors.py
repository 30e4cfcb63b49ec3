"""Every error that housemap raises on purpose.

HousemapError
├── InputError            the input cannot be used; carries one Problem a line (exit status 2)
│   └── HouseFileError    a house file that cannot be read or written
│       └── ChangedOnDiskError  a house file that is not the one that was read
│           └── FileGoneError  a house file that was deleted or renamed since
├── EditError             an edit that does not fit the house (unknown id, id taken, still in use)
└── ColourError           a colour that has no meaning (unknown illuminant, notation off the scale)
"""

from collections.abc import Iterable
from typing import NamedTuple, Self


class HousemapError(Exception):
    """Base of all errors below; its text is one clear line for a person."""


class Problem(NamedTuple):
    """One thing wrong with an input: where it is and what would be right."""

    text: str
    """One phrase, such as 'room "kitchen": height must be above 0, found -2.4'."""
    path: tuple[str, ...] = ()
    """The keys that lead to it, such as ("room", "kitchen", "height"); empty if there is none."""
    file: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {self.text}" if place else self.text


class InputError(HousemapError):
    """An input that cannot be used, with everything that is wrong with it."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))

    @classmethod
    def of(cls, text: str, file: str = "", line: int | None = None) -> Self:
        """With one thing that is wrong."""
        return cls([Problem(text, file=file, line=line)])


class HouseFileError(InputError):
    """A house file that cannot be read or written."""


class ChangedOnDiskError(HouseFileError):
    """A house file that somebody else has written since it was read; nothing was overwritten."""


class FileGoneError(ChangedOnDiskError):
    """A house file that is not there any more; nothing was written."""


class EditError(HousemapError):
    """An edit that does not fit the house it was applied to."""


class ColourError(HousemapError):
    """A colour that has no meaning."""
