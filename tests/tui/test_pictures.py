"""Pictures in true pixels: what is sent is what a terminal by the book would draw."""

import base64
import os
import pty
import re
import threading
import zlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from textual.pilot import Pilot

from housemap.plan.pixels import Pixels
from housemap.tui.app import HousemapApp
from housemap.tui.pixel_layer import (
    Place,
    kitty_bytes,
    picture_bytes,
    picture_size,
    sixel_pieces,
)
from housemap.tui.terminal import ASK, Drawing, Tmux, ask_terminal, asked_tmux, settle_drawing
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import shallow_report
from tests.support.walking import screen_of

PLACE = Place(3, 2, 20, 10)
CELL = (9, 20)
NUMBER = 31


def random_pixels(seed: int, width: int, height: int, colours: int) -> Pixels:
    random = np.random.default_rng(seed)
    palette = random.integers(0, 256, (colours, 3), dtype=np.uint8)
    return np.asarray(palette[random.integers(0, colours, (height, width))])


pictures = st.builds(
    random_pixels, st.integers(0, 2**32), st.integers(1, 30), st.integers(1, 20), st.integers(1, 9)
)


def sixel_decoded(data: bytes) -> NDArray[np.float64]:
    """By the DEC manual: 0..1 a channel, NaN where nothing was drawn."""
    found = re.fullmatch(rb'\x1bP0;1q"1;1;(\d+);(\d+)(.*)\x1b\\', data, re.DOTALL)
    assert found
    picture = np.full((int(found[2]) + 6, int(found[1]), 3), np.nan)
    registers: dict[int, list[float]] = {}
    colour, x, band = 0, 0, 0
    for token in re.finditer(rb"#(\d+)(?:;2;(\d+);(\d+);(\d+))?|!(\d+)(.)|([$-])|(.)", found[3]):
        if token[1]:
            colour = int(token[1])
            if token[2]:
                registers[colour] = [int(token[k]) / 100 for k in (2, 3, 4)]
        elif token[7]:
            x, band = 0, band + (token[7] == b"-")
        else:
            count, code = int(token[5] or 1), (token[6] or token[8])[0] - 63
            for row in range(6):
                if code >> row & 1:
                    picture[band * 6 + row, x : x + count] = registers[colour]
            x += count
    return picture[: int(found[2])]


def sixels_decoded(pixels: Pixels) -> NDArray[np.float64]:
    """Of all pieces together, each put where it is said to begin."""
    picture = np.full((*pixels.shape[:2], 3), np.nan)
    for column, line, piece in sixel_pieces(pixels, CELL):
        part = sixel_decoded(piece)
        assert max(part.shape) <= 1000
        top, left = line * CELL[1], column * CELL[0]
        where = picture[top : top + part.shape[0], left : left + part.shape[1]]
        assert where.shape == part.shape
        assert np.isnan(where).all()
        where[:] = part
    return picture


@settings(deadline=None)
@given(pictures)
def test_a_sixel_picture_shows_every_pixel_within_half_a_percent(pixels: Pixels) -> None:
    assert np.abs(sixels_decoded(pixels) - pixels / 255).max() <= 0.00501


def test_a_sixel_picture_of_many_colours_takes_the_nearest_of_256() -> None:
    pixels = random_pixels(1, 40, 40, 400)
    decoded = sixels_decoded(pixels)
    assert len(np.unique(decoded.reshape(-1, 3), axis=0)) <= 256
    assert np.abs(decoded - pixels / 255).mean() < 0.03


def test_a_large_sixel_picture_comes_in_pieces_that_terminals_draw(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    pixels = random_pixels(2, 130, 70, 3)
    assert len(list(sixel_pieces(pixels, CELL))) == 1
    monkeypatch.setattr("housemap.tui.pixel_layer.SIXEL_SIDE", 60)
    pieces = list(sixel_pieces(pixels, CELL))
    assert [(column, line) for column, line, _ in pieces] == [
        (column, line) for line in (0, 3) for column in (0, 6, 12)
    ]
    assert max(max(sixel_decoded(piece).shape) for _, _, piece in pieces) <= 60
    assert np.abs(sixels_decoded(pixels) - pixels / 255).max() <= 0.00501


@settings(deadline=None)
@given(pictures, st.integers(0, 2**32))
def test_where_the_fourth_channel_is_nought_nothing_is_drawn(pixels: Pixels, seed: int) -> None:
    shown = np.random.default_rng(seed).integers(0, 2, pixels.shape[:2], dtype=np.uint8)
    decoded = sixels_decoded(np.dstack([pixels, shown * np.uint8(255)]))
    assert (np.isnan(decoded[..., 0]) == (shown == 0)).all()
    assert np.abs(decoded - pixels / 255)[shown == 1].max(initial=0.0) <= 0.00501


def kitty_decoded(data: bytes) -> tuple[dict[bytes, bytes], Pixels]:
    """By the protocol's text: the keys of the first chunk, and the pixels."""
    parts = re.findall(rb"\x1b_G([^;]*);([^\x1b]*)\x1b\\", data)
    assert all(len(text) <= 4096 for _, text in parts)
    assert [control.endswith(b"m=1") for control, _ in parts] == [True] * (len(parts) - 1) + [False]
    assert all(set(control) <= set(b"m=01") for control, _ in parts[1:])
    control = dict(pair.split(b"=") for pair in parts[0][0].split(b","))
    raw = zlib.decompress(base64.b64decode(b"".join(text for _, text in parts)))
    shape = int(control[b"v"]), int(control[b"s"]), int(control[b"f"]) // 8
    return control, np.frombuffer(raw, np.uint8).reshape(shape)


@given(pictures, st.sampled_from((3, 4)))
def test_a_kitty_picture_carries_every_pixel_in_chunks(pixels: Pixels, channels: int) -> None:
    sent = np.dstack([pixels, pixels[..., :1]])[..., :channels]
    control, decoded = kitty_decoded(kitty_bytes(sent, PLACE, NUMBER))
    assert (control[b"c"], control[b"r"], control[b"q"]) == (b"20", b"10", b"2")
    assert (control[b"a"], control[b"o"], control[b"C"], control[b"i"]) == (b"T", b"z", b"1", b"31")
    assert (decoded == sent).all()


@pytest.mark.parametrize(
    ("environment", "protocol"),
    [
        ({"TERM": "xterm-kitty"}, "kitty"),
        ({"TERM": "xterm-256color", "TERM_PROGRAM": "WezTerm"}, "kitty"),
        ({"TERM": "foot"}, "sixel"),
        ({"TERM": "xterm-256color"}, "blocks"),
        ({}, "blocks"),
    ],
)
def test_terminals_are_known_by_name(environment: dict[str, str], protocol: str) -> None:
    assert settle_drawing("auto", environment, CELL).protocol == protocol


@pytest.mark.parametrize(
    ("answer", "protocol"),
    [
        (b"\x1b_Gi=31;OK\x1b\\\x1b[?62;c", "kitty"),
        (b"\x1b[?63;1;2;4;6;9;15;16;22;28c", "sixel"),
        (b"\x1b[?62;22c", "blocks"),
        (b"", "blocks"),
    ],
)
def test_what_a_terminal_answers_decides(answer: bytes, protocol: str) -> None:
    drawing = settle_drawing("ask", {"TERM": "xterm"}, CELL, answer=answer)
    assert drawing.protocol == protocol
    assert drawing.why


def test_a_terminal_that_hides_the_size_of_its_cells_shows_blocks() -> None:
    assert settle_drawing("auto", {"TERM": "foot"}, (0, 0)).protocol == "blocks"


def test_inside_tmux_the_terminal_outside_counts_and_pictures_go_through_only_where_let() -> None:
    inside = {"TERM": "tmux-256color", "TMUX": "x"}
    shut = settle_drawing("auto", inside, CELL, Tmux("xterm-kitty", passes=False, offset=(0, 0)))
    assert shut.protocol == "blocks"
    assert "allow-passthrough" in shut.why
    open_ = settle_drawing("auto", inside, CELL, Tmux("xterm-kitty", passes=True, offset=(1, 4)))
    assert open_.protocol == "kitty"
    data = picture_bytes(open_, random_pixels(0, 4, 4, 2), PLACE, NUMBER)
    wrapped = re.fullmatch(rb"\x1bPtmux;(.*)\x1b\\", data, re.DOTALL)
    assert wrapped
    assert wrapped[1].replace(b"\x1b\x1b", b"\x1b").startswith(b"\x1b7\x1b[4;8H\x1b_G")


def test_tmux_is_asked_for_the_place_of_its_pane() -> None:
    assert asked_tmux(lambda _: "xterm-kitty,on,3,40,1") == Tmux("xterm-kitty", True, (4, 40))  # noqa: FBT003 - its fields
    assert asked_tmux(lambda _: "") is None


def test_a_picture_fills_its_place_and_a_kitty_one_is_never_larger_than_is_quick() -> None:
    sixel, kitty = Drawing("sixel", "", CELL), Drawing("kitty", "", CELL)
    assert picture_size(sixel, PLACE) == (180, 200)
    width, height = picture_size(kitty, Place(0, 0, 300, 100))
    assert width * height <= 1280 * 900
    assert width / height == pytest.approx(2700 / 2000, rel=0.01)


def test_asking_leaves_the_terminal_as_it_was_and_takes_its_answer() -> None:
    ours, theirs = pty.openpty()

    def answer() -> None:
        heard = b""
        while ASK not in heard:
            heard += os.read(ours, 100)
        os.write(ours, b"\x1b[?62;4c")

    thread = threading.Thread(target=answer)
    thread.start()
    try:
        assert ask_terminal(theirs, theirs) == b"\x1b[?62;4c"
    finally:
        thread.join()
        os.close(ours)
        os.close(theirs)


KITTY = Drawing("kitty", "asked", (8, 16))
SHOWN, REMOVED = b"a=T", b"a=d"


async def until(pilot: Pilot[None], sent: list[bytes], kinds: list[bytes]) -> None:
    """Wait until pictures have been shown and removed in just this order."""

    def found() -> list[bytes]:
        walks = [data for data in sent if b"i=31," in data]
        return [next(kind for kind in (SHOWN, REMOVED) if kind in data) for data in walks]

    for _ in range(100):
        await pilot.pause(0.05)
        if found() == kinds:
            return
    raise AssertionError(found())


async def test_the_walk_is_drawn_in_true_pixels_once_one_stands_still_and_never_over_others(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sent: list[bytes] = []
    monkeypatch.setattr("housemap.tui.pixel_layer.write_raw", lambda _, data: sent.append(data))
    app = HousemapApp(Session.of(small_house()), reporter=shallow_report, drawing=KITTY)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("w")
        await until(pilot, sent, [SHOWN])
        await pilot.press("left")
        await until(pilot, sent, [SHOWN, REMOVED, SHOWN])
        await pilot.press("question_mark")
        await until(pilot, sent, [SHOWN, REMOVED, SHOWN, REMOVED])
        await pilot.press("escape")
        await until(pilot, sent, [SHOWN, REMOVED, SHOWN, REMOVED, SHOWN])
        await pilot.press("w")
        await until(pilot, sent, [SHOWN, REMOVED, SHOWN, REMOVED, SHOWN, REMOVED])


async def test_the_map_is_drawn_in_true_pixels_after_the_first_frame_and_goes_for_the_walk(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sent: list[bytes] = []
    monkeypatch.setattr("housemap.tui.pixel_layer.write_raw", lambda _, data: sent.append(data))
    app = HousemapApp(Session.of(small_house()), reporter=shallow_report, drawing=KITTY)

    async def until_sent(pilot: Pilot[None], *kinds: bytes) -> None:
        for _ in range(100):
            await pilot.pause(0.05)
            if len(sent) >= len(kinds):
                break
        assert [kind in data for kind, data in zip(kinds, sent, strict=True)] == [True] * len(kinds)

    shown, removed = b"a=T,i=32,", b"a=d,d=I,i=32,"
    async with app.run_test(size=(100, 30)) as pilot:
        await until_sent(pilot, shown)
        await pilot.press("right")
        await until_sent(pilot, shown, removed, shown)
        _, picture = kitty_decoded(sent[-1])
        region = screen_of(app).map.region
        assert picture.shape == (region.height * 16, region.width * 8, 4)
        await pilot.press("question_mark")
        await until_sent(pilot, shown, removed, shown, removed)
        await pilot.press("escape")
        await until_sent(pilot, shown, removed, shown, removed, shown)
        await pilot.press("w")
        await until_sent(pilot, shown, removed, shown, removed, shown, removed, b"a=T,i=31,")


async def test_a_terminal_without_pictures_is_sent_none(monkeypatch: pytest.MonkeyPatch) -> None:
    sent: list[bytes] = []
    monkeypatch.setattr("housemap.tui.pixel_layer.write_raw", lambda _, data: sent.append(data))
    app = HousemapApp(Session.of(small_house()), reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("w", "left")
        await pilot.pause(0.4)
        await pilot.press("w")
    assert sent == []
