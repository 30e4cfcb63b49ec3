"""Everything that the user can do: one table.

From it derive the bindings of every widget, the key bar, the finder, the help and the user's
keymap, so that they cannot disagree. A key means one verb, wherever it is pressed; what it does to
what is shown there is a `Use` of its command.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from housemap.workbench.session import Session

    When = Callable[[Session], bool]


Keymap = Mapping[str, tuple[str, ...]]
"""The user's own keys, by command id."""

ANY, HOUSE, MAP, WALK, PLACES = "any", "house", "map", "walk", "places"
LIST, PAGE, FORM, SURVEY, ASKING, FINDER = "list", "page", "form", "survey", "asking", "finder"
CHOOSING, FINDINGS, FINDING, CHECKS = "choosing", "findings", "finding", "checks"
DECK, CHART, SHELF, BESIDE, INTAKE, NEW_PAINT, HELP, DECK_LIST = (
    "deck", "chart", "shelf", "beside", "intake", "new-paint", "help", "deck-list",
)  # fmt: skip
PARTS, SUGGESTING, SAMPLES = "parts", "suggesting", "samples"
SCHEDULE, LIGHT, START = "schedule", "light", "start"
SETTLING, REVISIONS = "settling", "revisions"
AROUND, SCHEMES, PROPOSAL = "around", "schemes", "proposal"
"""Contexts: each the CONTEXT of the widget or screen whose keys these are. HOUSE is the screen of
an open house, MAP its map, ANY the whole program, LIST what scrolls, PAGE a page of text."""

MOVE, HERE, COLOUR, CHECK, LIT, WALKING, PAINTS, TRY, PAPER, EDIT, FILE, PROGRAM = (
    "Get about", "Here", "Colour a room", "Check the scheme", "Light", "Walk", "Paints and decks",
    "Samples", "Paper", "Measure and edit", "House and file", "Program",
)  # fmt: skip
GROUPS = (
    HERE, MOVE, COLOUR, CHECK, LIT, WALKING, PAINTS, TRY, PAPER, EDIT, FILE, PROGRAM,
)  # fmt: skip
"""What one wants to do, in the order of the help."""


class Use(NamedTuple):
    """What a command does in some contexts."""

    contexts: tuple[str, ...]
    title: str
    """For the help and the finder: what it does, verb first."""
    short: str = ""
    """For the key bar."""
    action: str = ""
    """Textual's action, or "findings.open": a method of a task; empty: that of the command."""
    when: "When | None" = None
    """Whether it can be done now; None: always."""

    def can_run(self, session: "Session | None") -> bool:
        return self.when is None or (session is not None and self.when(session))


@dataclass(frozen=True, slots=True)
class Command:
    """A key and its verb, with what it does where."""

    id: str
    keys: tuple[str, ...]
    """In Textual's names; the first is the one shown. None: by the finder only."""
    verb: str
    """What the key means everywhere."""
    group: str
    """What one wants to do with it."""
    uses: tuple[Use, ...]
    action: str = ""
    """What the contexts have an action for, unless a use names another; empty: the id."""
    daily: bool = False
    """Whether a normal day needs it: it then stands on the first page of the help."""
    names: tuple[str, ...] = ()
    """What people would type to find it."""

    def keys_in(self, keymap: Keymap) -> tuple[str, ...]:
        return keymap.get(self.id, self.keys)

    def use_in(self, contexts: Iterable[str]) -> Use | None:
        """What it does in the nearest of some contexts that knows it, ANY last."""
        found = (use for each in (*contexts, ANY) for use in self.uses if each in use.contexts)
        return next(found, None)

    def action_of(self, use: Use) -> str:
        """For Textual; "walk.turn(1)" of a task becomes "screen.task('walk.turn', 1)"."""
        text = use.action or self.action or self.id.replace("-", "_")
        name, bracket, arguments = text.partition("(")
        if "." not in name or name.startswith(("app.", "screen.")):
            return name + bracket + arguments
        return f"screen.task({name!r}" + (f", {arguments}" if arguments else ")")


# Whether a command can be done now


def has_rooms(session: "Session") -> bool:
    return bool(session.shown.rooms)


def has_levels(session: "Session") -> bool:
    return len({room.level for room in session.shown.rooms.values()}) > 1


def shows_sun(session: "Session") -> bool:
    return session.selection.sun is not None


def can_undo(session: "Session") -> bool:
    return session.history.undo_label is not None


def can_redo(session: "Session") -> bool:
    return session.history.redo_label is not None


def _by_name(
    id_: str, group: str, title: str, action: str = "", *names: str,
    contexts: tuple[str, ...] = (HOUSE,), when: "When | None" = has_rooms,
) -> Command:  # fmt: skip
    """A command without a key of its own."""
    use = Use(contexts, title, "", action, when)
    return Command(id_, (), "", group, (use,), names=names)


_MOVES: tuple[Command, ...] = (
    Command("up", ("up",), "move", MOVE, (
        Use((MAP,), "Go to the room above"),
        Use((LIST, FINDING, START, FINDER), "Go up a line"),
        Use((CHART,), "Go to the paint above"),
        Use((WALK,), "Step ahead, through openings too", "step"),
        Use((SURVEY,), "Bring back the line before", "line before"),
        Use((FORM,), "Go to the previous field"),
    ), "go('up')", daily=True),
    Command("down", ("down",), "move", MOVE, (
        Use((MAP,), "Go to the room below"),
        Use((LIST, START, FINDER), "Go down a line"),
        Use((FINDING,), "Try the next remedy on the map", "try a remedy"),
        Use((CHART,), "Go to the paint below"),
        Use((WALK,), "Step back"),
        Use((SURVEY,), "Go on to the line after"),
        Use((FORM,), "Go to the next field"),
    ), "go('down')", daily=True),
    Command("left", ("left",), "move", MOVE, (
        Use((MAP,), "Go to the room on the left"),
        Use((CHART,), "Go to the paint on the left"),
        Use((DECK_LIST,), "Show the list in the order before"),
        Use((WALK,), "Turn to the left", "turn"),
        Use((FORM,), "Go to the choice before"),
        Use((LIGHT,), "Try the next darker paint on the walls", "darker"),
        Use((SUGGESTING,), "Change what is asked for; else show the suggestion before"),
        Use((AROUND,), "Swap the colour for the alternative before"),
        Use((SAMPLES,), "Name the wall before"),
        Use((BESIDE,), "Choose the paint on the left"),
        Use((SETTLING,), "Use yours", "yours"),
    ), "go('left')", daily=True),
    Command("right", ("right",), "move", MOVE, (
        Use((MAP,), "Go to the room on the right"),
        Use((CHART,), "Go to the paint on the right"),
        Use((DECK_LIST,), "Show the list in the next order", "order"),
        Use((WALK,), "Turn to the right"),
        Use((FORM,), "Go to the next choice", "choices"),
        Use((LIGHT,), "Try the next lighter paint on the walls", "lighter"),
        Use((SUGGESTING,), "Change what is asked for; else show the next suggestion", "change"),
        Use((AROUND,), "Swap the colour for its next alternative", "swap"),
        Use((SAMPLES,), "Name another wall", "other wall"),
        Use((BESIDE,), "Choose the paint on the right", "choose"),
        Use((SETTLING,), "Use theirs", "theirs"),
    ), "go('right')", daily=True),
    Command("page-up", ("pageup",), "page", MOVE, (
        Use((HOUSE,), "Show the level above", "level above", "", has_levels),
        Use((LIST, FINDING, CHECKS), "Go up a page"),
        Use((CHART,), "Turn to the page before"),
        Use((WALK,), "Scroll what is in view up", "", "walk.scroll(-1)"),
    ), "page(-1)", names=("upstairs", "floor above")),
    Command("page-down", ("pagedown",), "page", MOVE, (
        Use((HOUSE,), "Show the level below", "level below", "", has_levels),
        Use((LIST, FINDING, CHECKS), "Go down a page", "more"),
        Use((CHART,), "Turn to the next page", "next page"),
        Use((WALK,), "Scroll what is in view down", "", "walk.scroll(1)"),
    ), "page(1)", names=("downstairs", "floor below")),
    Command("first", ("home",), "first", MOVE, (
        Use((LIST, START), "Go to the first line"),
    ), "end(-1)"),
    Command("last", ("end",), "last", MOVE, (
        Use((LIST, START), "Go to the last line"),
    ), "end(1)"),
    Command("next", ("tab",), "next", MOVE, (
        Use((MAP,), "Go to the next room", "next room", "", has_rooms),
        Use((WALK,), "Go to the next stop of the route", "next stop", "walk.go_to_stop(1)"),
        Use((FINDING,), "Go to the next finding", "next finding"),
        Use((PROPOSAL,), "Show the next of them", "next"),
        Use((LIGHT,), "Go to the light of the next room", "next room"),
        Use((SCHEDULE,), "Go to the next part", "next part"),
        Use((FORM,), "Go to the next field"),
        Use((NEW_PAINT,), "Go to the other field", "next field"),
        Use((SURVEY,), "Finish the word; on an empty line go to the next room", "finish word"),
    ), "next(1)", daily=True),
    Command("previous", ("shift+tab",), "previous", MOVE, (
        Use((MAP,), "Go to the previous room", "", "", has_rooms),
        Use((WALK,), "Go to the stop before", "", "walk.go_to_stop(-1)"),
        Use((FINDING,), "Go to the previous finding"),
        Use((PROPOSAL,), "Show the one before"),
        Use((LIGHT,), "Go to the light of the previous room"),
        Use((SCHEDULE,), "Go to the part before"),
        Use((FORM,), "Go to the previous field"),
        Use((NEW_PAINT,), "Go back to the other field"),
        Use((SURVEY,), "On an empty line go to the previous room"),
    ), "next(-1)"),
    Command("back", ("escape",), "back", MOVE, (
        Use((PAGE, CHECKS, BESIDE, FINDINGS, FINDING, SAMPLES, PARTS, SHELF), "Go back", "back"),
        Use((WALK,), "Go back to the map", "map", "walk.leave"),
        Use((MAP,), "Show the map without the sun again", "", "light.hide_sun", shows_sun),
        Use((PLACES,), "Go back to where you were", "back"),
        Use((CHOOSING,), "Go back; the surface keeps its paint", "back"),
        Use((PROPOSAL,), "Stop a search; else go back without a change", "back"),
        Use((DECK,), "Show all paints again; then go back", "back"),
        Use((INTAKE,), "Go back without keeping the paints", "back"),
        Use((FORM, SURVEY, NEW_PAINT), "Go back; what is typed is kept", "back"),
        Use((SETTLING,), "Decide later, and save nothing", "later"),
        Use((REVISIONS,), "Go back to the house as it is", "back"),
        Use((ASKING, FINDER), "Close this without doing anything", "back"),
    ), daily=True),
)  # fmt: skip

_ENTRIES: tuple[Command, ...] = (
    Command("open", ("enter",), "do", HERE, (
        Use((MAP,), "Choose a paint for the selected surface", "choose paint", "choose.open",
            has_rooms),
        Use((WALK,), "Choose a paint for the surface looked at", "choose paint",
            "walk.choose_picked"),
        Use((CHOOSING,), "Put this paint on the surface", "put it on"),
        Use((FINDINGS,), "Show why, and what would help", "why"),
        Use((FINDING,), "Apply the remedy; without one shown, show the first", "apply"),
        Use((DECK,), "Put this paint on the selected surface", "put it on"),
        Use((BESIDE,), "Take the chosen paint into the house", "take it"),
        Use((SHELF,), "Open this deck", "open"),
        Use((INTAKE,), "Keep these paints as a deck", "keep"),
        Use((PARTS,), "Edit this, or add another", "edit"),
        Use((PROPOSAL,), "Paint the house like this", "paint it so"),
        Use((SAMPLES,), "Say what you saw: approve, reject, unsure", "say what you saw"),
        Use((SETTLING,), "Save what was decided", "save"),
        Use((REVISIONS,), "Restore this save", "restore"),
        Use((PLACES,), "Stay here", "stay here"),
        Use((START,), "Open this", "open"),
        Use((FORM,), "Go to the next field; after the last, save the form", "next field"),
        Use((SURVEY,), "Add what the line says", "add it"),
        Use((FINDER,), "Do this", "do it"),
    ), daily=True, names=("choose", "colour", "repaint")),
    Command("search", ("slash",), "search", HERE, (
        Use((CHOOSING, DECK), "Search: a name, warm, pinkish, lrv 55-70", "search"),
        Use((MAP, START), "Find a room or a command by name", "", "app.open_page('finder')"),
        Use((HELP,), "Search everything", "search"),
    ), daily=True),
    Command("new", ("n",), "new", EDIT, (
        Use((HOUSE,), "Add rooms, openings, windows and lamps by typing", "measure, add",
            "survey.open"),
        Use((CHOOSING,), "Add a paint: a typed colour, a hex, a meter reading", "add a paint",
            "decks.add_paint"),
        Use((DECK,), "Add a paint: a typed colour, a hex, a meter reading", "add a paint",
            "add_paint"),
        Use((PARTS,), "Add another of this kind", "new"),
        Use((SCHEMES,), "Keep the house as it is now as a scheme", "keep as it is now"),
        Use((SAMPLES,), "Note that a sample was put up", "put up"),
        Use((SHELF,), "Bring in a file of paints: CSV, TSV, CGATS or CxF", "bring in a file"),
        Use((START,), "Begin a new house", "new house"),
    ), daily=True, names=("survey", "measure", "room size", "add a room", "add a paint",
                          "new paint", "hex", "window", "lamp", "door", "import")),
    Command("edit", ("e",), "edit", EDIT, (
        Use((HOUSE,), "Edit what is in the room, or the house", "edit", "edit.open"),
        Use((SAMPLES,), "Edit the newest sample of this paint", "edit"),
        Use((FINDING,), "Change the limit of this check for this house", "limit"),
        Use((SCHEDULE,), "Say what is on the walls now, for the number of coats", "walls now"),
        Use((INTAKE,), "Say what a column means", "column"),
    ), daily=True, names=("window", "lamp", "door", "floor", "tile", "finish", "rename")),
    Command("delete", ("delete", "ctrl+d"), "delete", EDIT, (
        Use((PARTS,), "Delete this; undo brings it back", "delete"),
        Use((SCHEMES,), "Delete this scheme; undo brings it back", "delete"),
        Use((SAMPLES,), "Delete the newest sample of this paint"),
        Use((FINDING,), "Give this check its usual limit back"),
    )),
    Command("mark", ("x",), "mark", WALKING, (
        Use((HOUSE,), "Tick the room off, or take the tick back", "tick off", "walk.tick",
            has_rooms),
        Use((DECK,), "Pick this paint to lay it beside others", "pick"),
        Use((SUGGESTING,), "Keep this paint, or the paint of this room, or not", "keep"),
    ), names=("visit", "done")),
    Command("note", ("o",), "note", WALKING, (
        Use((HOUSE,), "Write a note on the visit to the room", "note", "walk.note", has_rooms),
    ), names=("visit", "remark")),
    Command("copy", ("c",), "copy", HERE, (
        Use((HOUSE,), "Copy the paints of the room", "copy", "schedule.copy_room", has_rooms),
        Use((DECK,), "Copy the paint's code"),
        Use((SCHEDULE,), "Copy the shopping list"),
    )),
    Command("scope", ("h",), "here or whole house", HERE, (
        Use((FINDINGS, SAMPLES, PARTS), "Show this room only, or the whole house", "room or house"),
        Use((SUGGESTING,), "Paint the unpainted rooms only, or all", "unpainted or all"),
        Use((CHOOSING,), "Paint this surface only, or wherever its paint is", "here or everywhere"),
    ), names=("whole house", "this room")),
    Command("view", ("v",), "another view", HERE, (
        Use((MAP,), "Show the plan with sightlines, without, or the graph", "view",
            "screen.next_view", has_rooms),
        Use((DECK,), "Arrange the paints in the next way", "arrange"),
        Use((SCHEDULE,), "Show the schedule, or the colours in proportion: by area, by view",
            "proportions"),
        Use((PROPOSAL,), "Show before or after on the map", "before or after"),
        Use((FINDINGS,), "Show the serious ones only, or all", "serious only"),
        Use((WALK,), "Show colours with or without shading", "shading"),
    )),
    Command("more", ("plus", "equals_sign"), "more", HERE, (
        Use((HOUSE,), "Enlarge the map; in the walk look closer", "zoom"),
        Use((DECK,), "Take this paint into the house", "add to house"),
        Use((AROUND,), "Show more sets like this one", "more like this"),
        Use((SUGGESTING,), "Allow one wall paint more", "more paints"),
    ), "more(1)"),
    Command("less", ("minus",), "less", HERE, (
        Use((HOUSE,), "Reduce the map; in the walk see more at once"),
        Use((SUGGESTING,), "Allow one wall paint fewer", "fewer paints"),
    ), "more(-1)"),
    Command("usual", ("0",), "usual size", HERE, (
        Use((HOUSE,), "Fit the level into the map; in the walk the usual view"),
    ), "more(0)"),
)  # fmt: skip

_TASKS: tuple[Command, ...] = (
    Command("walls", ("1",), "walls", COLOUR, (
        Use((HOUSE, DECK), "Select the walls for a paint", "walls"),
    ), "surface('walls')", daily=True),
    Command("ceiling", ("2",), "ceiling", COLOUR, (
        Use((HOUSE, DECK), "Select the ceiling for a paint"),
    ), "surface('ceiling')", daily=True),
    Command("trim", ("3",), "trim", COLOUR, (
        Use((HOUSE, DECK), "Select the trim for a paint"),
        Use((SUGGESTING,), "Suggest the trim too, or leave it", "trim too"),
    ), "surface('trim')", daily=True, names=("woodwork", "skirting")),
    Command("doors", ("4",), "doors", COLOUR, (
        Use((HOUSE, DECK), "Select the doors for a paint"),
    ), "surface('doors')", daily=True),
    Command("one-wall", ("5",), "one wall", COLOUR, (
        Use((HOUSE,), "Choose a paint for one wall only", "", "choose.open_accent", has_rooms),
    ), names=("feature wall", "accent wall")),
    Command("sheen", ("g",), "sheen", COLOUR, (
        Use((HOUSE,), "Set the sheen of the selected surface", "sheen", "choose.ask_sheen",
            has_rooms),
    ), names=("gloss", "matt", "eggshell", "finish")),
    Command("advice", ("a",), "advice", COLOUR, (
        Use((HOUSE,), "Suggest paints for the house", "suggest", "suggest.open", has_rooms),
        Use((DECK,), "Suggest paints for the house from this deck", "suggest", "", has_rooms),
    ), daily=True, names=("suggest", "propose", "palette", "scheme", "fill")),
    Command("around", ("b",), "around a paint", PAINTS, (
        Use((HOUSE,), "Build a set of colours around the paint here", "build around",
            "suggest.around", has_rooms),
        Use((DECK,), "Build a set of colours around this paint", "build around", "", has_rooms),
    )),
    Command("schemes", ("m",), "schemes", COLOUR, (
        Use((HOUSE,), "Compare schemes of the house, and take one", "schemes", "suggest.schemes",
            has_rooms),
    ), names=("scheme", "version", "alternative", "compare", "a b c")),
    Command("findings", ("f",), "findings", CHECK, (
        Use((HOUSE,), "List what to look at, the serious ones first", "findings", "findings.open",
            has_rooms),
        Use((WALK,), "Show what to look at in this view", "findings", "walk.open_finding"),
    ), daily=True, names=("problems", "warnings", "errors", "accept", "ignore")),
    Command("decks", ("d",), "decks", PAINTS, (
        Use((HOUSE,), "Open a deck of paints", "decks", "decks.open"),
        Use((DECK,), "Open another deck, or bring one in", "decks", "shelf"),
        Use((SUGGESTING,), "Suggest from another deck", "other paints", "source"),
    ), daily=True, names=("fan deck", "swatch", "add a paint", "new paint", "colour")),
    Command("samples", ("s",), "samples", TRY, (
        Use((HOUSE,), "List samples to put up, and what was seen", "samples", "samples.open",
            has_rooms),
    ), daily=True, names=("sample", "tester", "test pot", "approve", "reject")),
    Command("schedule", ("p",), "paper", PAPER, (
        Use((HOUSE,), "Show the painter's schedule", "schedule",
            "schedule.open", has_rooms),
    ), daily=True, names=("print", "painter", "shopping", "tins", "litres", "price", "quote",
                          "export", "pdf", "paper")),
    Command("walk", ("w",), "walk", WALKING, (
        Use((HOUSE,), "Walk through the house; press again for the map", "walk",
            "walk.enter_or_leave", has_rooms),
    ), daily=True, names=("3d", "look around")),
    Command("route", ("r",), "route", WALKING, (
        Use((HOUSE,), "List the stops of the walk", "route", "walk.open_route", has_rooms),
    ), names=("visit", "stops")),
    Command("through", ("space",), "go through", WALKING, (
        Use((WALK,), "Go through the opening ahead, or use the stairs", "go through"),
    )),
    Command("next-surface", ("full_stop",), "next surface", WALKING, (
        Use((WALK,), "Look at the next surface in view", "next surface", "walk.pick(1)"),
    )),
    Command("previous-surface", ("comma",), "previous surface", WALKING, (
        Use((WALK,), "Look at the surface before", "", "walk.pick(-1)"),
    )),
    Command("step-left", ("shift+left",), "step aside", WALKING, (
        Use((WALK,), "Step to the left", "", "step(270)"),
    )),
    Command("step-right", ("shift+right",), "step aside", WALKING, (
        Use((WALK,), "Step to the right", "", "step(90)"),
    )),
    Command("turn-left", ("less_than_sign",), "turn", WALKING, (
        Use((HOUSE,), "Turn to the left in the walk while a list is open", "", "walk.turn(-1)",
            has_rooms),
    )),
    Command("turn-right", ("greater_than_sign",), "turn", WALKING, (
        Use((HOUSE,), "Turn to the right in the walk while a list is open", "", "walk.turn(1)",
            has_rooms),
    )),
    Command("light", ("t",), "turn the light", LIT, (
        Use((ANY,), "Turn the light: reference, day, evening", "light", "", has_rooms),
        Use((INTAKE,), "Say under which light Lab and XYZ were measured", "measured under",
            "measured_under"),
    ), daily=True, names=("evening", "daylight", "night", "lamp")),
    Command("light-page", ("l",), "light page", LIT, (
        Use((HOUSE,), "Show the light of the room", "room light", "light.open", has_rooms),
    ), daily=True, names=("daylight", "lux", "sun")),
    Command("hour-before", ("left_square_bracket",), "hour of the sun", LIT, (
        Use((HOUSE,), "Show into which rooms the sun shines, an hour back", "",
            "light.step_hour(-1)", has_rooms),
    )),
    Command("hour-after", ("right_square_bracket",), "hour of the sun", LIT, (
        Use((HOUSE,), "Show into which rooms the sun shines, an hour on", "",
            "light.step_hour(1)", has_rooms),
    ), names=("sun", "sunshine", "hour")),
    Command("month-before", ("left_curly_bracket",), "month of the sun", LIT, (
        Use((HOUSE,), "Show into which rooms the sun shines, a month back", "",
            "light.step_month(-1)", has_rooms),
    )),
    Command("month-after", ("right_curly_bracket",), "month of the sun", LIT, (
        Use((HOUSE,), "Show into which rooms the sun shines, a month on", "",
            "light.step_month(1)", has_rooms),
    ), names=("season", "winter", "summer")),
    Command("legend", ("k",), "legend", CHECK, (
        Use((ANY,), "Show what the marks mean", "legend", "open_page('legend')"),
    ), names=("marks", "signs", "symbols")),
    Command("undo", ("u",), "undo", FILE, (
        Use((HOUSE,), "Undo the last edit", "undo", "files.undo", can_undo),
        Use((DECK,), "Undo the last edit of the house", "undo", "", can_undo),
    ), daily=True),
    Command("redo", ("U", "ctrl+r"), "redo", FILE, (
        Use((HOUSE,), "Redo the edit that was undone", "redo", "files.redo", can_redo),
    )),
    Command("save", ("ctrl+s",), "save", FILE, (
        Use((HOUSE,), "Save the house", "save", "files.save", None),
        Use((SCHEDULE,), "Write the schedule for a reader, to a file", "write file"),
        Use((FORM,), "Save the form as one edit", "save"),
        Use((NEW_PAINT,), "Keep it as a paint of the house", "keep as paint"),
    ), daily=True, names=("export", "print", "pdf", "write")),
    Command("take-back", ("ctrl+t",), "take back", EDIT, (
        Use((SURVEY,), "Take back what was added last", "take back", "", can_undo),
    )),
    Command("find", ("ctrl+p",), "find a command", PROGRAM, (
        Use((ANY,), "Find a command or a room by name", "find", "open_page('finder')"),
    ), daily=True),
    Command("help", ("question_mark", "f1"), "help", PROGRAM, (
        Use((ANY,), "Show the keys of this moment", "help", "open_page('help')"),
        Use((HELP,), "Show everything, or the keys of the moment again", "everything",
            "everything"),
    ), daily=True, names=("keys", "manual", "guide")),
    Command("suspend", ("ctrl+z",), "suspend", PROGRAM, (
        Use((ANY,), "Put the program aside (fg brings it back)", "", "suspend_process"),
    )),
    Command("quit", ("ctrl+q", "ctrl+c"), "quit", PROGRAM, (
        Use((ANY,), "Quit; asks first when something is not saved", "quit", "leave"),
    ), daily=True, names=("exit",)),
)  # fmt: skip

_BY_NAME: tuple[Command, ...] = (
    _by_name("views", WALKING, "List what is seen from here", "walk.open_views",
             contexts=(WALK,)),
    _by_name("turn-round", WALKING, "Turn round", "turn_round", contexts=(WALK,)),
    _by_name("picture", WALKING, "Show the picture alone, or with what is in view",
             "walk.picture_alone", contexts=(WALK,)),
    _by_name("finding-view", WALKING, "Go to the view of the next finding", "walk.go_to_finding(1)",
             contexts=(WALK,)),
    _by_name("region", WALKING, "Show what is seen of the floor from the room", "walk.show_region",
             "visible floor"),
    _by_name("repaint", CHECK, "Choose another paint for a place of this finding", "repaint",
             "another paint", contexts=(FINDINGS, FINDING)),
    _by_name("checks", CHECK, "Read about the checks, their limits and sources",
             "findings.open_checks", "rules", "limits", when=None),
    _by_name("costs", CHECK, "Read what counts when paints are suggested",
             "open_page('costs')", "score",
             contexts=(ANY,), when=None),
    _by_name("light-reference", LIT, "Show the reference light", "light('reference')",
             contexts=(ANY,)),
    _by_name("light-day", LIT, "Show the house by day", "light('day')", contexts=(ANY,)),
    _by_name("light-evening", LIT, "Show the house in the evening", "light('evening')",
             contexts=(ANY,)),
    _by_name("eyes", LIT, "See the house with other eyes", "eyes", "colour blind", "protan",
             "deutan", "tritan", "greys", "low vision", contexts=(ANY,)),
    _by_name("use-sent", FILE, "Use what was sent, for this", "settle('base')",
             contexts=(SETTLING,), when=None),
    _by_name("edit-room", EDIT, "Edit the selected room", "edit.edit_room", "rename", "room size"),
    _by_name("edit-house", EDIT, "Edit the house: name, north, units", "edit.edit_house",
             "north", "compass", "feet", when=None),
    _by_name("replace-paint", COLOUR, "Replace this paint everywhere",
             "choose.replace_everywhere", "swap", "exchange", "every room"),
    _by_name("woodwork", COLOUR, "Paint trim, ceilings and doors of the level alike",
             "choose.paint_woodwork", "trim", "ceiling", "doors", "level"),
    _by_name("same-as", COLOUR, "Paint this room the same as another room",
             "suggest.same_as", "same as", "copy room", "like"),
    _by_name("tints", COLOUR, "Mix a tint of this paint: half, lighter, darker, greyer",
             "suggest.tints", "half strength", "quarter", "lighter", "darker", "greyer"),
    _by_name("wishes", EDIT, "Write down the client's wishes", "edit.edit_wishes", "brief",
             "wishes", "client", "like", "avoid", when=None),
    _by_name("board", PAPER, "Show the colours in proportion", "schedule.open(1)", "board",
             "proportions", "palette", "swatch"),
    _by_name("deck-best", PAINTS, "List first what suits the selected surface best", "best",
             contexts=(DECK,)),
    _by_name("deck-near", PAINTS, "Show only paints near this one, or all again", "near",
             "like this", contexts=(DECK,), when=None),
    _by_name("side-by-side", PAINTS, "Lay the picked paints side by side", "side_by_side",
             "compare", contexts=(DECK,), when=None),
    _by_name("deck-faults", PAINTS, "Show what looks wrong in the deck", "faults",
             contexts=(DECK,), when=None),
    _by_name("deck-file", PAINTS, "Open the paints of any deck or house file", "file",
             contexts=(SHELF,), when=None),
    _by_name("add-paint", PAINTS, "Add a paint: a typed colour, a hex, a meter reading",
             "decks.add_paint", "add a paint", "new paint", "hex", "meter", when=None),
    _by_name("keep-finish", PAINTS, "Keep it as a finish: a floor, a tile, a top, a cloth",
             "finish", contexts=(NEW_PAINT,), when=None),
    _by_name("save-as", FILE, "Save the house under another name", "files.save_as", when=None),
    _by_name("revisions", FILE, "List the earlier saves of this house", "share.open_revisions",
             "history", "version", "earlier", when=None),
    _by_name("close", FILE, "Close the house and go to the start", "files.close",
             "new house", "another house", "start over", when=None),
    _by_name("open-file", FILE, "Open a house file by its name", "file", contexts=(START,),
             when=None),
    _by_name("demo", FILE, "Open the demo house", "demo", contexts=(START,), when=None),
    _by_name("next-step", PROGRAM, "Show or hide the next step below the map", "next_step",
             "advice", "hint", contexts=(ANY,), when=None),
    _by_name("greys", PROGRAM, "Change to a light or a dark surround", "greys", "theme", "dark",
             contexts=(ANY,), when=None),
)  # fmt: skip

COMMANDS: tuple[Command, ...] = (*_ENTRIES, *_MOVES, *_TASKS, *_BY_NAME)

BY_ID = {command.id: command for command in COMMANDS}


def commands_of(contexts: Sequence[str]) -> Iterator[tuple[Command, Use]]:
    """What can be done in some contexts, nearest first, in the table's order."""
    for command in COMMANDS:
        use = command.use_in(contexts)
        if use is not None:
            yield command, use


def commands_called(query: str) -> frozenset[str]:
    """The ids of the commands that go by their own or another name, which may be typed in part."""
    typed = query.casefold().strip()
    return frozenset(
        command.id
        for command in COMMANDS
        if typed
        and any(name.startswith(typed) for name in (command.id.replace("-", " "), *command.names))
    )


RENAMED: Mapping[str, str] = {
    "go-left": "left", "go-right": "right", "go-up": "up", "go-down": "down", "next-room": "next",
    "previous-room": "previous", "level-up": "page-up", "level-down": "page-down",
    "zoom-in": "more", "zoom-out": "less", "zoom-fit": "usual", "sightlines": "view",
    "choose": "open", "take": "open", "surface-walls": "walls", "surface-ceiling": "ceiling",
    "surface-trim": "trim", "surface-doors": "doors", "choose-accent": "one-wall",
    "survey": "new", "parts": "edit", "fill": "advice", "reading": "add-paint", "tick": "mark",
    "palette": "find", "deck-take": "more", "deck-put": "open", "deck-search": "search",
    "search-paints": "search", "deck-arrange": "view", "deck-pick": "mark",
    "deck-beside": "side-by-side", "deck-shelf": "decks", "deck-propose": "advice",
    "form-take": "save", "schedule-write": "save", "remedy": "open", "finding-open": "open",
    "limit": "edit", "exact": "view", "go-through": "through", "pick": "next-surface",
    "pick-before": "previous-surface", "look-left": "turn-left", "look-right": "turn-right",
    "survey-take-back": "take-back", "meter-paint": "save", "meter-finish": "keep-finish",
    "meter-light": "add-paint", "meter-clear": "add-paint", "measured-under": "add-paint",
    "clear": "add-paint", "shelf-file": "deck-file", "deck-warmth": "search",
    "deck-undertone": "search",
    "shelf-bring": "new", "give-up": "back", "walk-choose": "open",
    "finding-why": "findings", "fill-stop": "back", "offer-stop": "back", "stop": "back",
    "deck-order": "right", "deck-unpick": "mark",
}  # fmt: skip
"""Names that commands had in keymaps before, with what they are called now."""
