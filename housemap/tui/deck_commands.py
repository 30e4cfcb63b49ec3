"""The lines of the table of commands for decks and meter readings."""

from housemap.tui.command import Command, can_undo, has_rooms

DECKS = "Decks of paints, meter readings"
HOUSE = "house"
DECK, CHART, SHELF, BESIDE, INTAKE, METER = (
    "deck", "chart", "shelf", "beside", "intake", "meter",
)  # fmt: skip
"""Contexts: the screen of a deck, its chart, the decks there are, chips side by side, the check
before a file of paints is taken, and readings of a meter."""

DECK_COMMANDS: tuple[Command, ...] = (
    Command("decks", ("d",), "Open a deck of paints", "decks", DECKS, HOUSE, 9,
            "Thousands of paints by hue, value and chroma; one key takes a paint into the house."),
    Command("reading", ("M",), "Type a reading of a colour meter", "", DECKS, HOUSE, 90,
            "Lab, XYZ or a spectrum; several readings of one wall are averaged."),
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
