"""What a command of the program is: a line of the table in `commands`."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from housemap.workbench.session import Session

Keymap = Mapping[str, tuple[str, ...]]
"""The user's own keys, by command id."""


@dataclass(frozen=True, slots=True)
class Command:
    """One thing that the user can do."""

    id: str
    keys: tuple[str, ...]
    """In Textual's names; the first is the one shown. None: palette only."""
    title: str
    """For the palette and the help screen."""
    short: str
    """For the key bar; empty keeps it out of there."""
    group: str
    """The task under which the help screen lists it."""
    context: str
    """The CONTEXT of the widget or screen that has the action."""
    rank: int
    """The key bar drops the highest ranks first."""
    help: str = ""
    action: str = ""
    """Textual's action; empty: the id with underscores."""
    when: "Callable[[Session], bool] | None" = None
    """Whether it can be done now; None: always."""

    @property
    def action_text(self) -> str:
        return self.action or self.id.replace("-", "_")

    def keys_in(self, keymap: Keymap) -> tuple[str, ...]:
        return keymap.get(self.id, self.keys)

    def can_run(self, session: "Session | None") -> bool:
        return self.when is None or (session is not None and self.when(session))


# Whether a command can be done now


def has_rooms(session: "Session") -> bool:
    return bool(session.shown.rooms)


def can_undo(session: "Session") -> bool:
    return session.history.undo_label is not None
