"""The lines of the table of commands for two people at one house."""

from housemap.tui.command import Command

SHARING = "Two at one house"
HOUSE, SETTLING, REVISIONS = "house", "settling", "revisions"
"""Contexts: the open house, what two edits have in conflict, the earlier saves."""

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
    Command("revisions", ("R",), "List the earlier saves of this house", "", SHARING, HOUSE, 90,
            "Each save is kept, the newest thirty; moving through them shows each on the map."),
    Command("revision-take", ("enter",), "Take up the chosen save", "take it up", SHARING,
            REVISIONS, 1, action="leave_revisions(1)"),
    Command("revision-leave", ("escape",), "Stay with the house as it is", "leave", SHARING,
            REVISIONS, 2, action="leave_revisions(0)"),
)  # fmt: skip
