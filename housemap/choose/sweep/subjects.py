"""What all checks of a room cost, and all of a seen pair: for every option and pair of options."""

from housemap.checks import check_of
from housemap.checks.costs import SEVERITY_COST
from housemap.checks.pages import backbone
from housemap.choose.sweep.alone import alone
from housemap.choose.sweep.facing import Facing
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


def of_pair(
    house: House, pair: SeenPair, first: Side, second: Side, *, together: bool = False
) -> Tally:
    """Every check of the pair, whose rooms are the two sides: (n, m).

    `together`: both sides have the same option at a time, so that the costs are (n, 1).
    """
    facing = Facing(first, second, together)
    tally = between_rooms(house, pair.sighting.kind, facing)
    if first.has("walls") and second.has("walls"):
        _add_stop(tally, pair, facing)
        if pair.openings:
            _add_backbone(tally, house, facing)
    return tally


def _add_stop(tally: Tally, pair: SeenPair, facing: Facing) -> None:
    if any(opening.kind == "open" and not opening.stop for opening in pair.openings.values()):
        one, other = facing.across(facing.first.on("walls").ids, facing.second.on("walls").ids)
        tally.add("stop", SEVERITY_COST["fault"] * (one != other))


def _add_backbone(tally: Tally, house: House, facing: Facing) -> None:
    roles = facing.first.part.room.role, facing.second.part.room.role
    if (roles[0] == "backbone") == (roles[1] == "backbone"):
        return
    one, other = facing.across(facing.first.lrv("walls"), facing.second.lrv("walls"))
    by, limit = other - one, check_of("backbone").limits_in(house)["darker"]
    tally.add("backbone", backbone.darker_costs(by if roles[0] == "backbone" else -by, limit))
