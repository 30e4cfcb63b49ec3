"""All paints of a house in their proportions: of the area that they cover, and of what is seen."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from housemap.schedule.quantities import Line
from housemap.schedule.rounds import Rounds


@dataclass(frozen=True, slots=True)
class Share:
    """What one paint takes of the whole house."""

    paint: str
    area_m2: float
    of_area: float
    """0..1 of all measured area to paint."""
    of_view: float
    """0..1 of all paint that is seen from the measured rooms indoors, each room counting alike."""


def board_of(lines: Iterable[Line], rounds: Rounds) -> tuple[Share, ...]:
    """Every paint that is on something, the one with most area first, then by name."""
    areas: defaultdict[str, float] = defaultdict(float)
    for line in lines:
        areas[line.paint] += line.area_m2 or 0.0
    whole, views = sum(areas.values()) or 1.0, rounds.of_paints()
    shares = [Share(p, area, area / whole, views.get(p, 0.0)) for p, area in areas.items()]
    return tuple(sorted(shares, key=lambda share: (-share.area_m2, -share.of_view, share.paint)))
