"""The lines of the table of commands for a palette out of a deck."""

from housemap.tui.command import Command, has_rooms
from housemap.tui.fill_commands import FILLS

DECK, FILLING, PROPOSING = "deck", "filling", "proposing"
"""Contexts: the screen of a deck, the rooms to be filled, the palettes that are found."""

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
