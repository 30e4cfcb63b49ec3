"""The least a Textual program can be: one Static. What it costs is Textual's own."""

from textual.app import App, ComposeResult
from textual.widgets import Static

READY = "nothing but a line"


class BareStatic(App[None]):
    def compose(self) -> ComposeResult:
        yield Static(READY)


if __name__ == "__main__":
    BareStatic(ansi_color=False).run()
