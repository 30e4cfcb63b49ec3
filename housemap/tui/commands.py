"""Everything that a key, the palette or the key bar can do: one table.

From it derive the key bindings of each widget, the key bar, the palette, the help screen and the
user's keymap, so that they cannot disagree. To add a command, add a line here and a method
`action_...` on the widget or screen whose CONTEXT the line names.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from housemap.tui.command import Command as Command  # noqa: PLC0414 - part of the table
from housemap.tui.command import Keymap as Keymap  # noqa: PLC0414 - the same
from housemap.tui.command import can_undo, has_rooms
from housemap.tui.deck_commands import DECK_COMMANDS, DECKS
from housemap.tui.edit_commands import EDIT_COMMANDS, SURVEYS
from housemap.tui.fill_commands import FILL_COMMANDS, FILLS
from housemap.tui.paper_commands import PAPER_COMMANDS, PAPERS
from housemap.tui.propose_commands import PROPOSE_COMMANDS
from housemap.tui.share_commands import SHARE_COMMANDS, SHARING
from housemap.tui.walk_commands import WALK_COMMANDS, WALKING

if TYPE_CHECKING:
    from housemap.workbench.session import Session


def _has_levels(session: "Session") -> bool:
    return len({room.level for room in session.shown.rooms.values()}) > 1


def _can_redo(session: "Session") -> bool:
    return session.history.redo_label is not None


MOVE, LOOK, LIT, PAINT, FOUND, FILE, PROGRAM, OPENING, READING = (
    "Moving about", "The map", "The light", "Paints", "What was found", "The house and its file",
    "The program", "Opening a house", "Reading a page, answering a question",
)  # fmt: skip
GROUPS = (
    MOVE, LOOK, WALKING, LIT, SURVEYS, PAINT, DECKS, FILLS, FOUND, PAPERS, FILE, SHARING, PROGRAM,
    OPENING, READING,
)  # fmt: skip
"""The tasks of the help screen, in its order."""

MAP, HOUSE, CARD, LIGHT, START, PAGE, ASKING, ANY = (
    "map", "house", "card", "light", "start", "page", "asking", "any",
)  # fmt: skip
LIST, CHOOSING, FINDINGS, FINDING, CHECKS = "list", "choosing", "findings", "finding", "checks"
"""Contexts: the map, the screen of an open house, the start screen, the whole program."""

COMMANDS: tuple[Command, ...] = (
    # Moving about
    Command("go-left", ("left", "h"), "Go to the room on the left", "", MOVE, MAP, 90,
            action="go('left')", when=has_rooms),
    Command("go-right", ("right", "l"), "Go to the room on the right", "", MOVE, MAP, 90,
            action="go('right')", when=has_rooms),
    Command("go-up", ("up", "k"), "Go to the room above", "", MOVE, MAP, 90,
            action="go('up')", when=has_rooms),
    Command("go-down", ("down", "j"), "Go to the room below", "", MOVE, MAP, 90,
            action="go('down')", when=has_rooms),
    Command("next-room", ("tab", "n"), "Go to the next room", "next room", MOVE, MAP, 40,
            "Walks through every room of every level.", when=has_rooms),
    Command("previous-room", ("shift+tab", "N"), "Go to the previous room", "", MOVE, MAP, 90,
            when=has_rooms),
    Command("level-up", ("pageup", "full_stop"), "Show the level above", "level up", MOVE, HOUSE,
            30, when=_has_levels),
    Command("level-down", ("pagedown", "comma"), "Show the level below", "level down", MOVE, HOUSE,
            31, when=_has_levels),
    # The map
    Command("zoom-in", ("plus", "equals_sign"), "Enlarge the map", "zoom", LOOK, HOUSE, 50,
            "The map follows the selected room.", when=has_rooms),
    Command("zoom-out", ("minus",), "Reduce the map", "", LOOK, HOUSE, 90, when=has_rooms),
    Command("zoom-fit", ("0",), "Fit the level into the map", "", LOOK, HOUSE, 90,
            when=has_rooms),
    Command("sightlines", ("v",), "Show or hide the lines of sight", "sightlines", LOOK, HOUSE, 45,
            "Lines run from the selected room to every room that is seen from it.",
            when=has_rooms),
    Command("light", ("t", "f4"), "Turn the light: reference, day, evening", "light", LIT, ANY, 8,
            "Map, card and every swatch show what an eye in each room would see.",
            when=has_rooms),
    Command("light-reference", ("f5",), "Show the reference light", "", LIT, ANY, 90,
            action="light('reference')", when=has_rooms),
    Command("light-day", ("f6",), "Show the house by day", "", LIT, ANY, 90,
            action="light('day')", when=has_rooms),
    Command("light-evening", ("f7",), "Show the house in the evening", "", LIT, ANY, 90,
            action="light('evening')", when=has_rooms),
    Command("light-page", ("L",), "Show the light of the room", "room light", LIT, HOUSE, 44,
            "Lux, daylight factor, tints, and the wall colour under each light.", when=has_rooms),
    # Lists beside the map
    Command("list-up", ("up", "k"), "Go up a list", "", MOVE, LIST, 90, action="list_step(-1)"),
    Command("list-down", ("down", "j"), "Go down a list", "", MOVE, LIST, 90,
            action="list_step(1)"),
    Command("list-page-up", ("pageup",), "Go up a page of a list", "", MOVE, LIST, 90,
            action="list_page(-1)"),
    Command("list-page-down", ("pagedown", "space"), "Go down a page of a list", "", MOVE, LIST,
            90, action="list_page(1)"),
    Command("list-first", ("home",), "Go to the first of a list", "", MOVE, LIST, 90,
            action="list_end(-1)"),
    Command("list-last", ("end",), "Go to the last of a list", "", MOVE, LIST, 90,
            action="list_end(1)"),
    *EDIT_COMMANDS,
    # Paints
    Command("choose", ("enter", "c"), "Choose a paint for the chosen surface of the room",
            "choose paint", PAINT, MAP, 6, "The map shows each paint while you move through them.",
            when=has_rooms),
    Command("choose-accent", ("5",), "Choose a paint for one wall of the room", "", PAINT, HOUSE,
            90, "An accent wall; it may go back to the paint of the others.", when=has_rooms),
    Command("take", ("enter",), "Put the paint on the surface", "take it", PAINT, CHOOSING, 1),
    Command("leave-paint", ("escape", "left"), "Leave the surface as it was", "put back", PAINT,
            CHOOSING, 2),
    Command("search-paints", ("slash",), "Search the paints", "search", PAINT, CHOOSING, 3,
            "By name, code, undertone (pinkish, blue, warm) and LRV (lrv>60, lrv 55-70); all of"
            " what is typed must fit."),
    Command("sheen", ("g",), "Set the sheen of the chosen surface", "sheen", PAINT, HOUSE, 36,
            when=has_rooms),
    Command("surface-walls", ("1",), "Choose the walls", "", PAINT, HOUSE, 90,
            "What is chosen here is what a paint goes on.", action="surface('walls')"),
    Command("surface-ceiling", ("2",), "Choose the ceiling", "", PAINT, HOUSE, 90,
            action="surface('ceiling')"),
    Command("surface-trim", ("3",), "Choose the trim", "", PAINT, HOUSE, 90,
            action="surface('trim')"),
    Command("surface-doors", ("4",), "Choose the doors", "", PAINT, HOUSE, 90,
            action="surface('doors')"),
    *DECK_COMMANDS,
    *WALK_COMMANDS,
    *SHARE_COMMANDS,
    *FILL_COMMANDS,
    *PROPOSE_COMMANDS,
    # What was found
    Command("findings", ("f",), "Show what was found in the house", "findings", FOUND, HOUSE, 7,
            "Gravest first; the map shows the rooms of each.", when=has_rooms),
    Command("finding-open", ("enter", "right"), "Show why a finding stands, and what clears it",
            "why, remedies", FOUND, FINDINGS, 1),
    Command("findings-leave", ("escape", "left"), "Close the findings", "back", FOUND, FINDINGS, 2),
    Command("findings-scope", ("tab",), "Of this room only, or of the whole house", "room",
            FOUND, FINDINGS, 3),
    Command("findings-grave", ("f",), "Only the graver ones, or all again", "graver", FOUND,
            FINDINGS, 50),
    Command("finding-paint", ("c",), "Choose another paint for a place of the finding",
            "choose paint", FOUND, FINDINGS, 25),
    Command("remedy-up", ("up", "k"), "Show the remedy above on the map", "", FOUND, FINDING, 90,
            action="remedy_step(-1)"),
    Command("remedy-down", ("down", "j"), "Show the remedy below on the map", "try remedies",
            FOUND, FINDING, 0, action="remedy_step(1)"),
    Command("finding-page-up", ("pageup",), "Go up a page of a finding", "", FOUND, FINDING, 90,
            action="page(-1)"),
    Command("finding-page-down", ("pagedown", "space"), "Go down a page of a finding", "more",
            FOUND, FINDING, 6, action="page(1)"),
    Command("remedy", ("enter",), "Apply the chosen remedy", "apply", FOUND, FINDING, 1,
            "Undone by one key, as any edit."),
    Command("finding-leave", ("escape", "left"), "Go back to the list of findings", "back", FOUND,
            FINDING, 2),
    Command("finding-next", ("n",), "Go to the next finding", "next", FOUND, FINDING, 7,
            action="finding_step(1)"),
    Command("finding-previous", ("N",), "Go to the previous finding", "", FOUND, FINDING, 90,
            action="finding_step(-1)"),
    Command("finding-repaint", ("c",), "Choose another paint for a place of the finding",
            "choose paint", FOUND, FINDING, 4),
    Command("limit", ("l",), "Set another limit for this house", "limit", FOUND, FINDING, 5,
            "Kept in the house file under [limits]."),
    Command("limit-default", ("d",), "Give the limit back its default", "", FOUND, FINDING, 90),
    Command("checks", ("f2",), "About the checks", "", FOUND, HOUSE, 90,
            "What each check looks for and why, its limits and their sources, and two examples."),
    Command("check-page-up", ("pageup",), "Go up a page of a check", "", FOUND, CHECKS, 90,
            action="page(-1)"),
    Command("check-page-down", ("pagedown", "space"), "Go down a page of a check", "more", FOUND,
            CHECKS, 2, action="page(1)"),
    Command("checks-leave", ("escape", "left", "enter"), "Close the checks", "back", FOUND, CHECKS,
            1),
    *PAPER_COMMANDS,
    # The house and its file
    Command("undo", ("u",), "Undo the last edit", "undo", FILE, HOUSE, 8,
            "Without limit, back to the house as it was opened.", when=can_undo),
    Command("redo", ("ctrl+r", "U"), "Redo the edit that was undone", "redo", FILE, HOUSE, 35,
            when=_can_redo),
    Command("save", ("ctrl+s", "s"), "Save the house", "save", FILE, HOUSE, 8,
            "Written whole or not at all; the file as it was before stays beside it as NAME~."),
    Command("save-as", (), "Save the house under another name", "", FILE, HOUSE, 90),
    Command("close", (), "Close the house and go to the start", "", FILE, HOUSE, 90),
    # The start screen
    Command("start-up", ("up", "k"), "Go up the list", "", OPENING, START, 90, action="step(-1)"),
    Command("start-down", ("down", "j"), "Go down the list", "", OPENING, START, 90,
            action="step(1)"),
    Command("start-open", ("enter",), "Open the chosen house", "open", OPENING, START, 10),
    Command("start-new", ("n",), "Start a new house", "new house", OPENING, START, 11),
    Command("start-file", ("o",), "Open a house file by its name", "open a file", OPENING, START,
            12),
    Command("start-demo", ("d",), "Open the demo house", "demo", OPENING, START, 13),
    # The page of a room's light
    Command("light-back", ("escape", "L", "enter"), "Go back to the map", "map", LIT, LIGHT, 10,
            action="back"),
    Command("light-next", ("tab", "n"), "Go to the light of the next room", "next room", LIT,
            LIGHT, 11, action="room(1)"),
    Command("light-previous", ("shift+tab", "N"), "Go to the light of the previous room", "", LIT,
            LIGHT, 90, action="room(-1)"),
    Command("light-lighter", ("right", "l"), "Try the next lighter paint on the walls", "lighter",
            LIT, LIGHT, 12, action="try(1)"),
    Command("light-darker", ("left", "h"), "Try the next darker paint on the walls", "darker", LIT,
            LIGHT, 13, action="try(-1)"),
    Command("light-down", ("down", "j"), "Go down a line", "", LIT, LIGHT, 90, action="line(1)"),
    Command("light-up", ("up", "k"), "Go up a line", "", LIT, LIGHT, 90, action="line(-1)"),
    Command("light-page-down", ("pagedown", "space"), "Go down a page", "down", LIT, LIGHT, 14,
            action="page(1)"),
    Command("light-page-up", ("pageup",), "Go up a page", "up", LIT, LIGHT, 15, action="page(-1)"),
    # Pages and questions
    Command("back", ("escape", "enter"), "Go back", "back", READING, PAGE, 10),
    Command("line-up", ("up", "k"), "Go up a line", "", READING, PAGE, 90, action="line(-1)"),
    Command("line-down", ("down", "j"), "Go down a line", "", READING, PAGE, 90, action="line(1)"),
    Command("page-up", ("pageup",), "Go up a page", "up", READING, PAGE, 12, action="page(-1)"),
    Command("page-down", ("pagedown", "space"), "Go down a page", "down", READING, PAGE, 11,
            action="page(1)"),
    Command("give-up", ("escape",), "Leave a question without an answer", "", READING, ASKING, 90),
    # The program
    Command("palette", ("ctrl+p", "colon"), "Find a command by name", "commands", PROGRAM, ANY, 60,
            action="command_palette"),
    Command("greys", (), "Light or dark surround", "", PROGRAM, ANY, 90,
            "The surround is grey without a tint, so that it does not change how paints look."),
    Command("suspend", ("ctrl+z",), "Put the program aside (fg brings it back)", "", PROGRAM, ANY,
            90, action="suspend_process"),
    Command("quit", ("q", "ctrl+q", "ctrl+c"), "Quit", "quit", PROGRAM, ANY, 5,
            "Asks first when something is not saved.", action="leave"),
    Command("help", ("question_mark", "f1"), "All keys", "all keys", PROGRAM, ANY, 0),
)  # fmt: skip

BY_ID = {command.id: command for command in COMMANDS}


def commands_of(contexts: Iterable[str]) -> tuple[Command, ...]:
    """The commands of some contexts, in the table's order."""
    wanted = {*contexts, ANY}
    return tuple(command for command in COMMANDS if command.context in wanted)
