"""The light of the moment: one key changes it, everything follows."""

from housemap.model.house import Light
from housemap.tui.background import RoomReady, WidgetRunner
from housemap.tui.describe import light_shown
from housemap.tui.render.shades import LIGHTS, shades_of
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.screens.house_base import HouseBase
from housemap.workbench.room_detail import RoomDetails
from housemap.workbench.session import Reporter, Session


class Lighting(HouseBase):
    """Changes the light, and has the selected room looked at closely."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._details = RoomDetails(WidgetRunner(self), session)
        self._waiting = ""
        """What was told of a light that is not computed yet."""

    def show_light(self, light: Light | None) -> None:
        """Show the house under a light, or under the next one (None); tell which it is."""
        now = self.session.selection.light
        self.session.select_light(light or LIGHTS[(LIGHTS.index(now) + 1) % len(LIGHTS)])
        self.follow()
        self._tell_light()

    def _tell_light(self) -> None:
        shades = shades_of(self.session)
        text = light_shown(shades)
        self._waiting = text if shades.light_to_come else ""
        self.say(text)

    def action_light_page(self) -> None:
        """Show the page of the selected room's light; the map follows when it closes."""
        from housemap.tui.screens.light import LightScreen  # noqa: PLC0415 - seldom the first thing

        if self.session.selection.room is not None:
            self.app.push_screen(LightScreen(self), lambda _: self.follow())

    def select_beneath(self, room: str) -> None:
        """Select a room while a page covers the map, which follows when the page closes."""
        self.session.select(room)
        self._details.request()

    def _draw_rest(self) -> None:
        super()._draw_rest()
        if self._waiting and self._waiting == self._message:
            self._tell_light()
        self._details.request()
        self._tell_above()

    def on_room_ready(self, message: RoomReady) -> None:
        message.stop()
        self._details.done()
        if message.outcome.fault:
            self.say(message.outcome.fault)
        if message.outcome.room == self.session.selection.room:
            self.panel.follow(self.session)
            self._tell_above()

    def _tell_above(self) -> None:
        """Let the screens over this one follow."""
        for screen in self.app.screen_stack:
            if screen is not self and isinstance(screen, ProgramScreen):
                screen.tell_change()

    def on_unmount(self) -> None:
        self._details.stop()
