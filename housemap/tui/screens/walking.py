"""Walking through the house: the map gives way to what one sees, and everything else stays.

`walk_tasks` has what the walk asks for; `touring` the views, the route and notes.
"""

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.widget import Widget

from housemap.tui.map.drawing import Sight
from housemap.tui.panel import Panel
from housemap.tui.render.shades import shades_of
from housemap.tui.screens.findings import Findings
from housemap.tui.screens.house_base import TRAILING_S
from housemap.tui.screens.moving import Moving
from housemap.tui.textual_fixes import output_waits
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Matter
    from housemap.tui.tasks.walk_drawing import Place, WalkView
    from housemap.tui.tasks.walk_panels import Seen, Walk, WalkCard
    from housemap.workbench.session import Standing
    from housemap.workbench.walker import Walker


class Walking(Moving, Findings):
    """Puts the walk in the place of the map and takes it away again; follows where one goes."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._walker: Walker | None = None
        self._walk: Walk | None = None
        self._walk_card: WalkCard | None = None
        self._picked: Place | None = None
        self._finding: tuple[object, ...] | None = None
        """The key of the one that was asked for last."""
        self._card_due = False
        self._region_on = False

    def walker_in(self, room: str) -> "Walker":
        """Whoever walks, standing in a room: where they stood last, or at its stop."""
        from housemap.workbench.walker import Walker  # noqa: PLC0415 - numpy comes after the first frame

        if self._walker is None:
            self._walker = Walker(self.session, room)
        elif self._walker.settle() and self._walker.camera.room != room:
            self._walker.go_to(room)
        return self._walker

    # In and out

    @property
    def walk(self) -> "Walk | None":
        """What stands in the place of the map while one walks."""
        return self._walk

    @property
    def main(self) -> Widget:
        return self._walk or self.map

    @property
    def home(self) -> Panel:
        return self._walk_card or super().home

    def action_walk(self) -> None:
        """Walk, or go back to the map."""
        self.close_panel()
        room = self.session.selection.room
        if self._walk is not None:
            self._leave_walk()
        elif room is not None:
            self._enter_walk(self.walker_in(room))

    def _enter_walk(self, walker: "Walker") -> None:
        from housemap.tui.tasks.walk_panels import Walk, WalkCard  # noqa: PLC0415 - when first needed

        self.map.display = self.home.display = False
        # With few colours each shade of a paint would come out as another colour.
        exact = self.program.depth.exact
        self._walk = Walk(walker, shades_of(self.session), self.look, shaded=exact)
        self.mount(self._walk, after=self.map)
        card = WalkCard(self.session, self.look, self._seen)
        self.mount(card, after=self.home)
        self._walk_card = card
        self.set_focus(self._walk)  # at once: the next key is meant for it
        self.draw_head()

    def _leave_walk(self) -> None:
        assert self._walk is not None
        assert self._walk_card is not None
        self._walk.remove()
        self._walk_card.remove()
        self._walk = self._walk_card = self._picked = None
        self.remove_class("-picture")
        self.map.display = self.home.display = True
        self.map.focus()
        self.follow()

    # Following the session, and where one goes

    def follow(self) -> None:
        self._go_along()
        if self._walk is not None:
            self._walk.show(shades_of(self.session), self.look)
        super().follow()

    def follow_selection(self) -> None:
        self._go_along()
        super().follow_selection()

    def _go_along(self) -> None:
        """Stand in the selected room, where another one than before was selected."""
        room, walk = self.session.selection.room, self._walk
        if walk is None:
            return
        if room is None or not walk.walker.settle():
            self._leave_walk()
        elif walk.walker.camera.room != room:
            walk.walker.go_to(room)
            walk.moved()

    def on_walk_moved(self) -> None:
        """Select the room that one stands in; what stands beside the walk follows."""
        if self._walk is None:
            return
        room = self._walk.walker.camera.room
        if room != self.session.selection.room:
            self.session.select(room)
            self.follow_selection()
        if not self._card_due:
            self._card_due = True
            self._draw_card_later()

    def _draw_card_later(self) -> None:
        asyncio.get_running_loop().call_later(TRAILING_S, self.call_next, self._draw_card_due)

    def _draw_card_due(self) -> None:
        """Draw what stands beside the walk, once the terminal has taken the picture."""
        if output_waits(self.app):
            self._draw_card_later()
        else:
            self._card_due = False
            self._draw_card()

    def _draw_card(self) -> None:
        if self._walk_card is not None and self.panel is self._walk_card:
            self._walk_card.redraw()

    def on_walk_told(self, message: "Walk.Told") -> None:
        self.say(message.text)

    # What is seen

    def _seen(self) -> "Seen | None":
        if self._walk is None:
            return None
        return self._walk_view(), self.map.scene, self._walk.walker.standing()

    def _walk_view(self) -> "WalkView":
        from housemap.plan.pixels import in_view  # noqa: PLC0415 - numpy is there by now
        from housemap.tui.tasks.walk_drawing import WalkView  # noqa: PLC0415 - the same

        assert self._walk is not None
        walker, session = self._walk.walker, self.session
        view = walker.last_view
        shares = in_view(view) if view else {}
        if self._picked not in shares:
            self._picked = None
        return WalkView(
            shades_of(session), session.report if session.report_is_current else None,
            walker.camera, shares, self._target(), self._matters(), self._finding,
            f"stop {walker.stop + 1} of {len(walker.route.stops)}", self.look,
        )  # fmt: skip

    def _target(self) -> "Place":
        """The place that a paint is chosen for: picked, or the chosen surface of the room."""
        assert self._walk is not None
        return self._picked or (self._walk.walker.camera.room, self.session.selection.surface)

    def _matters(self) -> "tuple[Matter, ...]":
        """What was found and can be seen from where one stands."""
        report = self.session.report
        view = self._walk.walker.last_view if self._walk else None
        if report is None or view is None or not self.session.report_is_current:
            return ()
        from housemap.tui.tasks.walk_drawing import matters_in  # noqa: PLC0415 - numpy is there

        return matters_in(report, view)

    # What works on the map works here too

    def _sights(self) -> tuple[Sight, ...]:
        """None while the map is not on the screen: they would be drawn for nothing."""
        return () if self._walk is not None else super()._sights()

    def action_zoom_in(self) -> None:
        self._lens_or(1, super().action_zoom_in)

    def action_zoom_out(self) -> None:
        self._lens_or(-1, super().action_zoom_out)

    def action_zoom_fit(self) -> None:
        self._lens_or(0, super().action_zoom_fit)

    def _lens_or(self, steps: int, zoom: Callable[[], None]) -> None:
        if self._walk is not None:
            self._walk.action_lens(steps)
        else:
            zoom()

    def action_look(self, turns: int) -> None:
        """Turn also while a panel has the keys."""
        if self._walk is not None:
            self._walk.action_turn(turns)
        else:
            self.say("w walks; then one can turn.")

    # On the map

    def action_region(self) -> None:
        """Show or hide on the map what is seen of the floor from the selected room."""
        self._region_on = not self._region_on
        self.follow_selection()

    def _standing(self) -> "Standing | None":
        room = self.session.selection.room
        if not self._region_on or self._walk is not None or room is None:
            return None
        return self.walker_in(room).standing(all_round=True)
