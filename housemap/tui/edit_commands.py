"""The lines of the table of commands for surveying, and for editing by forms."""

from housemap.tui.command import Command, can_undo

SURVEYS = "Surveying and editing"
HOUSE = "house"
SURVEY, FORM, PARTS = "survey", "form", "parts"
"""Contexts: the survey line, the fields of a form, the list of what there is to edit."""

EDIT_COMMANDS: tuple[Command, ...] = (
    Command("survey", ("a",), "Survey: add rooms, openings, windows and lamps by typing", "survey",
            SURVEYS, HOUSE, 8, "From the selected room, in plain words: n 0.8 at 1.2 > Study 3.1 x"
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
)  # fmt: skip
