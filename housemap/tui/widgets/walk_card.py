"""The panel beside the walk: a small map, what is in view, and what was found there."""

from collections.abc import Callable, Sequence

from housemap.tui.render.drawing import Scene
from housemap.tui.render.house_map import Picture
from housemap.tui.render.inset import inset_geometry, inset_rows
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.render.walk_card import WalkView, walk_head, walk_rows
from housemap.tui.widgets.panel import RowsPanel
from housemap.workbench.session import Session, Standing

INSET_SHARE = 0.32
"""Of the panel's height."""
LEAST_ROWS = 5
LEAST_PLACES, ROWS_OF_A_PLACE = 4, 2

Seen = tuple[WalkView, Scene, Standing]


class WalkCard(RowsPanel, can_focus=False):
    """Shows what `seen` gives; nothing once the walk is over."""

    def __init__(self, session: Session, look: Look, seen: Callable[[], Seen | None]) -> None:
        super().__init__(session, look, id="walk-card")
        self._seen = seen
        self._inset: tuple[Scene, tuple[int, int], Picture] | None = None

    def draw(self, width: int) -> Sequence[Row]:
        seen = self._seen()
        if seen is None:
            return ()
        view, scene, standing = seen
        self.look = view.look
        picture = self._picture(scene, width)
        above = [*walk_head(view, width), *inset_rows(picture, scene.plan, standing)]
        most = max((self.size.height - len(above)) // 2 // ROWS_OF_A_PLACE, LEAST_PLACES)
        return [*above, *walk_rows(view, width, most)]

    def _picture(self, scene: Scene, width: int) -> Picture:
        """The map without where one stands; kept while one only moves."""
        rows = max(int(self.size.height * INSET_SHARE), LEAST_ROWS)
        kept = self._inset
        if kept is None or kept[0] is not scene or kept[1] != (width, rows):
            geometry = inset_geometry(scene.house, scene.plan, scene.level, width, rows)
            picture = Picture(geometry, scene.blocks, scene.look)
            self._inset = kept = scene, (width, rows), picture
        return kept[2]
