"""The lines of the table of commands for filling a whole house."""

from housemap.tui.command import Command, has_rooms

FILLS = "Filling the house"
HOUSE, FILLING, ANY = "house", "filling", "any"
"""Contexts: the open house, the rooms to be filled, everywhere."""

FILL_COMMANDS: tuple[Command, ...] = (
    Command("fill", ("F",), "Fill the house: the best wall paints for the rooms", "", FILLS, HOUSE,
            90, "From the paints of the house, by what the checks would cost, with a proof.",
            when=has_rooms),
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
