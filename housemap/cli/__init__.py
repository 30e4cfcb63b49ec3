"""The command line: `housemap FILE` opens the program, the other commands print and end."""

from housemap.cli.main import main

__all__ = ["main"]
