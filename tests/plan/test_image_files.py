"""Pictures as files that other readers open: PNG by Pillow, SVG by an XML parser."""

import io
import re
import xml.etree.ElementTree as ET

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from housemap.plan.pixels import Frame, Pixels, moving_png_bytes, png_bytes, rectangles, svg_text

SVG = "{http://www.w3.org/2000/svg}"
RECTANGLE = re.compile(r"M(\d+) (\d+)h(\d+)v(\d+)h-(\d+)z")


def random_pixels(seed: int, width: int, height: int, colours: int) -> Pixels:
    random = np.random.default_rng(seed)
    palette = random.integers(0, 256, (colours, 3), dtype=np.uint8)
    return np.asarray(palette[random.integers(0, colours, (height, width))])


pictures = st.builds(
    random_pixels, st.integers(0, 2**32), st.integers(1, 20), st.integers(1, 20), st.integers(1, 4)
)


@given(st.lists(st.integers(0, 2**32), min_size=2, max_size=4, unique=True))
def test_pillow_reads_every_frame_of_a_moving_png(seeds: list[int]) -> None:
    frames = [Frame(random_pixels(seed, 7, 5, 4), 0.1 + 0.2 * i) for i, seed in enumerate(seeds)]
    with Image.open(io.BytesIO(moving_png_bytes(frames))) as image:
        assert getattr(image, "n_frames", 1) == len(frames)
        for i, frame in enumerate(frames):
            image.seek(i)
            assert image.info["duration"] == round(frame.seconds * 1000)
            assert (np.array(image.convert("RGB")) == frame.pixels).all()


@given(pictures)
def test_pillow_reads_every_pixel_of_the_png(pixels: Pixels) -> None:
    with Image.open(io.BytesIO(png_bytes(pixels))) as image:
        image.load()
        assert image.format == "PNG"
        assert image.mode == "RGB"
        assert "srgb" in image.info
        assert (np.array(image) == pixels).all()


@given(pictures)
def test_the_paths_of_the_svg_fill_every_pixel_once(pixels: Pixels) -> None:
    root = ET.fromstring(svg_text(pixels, "A < B & C"))
    height, width, _ = pixels.shape
    assert root.attrib["viewBox"] == f"0 0 {width} {height}"
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text == "A < B & C"
    drawn, count = np.zeros_like(pixels), np.zeros((height, width), int)
    for path in root.iter(f"{SVG}path"):
        for found in RECTANGLE.findall(path.attrib["d"]):
            x, y, across, down, back = map(int, found)
            assert across == back
            drawn[y : y + down, x : x + across] = [*bytes.fromhex(path.attrib["fill"][1:])]
            count[y : y + down, x : x + across] += 1
    assert (count == 1).all()
    assert (drawn == pixels).all()


def test_equal_runs_in_rows_below_each_other_are_one_rectangle() -> None:
    pixels = np.zeros((8, 8, 3), dtype=np.uint8)
    pixels[2:6, 3:5] = 255
    assert len(list(rectangles(pixels))) == 5
