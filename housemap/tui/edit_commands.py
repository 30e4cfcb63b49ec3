"""The lines of the table of commands for surveying, and for editing by forms."""

from housemap.tui.command import Command, can_undo, has_rooms

SURVEYS = "Surveying and editing"
HOUSE = "house"
SURVEY, FORM, PARTS = "survey", "form", "parts"
"""Contexts: the survey line, the fields of a form, the list of what there is to edit."""

EDIT_COMMANDS: tuple[Command, ...] = (
    Command("survey", ("a",), "Survey: add rooms, openings, windows and lamps by typing", "survey",
            SURVEYS, HOUSE, 9, "From the selected room, in plain words: n 0.8 at 1.2 > Study 3.1 x"
            " 2.8; s window 1.2 x 1.1 at 0.6; lamp 1400 lm. The map follows each word."),
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
            "The room, its openings, windows, lamps and accents; tab: paints, finishes and all."),
    Command("edit-room", ("E",), "Edit the selected room", "", SURVEYS, HOUSE, 90, when=has_rooms),
    Command("edit-house", (), "Edit the house: name, north, latitude, units", "", SURVEYS, HOUSE,
            90),
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
