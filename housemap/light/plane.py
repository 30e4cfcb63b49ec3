"""Daylight on the working plane, the sky followed direction by direction."""

import numpy as np

from housemap.light import geometry, sky
from housemap.light.enclosure import Plane
from housemap.light.radiosity import total_lux
from housemap.light.scene import Scene


def plane_percent(scene: Scene) -> float | None:
    """Mean daylight factor over the working plane; None in a room too low for one."""
    plane = geometry.working_plane(scene.shape)
    return None if plane is None else 100.0 * _share(scene, plane)


def _share(scene: Scene, plane: Plane) -> float:
    mesh, direct, first = scene.mesh, 0.0, np.zeros(len(scene.mesh.area_m2))
    for hole, window in scene.windows.items():
        glass = sky.glass_share(window.sky_angle_deg) * window.transmittance
        flux = glass * hole.width_m * hole.height_m
        falls = geometry.window_skylight(scene.shape, hole, window.sky_angle_deg)
        direct += flux * falls.plane / plane.area_m2
        first += flux * falls.patches / mesh.area_m2
    modes = geometry.modes(scene.shape)
    total = total_lux(mesh, modes, scene.grey[:, None], first[:, None])[:, 0]
    return float(direct + plane.factors @ (scene.grey[mesh.surface] * total))
