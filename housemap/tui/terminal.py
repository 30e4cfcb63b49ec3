"""What colours the terminal can show: settled before the program starts, and described in words."""

import subprocess
from collections.abc import Callable, Mapping
from typing import Literal, NamedTuple, get_args

DepthName = Literal["truecolor", "256", "16", "none"]
DEPTHS: tuple[DepthName, ...] = get_args(DepthName)

TRUECOLOUR_TERMINALS = (
    "alacritty", "contour", "foot", "ghostty", "iterm", "kitty", "mintty", "rio", "vte", "wezterm",
    "-direct",
)  # fmt: skip
"""Parts of the TERM of terminals that show 24 bits, also where COLORTERM is lost over ssh."""

FEW_COLOURS = ("linux", "vt100", "vt220", "ansi", "cygwin")
"""TERM of terminals with 16 colours or fewer."""


class Depth(NamedTuple):
    """How many colours, and why we think so."""

    name: DepthName
    why: str

    @property
    def exact(self) -> bool:
        return self.name == "truecolor"

    @property
    def words(self) -> str:
        match self.name:
            case "truecolor":
                return "colours exact"
            case "none":
                return "colours off"
            case number:
                return f"colours approximate ({number})"


def settle_depth(
    option: str, environment: Mapping[str, str], ask_tmux: Callable[[], str | None]
) -> Depth:
    """Settle the depth from --color, the environment and, inside tmux, tmux itself.

    tmux turns exact colours into the nearest of 256 unless it knows that the terminal outside
    shows RGB, and COLORTERM, inherited, does not tell; so tmux is asked first.
    """
    if option in DEPTHS:
        return Depth(option, f"--color {option}")
    if environment.get("NO_COLOR"):
        return Depth("none", "NO_COLOR is set")
    if environment.get("TERM") == "dumb":
        return Depth("none", "TERM is dumb")
    if environment.get("TMUX"):
        return _inside_tmux(ask_tmux(), environment)
    return _from_names(environment)


def _inside_tmux(features: str | None, environment: Mapping[str, str]) -> Depth:
    if features is None:
        return _from_names(environment)
    if "RGB" in features.split(","):
        return Depth("truecolor", "tmux has RGB for this terminal")
    return Depth("256", 'tmux lacks RGB: set -as terminal-features ",xterm*:RGB"')


def _from_names(environment: Mapping[str, str]) -> Depth:
    term = environment.get("TERM", "")
    if environment.get("COLORTERM") in {"truecolor", "24bit"}:
        return Depth("truecolor", "COLORTERM says so")
    if environment.get("WT_SESSION") or any(part in term for part in TRUECOLOUR_TERMINALS):
        return Depth("truecolor", "this terminal is known to")
    if term in FEW_COLOURS:
        return Depth("16", f"TERM is {term}")
    return Depth("256", "COLORTERM is not set")


def ask_tmux(question: str = "#{client_termfeatures}") -> str | None:
    """What tmux knows, by default of the terminal outside it; None when it does not answer."""
    command = ["tmux", "display-message", "-p", question]
    try:
        answer = subprocess.run(  # noqa: S603 - fixed words
            command, capture_output=True, text=True, timeout=1, check=True
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return answer.stdout.strip()
