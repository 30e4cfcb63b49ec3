"""The log of samples: all that is told of a paint can be read, on a small screen too."""

from housemap.model.edits import assign
from tests.support.desks import Desk
from tests.support.houses import small_house
from tests.support.screens import app_on


async def test_all_that_is_told_of_a_paint_is_reached_by_pgdn_on_a_small_screen() -> None:
    app = app_on(assign(small_house(latitude_deg=51.5), "hall", "walls", "moss"))
    async with app.run_test(size=(80, 24)) as pilot:
        desk = Desk(app, pilot)
        await desk.press("s")
        await desk.shows("pgdn: more")
        assert "be used." not in desk.text
        pages = [desk.text]
        while "pgup: back" not in desk.text:
            await desk.press("pagedown")
            pages.append(desk.text)
        assert any("When to look" in page for page in pages)
        assert "be used." in pages[-1]
        await desk.press("pageup")
        assert desk.text == pages[-2]
        await desk.press("down")
        await desk.shows("pgdn: more")
