"""How many colours the terminal shows is settled from what is known, and told in words."""

import pytest

from housemap.tui.terminal import Depth, settle_depth


def no_tmux() -> str | None:
    raise AssertionError("tmux was asked outside tmux")


@pytest.mark.parametrize(
    ("environment", "depth"),
    [
        ({"COLORTERM": "truecolor", "TERM": "xterm-256color"}, "truecolor"),
        ({"COLORTERM": "24bit"}, "truecolor"),
        ({"TERM": "xterm-256color"}, "256"),
        ({"TERM": "xterm-kitty"}, "truecolor"),
        ({"TERM": "xterm-ghostty"}, "truecolor"),
        ({"TERM": "xterm-direct"}, "truecolor"),
        ({"TERM": "linux"}, "16"),
        ({"TERM": "vt100"}, "none"),
        ({"TERM": "vt220"}, "none"),
        ({"TERM": "dumb", "COLORTERM": "truecolor"}, "none"),
        ({"WT_SESSION": "1"}, "truecolor"),
        ({"NO_COLOR": "1", "COLORTERM": "truecolor"}, "none"),
        ({"NO_COLOR": "", "COLORTERM": "truecolor"}, "truecolor"),  # no-color.org: empty is unset
        ({}, "256"),
    ],
)
def test_the_environment_settles_the_depth(environment: dict[str, str], depth: str) -> None:
    assert settle_depth("auto", environment, no_tmux).name == depth


@pytest.mark.parametrize("wanted", ["truecolor", "256", "16", "none"])
def test_the_option_goes_before_everything(wanted: str) -> None:
    assert settle_depth(wanted, {"NO_COLOR": "1", "TMUX": "x"}, no_tmux).name == wanted


def test_tmux_without_rgb_shows_256_whatever_colorterm_says() -> None:
    environment = {"TMUX": "socket,1,0", "COLORTERM": "truecolor"}
    depth = settle_depth("auto", environment, lambda: "bpaste,clipboard,mouse")
    assert depth.name == "256"
    assert "terminal-features" in depth.why


def test_tmux_with_rgb_shows_exact_colours() -> None:
    depth = settle_depth("auto", {"TMUX": "socket,1,0"}, lambda: "256,RGB,title")
    assert depth.exact


def test_where_tmux_does_not_answer_the_environment_is_believed() -> None:
    environment = {"TMUX": "socket,1,0", "COLORTERM": "truecolor"}
    assert settle_depth("auto", environment, lambda: None).exact


def test_the_depth_is_told_in_words() -> None:
    assert Depth("truecolor", "").words == "colours exact"
    assert Depth("256", "").words == "colours approximate (256)"
    assert Depth("none", "").words == "colours off"
