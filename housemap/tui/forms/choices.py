"""Values that are chosen from a list, by typing part of a name or by arrows."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from housemap.model.house import House, Room
from housemap.model.shape import COMPASS, walls
from housemap.model.text import shown
from housemap.tui.forms.entries import refusal
from housemap.tui.survey.words import SIDE_WORDS

MOST_NAMED = 4
"""So many are named where a text fits several."""


@dataclass(frozen=True, slots=True)
class Option:
    """One of the values, and what it is called."""

    value: Any
    name: str
    other: str = ""
    """Another word for it, such as its id."""

    def fits(self, text: str) -> int:
        """How well a text names it: 4 its name, 3 its other word, 2 begun, 1 a part, 0 not."""
        name, other = self.name.casefold(), self.other.casefold()
        if text in {name, other}:
            return 4 if text == name else 3
        if name.startswith(text) or (other and other.startswith(text)):
            return 2
        return 1 if text in name else 0


@dataclass(frozen=True, slots=True)
class Chosen:
    """One of some options."""

    options: tuple[Option, ...]
    hint: str = "type, or choose with the arrows"
    blank: bool = False
    """Whether nothing may be chosen."""

    def text(self, value: Any) -> str:
        return next((o.name for o in self.options if o.value == value), str(value))

    def value(self, text: str) -> Any:
        found = self.fitting(text)
        if len(found) == 1:
            return found[0].value
        if not found:
            none = "there is none yet" if not self.options else "is none of them"
            raise refusal(f"{shown(text)} {none}")
        names = ", ".join(option.name for option in found[:MOST_NAMED])
        more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        raise refusal(f"which one: {names}{more}?")

    def fitting(self, text: str) -> list[Option]:
        """The options that a text may mean; one alone where it names that one."""
        plain = " ".join(text.casefold().split())
        best = max((option.fits(plain) for option in self.options), default=0)
        return [option for option in self.options if best and option.fits(plain) == best]

    def stepped(self, text: str, by: int) -> str:
        """The name of the option so many places on from the one that a text names."""
        names = [*([""] if self.blank else []), *(option.name for option in self.options)]
        if not self.options or (text.strip() == "" and not self.blank):
            return names[0 if by > 0 else -1] if names else text
        if text in names:
            return names[(names.index(text) + by) % len(names)]
        found = self.fitting(text)
        return found[0].name if found else names[0 if by > 0 else -1]


def words(values: Sequence[str]) -> Chosen:
    return Chosen(tuple(Option(each, each) for each in values))


YES_NO = Chosen((Option(True, "yes", "true"), Option(False, "no", "false")), "yes or no")  # noqa: FBT003 - the values


def named(house: House, table: str) -> Chosen:
    """The entities of a table by their names; ones of the same name also by their ids."""
    entities = getattr(house, table)
    names = [entity.name.casefold() for entity in entities.values()]
    options = (
        Option(
            key, f"{each.name} ({key})" if names.count(each.name.casefold()) > 1 else each.name, key
        )
        for key, each in entities.items()
    )
    return Chosen(tuple(options), "type part of a name, or choose with the arrows")


def walls_of(room: Room | None) -> Chosen:
    """The walls of a room, or those of any room without an outline."""
    keys = [wall.key for wall in walls(room)] if room else []
    return Chosen(tuple(Option(k, k, SIDE_WORDS.get(k, "")) for k in keys or COMPASS), "its wall")


@dataclass(frozen=True, slots=True)
class Several:
    """Some of a list, with commas between their names."""

    one: Chosen
    hint: str = "names, with commas between them"

    def text(self, value: Sequence[Any]) -> str:
        return ", ".join(self.one.text(each) for each in value)

    def value(self, text: str) -> tuple[Any, ...]:
        pieces = filter(str.strip, re.split(r"[,;]", text))
        return tuple(dict.fromkeys(self.one.value(each.strip()) for each in pieces))
