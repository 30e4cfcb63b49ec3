"""The lines of the table of commands for two people at one house."""

from housemap.tui.command import Command

SHARING = "Two at one house"
SETTLING = "settling"
"""Context: the list of what two edits have in conflict."""

SHARE_COMMANDS: tuple[Command, ...] = (
    Command("settle-mine", ("2", "left"), "Settle it as mine", "mine", SHARING, SETTLING, 1,
            action="settle('mine')"),
    Command("settle-theirs", ("3", "right"), "Settle it as theirs", "theirs", SHARING, SETTLING, 2,
            action="settle('theirs')"),
    Command("settle-base", ("1",), "Settle it as it was", "as it was", SHARING, SETTLING, 3,
            action="settle('base')"),
    Command("settle-save", ("enter",), "Save as settled", "save", SHARING, SETTLING, 4,
            action="finish_settling(1)"),
    Command("settle-leave", ("escape",), "Leave it unsettled and unsaved", "leave", SHARING,
            SETTLING, 5, action="finish_settling(0)"),
)  # fmt: skip
