"""Undo and redo without limit: a history is a frozen value, and a step is a whole house."""

from dataclasses import dataclass

from housemap.model.house import House


@dataclass(frozen=True, slots=True)
class Step:
    """A house other than the present one, and the edit that lies between it and its neighbour."""

    house: House
    label: str
    """Such as "Hall walls: Oat Ladle"."""


@dataclass(frozen=True, slots=True)
class History:
    """The houses before and after the present one; the nearest past is last, as is the nearest
    future.
    """  # noqa: D205 - one sentence

    present: House
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    @property
    def undo_label(self) -> str | None:
        """The edit that undo would take back; None if there is none."""
        return self.past[-1].label if self.past else None

    @property
    def redo_label(self) -> str | None:
        """The edit that redo would make again; None if there is none."""
        return self.future[-1].label if self.future else None

    def do(self, house: House, label: str) -> "History":
        """Make `house` the present one. An edit that changes nothing leaves the history alone."""
        if house == self.present:
            return self
        return History(house, (*self.past, Step(self.present, label)))

    def undo(self) -> "History":
        if not self.past:
            return self
        step = self.past[-1]
        ahead = (*self.future, Step(self.present, step.label))
        return History(step.house, self.past[:-1], ahead)

    def redo(self) -> "History":
        if not self.future:
            return self
        step = self.future[-1]
        behind = (*self.past, Step(self.present, step.label))
        return History(step.house, behind, self.future[:-1])
