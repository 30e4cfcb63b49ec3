"""What a room or house has, as a list by keys: adding, deleting."""

from housemap.tui.house_screen import Card
from tests.support.editing import opened
from tests.support.houses import small_house


async def test_the_list_turns_from_the_room_to_the_house() -> None:
    async with opened() as desk:
        await desk.press("e")
        await desk.shows("this room", "pendant")
        await desk.press("h")
        await desk.shows("whole house", "Oat Ladle")
        await desk.press("escape")
        assert isinstance(desk.screen.panel, Card)


async def test_another_of_a_kind_is_added_from_the_list() -> None:
    async with opened() as desk:
        await desk.press("e")
        await desk.choose("front")
        await desk.press("n")
        await desk.shows("New window of Hall")
        await desk.type("e")
        for key, text in (("along_m", "0.5"), ("width_m", "1"), ("height_m", "1"), ("sill_m", "1")):
            await desk.to(key)
            await desk.type(text)
        await desk.press("ctrl+s")
        assert "window-e" in desk.house.rooms["hall"].windows


async def test_what_nothing_uses_is_deleted_at_once_and_comes_back() -> None:
    async with opened() as desk:
        await desk.press("e")
        await desk.choose("front")
        await desk.press("ctrl+d")
        assert not desk.house.rooms["hall"].windows
        await desk.shows("u brings it back")
        await desk.press("u")
        assert desk.house == small_house()


async def test_what_is_used_is_deleted_after_its_uses_were_told() -> None:
    async with opened(size=(120, 30)) as desk:
        await desk.press("e", "h")
        await desk.choose("Oat Ladle")
        await desk.press("ctrl+d")
        await desk.shows("Oat Ladle is in use: Hall, Study, sample Oat Ladle in Hall.")
        await desk.press("escape")
        assert desk.house == small_house()
        await desk.press("delete", "ctrl+d")
        assert "oat" not in desk.house.paints
        assert desk.house.rooms["hall"].paints.walls is None
        await desk.press("u")
        assert desk.house == small_house()


async def test_the_wishes_of_the_client_are_a_line_of_house_and_room() -> None:
    async with opened() as desk:
        await desk.press("e")
        await desk.choose("Wishes for Hall")
        await desk.press("enter")
        await desk.shows("Wishes for Hall")
        await desk.to("keep")
        await desk.type("yes")
        await desk.press("ctrl+s")
        assert desk.house.brief.rooms["hall"].keep
        await desk.press("escape")
        await desk.run("wishes")
        await desk.shows("Wishes for the house")
        await desk.to("avoid")
        await desk.type("purple, pink")
        await desk.press("ctrl+s")
        assert desk.house.brief.avoid == ("purple", "pink")


async def test_a_new_room_is_selected() -> None:
    async with opened() as desk:
        await desk.press("e", "h")
        await desk.choose("+ add a room")
        await desk.press("enter")
        await desk.type("Attic")
        await desk.press("ctrl+s")
        assert desk.session.selection.room == "attic"


async def test_the_house_itself_cannot_be_deleted() -> None:
    async with opened() as desk:
        await desk.press("e", "h", "home", "delete")
        await desk.shows("The house itself cannot be deleted")
        assert desk.house == small_house()
