"""A paint whose typed LRV contradicts its typed colour: the question, and both answers."""

from dataclasses import dataclass, replace

import numpy as np

from housemap.colorimetry.facts import colour_facts
from housemap.colorimetry.spaces import lightness
from housemap.errors import ColourError
from housemap.model.house import Finish, Lab, Paint
from housemap.study.parts import PRINTED_LRV_TRUSTED

OBSERVED = "D65/10"
"""The conditions of an LRV, and of `ColourFacts.lab100`."""
DERIVED = "lightness from its LRV"


@dataclass(frozen=True, slots=True)
class Contradiction:
    """The colour gives another LRV than the one that was typed."""

    entity: Paint | Finish
    typed: float
    computed: float

    @property
    def question(self) -> str:
        return (
            f"The colour of {self.entity.name} gives LRV {self.computed:.0f},"
            f" you typed {self.typed:.0f}: which is right?"
        )

    def by_colour(self) -> Paint | Finish:
        """The colour is right: its own LRV holds, and none is kept beside it."""
        return replace(self.entity, lrv=None)

    def by_lrv(self) -> Paint | Finish:
        """The LRV is right: the colour keeps hue and chroma and becomes as light as that says."""
        _, a, b = colour_facts([self.entity.colour])[0].lab100
        level = float(lightness(np.array(self.typed)))
        colour = Lab((round(level, 3), round(a, 3), round(b, 3)), OBSERVED)
        if isinstance(self.entity, Paint):
            return replace(self.entity, colour=colour, derived=DERIVED)
        return replace(self.entity, colour=colour)


def contradiction(entity: Paint | Finish) -> Contradiction | None:
    """None where no LRV was typed, where it fits, and where the colour cannot be."""
    if entity.lrv is None:
        return None
    try:
        [facts] = colour_facts([entity.colour])
    except ColourError:
        return None
    if abs(facts.lrv - entity.lrv) <= PRINTED_LRV_TRUSTED:
        return None
    return Contradiction(entity, entity.lrv, facts.lrv)
