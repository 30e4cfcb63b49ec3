"""The command line: `housemap FILE` opens the program, the other commands print and end."""

from housemap.cli.main import main, run

__all__ = ["main", "run"]
