"""Light band by band: no surface of any room is told less than no light."""

from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.light.inputs import RoomColours, SurfaceColour
from housemap.light.scene import grey
from housemap.model.house import Lamp, Window
from tests.support.lit_rooms import OAK, SAGE, WHITE, light_of, living_inputs

HATCH = Window("s", 0.02, 0.25, 0.3, 0.5, sky_angle_deg=0.0)
"""So small beside its wall that the modes of that wall say nothing sound of it."""


@settings(max_examples=12, deadline=None)
@given(
    length=st.floats(2.0, 60.0),
    width=st.floats(0.6, 3.0),
    at=st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
    walls=st.sampled_from([SAGE, OAK, grey(0.02), WHITE]),
)
def test_light_on_a_surface_is_at_least_what_falls_there_first(
    length: float, width: float, at: tuple[float, float], walls: SurfaceColour
) -> None:
    colours = RoomColours(walls, WHITE, OAK)
    lamp = Lamp(3000.0, 2700.0, aim="down", at_m=(at[0] * width, at[1] * length, 1.9))
    room = living_inputs(
        colours, size_m=(width, length), windows={"hatch": HATCH}, lamps={"spot": lamp}
    )
    (lit,) = light_of([room])
    for light in lit.lights.values():
        for on in light.surfaces:
            assert light.total_lux(on) >= light.direct_lux(on) >= 0.0
            assert all(light.from_surface(on, by)[3] >= 0.0 for by in light.surfaces[:-2])
