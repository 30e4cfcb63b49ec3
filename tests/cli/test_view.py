"""`housemap view`: the picture is the house's, pixel by pixel, and what cannot be is told."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from housemap.cli import main
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.house import House, Light, Room
from housemap.plan.free_space import part_at
from housemap.plan.view import Camera
from housemap.study import study_of
from tests.support.project import DEMO
from tests.support.walks import differing, rays_in_colour

SIZE = (60, 40)
STUDY = study_of(read_house(DEMO))


def drawn(path: Path, *options: str) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    """The pixels of the picture that the command writes."""
    assert main(["view", str(DEMO), *options, "-o", str(path)]) == 0
    with Image.open(path) as image:
        return np.array(image.convert("RGB")).astype(np.int64)


@pytest.mark.parametrize("light", ["reference", "day", "evening"])
@pytest.mark.parametrize(
    ("room", "stand", "toward"),
    [
        ("hall", (5.113, 0.607), 352.0),
        ("dining", (0.513, 8.607), 130.0),
        ("landing", (4.613, 3.107), 11.0),
        ("garden-bedroom", (3.513, 5.707), 300.0),
    ],
)
def test_every_pixel_has_the_colour_of_the_surface_that_a_ray_meets(
    room: str, stand: tuple[float, float], toward: float, light: Light, tmp_path: Path
) -> None:
    x, y = stand
    pixels = drawn(
        tmp_path / "a.png", room, f"--stand={x},{y}", "--toward", str(toward),
        "--light", light, "--size", "60x40", "--plain",
    )  # fmt: skip
    expected = rays_in_colour(STUDY, Camera(room, stand, toward), SIZE, light)
    assert differing(pixels, expected) <= SIZE[0] * SIZE[1] // 400


def test_without_a_place_it_is_a_view_across_the_room(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pixels = drawn(tmp_path / "a.png", "hall")
    assert pixels.shape == (640, 960, 3)
    told = capsys.readouterr().out
    assert "Hall from" in told
    assert "Barley Tin" in told
    assert len(np.unique(pixels.reshape(-1, 3), axis=0)) > 20


def test_the_sun_of_an_hour_brightens_where_it_falls_and_nothing_by_night(tmp_path: Path) -> None:
    def of(name: str, *sun: str) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
        where = ("kitchen", "--light", "day", "--size", "120x80")
        return drawn(tmp_path / f"{name}.png", *where, *sun)

    dull, sunny = of("dull"), of("sunny", "--sun", "2026-03-21T13:00")
    assert (of("night", "--sun", "2026-12-21T23:00") == dull).all()
    brighter = (sunny > dull).any(axis=2)
    assert (sunny >= dull).all()
    assert 0 < brighter.mean() < 0.5


def test_the_svg_holds_the_same_picture(tmp_path: Path) -> None:
    where = ("hall", "--size", "60x40", "--plain")
    pixels = drawn(tmp_path / "a.png", *where)
    path = tmp_path / "a.svg"
    assert main(["view", str(DEMO), *where, "-o", str(path)]) == 0
    text = path.read_text()
    for red, green, blue in np.unique(pixels.reshape(-1, 3), axis=0).tolist():
        assert f'fill="#{red:02x}{green:02x}{blue:02x}"' in text
    assert "<title>Hall from" in text


def test_rooms_that_lack_the_light_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn(tmp_path / "a.png", "kitchen", "--stand=5,7", "--toward=20", "--light", "day")
    assert "Terrace: outdoors, so shown under the reference light" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("attic",), 'there is no room "attic"'),
        (("hal",), "the nearest is hall"),
        (("hall", "--sun", "2026-06-21T10:00", "--light", "evening"), "--sun shows one room"),
        (("hall", "--stand", "1,1"), '1,1 is not in room "hall": its box reaches from 4.00,0.00'),
    ],
)
def test_a_place_that_is_not_in_the_house_is_told_in_one_line(
    options: tuple[str, ...], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["view", str(DEMO), *options, "-o", str(tmp_path / "a.png")]) == 2
    error = capsys.readouterr().err
    assert told in error
    assert error.count("\n") == 1
    assert not (tmp_path / "a.png").exists()


def test_a_room_without_measures_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "house.toml"
    save_house(House(rooms={"a": Room("A")}), path)
    assert main(["view", str(path), "a", "-o", str(tmp_path / "a.png")]) == 2
    assert 'room "a" has no measures' in capsys.readouterr().err


def test_a_file_that_cannot_be_written_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["view", str(DEMO), "hall", "-o", str(tmp_path / "no" / "a.png")]) == 2
    assert "a.png: could not be saved" in capsys.readouterr().err


@pytest.mark.parametrize(
    "options",
    [
        ("--size", "0x40"), ("--size", "9999x40"), ("--size", "x"), ("--stand", "1"),
        ("--stand", "1,x"), ("--stand", "nan,1"), ("--toward", "east"), ("--toward", "inf"),
        ("-o", "picture.jpg"), ("--light", "noon"),
    ],
)  # fmt: skip
def test_options_that_make_no_sense_are_refused(
    options: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["view", str(DEMO), "hall", "-o", "a.png", *options])
    assert ended.value.code == 2
    assert options[0] in capsys.readouterr().err


def test_every_standing_point_told_by_sight_can_be_stood_on() -> None:
    """`--stand` takes what `housemap sight` prints."""
    sight = STUDY.sight
    for room, seen in sight.rooms.items():
        for stand in seen.views.best.values():
            assert part_at(sight.space, room, stand.at_m) is not None


def test_before_and_after_are_one_picture(tmp_path: Path) -> None:
    alone = drawn(tmp_path / "a.png", "hall", "--size", "60x40")
    both = drawn(tmp_path / "b.png", "hall", "--size", "60x40", "--before", str(DEMO))
    assert both.shape == (40, 128, 3)
    assert (both[:, :60] == alone).all()
    assert (both[:, 68:] == alone).all()


def test_all_rooms_are_one_picture_by_day_and_in_the_evening(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pixels = drawn(tmp_path / "a.png", "--all", "--size", "30x20")
    assert pixels.shape == (18 * 20 + 17 * 8, 2 * 30 + 8, 3)
    assert "Porch, Hall" in capsys.readouterr().out
    assert pixels[:, 38:].mean() < pixels[:, :30].mean()


def test_a_walk_shows_every_room_in_its_own_frame(tmp_path: Path) -> None:
    path = tmp_path / "walk.png"
    assert main(["view", str(DEMO), "--walk", "--size", "24x16", "-o", str(path)]) == 0
    with Image.open(path) as image:
        assert getattr(image, "n_frames", 1) > 18
        assert image.size == (24, 16)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([], "name a room"),
        (["hall", "--all"], 'leave "hall" out'),
        (["--walk"], "writes a .png file"),
        (["hall", "--before", str(DEMO)], "writes a .png file"),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    options: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["view", str(DEMO), *options, "-o", str(tmp_path / "a.svg")]) == 2
    assert said in capsys.readouterr().err
