"""The lines of the table of commands for samples, the schedule and the paints of the house."""

from housemap.tui.command import Command, has_rooms

PAPERS = "Samples, schedule, all paints"
HOUSE = "house"
SAMPLES, SCHEDULE, BOARD = "samples", "schedule", "board"
"""Contexts: the log of samples, the schedule as a page, the paints in their proportions."""

PAPER_COMMANDS: tuple[Command, ...] = (
    Command("samples", ("S",), "Samples: what to put up where, and what was seen", "", PAPERS,
            HOUSE, 90, "For the selected room, or the whole house.", when=has_rooms),
    Command("schedule", ("p",), "Show the paint schedule: rooms, what to buy, cautions", "", PAPERS,
            HOUSE, 90, "And write it as a page, for a spreadsheet, or as Markdown.",
            when=has_rooms),
    Command("board", ("b",), "Show all paints of the house in their proportions", "", PAPERS,
            HOUSE, 90, "Of the area that they cover, or of what is seen of them.", when=has_rooms),
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
    Command("schedule-write", ("w", "ctrl+s", "s"), "Write the schedule to a file: .html .md .csv",
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
