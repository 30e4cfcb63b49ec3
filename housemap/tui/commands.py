"""What a command of the program is: a line of the table in `commands`."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from housemap.workbench.session import Session


Keymap = Mapping[str, tuple[str, ...]]
"""The user's own keys, by command id."""


MAP, HOUSE, CARD, LIGHT, START, PAGE, ASKING, ANY = (
    "map", "house", "card", "light", "start", "page", "asking", "any",
)  # fmt: skip
LIST, CHOOSING, FINDINGS, FINDING, CHECKS = "list", "choosing", "findings", "finding", "checks"
DECK, CHART, SHELF, BESIDE, INTAKE, METER = (
    "deck", "chart", "shelf", "beside", "intake", "meter",
)  # fmt: skip
SURVEY, FORM, PARTS = "survey", "form", "parts"
FILLING, PROPOSING = "filling", "proposing"
SAMPLES, SCHEDULE, BOARD = "samples", "schedule", "board"
SETTLING, REVISIONS = "settling", "revisions"
WALK, VIEWS, ROUTE = "walk", "views", "route"
FINDER = "finder"
"""Contexts: each the CONTEXT of the panel or screen whose keys these are; HOUSE is the screen of an
open house, MAP its map, ANY the whole program."""


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
    """Textual's action, or "findings.open": a method of a task; empty: the id with underscores."""
    when: "Callable[[Session], bool] | None" = None
    """Whether it can be done now; None: always."""

    @property
    def action_text(self) -> str:
        """For Textual; "walk.turn(1)" of a task becomes "screen.task('walk.turn', 1)"."""
        name, bracket, arguments = (self.action or self.id.replace("-", "_")).partition("(")
        if "." not in name:
            return name + bracket + arguments
        return f"screen.task({name!r}" + (f", {arguments}" if arguments else ")")

    def keys_in(self, keymap: Keymap) -> tuple[str, ...]:
        return keymap.get(self.id, self.keys)

    def can_run(self, session: "Session | None") -> bool:
        return self.when is None or (session is not None and self.when(session))


# Whether a command can be done now


def has_rooms(session: "Session") -> bool:
    return bool(session.shown.rooms)


def can_undo(session: "Session") -> bool:
    return session.history.undo_label is not None


# The lines of the table of commands for decks and meter readings.

DECKS = "Decks of paints, meter readings"

DECK_COMMANDS: tuple[Command, ...] = (
    Command("decks", ("d",), "Open a deck of paints", "decks", DECKS, HOUSE, 9,
            "Thousands of paints by hue, value and chroma; one key takes a paint into the house.",
            action="decks.open"),
    Command("reading", ("M",), "Type a reading of a colour meter", "", DECKS, HOUSE, 90,
            "Lab, XYZ or a spectrum; several readings of one wall are averaged.",
            action="decks.read_meter"),
    # In a deck
    Command("deck-take", ("enter",), "Take the paint into the house", "take", DECKS, DECK, 1,
            "It is copied into the house file, so that nobody needs the deck."),
    Command("deck-put", ("p",), "Put the paint on the chosen surface of the room", "put on", DECKS,
            DECK, 2, "And takes it into the house where it is not there yet.", when=has_rooms),
    Command("deck-search", ("slash",), "Search the deck", "search", DECKS, DECK, 3,
            "By words of name, code or undertone, and by figures: lrv 55-70, value>7, chroma<2, 5y,"
            " 10yr-5y, 5y 7/1. All that is typed must fit."),
    Command("deck-arrange", ("a", "tab"), "Arrange the paints in the next way", "arrange", DECKS,
            DECK, 4, "Pages of hue, pages of value, all near-neutrals, or a list."),
    Command("deck-hues", ("1",), "Arrange by pages of hue: value down, chroma across", "", DECKS,
            DECK, 90, action="arrange('hue')"),
    Command("deck-values", ("2",), "Arrange by pages of value: hue down, chroma across", "", DECKS,
            DECK, 90, action="arrange('value')"),
    Command("deck-neutrals", ("3",), "Arrange the near-neutrals: value down, hue across", "",
            DECKS, DECK, 90, action="arrange('near-neutral')"),
    Command("deck-list", ("4",), "Arrange as a list", "", DECKS, DECK, 90,
            action="arrange('list')"),
    Command("deck-best", ("5",), "List first what costs least on the chosen surface", "best here",
            DECKS, DECK, 4, "By every check, in every light that the room has, against all that"
            " it sees: no paint of the deck does better than the first.", when=has_rooms),
    Command("deck-order", ("o",),
            "Order the list by hue, lightness, name, cost, or as the deck is", "", DECKS, DECK,
            90),
    Command("deck-near", ("n",), "Only paints near this one, nearest first in the list; or all",
            "near", DECKS, DECK, 5),
    Command("deck-warmth", ("w",), "Only warm, neutral or cool paints, or all", "warm/cool", DECKS,
            DECK, 10),
    Command("deck-undertone", ("f",), "Only paints of one undertone family, or all", "undertone",
            DECKS, DECK, 11),
    Command("deck-pick", ("c",), "Pick the paint for laying it beside others, or put it back",
            "pick", DECKS, DECK, 6),
    Command("deck-beside", ("b",), "Lay the picked paints side by side", "side by side", DECKS,
            DECK, 7, "Under the light of the moment, with their differences and what lamps do."),
    Command("deck-unpick", ("x",), "Put all picked paints back", "", DECKS, DECK, 90),
    Command("deck-shelf", ("d",), "Open another deck, or bring one in", "decks", DECKS, DECK, 8),
    Command("deck-reading", ("m",), "Type a reading of a colour meter", "", DECKS, DECK, 90),
    Command("deck-faults", ("r",), "Show what looks wrong in the deck", "", DECKS, DECK, 90,
            "Doubles, printed LRVs that the colour contradicts, colours that cannot be."),
    Command("deck-undo", ("u",), "Undo the last edit of the house", "undo", DECKS, DECK, 20,
            when=can_undo),
    Command("deck-leave", ("escape",), "Ask for nothing; then go back to the house", "back", DECKS,
            DECK, 12),
    # Its chart
    Command("chart-left", ("left", "h"), "Go to the paint on the left", "", DECKS, CHART, 90,
            action="chart_beside(-1)"),
    Command("chart-right", ("right", "l"), "Go to the paint on the right", "", DECKS, CHART, 90,
            action="chart_beside(1)"),
    Command("chart-up", ("up", "k"), "Go to the paint above", "", DECKS, CHART, 90,
            action="chart_above(-1)"),
    Command("chart-down", ("down", "j"), "Go to the paint below", "", DECKS, CHART, 90,
            action="chart_above(1)"),
    Command("chart-next", ("pagedown", "right_square_bracket"), "Turn to the next page",
            "next page", DECKS, CHART, 9, action="chart_page(1)"),
    Command("chart-previous", ("pageup", "left_square_bracket"), "Turn to the page before", "",
            DECKS, CHART, 90, action="chart_page(-1)"),
    # Side by side
    *(
        Command(f"beside-{n}", (str(n),), f"Take paint {n} into the house",
                "take that one" if n == 1 else "", DECKS, BESIDE, 1 if n == 1 else 90,
                action=f"beside_take({n})")
        for n in range(1, 7)
    ),
    Command("beside-leave", ("escape", "enter", "b"), "Go back to the deck", "back", DECKS, BESIDE,
            2),
    # The decks that there are
    Command("shelf-open", ("enter",), "Open the chosen deck", "open", DECKS, SHELF, 1),
    Command("shelf-bring", ("i",), "Bring in a file of paints: CSV, TSV, CGATS or CxF",
            "bring in a file", DECKS, SHELF, 2,
            "What it holds is shown first; it is then kept as a deck of your own."),
    Command("shelf-file", ("o",), "Open a deck or house file by its name", "open a file", DECKS,
            SHELF, 3),
    Command("shelf-leave", ("escape",), "Go back to the deck", "back", DECKS, SHELF, 4),
    # A file of paints before it is taken
    Command("intake-keep", ("enter",), "Keep the paints as a deck", "keep it", DECKS, INTAKE, 1),
    Command("intake-column", ("c",), "Say what a column means", "column", DECKS, INTAKE, 2),
    Command("intake-light", ("m",), "Say under which light Lab and XYZ were measured",
            "measured under", DECKS, INTAKE, 3),
    Command("intake-leave", ("escape",), "Leave the file; nothing is kept", "leave it", DECKS,
            INTAKE, 4),
    Command("intake-up", ("up", "k"), "Go up a line", "", DECKS, INTAKE, 90,
            action="intake_line(-1)"),
    Command("intake-down", ("down", "j"), "Go down a line", "", DECKS, INTAKE, 90,
            action="intake_line(1)"),
    Command("intake-page-up", ("pageup",), "Go up a page", "", DECKS, INTAKE, 90,
            action="intake_page(-1)"),
    Command("intake-page-down", ("pagedown", "space"), "Go down a page", "", DECKS, INTAKE, 90,
            action="intake_page(1)"),
    # Readings of a meter
    Command("meter-paint", ("ctrl+s",), "Keep the mean of the readings as a paint of the house",
            "keep as paint", DECKS, METER, 1),
    Command("meter-finish", ("ctrl+t",), "Keep it as a finish: a floor, a tile, a top, a cloth",
            "as finish", DECKS, METER, 2),
    Command("meter-light", ("ctrl+o",), "Under which light readings were taken that do not say",
            "measured under", DECKS, METER, 3, "D65/10, D65/2, D50/2, D50/10, A/10, C/2."),
    Command("meter-field", ("tab", "shift+tab"), "Go from the readings to the name, and back",
            "name", DECKS, METER, 4),
    Command("meter-clear", ("ctrl+n",), "Begin with an empty form", "", DECKS, METER, 90),
    Command("meter-leave", ("escape",), "Go back; what is typed waits there", "back", DECKS, METER,
            5),
)  # fmt: skip


# The lines of the table of commands for surveying, and for editing by forms.

SURVEYS = "Surveying and editing"

EDIT_COMMANDS: tuple[Command, ...] = (
    Command("survey", ("a",), "Survey: add rooms, openings, windows and lamps by typing", "survey",
            SURVEYS, HOUSE, 9, "From the selected room, in plain words: n 0.8 at 1.2 > Study 3.1 x"
            " 2.8; s window 1.2 x 1.1 at 0.6; lamp 1400 lm. The map follows each word.",
            action="survey.open"),
    Command("survey-enter", ("enter",), "Add what the line says", "add it", SURVEYS, SURVEY, 1),
    Command("survey-leave", ("escape",), "Leave the survey; what is typed waits there", "leave",
            SURVEYS, SURVEY, 2),
    Command("survey-word", ("tab",), "Write out the word that has begun; on an empty line go to the"
            " next room", "finish word", SURVEYS, SURVEY, 3),
    Command("survey-take-back", ("ctrl+t",), "Take back what was added last", "take back",
            SURVEYS, SURVEY, 4, when=can_undo),
    Command("survey-back", ("shift+tab",), "On an empty line go to the previous room", "", SURVEYS,
            SURVEY, 90),
    Command("survey-earlier", ("up",), "Bring back the line before", "line before", SURVEYS,
            SURVEY, 6),
    Command("survey-later", ("down",), "Go on to the line after", "", SURVEYS, SURVEY, 90),
    # What there is
    Command("parts", ("e",), "Edit what is in the room, or the house", "edit", SURVEYS, HOUSE, 10,
            "The room, its openings, windows, lamps and accents; tab: paints, finishes and all.",
            action="edit.open"),
    Command("edit-room", ("E",), "Edit the selected room", "", SURVEYS, HOUSE, 90,
            action="edit.edit_room", when=has_rooms),
    Command("edit-house", (), "Edit the house: name, north, latitude, units", "", SURVEYS, HOUSE,
            90, action="edit.edit_house"),
    Command("parts-open", ("enter", "right"), "Edit it, or add another", "edit, add", SURVEYS,
            PARTS, 1),
    Command("parts-leave", ("escape", "left"), "Close the list", "back", SURVEYS, PARTS, 2),
    Command("parts-scope", ("tab",), "What is in this room, or in the whole house", "room/house",
            SURVEYS, PARTS, 3),
    Command("parts-add", ("n",), "Add another of the same kind", "new", SURVEYS, PARTS, 4),
    Command("parts-delete", ("d", "delete"), "Delete it", "delete", SURVEYS, PARTS, 5,
            "Tells first what uses it; undone by one key."),
    # Forms
    Command("form-on", ("enter",), "Go on to the next field; from the last one take the form",
            "go on", SURVEYS, FORM, 1),
    Command("form-take", ("ctrl+s",), "Take what is typed", "take it", SURVEYS, FORM, 2,
            "One edit, undone by one key."),
    Command("form-leave", ("escape",), "Leave the form; what is typed waits there", "leave",
            SURVEYS, FORM, 3),
    Command("form-next", ("tab", "down"), "Go to the next field", "", SURVEYS, FORM, 90,
            action="form_step(1)"),
    Command("form-previous", ("shift+tab", "up"), "Go to the previous field", "", SURVEYS, FORM,
            90, action="form_step(-1)"),
    Command("form-option", ("right",), "Go to the next choice", "choices", SURVEYS, FORM, 4,
            action="form_option(1)"),
    Command("form-option-before", ("left",), "Go to the choice before", "", SURVEYS, FORM, 90,
            action="form_option(-1)"),
)  # fmt: skip


# The lines of the table of commands for filling a whole house.

FILLS = "Filling the house"

FILL_COMMANDS: tuple[Command, ...] = (
    Command("fill", ("F",), "Fill the house: the best wall paints for the rooms", "", FILLS, HOUSE,
            90, "From the paints of the house, by what the checks would cost, with a proof.",
            action="fill.open", when=has_rooms),
    Command("fill-take", ("enter",), "Paint the rooms so", "take it", FILLS, FILLING, 1,
            "One edit: u takes all of it back."),
    Command("fill-leave", ("escape",), "Leave the house as it is", "leave", FILLS, FILLING, 2),
    Command("fill-before", ("tab",), "Show before or after on the map", "before/after", FILLS,
            FILLING, 3),
    Command("fill-scope", ("b",), "Fill the bare rooms, or all", "bare/all", FILLS, FILLING, 4),
    Command("fill-keep", ("x",), "Keep the paint of the chosen room, or not", "keep", FILLS,
            FILLING, 5),
    Command("fill-fewer", ("minus",), "Allow one wall paint less", "fewer", FILLS, FILLING, 6,
            action="fill_limit(-1)"),
    Command("fill-more", ("plus", "equals_sign"), "Allow one wall paint more", "more", FILLS,
            FILLING, 7, action="fill_limit(1)"),
    Command("fill-stop", ("s",), "Stop the search and keep the best so far", "stop", FILLS, FILLING,
            8),
    Command("costs", ("f3",), "What a choice costs, and why", "", FILLS, ANY, 90,
            "Made of the checks alone, told part by part for the open house."),
)  # fmt: skip


# The lines of the table of commands for samples, the schedule and the paints of the house.

PAPERS = "Samples, schedule, all paints"

PAPER_COMMANDS: tuple[Command, ...] = (
    Command("samples", ("S",), "Samples: what to put up where, and what was seen", "", PAPERS,
            HOUSE, 90, "For the selected room, or the whole house.",
            action="samples.open", when=has_rooms),
    Command("schedule", ("p",), "Show the paint schedule: rooms, what to buy, cautions", "", PAPERS,
            HOUSE, 90, "And write it as a page, for a spreadsheet, or as Markdown.",
            action="schedule.open", when=has_rooms),
    Command("board", ("b",), "Show all paints of the house in their proportions", "", PAPERS,
            HOUSE, 90, "Of the area that they cover, or of what is seen of them.",
            action="schedule.open_board", when=has_rooms),
    # Samples
    Command("sample-keep", ("y",), "Log a sample: keep", "keep", PAPERS, SAMPLES, 1,
            "With the day, the wall and the light shown; what was seen is asked for.",
            action="judge('keep')"),
    Command("sample-unsure", ("m",), "Log a sample: unsure", "unsure", PAPERS, SAMPLES, 2,
            action="judge('unsure')"),
    Command("sample-reject", ("x",), "Log a sample: reject", "reject", PAPERS, SAMPLES, 3,
            action="judge('reject')"),
    Command("sample-up", ("a",), "Log a tester that was put up and not judged yet", "put up",
            PAPERS, SAMPLES, 6, action="judge('')"),
    Command("sample-wall", ("w",), "On another wall", "wall", PAPERS, SAMPLES, 5),
    Command("sample-form", ("enter", "e"), "Edit the newest sample of the paint in a form", "edit",
            PAPERS, SAMPLES, 7),
    Command("sample-delete", ("d", "delete"), "Delete the newest sample of the paint", "", PAPERS,
            SAMPLES, 90),
    Command("samples-scope", ("tab",), "Of this room, or of the whole house", "room/house", PAPERS,
            SAMPLES, 4),
    Command("samples-leave", ("escape", "left", "S"), "Close the samples", "back", PAPERS, SAMPLES,
            8),
    # The schedule
    Command("schedule-write", ("w", "ctrl+s", "s"), "Write the schedule for a reader, to a file",
            "write", PAPERS, SCHEDULE, 2),
    Command("schedule-before", ("o",), "Tell how the house is painted now, for the coats", "before",
            PAPERS, SCHEDULE, 6, "An earlier save, or another house file."),
    Command("schedule-next", ("tab", "n"), "Go to the next part", "next part", PAPERS, SCHEDULE, 3,
            action="part(1)"),
    Command("schedule-previous", ("shift+tab", "N"), "Go to the part before", "", PAPERS, SCHEDULE,
            90, action="part(-1)"),
    Command("schedule-board", ("b",), "Show all paints in their proportions", "", PAPERS,
            SCHEDULE, 90),
    Command("schedule-leave", ("escape", "p", "enter"), "Go back to the map", "map", PAPERS,
            SCHEDULE, 1, action="back"),
    Command("schedule-down", ("down", "j"), "Go down a line", "", PAPERS, SCHEDULE, 90,
            action="line(1)"),
    Command("schedule-up", ("up", "k"), "Go up a line", "", PAPERS, SCHEDULE, 90,
            action="line(-1)"),
    Command("schedule-page-down", ("pagedown", "space"), "Go down a page", "down", PAPERS,
            SCHEDULE, 4, action="page(1)"),
    Command("schedule-page-up", ("pageup",), "Go up a page", "up", PAPERS, SCHEDULE, 5,
            action="page(-1)"),
    # All paints
    Command("board-by", ("tab", "v"), "By area, or by what is seen", "area/view", PAPERS, BOARD, 2),
    Command("board-leave", ("escape", "b", "enter"), "Go back", "back", PAPERS, BOARD, 1,
            action="back"),
    Command("board-down", ("down", "j"), "Go down a line", "", PAPERS, BOARD, 90,
            action="line(1)"),
    Command("board-up", ("up", "k"), "Go up a line", "", PAPERS, BOARD, 90, action="line(-1)"),
    Command("board-page-down", ("pagedown", "space"), "Go down a page", "", PAPERS, BOARD, 90,
            action="page(1)"),
    Command("board-page-up", ("pageup",), "Go up a page", "", PAPERS, BOARD, 90,
            action="page(-1)"),
)  # fmt: skip


# The lines of the table of commands for a palette out of a deck.

PROPOSE_COMMANDS: tuple[Command, ...] = (
    Command("deck-propose", ("P",), "Look for a palette for the house in this deck", "palette",
            FILLS, DECK, 9, "Picked paints are pinned: every palette has them.", when=has_rooms),
    Command("fill-deck", ("d",), "Choose from a deck: a palette for the house", "from a deck",
            FILLS, FILLING, 9, "The deck that was open last, else the built-in one."),
    Command("offer-take", ("enter",), "Paint the house in this palette", "take it", FILLS,
            PROPOSING, 1, "One edit: its paints come into the house, walls and trim get them."),
    Command("offer-leave", ("escape",), "Leave the house as it is", "leave", FILLS, PROPOSING, 2),
    Command("offer-next", ("right", "l"), "Show the next palette", "next palette", FILLS,
            PROPOSING, 3, action="offer_beside(1)"),
    Command("offer-previous", ("left", "h"), "Show the palette before", "", FILLS, PROPOSING, 90,
            action="offer_beside(-1)"),
    Command("offer-fewer", ("minus",), "Allow one wall paint less", "fewer", FILLS, PROPOSING, 4,
            action="offer_limit(-1)"),
    Command("offer-more", ("plus", "equals_sign"), "Allow one wall paint more", "more", FILLS,
            PROPOSING, 5, action="offer_limit(1)"),
    Command("offer-pin", ("x",), "Pin the chosen paint, or not", "pin", FILLS, PROPOSING, 6,
            "Every palette has the pinned paints."),
    Command("offer-before", ("tab",), "Show before or after on the map", "before/after", FILLS,
            PROPOSING, 7),
    Command("offer-scope", ("b",), "Paint the bare rooms, or all", "bare/all", FILLS, PROPOSING,
            8),
    Command("offer-trim", ("m",), "Choose the trim too, or leave it", "trim", FILLS, PROPOSING, 9),
    Command("offer-stop", ("s",), "Stop the search and keep what was found", "stop", FILLS,
            PROPOSING, 10),
)  # fmt: skip


# The lines of the table of commands for two people at one house.

SHARING = "Two at one house"

SHARE_COMMANDS: tuple[Command, ...] = (
    Command("settle-mine", ("2", "left"), "Use yours", "yours", SHARING, SETTLING, 1,
            action="settle('mine')"),
    Command("settle-theirs", ("3", "right"), "Use theirs", "theirs", SHARING, SETTLING, 2,
            action="settle('theirs')"),
    Command("settle-base", ("1",), "Use what was sent", "sent", SHARING, SETTLING, 3,
            action="settle('base')"),
    Command("settle-save", ("enter",), "Save what was chosen", "save", SHARING, SETTLING, 4,
            action="finish_settling(1)"),
    Command("settle-leave", ("escape",), "Choose later, and save nothing", "later", SHARING,
            SETTLING, 5, action="finish_settling(0)"),
    Command("revisions", ("R",), "List the earlier saves of this house", "", SHARING, HOUSE, 90,
            "Each save is kept, the newest thirty; moving through them shows each on the map.",
            action="share.open_revisions"),
    Command("revision-take", ("enter",), "Take up the chosen save", "take it up", SHARING,
            REVISIONS, 1, action="leave_revisions(1)"),
    Command("revision-leave", ("escape",), "Stay with the house as it is", "leave", SHARING,
            REVISIONS, 2, action="leave_revisions(0)"),
)  # fmt: skip


# The lines of the table of commands for walking through the house.

WALKING = "Walking through the house"

WALK_COMMANDS: tuple[Command, ...] = (
    Command("walk", ("w",), "Walk through the house", "walk", WALKING, HOUSE, 9,
            "Stand in the selected room and look round, in the colours of the light shown.",
            action="walk.enter_or_leave", when=has_rooms),
    Command("route", ("r",), "List the route through every room", "", WALKING, HOUSE, 90,
            "From the entrance, with little back and forth; with ticks and notes.",
            action="walk.open_route", when=has_rooms),
    Command("tick", ("x",), "Tick the room off, or take the tick back", "", WALKING, HOUSE, 90,
            "Kept in the house file with the day.", action="walk.tick", when=has_rooms),
    Command("note", ("o",), "Write a note on the visit to the room", "", WALKING, HOUSE, 90,
            action="walk.note", when=has_rooms),
    Command("look-left", ("less_than_sign",), "Turn to the left while a panel is open", "",
            WALKING, HOUSE, 90, "To see a paint that is tried from all sides.",
            action="walk.turn(-1)", when=has_rooms),
    Command("look-right", ("greater_than_sign",), "Turn to the right while a panel is open", "",
            WALKING, HOUSE, 90, action="walk.turn(1)", when=has_rooms),
    Command("region", ("i",), "Show or hide what is seen of the floor from the room", "", WALKING,
            HOUSE, 90, "From where the route stops in it, or where one stood last.",
            action="walk.show_region", when=has_rooms),
    # In the walk
    Command("turn-left", ("left", "h"), "Turn to the left", "turn", WALKING, WALK, 1,
            action="turn(-1)"),
    Command("turn-right", ("right", "l"), "Turn to the right", "", WALKING, WALK, 90,
            action="turn(1)"),
    Command("step-ahead", ("up", "k"), "Step ahead, through openings too", "step", WALKING, WALK,
            6, action="step(0)"),
    Command("step-back", ("down", "j"), "Step back", "", WALKING, WALK, 90, action="step(180)"),
    Command("step-left", ("comma",), "Step to the left", "", WALKING, WALK, 90,
            action="step(270)"),
    Command("step-right", ("full_stop",), "Step to the right", "", WALKING, WALK, 90,
            action="step(90)"),
    Command("turn-round", ("b",), "Turn round", "", WALKING, WALK, 90),
    Command("go-through", ("space",), "Go through the opening ahead", "through", WALKING, WALK, 2,
            "Also through a shut door, and up or down stairs."),
    Command("stop-next", ("tab",), "Go to the next stop of the route", "next stop", WALKING, WALK,
            4, action="walk.go_to_stop(1)"),
    Command("stop-previous", ("shift+tab",), "Go to the stop before", "", WALKING, WALK, 90,
            action="walk.go_to_stop(-1)"),
    Command("views", ("v",), "Look at the rooms that are seen from here", "views", WALKING, WALK,
            5, "The list shows each from where most of it is seen.", action="walk.open_views"),
    Command("finding-view", ("n",), "Go to the view of the next finding", "next finding", WALKING,
            WALK, 10, action="walk.go_to_finding(1)"),
    Command("finding-view-before", ("N",), "Go to the view of the finding before", "", WALKING,
            WALK, 90, action="walk.go_to_finding(-1)"),
    Command("finding-why", ("y",), "Show why a finding of this view stands, and what clears it",
            "why", WALKING, WALK, 11, action="walk.open_finding"),
    Command("pick", ("p",), "Pick the next surface in view", "pick", WALKING, WALK, 9,
            "The list beside the picture marks it; a click in the picture picks too.",
            action="walk.pick(1)"),
    Command("pick-before", ("P",), "Pick the surface before", "", WALKING, WALK, 90,
            action="walk.pick(-1)"),
    Command("walk-choose", ("enter", "c"), "Choose a paint for the picked surface", "paint",
            WALKING, WALK, 3, "The picture shows each paint while you move through them.",
            action="walk.choose_picked"),
    Command("exact", ("m",), "Leave the shading out, or draw it again", "exact", WALKING, WALK, 30,
            "Without it every pixel has exactly the colour of its paint as it is seen."),
    Command("lens-narrow", ("plus", "equals_sign"), "Look closer", "", WALKING, WALK, 90,
            "A narrower field of view.", action="lens(1)"),
    Command("lens-wide", ("minus",), "See more at once", "", WALKING, WALK, 90,
            "A wider field of view.", action="lens(-1)"),
    Command("lens-usual", ("0",), "The usual field of view", "", WALKING, WALK, 90,
            action="lens(0)"),
    Command("picture", ("z",), "The picture alone, or with what is in view", "picture", WALKING,
            WALK, 40, action="walk.picture_alone"),
    Command("beside-up", ("pageup",), "Scroll what is in view up", "", WALKING, WALK, 90,
            action="walk.scroll(-1)"),
    Command("beside-down", ("pagedown",), "Scroll what is in view down", "", WALKING, WALK, 90,
            action="walk.scroll(1)"),
    Command("walk-leave", ("escape", "w"), "Go back to the map", "map", WALKING, WALK, 7,
            action="walk.leave"),
    # Lists to walk by
    Command("views-stay", ("enter",), "Stay where this is seen from", "stay", WALKING, VIEWS, 1,
            action="leave_places(1)"),
    Command("views-leave", ("escape", "left"), "Go back to where you stood", "back", WALKING,
            VIEWS, 2, action="leave_places(0)"),
    Command("route-stay", ("enter",), "Stay at this stop", "stay", WALKING, ROUTE, 1,
            action="leave_places(1)"),
    Command("route-leave", ("escape", "left"), "Go back to where you were", "back", WALKING, ROUTE,
            2, action="leave_places(0)"),
)  # fmt: skip


# Everything that a key, the palette or the key bar can do: one table.
#
# From it derive the key bindings of each widget, the key bar, the palette, the help screen and the
# user's keymap, so that they cannot disagree. To add a command, add a line here and a method
# `action_...` on the widget or screen whose CONTEXT the line names.


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
    Command("next-view", ("v",), "Show the plan with lines of sight, without, or the graph", "view",
            LOOK, HOUSE, 45,
            "The graph has discs for rooms, lines for openings and dots for what is seen.",
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
            "Lux, daylight factor, tints, and the wall colour under each light.",
            action="light.open", when=has_rooms),
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
            action="choose.open", when=has_rooms),
    Command("choose-accent", ("5",), "Choose a paint for one wall of the room", "", PAINT, HOUSE,
            90, "An accent wall; it may go back to the paint of the others.",
            action="choose.open_accent", when=has_rooms),
    Command("take", ("enter",), "Put the paint on the surface", "take it", PAINT, CHOOSING, 1),
    Command("leave-paint", ("escape", "left"), "Leave the surface as it was", "put back", PAINT,
            CHOOSING, 2),
    Command("search-paints", ("slash",), "Search the paints", "search", PAINT, CHOOSING, 3,
            "By name, code, undertone (pinkish, blue, warm) and LRV (lrv>60, lrv 55-70); all of"
            " what is typed must fit."),
    Command("sheen", ("g",), "Set the sheen of the chosen surface", "sheen", PAINT, HOUSE, 36,
            action="choose.ask_sheen", when=has_rooms),
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
            "Gravest first; the map shows the rooms of each.",
            action="findings.open", when=has_rooms),
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
            "What each check looks for and why, its limits and their sources, and two examples.",
            action="findings.open_checks"),
    Command("check-page-up", ("pageup",), "Go up a page of a check", "", FOUND, CHECKS, 90,
            action="page(-1)"),
    Command("check-page-down", ("pagedown", "space"), "Go down a page of a check", "more", FOUND,
            CHECKS, 2, action="page(1)"),
    Command("checks-leave", ("escape", "left", "enter"), "Close the checks", "back", FOUND, CHECKS,
            1),
    *PAPER_COMMANDS,
    # The house and its file
    Command("undo", ("u",), "Undo the last edit", "undo", FILE, HOUSE, 8,
            "Without limit, back to the house as it was opened.",
            action="files.undo", when=can_undo),
    Command("redo", ("ctrl+r", "U"), "Redo the edit that was undone", "redo", FILE, HOUSE, 35,
            action="files.redo", when=_can_redo),
    Command("save", ("ctrl+s", "s"), "Save the house", "save", FILE, HOUSE, 8,
            "Written whole or not at all; the file as it was before stays beside it as NAME~.",
            action="files.save"),
    Command("save-as", (), "Save the house under another name", "", FILE, HOUSE, 90,
            action="files.save_as"),
    Command("close", (), "Close the house and go to the start", "", FILE, HOUSE, 90,
            action="files.close"),
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
    # The finder
    Command("finder-run", ("enter",), "Run what is chosen", "run it", PROGRAM, FINDER, 1,
            action="run_found"),
    Command("finder-up", ("up",), "Go up what was found", "", PROGRAM, FINDER, 90,
            action="step(-1)"),
    Command("finder-down", ("down",), "Go down what was found", "down", PROGRAM, FINDER,
            3, action="step(1)"),
    Command("finder-leave", ("escape",), "Close the finder", "back", PROGRAM, FINDER, 2,
            action="give_up"),
    # The program
    Command("palette", ("ctrl+p", "colon"), "Find a command by name", "commands", PROGRAM, ANY, 60,
            action="finder"),
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
