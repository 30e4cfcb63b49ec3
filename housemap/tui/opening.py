"""From the command line to the screen: everything that must be settled before Textual starts."""

import gc
import os
import sys
from argparse import Namespace
from typing import TYPE_CHECKING

from housemap.errors import HouseFileError, InputError, Problem
from housemap.tui.ahead import Start, look_ahead
from housemap.tui.keys import read_keymap
from housemap.tui.render.cells import plain
from housemap.tui.terminal import BLOCKS, Depth, ask_tmux, drawing_for, settle_depth
from housemap.workbench.folders import config_folder

if TYPE_CHECKING:
    from housemap.tui.app import HousemapApp

NO_TERMINAL = (
    "the program needs a terminal for its keys (standard input) and its screen (standard error); "
    "without one use: housemap check FILE"
)

NO_FILE = 'there is no such file. To begin a house, type housemap alone and choose "New house"'

SWITCH_S = 0.0005
"""How long a thread may go on while another waits for it. On its way through Textual a key changes
threads three times; with Python's own 5 ms it took up to 15 ms more while light was computed."""


def open_program(arguments: Namespace) -> int:
    """Open the program and give its exit status.

    Raises InputError where it cannot start, and where the file cannot be opened.
    """
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        raise InputError.of(NO_TERMINAL)
    if arguments.file and not arguments.file.is_file():
        # A pipe would be waited for with nothing on the screen.
        fault = "is not a file" if arguments.file.exists() else NO_FILE
        raise HouseFileError([Problem(fault, file=plain(str(arguments.file)))])
    if os.environ.get("NO_COLOR") == "":
        del os.environ["NO_COLOR"]  # set but empty means not set, which Textual takes otherwise
    sys.setswitchinterval(SWITCH_S)
    gc.disable()  # until a house is reported on: until then nearly nothing is thrown away
    app = _program(settle_depth(arguments.color, os.environ, ask_tmux), arguments)
    app.run(mouse=not arguments.no_mouse)
    if app.ahead:
        app.ahead.stop()
    if app.fault:
        from housemap.workbench.safekeeping import copies_of  # noqa: PLC0415 - not for the first frame

        raise HouseFileError([*app.fault.problems, *map(Problem, copies_of(arguments.file))])
    status = app.return_code or 0
    if status and app.session and app.session.unsaved and app.keep_work():
        words = "what was not saved has been kept; the next start offers it"
        print(f"housemap: {words}", file=sys.stderr)  # noqa: T201 - the screen is gone
    return status


def _program(depth: Depth, arguments: Namespace) -> "HousemapApp":
    # Whether the terminal's own encoding can show more than ASCII.
    utf8 = (sys.stderr.encoding or "").lower().replace("-", "") == "utf8"
    ascii_only = arguments.ascii or not utf8
    ahead, file = None, arguments.file
    if file:
        ahead = look_ahead(Start(file, arguments.read_only, depth, ascii_only))
    from housemap.tui import textual_fixes  # noqa: PLC0415 - not before the other process is there

    textual_fixes.import_less()
    textual_fixes.use_depth(depth)
    textual_fixes.decode_any_byte()
    textual_fixes.outlive_terminal()
    from housemap.tui import strips  # noqa: PLC0415 - Rich, only once the depth is settled

    strips.use_depth(depth)
    from housemap.tui.app import HousemapApp  # noqa: PLC0415 - only once the depth is settled

    keymap, faults = read_keymap(config_folder())
    can_draw = depth.exact and not ascii_only
    return HousemapApp(
        file=file,
        ahead=ahead,
        read_only=arguments.read_only,
        depth=depth,
        ascii_only=ascii_only,
        drawing=drawing_for(arguments.pictures, os.environ) if can_draw else BLOCKS,
        keymap=keymap,
        told=faults,
    )
