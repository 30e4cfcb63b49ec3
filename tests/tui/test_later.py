"""What keys open is imported beside the screen: the list of it has to keep up with the code."""

import sys

from housemap.tui.screens.later import MODULES, import_panels


def test_everything_listed_for_later_can_be_imported() -> None:
    import_panels()
    assert all(f"housemap.tui.{name}" in sys.modules for name in MODULES)
