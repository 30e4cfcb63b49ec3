"""How long a picture of the walk takes, over every best view of the demo house and one full turn.

A held key turns by a few degrees a picture; the turn is made in steps of 5 degrees.
"""

from functools import partial
from statistics import median

from housemap.file.reader import read_house
from housemap.plan.elevations import Elevations
from housemap.plan.placing import place
from housemap.plan.view import Camera, look
from housemap.plan.visibility import sight_of
from tests.benchmarks.measuring import show_ratios, wall_seconds
from tests.support.project import DEMO

SIZES = ((80, 48), (160, 96), (320, 192))


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
    show_ratios(rows)


if __name__ == "__main__":
    main()
