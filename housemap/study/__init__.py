"""What is computed of a house: derived from it, and reused where an edit changed nothing."""

from housemap.study.derive import study_of
from housemap.study.parts import Coat, PaintedRoom, Seen, SeenPair, Surroundings, Swatch, View
from housemap.study.study import Study

__all__ = [
    "Coat",
    "PaintedRoom",
    "Seen",
    "SeenPair",
    "Study",
    "Surroundings",
    "Swatch",
    "View",
    "study_of",
]
