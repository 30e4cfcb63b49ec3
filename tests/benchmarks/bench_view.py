"""How long a picture of the walk takes, over every best view of the demo house and one full turn.

A held key turns by a few degrees a picture; the turn is made in steps of 5 degrees. The pictures of
900 x 700 pixels are whole ones, as a terminal that draws pixels is sent: lamps, light, colours.
"""

import time
from collections.abc import Callable
from functools import partial
from statistics import median

from housemap.file.reader import read_house
from housemap.model.house import Light
from housemap.plan.elevations import Elevations
from housemap.plan.placing import place
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import best_of
from housemap.plan.visibility import sight_of
from housemap.study import study_of
from housemap.study.painted import elevations_of, picture
from tests.benchmarks.measuring import show_ratios, wall_seconds
from tests.support.project import DEMO

SIZES = ((80, 48), (160, 96), (320, 192))
LARGE = (900, 700)


def main() -> None:
    house = read_house(DEMO)
    plan = place(house)
    sight = sight_of(house, plan)
    elevations = Elevations(house, plan, sight.space)
    best = [
        Camera(room, stand.at_m, stand.toward_deg)
        for room, seen in sight.rooms.items()
        for stand in seen.views.best.values()
    ]
    hall = sight.rooms["hall"].views.best["kitchen"].at_m
    turn = [Camera("hall", hall, float(toward)) for toward in range(0, 360, 5)]
    rows = {}
    for width, height in SIZES:
        for name, cameras in (("best views", best), ("a full turn in the hall", turn)):
            rows[f"{name}, {width}x{height}"] = [
                median(
                    wall_seconds(partial(look, elevations, camera, width, height)) for _ in "123"
                )
                for camera in cameras
            ]
    show_ratios({**rows, **pictures()})


def pictures() -> dict[str, list[float]]:
    """Processor time of whole pictures from the best corner of each room indoors."""
    study = study_of(read_house(DEMO))
    elevations = elevations_of(study)
    indoors = [key for key, room in study.house.rooms.items() if room.use != "outdoor"]
    cameras = [camera for room in indoors if (camera := best_of(elevations, room))]
    lights: tuple[Light, ...] = ("day", "evening")
    for light in lights:
        picture(study, elevations, cameras[0], light, LARGE)
    return {
        f"pictures of 900 x 700, {light}, processor": [
            median(_spent(partial(picture, study, elevations, each, light, LARGE)) for _ in "123")
            for each in cameras
        ]
        for light in lights
    }


def _spent(work: Callable[[], object]) -> float:
    before = time.process_time()
    work()
    return time.process_time() - before


if __name__ == "__main__":
    main()
