"""The survey of the open house: what a line means in it, and the lines typed so far."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.plan.house_graph import graph_of
from housemap.plan.placing import place
from housemap.workbench.session import Session
from housemap.workbench.survey.grammar import WordError, parse_line
from housemap.workbench.survey.meaning import Meaning, meaning_of
from housemap.workbench.survey.vocabulary import Fault, Hint, Line


def troubles_of(house: House, plan: Plan) -> tuple[str, ...]:
    """What does not add up: loops, rooms in each other, walls that do not meet, sightlines."""
    from housemap.checks.pages.records import (  # noqa: PLC0415 - numpy, after the first frame
        CLOSING,
        contradictions_in,
    )

    limit = CLOSING.limits_in(house)["loop"]
    found = contradictions_in(house, graph_of(house), plan, limit)
    return tuple(CLOSING.describe(finding, house) for finding in found)


_LAST_WORD = re.compile(r"[^\W\d_][^\s;>@]*$")


class Reading(NamedTuple):
    """A line as it stands, and what it means where it can be made out."""

    line: Line
    meaning: Meaning | None = None
    """What entering the line would do; None where there is a fault, or nothing."""
    fault: Fault | None = None

    @property
    def text(self) -> str:
        return self.line.text

    @property
    def wrong(self) -> bool:
        """Whether something is wrong with it, beyond not being finished."""
        return self.fault is not None and not self.fault.unfinished


@dataclass(slots=True)
class Past:
    """The lines entered so far, walked by up and down; the line being typed waits at the end."""

    lines: tuple[str, ...] = ()
    _place: int = 0
    _waiting: str = ""

    def add(self, text: str) -> None:
        if self.lines[-1:] != (text,):
            self.lines = (*self.lines, text)
        self._place, self._waiting = len(self.lines), ""

    def step(self, by: int, text: str) -> str:
        """The line so many places on (below 0: earlier), `text` being the one on show."""
        if self._place == len(self.lines):
            self._waiting = text
        self._place = min(max(self._place + by, 0), len(self.lines))
        return self._waiting if self._place == len(self.lines) else self.lines[self._place]


class Entry(NamedTuple):
    """A line of many that was entered, or what is wrong with it."""

    number: int
    """From 1."""
    text: str
    phrases: tuple[str, ...] = ()
    """What was understood, a phrase each."""
    troubles: tuple[str, ...] = ()
    """What contradicts itself in the house since this line."""
    fault: Fault | None = None

    @property
    def fault_text(self) -> str:
        """What is wrong, behind the column where it is."""
        return f"column {self.fault.start + 1}: {self.fault.text}" if self.fault else ""


def pasted_lines(text: str) -> Sequence[str]:
    """The lines of a text, without empty ones at its end; at least one, perhaps an empty one."""
    return text.rstrip().splitlines() or [""]


class Surveyor:
    """Reads lines against a session; the session is changed by whoever asks."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.past = Past()
        self.kept = ""
        """What had been typed when the line was left."""
        self.waiting: tuple[str, ...] = ()
        """Lines that were pasted behind it."""
        self._troubles: tuple[tuple[House, tuple[str, ...]], ...] = ()

    @property
    def room(self) -> str | None:
        """The room that lines are about."""
        room = self.session.selection.room
        return room if room in self.session.house.rooms else None

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(room.name for room in self.session.house.rooms.values()))

    def parse(self, text: str) -> Line:
        """The line by its words alone, which is quick."""
        return parse_line(text, self.session.house.units, self.names)

    def read(self, text: str) -> Reading:
        """The line in the house as it is decided."""
        line = self.parse(text)
        if line.fault or not line.clauses:
            return Reading(line, None, line.fault)
        try:
            return Reading(line, meaning_of(line, self.session.house, self.room))
        except WordError as error:
            return Reading(line, None, error.fault)

    def enter(self, number: int, text: str) -> Entry:
        """Change the house as a line says, and go to its room; a line with a fault does nothing."""
        reading = self.read(text)
        meaning = reading.meaning
        if reading.fault or meaning is None:
            return Entry(number, text, fault=reading.fault)
        troubles = self.new_troubles(meaning.house)
        self.session.apply(meaning.house, meaning.label)
        if meaning.home is not None:
            self.session.select(meaning.home)
        return Entry(number, text, meaning.phrases, troubles)

    def enter_all(self, lines: Iterable[str]) -> Iterator[Entry]:
        """Enter many lines; empty ones and those that begin with # say nothing."""
        for number, line in enumerate(lines, 1):
            if line.strip() and not line.lstrip().startswith("#"):
                yield self.enter(number, line)

    def troubles(self) -> tuple[str, ...]:
        """What contradicts itself in the house on show."""
        return self._troubles_in(self.session.shown)

    def new_troubles(self, house: House) -> tuple[str, ...]:
        """The contradictions that a house has and the decided one has not."""
        if house is self.session.house:
            return ()
        before = set(self._troubles_in(self.session.house))
        return tuple(each for each in self._troubles_in(house) if each not in before)

    def _troubles_in(self, house: House) -> tuple[str, ...]:
        """Of the two houses asked about last it is known already."""
        known = next((each for each in self._troubles if each[0] is house), None)
        known = known or (house, troubles_of(house, place(house)))
        others = [each for each in self._troubles if each[0] is not house]
        self._troubles = (known, *others[:1])
        return known[1]

    # What may come next

    def hints(self, text: str) -> tuple[Hint, ...]:
        """How the last word may go on, then what may follow it."""
        return tuple(dict.fromkeys((*self._endings(text), *self.parse(text).hints)))

    def completed(self, text: str) -> str | None:
        """The text with its last word written out; None where no word begins so."""
        ending = next(self._endings(text), None)
        if ending is None or ending.start is None:
            return None
        return f"{text[: ending.start]}{ending.text} "

    def _endings(self, text: str) -> Iterator[Hint]:
        """Words and names that begin with what is typed last, and go on."""
        found = _LAST_WORD.search(text)
        if not found:
            return
        typed = found[0].casefold()
        for hint in (*self.parse(text).hints, *self.parse(text[: found.start()]).hints):
            start = found.start() if hint.start is None else hint.start
            whole = text[start:].casefold()
            begun = hint.text.casefold().startswith(whole) and len(hint.text) > len(whole)
            if whole and typed and begun and not hint.example:
                yield Hint(hint.text, hint.note, start)
