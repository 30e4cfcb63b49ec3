"""Everything that the user can do: one table.

From it derive the bindings of every widget, the key bar, the finder, the help and the user's
keymap, so that they cannot disagree. A key means one verb, wherever it is pressed; what it does to
what is shown there is a `Use` of its command.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from housemap.workbench.session import Session

    When = Callable[[Session], bool]


Keymap = Mapping[str, tuple[str, ...]]
"""The user's own keys, by command id."""

Context = Literal[
    "any", "house", "map", "walk", "places", "list", "page", "form", "survey", "asking", "finder",
    "choosing", "findings", "finding", "checks", "deck", "deck-list", "chart", "shelf", "beside",
    "intake", "new-paint", "help", "parts", "suggesting", "around", "schemes", "proposal",
    "samples", "schedule", "light", "start", "settling", "came-in", "revisions",
]  # fmt: skip
"""Each the CONTEXT of the widget or screen whose keys these are: "house" of the screen of an open
house, "map" of its map, "any" of the whole program, "list" of what scrolls, "page" of a text."""

PLACES: Mapping[Context, tuple[str, str]] = {
    "house": ("with a house open", ""),
    "map": ("on the map", "esc"),
    "walk": ("in the walk", "w"),
    "choosing": ("in the list of paints", "enter"),
    "findings": ("in the list of findings", "f"),
    "finding": ("in a finding", "f, enter"),
    "deck": ("in a deck", "d, enter"),
    "chart": ("in the pages of a deck", "d, enter"),
    "deck-list": ("in the list of a deck", "d, enter, v"),
    "shelf": ("in the list of decks", "d"),
    "beside": ("with paints side by side", "d, enter, x"),
    "intake": ("with a file of paints", "d, n"),
    "new-paint": ("with a new paint", "enter, n"),
    "proposal": ("in suggestions, sets and schemes", "a"),
    "suggesting": ("in suggestions", "a"),
    "around": ("in sets around a paint", "b"),
    "schemes": ("in schemes", "m"),
    "samples": ("in samples", "s"),
    "schedule": ("in the schedule", "p"),
    "light": ("in the light of a room", "l"),
    "parts": ("in the parts of a room", "e"),
    "form": ("in a form", "e, enter"),
    "survey": ("in the survey", "n"),
    "places": ("in the lists of the walk", "r"),
    "revisions": ("in earlier saves", ""),
    "settling": ("where both changed it", ""),
    "came-in": ("in what came in", ""),
    "start": ("at the start", ""),
    "list": ("in any list or page", ""),
    "checks": ("in the page of checks", ""),
    "help": ("in the help", "?"),
    "page": ("in any page", ""),
    "asking": ("in a question", ""),
    "finder": ("in the finder", "ctrl+p"),
    "any": ("everywhere", ""),
}
"""Each context in words, in the order of the help, and the keys that lead there from the map."""

MOVE, HERE, COLOUR, CHECK, LIT, WALKING, PAINTS, TRY, PAPER, EDIT, FILE, PROGRAM = (
    "Get about", "Here", "Colour a room", "Check the scheme", "Light", "Walk", "Paints and decks",
    "Samples", "Paper", "Measure and edit", "House and file", "Program",
)  # fmt: skip
GROUPS = (
    HERE, MOVE, COLOUR, CHECK, LIT, WALKING, PAINTS, TRY, PAPER, EDIT, FILE, PROGRAM,
)  # fmt: skip
"""What one wants to do, in the order of the help."""


class Use(NamedTuple):
    contexts: tuple[Context, ...]
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


class Command(NamedTuple):
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
        """What it does in the nearest of some contexts that knows it, "any" last."""
        found = (use for each in (*contexts, "any") for use in self.uses if each in use.contexts)
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


def can_undo(session: "Session") -> bool:
    return session.history.undo_label is not None


def _one(  # noqa: PLR0917 - the columns of the table
    id_: str, keys: tuple[str, ...], verb: str, group: str, contexts: tuple[Context, ...],
    title: str, short: str = "", action: str = "", when: "When | None" = None,
    *, daily: bool = False, names: tuple[str, ...] = (),
) -> Command:  # fmt: skip
    """A command of one use."""
    use = Use(contexts, title, short, action, when)
    return Command(id_, keys, verb, group, (use,), daily=daily, names=names)


def _by_name(
    id_: str, group: str, title: str, action: str = "", *names: str,
    contexts: tuple[Context, ...] = ("house",), when: "When | None" = has_rooms,
) -> Command:  # fmt: skip
    return _one(id_, (), "", group, contexts, title, "", action, when, names=names)


_MOVES: tuple[Command, ...] = (
    Command("up", ("up",), "move", MOVE, (
        Use(("map",), "Go to the room above"),
        Use(("list", "finding", "finder"), "Go up a line"),
        Use(("chart",), "Go to the paint above"),
        Use(("walk",), "Step ahead, through openings too", "step"),
        Use(("survey",), "Bring back the line before", "line before"),
        Use(("form",), "Go to the previous field"),
    ), "go('up')", daily=True),
    Command("down", ("down",), "move", MOVE, (
        Use(("map",), "Go to the room below"),
        Use(("list", "finder"), "Go down a line"),
        Use(("finding",), "Try the next remedy on the map", "try a remedy"),
        Use(("chart",), "Go to the paint below"),
        Use(("walk",), "Step back"),
        Use(("survey",), "Go on to the line after"),
        Use(("form",), "Go to the next field"),
    ), "go('down')", daily=True),
    Command("left", ("left",), "move", MOVE, (
        Use(("map",), "Go to the room on the left"),
        Use(("chart",), "Go to the paint on the left"),
        Use(("deck-list",), "Show the list in the order before"),
        Use(("walk",), "Turn to the left", "turn"),
        Use(("form",), "Go to the choice before"),
        Use(("light",), "Try the next darker paint on the walls", "darker"),
        Use(("suggesting",), "Change what is asked for; else show the suggestion before"),
        Use(("around",), "Swap the colour for the alternative before"),
        Use(("samples",), "Name the wall before"),
        Use(("beside",), "Choose the paint on the left"),
        Use(("settling",), "Use yours", "yours"),
    ), "go('left')", daily=True),
    Command("right", ("right",), "move", MOVE, (
        Use(("map",), "Go to the room on the right"),
        Use(("chart",), "Go to the paint on the right"),
        Use(("deck-list",), "Show the list in the next order", "order"),
        Use(("walk",), "Turn to the right"),
        Use(("form",), "Go to the next choice", "choices"),
        Use(("light",), "Try the next lighter paint on the walls", "lighter"),
        Use(("suggesting",), "Change what is asked for; else show the next suggestion", "change"),
        Use(("around",), "Swap the colour for its next alternative", "swap"),
        Use(("samples",), "Name another wall", "other wall"),
        Use(("beside",), "Choose the paint on the right", "choose"),
        Use(("settling",), "Use theirs", "theirs"),
    ), "go('right')", daily=True),
    Command("page-up", ("pageup",), "page", MOVE, (
        Use(("map",), "Show the level above", "level above", "screen.page(-1)", has_levels),
        Use(("list", "finding", "checks"), "Go up a page"),
        Use(("chart",), "Turn to the page before"),
        Use(("walk",), "Scroll what is in view up"),
    ), "page(-1)", names=("upstairs", "floor above")),
    Command("page-down", ("pagedown",), "page", MOVE, (
        Use(("map",), "Show the level below", "level below", "screen.page(1)", has_levels),
        Use(("list", "finding", "checks"), "Go down a page", "more"),
        Use(("chart",), "Turn to the next page", "next page"),
        Use(("walk",), "Scroll what is in view down"),
    ), "page(1)", names=("downstairs", "floor below")),
    _one("first", ("home",), "first", MOVE, ("list", "finding"),
         "Go to the first line", "", "end(-1)"),
    _one("last", ("end",), "last", MOVE, ("list", "finding"),
         "Go to the last line", "", "end(1)"),
    Command("next", ("tab",), "next", MOVE, (
        Use(("map",), "Go to the next room", "next room", "", has_rooms),
        Use(("walk",), "Go to the next stop of the route", "next stop"),
        Use(("finding",), "Go to the next finding", "next finding"),
        Use(("proposal",), "Show the next of them", "next"),
        Use(("light",), "Go to the light of the next room", "next room"),
        Use(("schedule",), "Go to the next part", "next part"),
        Use(("form",), "Go to the next field", "next field"),
        Use(("new-paint",), "Go to the other field", "next field"),
        Use(("survey",), "Finish the word; on an empty line go to the next room", "finish word"),
    ), "next(1)", daily=True),
    Command("previous", ("shift+tab",), "previous", MOVE, (
        Use(("map",), "Go to the previous room", "", "", has_rooms),
        Use(("walk",), "Go to the stop before"),
        Use(("finding",), "Go to the previous finding"),
        Use(("proposal",), "Show the one before"),
        Use(("light",), "Go to the light of the previous room"),
        Use(("schedule",), "Go to the part before"),
        Use(("form",), "Go to the previous field"),
        Use(("new-paint",), "Go back to the other field"),
        Use(("survey",), "On an empty line go to the previous room"),
    ), "next(-1)"),
    Command("back", ("escape",), "back", MOVE, (
        Use(("page", "beside", "shelf"), "Go back", "back"),
        Use(("checks",), "Go back", "back", "screen.back"),
        Use(("samples", "parts"), "Go back", "back", "screen.close_panel"),
        Use(("findings",), "Go back", "back", "findings.leave_list"),
        Use(("finding",), "Go back", "back", "findings.leave_finding"),
        Use(("walk",), "Go back to the map", "map", "walk.leave"),
        Use(("map",), "Show the map without the sun again", "", "light.hide_sun",
            lambda session: session.selection.sun is not None),
        Use(("places",), "Go back to where you were", "back"),
        Use(("choosing",), "Go back; the surface keeps its paint", "back"),
        Use(("proposal",), "Stop a search; else go back without a change", "back"),
        Use(("deck",), "Show all paints again; then go back", "back"),
        Use(("intake",), "Go back without keeping the paints", "back"),
        Use(("form", "new-paint"), "Go back; what is typed is kept", "back"),
        Use(("survey",), "Go back; what is typed is kept", "back", "screen.close_panel"),
        Use(("settling",), "Decide later, and change nothing", "later"),
        Use(("came-in",), "Go on with what came in", "go on", "screen.close_panel"),
        Use(("revisions",), "Go back to the house as it is", "back", "screen.close_panel"),
        Use(("asking", "finder"), "Close this without doing anything", "back"),
    ), daily=True),
)  # fmt: skip

_ENTRIES: tuple[Command, ...] = (
    Command("open", ("enter",), "do", HERE, (
        Use(("map",), "Choose a paint for the selected surface", "choose paint", "choose.open",
            has_rooms),
        Use(("walk",), "Choose a paint for the surface looked at", "choose paint"),
        Use(("choosing",), "Put this paint on the surface", "put it on"),
        Use(("findings",), "Show why, and what would help", "why"),
        Use(("finding",), "Apply the remedy; without one shown, show the first", "apply"),
        Use(("deck",), "Put this paint on the selected surface", "put it on"),
        Use(("beside",), "Take the chosen paint into the house", "take it"),
        Use(("shelf",), "Open this deck", "open"),
        Use(("intake",), "Keep these paints as a deck", "keep"),
        Use(("parts",), "Edit this, or add another", "edit"),
        Use(("proposal",), "Paint the house like this", "paint it so"),
        Use(("samples",), "Say what you saw: approve, reject, unsure", "say what you saw"),
        Use(("settling",), "Go on with what was decided", "go on"),
        Use(("came-in",), "Go to the room of this change", "go there"),
        Use(("revisions",), "Restore this save", "restore"),
        Use(("places",), "Stay here", "stay here"),
        Use(("start",), "Open this", "open"),
        Use(("form",), "Go to the next field; after the last, apply the form", "next field"),
        Use(("survey",), "Add what the line says", "add it"),
        Use(("finder",), "Do this", "do it"),
    ), daily=True, names=("choose", "colour", "repaint")),
    Command("search", ("slash",), "search", HERE, (
        Use(("choosing", "deck"), "Search: a name, warm, pinkish, lrv 55-70", "search"),
        Use(("map", "start"), "Find a room or a command by name", "", "app.open_page('finder')"),
        Use(("help",), "Search everything", "search"),
    ), daily=True),
    Command("new", ("n",), "new", EDIT, (
        Use(("house",), "Add rooms, openings, windows and lamps by typing", "measure, add",
            "survey.open"),
        Use(("choosing",), "Add a paint: a typed colour, a hex, a meter reading", "add a paint",
            "decks.add_paint"),
        Use(("deck",), "Add a paint: a typed colour, a hex, a meter reading", "add a paint",
            "add_paint"),
        Use(("parts",), "Add another of this kind", "new"),
        Use(("schemes",), "Keep the house as it is now as a scheme", "keep as it is now"),
        Use(("samples",), "Note that a sample was put up", "put up"),
        Use(("shelf",), "Bring in a file of paints: CSV, TSV, CGATS or CxF", "bring in a file"),
        Use(("start",), "Begin a new house", "new house"),
    ), daily=True, names=("survey", "measure", "room size", "add a room", "add a paint",
                          "new paint", "hex", "window", "lamp", "door", "import")),
    Command("edit", ("e",), "edit", EDIT, (
        Use(("house",), "Edit what is in the room, or the house", "edit", "edit.open"),
        Use(("samples",), "Edit the newest sample of this paint", "edit"),
        Use(("finding",), "Change the limit of this check for this house", "limit",
            "findings.edit_limit"),
        Use(("schedule",), "Say what is on the walls now, for the number of coats", "walls now"),
        Use(("intake",), "Say what a column means", "column"),
    ), daily=True, names=("window", "lamp", "door", "floor", "tile", "finish", "rename")),
    Command("delete", ("delete", "ctrl+d"), "delete", EDIT, (
        Use(("parts",), "Delete this; undo brings it back", "delete"),
        Use(("schemes",), "Delete this scheme; undo brings it back", "delete"),
        Use(("samples",), "Delete the newest sample of this paint"),
        Use(("finding",), "Give this check its usual limit back", "", "findings.restore_limits"),
    )),
    Command("mark", ("x",), "mark", WALKING, (
        Use(("house",), "Tick the room off, or take the tick back", "tick off", "walk.tick",
            has_rooms),
        Use(("deck",), "Pick this paint to lay it beside others", "pick"),
        Use(("suggesting",), "Keep this paint, or the paint of this room, or not", "keep"),
    ), names=("visit", "done")),
    Command("note", ("o",), "note", WALKING, (
        Use(("house",), "Write a note on the visit to the room", "note", "walk.note", has_rooms),
    ), names=("visit", "remark")),
    Command("copy", ("c",), "copy", HERE, (
        Use(("house",), "Copy the paints of the room", "copy", "schedule.copy_room", has_rooms),
        Use(("deck",), "Copy the paint's code"),
        Use(("schedule",), "Copy the shopping list"),
    )),
    Command("scope", ("h",), "here or whole house", HERE, (
        Use(("findings", "samples", "parts"), "Show this room only, or the whole house",
            "room or house"),
        Use(("suggesting",), "Paint the unpainted rooms only, or all", "unpainted or all"),
        Use(("choosing",), "Paint this surface only, or wherever its paint is",
            "here or everywhere"),
        Use(("settling",), "Use the side chosen last for all that are left", "the rest too"),
    ), names=("whole house", "this room")),
    Command("view", ("v",), "another view", HERE, (
        Use(("map",), "Show the house as a graph, or as a plan", "graph or plan",
            "screen.graph_or_plan", has_rooms),
        Use(("deck",), "Arrange the paints in the next way", "arrange"),
        Use(("schedule",), "Show the schedule, or the colours in proportion: by area, by view",
            "proportions"),
        Use(("proposal",), "Show before or after on the map", "before or after"),
        Use(("findings",), "Show the serious ones only, or all", "serious only"),
        Use(("walk",), "Show colours with or without shading", "shading"),
    ), names=("graph", "plan")),
    Command("more", ("plus", "equals_sign"), "more", HERE, (
        Use(("house",), "Enlarge the map; in the walk look closer", "zoom"),
        Use(("deck",), "Take this paint into the house", "add to house"),
        Use(("around",), "Show more sets like this one", "more like this"),
        Use(("suggesting",), "Allow one wall paint more", "more paints"),
    ), "more(1)"),
    Command("less", ("minus",), "less", HERE, (
        Use(("house",), "Reduce the map; in the walk see more at once"),
        Use(("suggesting",), "Allow one wall paint fewer", "fewer paints"),
    ), "more(-1)"),
    _one("usual", ("0",), "usual size", HERE, ("house",),
         "Fit the level into the map; in the walk the usual view", "", "more(0)"),
)  # fmt: skip

_TASKS: tuple[Command, ...] = (
    _one("walls", ("1",), "walls", COLOUR, ("house", "deck"),
         "Select the walls for a paint", "walls", "surface('walls')", daily=True),
    _one("ceiling", ("2",), "ceiling", COLOUR, ("house", "deck"),
         "Select the ceiling for a paint", "", "surface('ceiling')", daily=True),
    Command("trim", ("3",), "trim", COLOUR, (
        Use(("house", "deck"), "Select the trim for a paint"),
        Use(("suggesting",), "Suggest the trim too, or leave it", "trim too"),
    ), "surface('trim')", daily=True, names=("woodwork", "skirting")),
    Command("doors", ("4",), "doors", COLOUR, (
        Use(("house", "deck"), "Select the doors for a paint"),
        Use(("around",), "Paint doors in the set's dark, or in its trim", "dark doors"),
    ), "surface('doors')", daily=True),
    Command("one-wall", ("5",), "one wall", COLOUR, (
        Use(("house",), "Choose a paint for one wall only", "", "choose.open_accent", has_rooms),
    ), names=("feature wall", "accent wall")),
    _one("sheen", ("g",), "sheen", COLOUR, ("house",),
         "Set the sheen of the selected surface", "sheen", "choose.ask_sheen", has_rooms,
         names=("gloss", "matt", "eggshell", "finish", "sheens")),
    Command("advice", ("a",), "advice", COLOUR, (
        Use(("house",), "Suggest paints for the house", "suggest", "suggest.open", has_rooms),
        Use(("deck",), "Suggest paints for the house from this deck", "suggest", "", has_rooms),
    ), daily=True, names=("suggest", "propose", "palette", "scheme", "fill")),
    Command("around", ("b",), "around a paint", PAINTS, (
        Use(("house",), "Build a set of colours around the paint here", "build around",
            "suggest.around", has_rooms),
        Use(("deck",), "Build a set of colours around this paint", "build around", "", has_rooms),
    ), names=("neutral", "colour set")),
    _one("schemes", ("m",), "schemes", COLOUR, ("house",),
         "Compare schemes of the house, and take one", "schemes", "suggest.schemes", has_rooms,
         names=("scheme", "version", "alternative", "compare", "a b c")),
    Command("findings", ("f",), "findings", CHECK, (
        Use(("house",), "List what to look at, the serious ones first", "findings", "findings.open",
            has_rooms),
        Use(("walk",), "Show what to look at in this view", "findings"),
        Use(("deck",), "Say how to come to the findings of the house", "", "findings", has_rooms),
    ), daily=True, names=("problems", "warnings", "errors", "accept", "accepted",
                          "ignore", "kept", "status")),
    Command("decks", ("d",), "decks", PAINTS, (
        Use(("house",), "Open a deck of paints", "decks", "decks.open"),
        Use(("deck",), "Open another deck, or bring one in", "decks", "shelf"),
        Use(("suggesting",), "Suggest from another deck", "other paints", "source"),
    ), daily=True, names=("fan deck", "swatch", "add a paint", "new paint", "colour")),
    _one("samples", ("s",), "samples", TRY, ("house",),
         "List samples to put up, and what was seen", "samples", "samples.open", has_rooms,
         daily=True, names=("sample", "tester", "test pot", "approve", "reject")),
    _one("schedule", ("p",), "paper", PAPER, ("house",),
         "Show the painter's schedule", "schedule", "schedule.open", has_rooms, daily=True,
         names=("print", "painter", "shopping", "tins", "litres", "price", "quote", "export",
                "pdf", "paper", "quantities", "hours", "labour")),
    _one("walk", ("w",), "walk", WALKING, ("house",),
         "Walk through the house; press again for the map", "walk", "walk.enter_or_leave",
         has_rooms, daily=True, names=("3d", "look around")),
    Command("route", ("r",), "route", WALKING, (
        Use(("house",), "List the stops of the walk", "route", "walk.open_route", has_rooms),
    ), names=("visit", "stops")),
    _one("through", ("space",), "go through", WALKING, ("walk",),
         "Go through the opening ahead, or use the stairs", "go through"),
    _one("next-surface", ("full_stop",), "next surface", WALKING, ("walk",),
         "Look at the next surface in view", "next surface", "pick(1)"),
    _one("previous-surface", ("comma",), "previous surface", WALKING, ("walk",),
         "Look at the surface before", "", "pick(-1)"),
    _one("step-left", ("shift+left",), "step aside", WALKING, ("walk",),
         "Step to the left", "", "step(270)"),
    _one("step-right", ("shift+right",), "step aside", WALKING, ("walk",),
         "Step to the right", "", "step(90)"),
    _one("turn-left", ("less_than_sign",), "turn", WALKING, ("house",),
         "Turn to the left in the walk while a list is open", "", "walk.turn(-1)", has_rooms),
    _one("turn-right", ("greater_than_sign",), "turn", WALKING, ("house",),
         "Turn to the right in the walk while a list is open", "", "walk.turn(1)", has_rooms),
    Command("light", ("t",), "turn the light", LIT, (
        Use(("any",), "Turn the light: reference, day, evening", "light", "", has_rooms),
        Use(("intake",), "Say under which light Lab and XYZ were measured", "measured under",
            "measured_under"),
    ), daily=True, names=("evening", "daylight", "night", "lamp")),
    _one("light-page", ("l",), "light page", LIT, ("house",),
         "Show the light of the room", "room light", "light.open", has_rooms, daily=True,
         names=("daylight", "lux", "sun", "shift", "metamerism", "rooms by daylight",
                "paints by shift")),
    _one("hour-before", ("left_square_bracket",), "hour of the sun", LIT, ("house",),
         "Show into which rooms the sun shines, an hour back", "", "light.step_hour(-1)",
         has_rooms),
    _one("hour-after", ("right_square_bracket",), "hour of the sun", LIT, ("house",),
         "Show into which rooms the sun shines, an hour on", "", "light.step_hour(1)", has_rooms,
         names=("sun", "sunshine", "hours", "clock", "june")),
    _one("month-before", ("left_curly_bracket",), "month of the sun", LIT, ("house",),
         "Show into which rooms the sun shines, a month back", "", "light.step_month(-1)",
         has_rooms),
    _one("month-after", ("right_curly_bracket",), "month of the sun", LIT, ("house",),
         "Show into which rooms the sun shines, a month on", "", "light.step_month(1)", has_rooms,
         names=("season", "winter", "summer")),
    Command("legend", ("k",), "legend", CHECK, (
        Use(("any",), "Show what the marks mean", "legend", "open_page('legend')"),
    ), names=("marks", "signs", "symbols")),
    Command("undo", ("u",), "undo", FILE, (
        Use(("house",), "Undo the last edit", "undo", "files.undo", can_undo),
        Use(("deck",), "Undo the last edit of the house", "undo", "", can_undo),
    ), daily=True),
    _one("redo", ("U", "ctrl+r"), "redo", FILE, ("house",),
         "Redo the edit that was undone", "redo", "files.redo",
         lambda session: session.history.redo_label is not None),
    Command("save", ("ctrl+s",), "save", FILE, (
        Use(("house",), "Save the house", "save", "files.save", None),
        Use(("deck",), "Save the house", "save", "", None),
        Use(("schedule",), "Write the schedule for a reader, to a file", "write file"),
        Use(("form",), "Apply the form as one edit; the file is not written", "apply"),
        Use(("new-paint",), "Keep it as a paint of the house", "keep as paint"),
    ), daily=True, names=("export", "print", "pdf", "write")),
    _one("take-back", ("ctrl+t",), "take back", EDIT, ("survey",),
         "Take back what was added last", "take back", "survey.take_back", can_undo),
    _one("find", ("ctrl+p",), "find a command", PROGRAM, ("any",),
         "Find a command or a room by name", "find", "open_page('finder')", daily=True),
    Command("help", ("question_mark", "f1"), "help", PROGRAM, (
        Use(("any",), "Show the keys of this moment", "help", "open_page('help')"),
        Use(("help",), "Show everything, or the keys of the moment again", "everything",
            "everything"),
    ), daily=True, names=("keys", "manual", "guide")),
    _one("suspend", ("ctrl+z",), "suspend", PROGRAM, ("any", "asking", "finder"),
         "Put the program aside (fg brings it back)", "", "app.suspend_process"),
    _one("quit", ("ctrl+q", "ctrl+c"), "quit", PROGRAM, ("any", "asking", "finder"),
         "Quit; asks first when something is not saved", "quit", "app.leave", daily=True,
         names=("exit",)),
)  # fmt: skip

_BY_NAME: tuple[Command, ...] = (
    _by_name("views", WALKING, "List what is seen from here", contexts=("walk",)),
    _by_name("turn-round", WALKING, "Turn round", "turn_round", contexts=("walk",)),
    Command("picture", (), "", WALKING, (
        Use(("walk",), "Show the picture alone, or with what is in view", "", "picture_alone",
            has_rooms),
        Use(("house",), "Show or hide the lines to what the selected room sees", "",
            "screen.show_or_hide_sights", has_rooms),
    ), names=("sightlines", "plan without lines")),
    _by_name("region", WALKING, "Show what is seen of the floor from the room", "walk.show_region",
             "visible floor"),
    _by_name("repaint", CHECK, "Choose another paint for a place of this finding",
             "findings.repaint", "another paint", contexts=("findings", "finding")),
    _by_name("checks", CHECK, "Read about the checks, their limits and sources",
             "findings.open_checks", "rules", "limits", when=None),
    _by_name("costs", CHECK, "Read what counts when paints are suggested",
             "open_page('costs')", "score",
             contexts=("any",), when=None),
    _by_name("light-reference", LIT, "Show the reference light", "light('reference')",
             contexts=("any",)),
    _by_name("light-day", LIT, "Show the house by day", "light('day')", contexts=("any",)),
    _by_name("light-evening", LIT, "Show the house in the evening", "light('evening')",
             contexts=("any",)),
    _by_name("eyes", LIT, "See the house with other eyes", "eyes", "colour blind", "protan",
             "deutan", "tritan", "greys", "low vision", contexts=("any",)),
    _by_name("use-sent", FILE, "Use what was sent, for this", "settle('base')",
             contexts=("settling",), when=None),
    _by_name("edit-room", EDIT, "Edit the selected room", "edit.edit_room", "rename", "room size"),
    _by_name("edit-house", EDIT, "Edit the house: name, north, units", "edit.edit('house')",
             "north", "compass", "feet", "client", when=None),
    _by_name("replace-paint", COLOUR, "Replace this paint everywhere",
             "choose.replace_everywhere", "swap", "exchange", "every room", "discontinued",
             "nearest", "match", "similar", "equivalent", "substitute"),
    _by_name("woodwork", COLOUR, "Paint trim, ceilings and doors of the level alike",
             "choose.paint_woodwork", "trim", "ceiling", "doors", "level"),
    _by_name("same-as", COLOUR, "Paint this room the same as another room",
             "suggest.same_as", "same as", "copy room", "like"),
    _by_name("tints", COLOUR, "Mix a tint of this paint: half, lighter, darker, greyer",
             "suggest.tints", "half strength", "quarter", "lighter", "darker", "greyer"),
    _by_name("wishes", EDIT, "Write down the client's wishes", "edit.edit('wishes')", "brief",
             "wishes", "client", "like", "avoid", "dislike", "yellow", when=None),
    _by_name("board", PAPER, "Show the colours in proportion", "schedule.open(1)", "board",
             "proportions", "palette", "swatch"),
    _by_name("deck-best", PAINTS, "List first what suits the selected surface best", "best",
             contexts=("deck",)),
    _by_name("deck-near", PAINTS, "Show only paints near this one, or all again", "near",
             "like this", contexts=("deck",), when=None),
    _by_name("side-by-side", PAINTS, "Lay the picked paints side by side", "side_by_side",
             "compare", contexts=("deck",), when=None),
    _by_name("deck-faults", PAINTS, "Show what looks wrong in the deck", "faults",
             contexts=("deck",), when=None),
    _by_name("deck-file", PAINTS, "Open the paints of any deck or house file", "file",
             contexts=("shelf",), when=None),
    _by_name("add-paint", PAINTS, "Add a paint: a typed colour, a hex, a meter reading",
             "decks.add_paint", "add a paint", "new paint", "hex", "meter", when=None),
    _by_name("keep-finish", PAINTS, "Keep it as a finish: a floor, a tile, a top, a cloth",
             "finish", contexts=("new-paint",), when=None),
    _by_name("save-as", FILE, "Save the house under another name", "files.save_as", when=None),
    _by_name("revisions", FILE, "List the earlier saves of this house", "share.open_revisions",
             "history", "version", "earlier", "what changed", when=None),
    _by_name("close", FILE, "Close the house and go to the start", "files.close",
             "new house", "another house", "start over", when=None),
    Command("open-file", (), "", FILE, (
        Use(("house",), "Bring in a colleague's copy", "", "share.bring_in"),
        Use(("start",), "Open a house file by its name", "", "file"),
    ), names=("merge", "join", "together", "colleague", "theirs", "compare", "changes")),
    _by_name("demo", FILE, "Open the demo house", "demo", contexts=("start",), when=None),
    _by_name("next-step", PROGRAM, "Show or hide the next step below the map", "next_step",
             "advice", "hint", "status", contexts=("any",), when=None),
    _by_name("greys", PROGRAM, "Change to a light or a dark surround", "greys", "theme", "dark",
             contexts=("any",), when=None),
)  # fmt: skip

COMMANDS: tuple[Command, ...] = (*_ENTRIES, *_MOVES, *_TASKS, *_BY_NAME)

BY_ID = {command.id: command for command in COMMANDS}
OF_ROOMS = frozenset(
    (use.action or command.action).partition("(")[0]
    for command in COMMANDS
    for use in command.uses
    if use.when is has_rooms
)
"""Actions that do nothing in a house without rooms."""


def commands_of(contexts: Sequence[str]) -> Iterator[tuple[Command, Use]]:
    """What can be done in some contexts, nearest first, in the table's order."""
    for command in COMMANDS:
        use = command.use_in(contexts)
        if use is not None:
            yield command, use


def uses_by_place() -> Iterator[tuple[Context, list[tuple[Command, Use]]]]:
    """Each context with what can be done there; a use of several stands with the first of them."""
    uses = [(command, use) for command in COMMANDS for use in command.uses]
    for number, place in enumerate(PLACES):
        before = {*list(PLACES)[:number]}
        yield (
            place,
            [
                (command, use)
                for command, use in uses
                if place in use.contexts and before.isdisjoint(use.contexts)
            ],
        )


def commands_called(query: str) -> frozenset[str]:
    """The ids of the commands that go by their own or another name, or by words of it in a row.

    The last word may be typed in part, and hyphens may stand for spaces.
    """
    typed = " ".join(query.casefold().replace("-", " ").split())
    return frozenset(
        command.id
        for command in COMMANDS
        if typed
        and any(
            f" {typed}" in f" {name.replace('-', ' ')}" for name in (command.id, *command.names)
        )
    )
