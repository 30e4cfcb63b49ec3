"""From the command line to the screen: everything that must be settled before Textual starts."""

import os
import sys
from argparse import Namespace

from housemap.errors import InputError, Problem
from housemap.session import Session
from housemap.tui.terminal import Depth, ask_tmux, settle_depth


def open_program(arguments: Namespace) -> int:
    """Open the program; its exit status. Raises InputError where it cannot start."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        raise InputError([Problem(NO_TERMINAL)])
    if os.environ.get("NO_COLOR") == "":
        del os.environ["NO_COLOR"]  # set but empty means not set, which Textual takes otherwise
    depth = settle_depth(arguments.color, os.environ, ask_tmux)
    session = (
        Session.read(arguments.file, read_only=arguments.read_only) if arguments.file else None
    )
    return _run(session, depth, arguments)


NO_TERMINAL = (
    "the program needs a terminal for its keys (standard input) and its screen (standard error); "
    "without one use: housemap check FILE"
)


def _run(session: Session | None, depth: Depth, arguments: Namespace) -> int:
    _prepare_textual(depth)
    from housemap.tui.app import HousemapApp  # noqa: PLC0415 - only once the depth is settled

    app = HousemapApp(session, depth=depth, ascii_only=arguments.ascii)
    app.run(mouse=not arguments.no_mouse)
    return app.return_code or 0


def _prepare_textual(depth: Depth) -> None:
    from housemap.tui.textual_fixes import decode_any_byte, use_depth  # noqa: PLC0415

    use_depth(depth)
    decode_any_byte()
