"""What all checks of a room cost, and all of a seen pair: for every option and pair of options."""

import numpy as np

from housemap.checks import check_of
from housemap.checks.costs import SEVERITY_COST
from housemap.checks.pages import backbone
from housemap.choose.sweep.alone import alone
from housemap.choose.sweep.meetings import between_rooms, within_room
from housemap.choose.sweep.side import Side
from housemap.choose.sweep.tally import Tally
from housemap.model.house import House
from housemap.study import SeenPair, Study


def of_room(study: Study, side: Side, *, deep: bool) -> Tally:
    """Every check of the room itself: (n, 1). `deep` asks for daylight and evening."""
    tally = alone(study, side, deep=deep)
    tally.add_all(within_room(study.house, side))
    return tally


def of_pair(house: House, pair: SeenPair, first: Side, second: Side) -> Tally:
    """Every check of the pair, whose rooms are the two sides in that order: (n, m)."""
    tally = between_rooms(house, pair.sighting.kind, first, second)
    if first.has("walls") and second.has("walls"):
        _add_stop(tally, pair, first, second)
        if pair.openings:
            _add_backbone(tally, house, first, second)
    return tally


def _add_stop(tally: Tally, pair: SeenPair, first: Side, second: Side) -> None:
    if any(opening.kind == "open" and not opening.stop for opening in pair.openings.values()):
        differ = first.on("walls").ids[:, np.newaxis] != second.on("walls").ids
        tally.add("stop", SEVERITY_COST["fault"] * differ)


def _add_backbone(tally: Tally, house: House, first: Side, second: Side) -> None:
    roles = first.part.room.role, second.part.room.role
    if (roles[0] == "backbone") == (roles[1] == "backbone"):
        return
    by = second.lrv("walls") - first.lrv("walls")[:, np.newaxis]
    limit = check_of("backbone").limits_in(house)["darker"]
    tally.add("backbone", backbone.darker_costs(by if roles[0] == "backbone" else -by, limit))
