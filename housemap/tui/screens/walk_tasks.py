"""What the walk can ask for: picking in it, choosing for what is picked, the picture alone."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from housemap.model.house import Surface
from housemap.tui.screens.walking import Walking

if TYPE_CHECKING:
    from housemap.tui.tasks.walk_panels import Walk


class WalkTasks(Walking):
    """Actions on what is seen from where one stands."""

    def tasks(self) -> Mapping[str, Callable[[], object]]:
        """What the walk can ask for, by name."""
        return {
            "map": self.action_walk,
            "choose": self._choose_picked,
            "pick": lambda: self._pick(1),
            "pick before": lambda: self._pick(-1),
            "picture": self._picture_alone,
            "up": lambda: self._scroll(-1),
            "down": lambda: self._scroll(1),
        }

    def on_walk_asked(self, message: "Walk.Asked") -> None:
        if self._walk is not None:
            self.tasks()[message.what]()

    def on_walk_picked(self, message: "Walk.Picked") -> None:
        """Pick what was clicked; choose for it at the second click."""
        place = message.room, message.surface
        if place == self._target():
            self._choose_picked()
        else:
            self._picked = place
            self._draw_card()

    def _pick(self, step: int) -> None:
        listed = self._walk_view().listed()
        if not listed:
            return
        before = self._target()
        at = listed.index(before) + step if before in listed else min(step, 0)
        self._picked = listed[at % len(listed)]
        self._draw_card()

    def _choose_picked(self) -> None:
        from housemap.workbench.choosing import Target  # noqa: PLC0415 - when first needed

        room, surface = self._target()
        if surface == "floor":
            self.say("A floor stays as it is: pick what has a paint.")
        else:
            self.remove_class("-picture")
            self.choose_for(Target(room, surface))

    def action_surface(self, surface: Surface) -> None:
        self._picked = None
        super().action_surface(surface)

    def _picture_alone(self) -> None:
        self.toggle_class("-picture")

    def _scroll(self, pages: int) -> None:
        if self._walk_card is not None:
            self._walk_card.scroll_pages(pages)
