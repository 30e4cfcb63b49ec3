"""What depends on the version of Textual (8.2.8): to be looked at again at each new one."""

import codecs
import os
import sys
import traceback
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import partial
from types import ModuleType
from typing import Any, ClassVar

from housemap.file.atomic import private_folder, write_private
from housemap.model.text import shown
from housemap.tui.keys import bind_keys
from housemap.tui.terminal import Depth, DepthName
from housemap.workbench.folders import state_folder

COLOR_SYSTEMS: dict[DepthName, str] = {
    "truecolor": "truecolor", "256": "256", "16": "standard", "none": "standard",
}  # fmt: skip


class _Unused(ModuleType):
    """In the place of a module of which nothing is ever used but the names."""

    def __getattr__(self, name: str) -> type:
        if name.startswith("__"):
            raise AttributeError(name)
        return type(name, (), {})


def import_less() -> None:
    """Import Textual without its command palette, and asyncio as in a Python without TLS.

    The widgets of that palette and TLS were a seventh of the time of a first frame.
    """
    if "textual" in sys.modules or "asyncio" in sys.modules:
        return
    sys.modules["textual.command"] = _Unused("textual.command")
    sys.modules["ssl"] = None  # type: ignore[assignment]  # so it cannot be imported
    import asyncio  # noqa: F401, PLC0415 - only now

    del sys.modules["ssl"]


def use_depth(depth: Depth) -> None:
    """Have Textual use the depth that we settled. It reads both settings when it starts."""
    if depth.name == "none":
        os.environ["NO_COLOR"] = "1"
        os.environ["TEXTUAL_THEME"] = "ansi-dark"
    else:
        os.environ.pop("NO_COLOR", None)
    from textual import constants  # noqa: PLC0415 - after NO_COLOR is settled

    constants.COLOR_SYSTEM = COLOR_SYSTEMS[depth.name]  # type: ignore[misc]  # Final, but read late


def decode_any_byte() -> None:
    """Keep a stray byte on standard input, such as a pasted 0x80, from ending the program.

    Textual decodes input strictly, and takes a byte that is not UTF-8 for a fault of its own.
    """
    from textual.drivers import linux_driver  # noqa: PLC0415 - Textual starts here

    def lenient(encoding: str) -> object:
        return partial(codecs.getincrementaldecoder(encoding), errors="replace")

    linux_driver.getincrementaldecoder = lenient  # type: ignore[assignment,attr-defined]


def outlive_terminal() -> None:
    """Let go what a terminal that is gone does not take.

    Textual's writer thread would end with the first such write, and the program would wait for it
    for ever once the thirty writes that it holds are there.
    """
    from textual.drivers._writer_thread import WriterThread  # noqa: PLC0415 - Textual starts here

    def run(self: Any) -> None:
        while (text := self._queue.get()) is not None:
            with suppress(OSError):
                self._file.write(text)
                if self._queue.empty():
                    self._file.flush()

    WriterThread.run = run  # type: ignore[method-assign]


def output_waits(app: Any) -> bool:
    """Whether the terminal has not taken yet what was written before, as over a slow line.

    Textual's writer thread holds up to 30 writes and then stops the whole program.
    """
    queue = getattr(getattr(app._driver, "_writer_thread", None), "_queue", None)  # noqa: SLF001
    return queue is not None and not queue.empty()


def write_raw(app: Any, data: bytes) -> None:
    """Send the terminal what Textual knows nothing of, after what it wrote before."""
    driver = app._driver  # noqa: SLF001 - there is no other way
    if driver is not None and data:
        driver.write(data.decode("ascii"))
        driver.flush()


def draw_now(widget: Any) -> None:
    """Draw what a widget wants refreshed, unless more is to be done first anyway.

    Textual waits for a timer. After a pause it ticks at once, but its next tick is then one or two
    frames away: a key shortly after something else was drawn waits up to 33 ms.
    """
    screen, app = widget.screen, widget.app
    if screen.message_queue_size or app.message_queue_size or output_waits(app):
        return
    if widget not in screen._compositor:  # noqa: SLF001 - not laid out yet, or hidden
        return
    widget._repaint_required = False  # noqa: SLF001 - as the widget does when it is idle
    screen._dirty_widgets.add(widget)  # noqa: SLF001
    screen._on_timer_update()  # noqa: SLF001


FAULT_FILE = "fault.txt"
"""In the state folder: the traceback of the newest fault that ended the program."""


class QuietCrash:
    """An app that ends on a fault of its own with two plain lines, and keeps the traceback.

    Textual prints every local variable, which takes half a minute for a house of some size, and
    a traceback in a narrow terminal cannot be read.
    """

    def _fatal_error(self: Any) -> None:
        from rich.text import Text  # noqa: PLC0415 - seldom needed

        error = sys.exception()
        if not self._exit_renderables:  # one fault often brings others with it
            self._exit_renderables.append(
                Text(f"housemap: ended on a fault of its own: {shown(repr(error), 300)}")
            )
            with suppress(OSError):
                path = private_folder(state_folder()) / FAULT_FILE
                write_private(path, traceback.format_exc().encode(errors="replace"))
                self._exit_renderables[0].append(f"\nhousemap: where it happened is in {path}")
        self._close_messages_no_wait()


class OwnScreen:
    """A screen whose keys are the commands of its CONTEXT, and which is left once only.

    Textual takes away whatever screen is on top. With two keys typed at once the second, meant for
    the screen below, would take that away: the house itself, which ends the program.
    """

    CONTEXT: ClassVar[str] = ""

    def __init_subclass__(cls, **options: bool) -> None:
        bind_keys(cls)
        super().__init_subclass__(**options)

    def dismiss(self: Any, result: Any = None) -> Any:
        if self.is_active:
            return super().dismiss(result)  # type: ignore[misc]  # Screen's
        from textual.await_complete import AwaitComplete  # noqa: PLC0415 - seldom needed

        return AwaitComplete()

    def check_message_enabled(self: Any, message: Any) -> bool:
        """No message of ours goes to a screen that ends with the program: its widgets are gone."""
        if type(message).__module__.startswith("housemap.") and self.app._exit:  # noqa: SLF001
            return False
        enabled: bool = super().check_message_enabled(message)  # type: ignore[misc]  # Screen's
        return enabled


class ThreadsLeftBehind(ThreadPoolExecutor):
    """Threads for work beside the keys that nobody waits for once the program is to end.

    asyncio waits for its threads before it gives the program back: with 200 rooms, for seconds.
    """

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:  # noqa: FBT001, FBT002 - as the base has it
        del wait, cancel_futures
        super().shutdown(wait=False, cancel_futures=True)


class QuietEnd:
    """An app that does no more once it has been asked to end.

    Textual goes on with the keys that were typed meanwhile, and a screen that is opened then has
    none of its widgets: that ends the program with a traceback.
    """

    async def run_action(self: Any, *what: Any, **named: Any) -> bool:
        if self._exit:
            return True
        done: bool = await super().run_action(*what, **named)  # type: ignore[misc]  # App's
        return done
