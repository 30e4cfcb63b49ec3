"""The tasks of the open house, each with its panels, pages and actions. X_drawing knows no Textual.

A task is imported when its first command is run. `tui.task` says what a task is.
"""

from collections.abc import Mapping

TASKS: Mapping[str, tuple[str, str]] = {
    name: (f"{__name__}.{name}", kind)
    for name, kind in (
        ("choose", "ChooseTask"),
        ("decks", "DecksTask"),
        ("edit", "EditTask"),
        ("files", "FilesTask"),
        ("findings", "FindingsTask"),
        ("light", "LightTask"),
        ("samples", "SamplesTask"),
        ("schedule", "ScheduleTask"),
        ("share", "ShareTask"),
        ("suggest", "SuggestTask"),
        ("survey", "SurveyTask"),
        ("walk", "WalkTask"),
    )
}
"""By the name before the dot in the table of commands: its module and class."""
