"""What a command of the command line is, its parser, and all of them by name."""

import re
from argparse import (
    Action,
    ArgumentParser,
    ArgumentTypeError,
    Namespace,
    RawDescriptionHelpFormatter,
)
from collections.abc import Callable, Iterable, Mapping, Sequence
from difflib import get_close_matches
from functools import cache, partial
from importlib import import_module
from math import isfinite
from pathlib import Path
from typing import Any, NamedTuple, NoReturn, TypeVar

T = TypeVar("T")

DONE = 0
FOUND = 1
UNUSABLE = 2
INTERRUPTED = 130
"""Exit statuses: done, done and something found, the input could not be used; ended by ctrl+c, as
shells have it."""


class Argument(NamedTuple):
    """What may be typed behind a command: its name or options, and the rest for `argparse`."""

    names: tuple[str, ...]
    options: Mapping[str, Any]


def arg(names: str, text: str, **options: Any) -> Argument:
    """What may be typed, as in "-o --out FILE", and what it is for; the rest is for `argparse`.

    An option of which no more is said is a switch.
    """
    first, *more = names.split()
    typed = (first, *(each for each in more if each.startswith("-")))
    metavar = [each for each in more if not each.startswith("-")]
    if metavar:
        options["metavar"] = metavar[0]
    elif first.startswith("-") and not options:
        options["action"] = "store_true"
    return Argument(typed, {"help": text, **options})


def reads(demand: str) -> Callable[[Callable[[str], T]], Callable[[str], T]]:
    """Marks what reads the value of an option: its ValueError becomes the demand."""

    def checked(read: Callable[[str], T], text: str) -> T:
        try:
            return read(text)
        except ValueError:
            raise ArgumentTypeError(f"{demand}, found {text!r}") from None

    return lambda read: partial(checked, read)


def finite(text: str) -> float:
    """Raises ValueError for what is no number of use."""
    value = float(text)
    if not isfinite(value):
        raise ValueError(text)
    return value


@reads("must be a whole number above 0")
def whole_number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and int(text)):
        raise ValueError(text)
    return int(text)


HOUSE = arg("file FILE", "a house file", type=Path)
FORCE = arg("--force", "write over a file that is there")
OneOf = tuple[Argument, ...]
"""Options of which only one may be given."""


class Command(NamedTuple):
    """One command; its module is imported when it is asked for."""

    name: str
    summary: str
    examples: tuple[str, ...]
    run: Callable[[Namespace], int]
    arguments: tuple[Argument | OneOf, ...] = ()
    """Every command but that without a name takes --json too."""


MODULES: Mapping[str, str] = {
    "survey": "survey", "check": "check", "facts": "facts", "sight": "sight", "rank": "rank",
    "fill": "fill", "view": "view", "schedule": "schedule", "scheme": "scheme", "diff": "merge",
    "merge": "merge", "saves": "saves", "deck": "deck", "guide": "guide", "about": "about",
    "completion": "shell", "man": "shell",
}  # fmt: skip
"""The module of each command by its name, in the order in which help lists them."""


@cache
def command_of(name: str) -> Command:
    """The command of that name, one of MODULES: its module has it in capitals."""
    module = import_module(f"housemap.cli.{MODULES[name]}")
    command: Command = getattr(module, name.upper())
    return command


def every_command() -> tuple[Command, ...]:
    return tuple(map(command_of, MODULES))


def nearest_word(word: str, known: Iterable[str]) -> str | None:
    """The one that was probably meant."""
    return next(iter(get_close_matches(word, [*known], 1, 0.6)), None)


class Parser(ArgumentParser):
    """The parser of one command; its help is put together when somebody asks for it."""

    def __init__(self, command: Command) -> None:
        super().__init__(
            prog=f"housemap {command.name}".strip(),
            description=command.summary,
            formatter_class=RawDescriptionHelpFormatter,
            allow_abbrev=False,  # half an option must not write a file
        )
        self.command = command
        json = (arg("--json", "print JSON and nothing else"),) if command.name else ()
        for each in (*command.arguments, *json):
            several = (each,) if isinstance(each, Argument) else each
            into = self if isinstance(each, Argument) else self.add_mutually_exclusive_group()
            for names, options in several:
                into.add_argument(*names, **options)

    @property
    def actions(self) -> Sequence[Action]:
        """All that may be typed behind the command."""
        return self._actions

    @property
    def options(self) -> list[str]:
        return [option for action in self._actions for option in action.option_strings]

    def error(self, message: str) -> NoReturn:
        """Name the option, or the choice, that was probably meant."""
        unknown, options = message.partition("unrecognized arguments: ")[2].split(), self.options
        wrong = next((word.partition("=")[0] for word in unknown if word.startswith("--")), "")
        if chosen := re.search(r"invalid choice: '(.*)' \(choose from (.*)\)", message):
            wrong, options = chosen[1], re.findall(r"[\w-]+", chosen[2])
        near = nearest_word(wrong, options) if wrong else None
        super().error(f"{message}; did you mean {near}?" if near else message)

    def format_help(self) -> str:
        command = self.command
        lines = ["examples:", *(f"  {example}" for example in command.examples)]
        if not command.name:
            lines += ["", "commands (each has its own --help):"]
            lines += (f"  {each.name:10} {each.summary}" for each in every_command())
        self.epilog = "\n".join(lines)
        return super().format_help()
