"""housemap: plan the paint of a whole house, room by room and sightline by sightline."""

__version__ = "0.1.0"
