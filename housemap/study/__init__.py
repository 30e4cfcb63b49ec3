"""What is computed of a house: derived from it, and reused where an edit changed nothing."""

from housemap.study.derive import study_of
from housemap.study.parts import Coat, PaintedRoom, Seen, SeenPair, Surroundings, Swatch, View
from housemap.study.seen import LitRoom, SeenColour, SeenView
from housemap.study.study import Study

__all__ = [
    "Coat",
    "LitRoom",
    "PaintedRoom",
    "Seen",
    "SeenColour",
    "SeenPair",
    "SeenView",
    "Study",
    "Surroundings",
    "Swatch",
    "View",
    "study_of",
]
