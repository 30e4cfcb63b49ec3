"""What checks of whole views cost when one surface is repainted: too many colours, lone accents."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from housemap.checks import check_of
from housemap.checks.page import Scope
from housemap.checks.pages import crowd, lone
from housemap.choose.sweep.colours import Colours, colours_of
from housemap.choose.sweep.side import Side
from housemap.choose.sweep.tally import Tally
from housemap.colorimetry.arrays import Floats, Truths
from housemap.colorimetry.difference import hue_apart, ucs_parts
from housemap.study import Coat, Study, Surroundings, View


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """What is found in views that hold the room: at its own place, and anywhere; (n, 1) both."""

    own: Tally
    every: Tally

    @classmethod
    def of(cls, side: Side) -> "Around":
        return cls(Tally((side.count, 1)), Tally((side.count, 1)))

    def add(self, check: str, cost: Floats, own: Truths) -> None:
        """Costs (n,), and where they name the room."""
        self.every.add(check, cost[:, np.newaxis])
        self.own.add(check, np.where(own, cost, 0.0)[:, np.newaxis])


def around(study: Study, side: Side, *, deep: bool) -> Around:
    """For the side with the options."""
    found = Around.of(side)
    if deep and side.surface == "walls":
        for view in study.views.values():
            if any(room.id == side.part.id for room in view.rooms):
                _add_crowd(found, study, view, side)
    for place in study.surroundings.values():
        if holds(place, side.part.id):
            _add_lone(found, study, place, side)
    return found


def holds(place: Surroundings, room: str) -> bool:
    """Whether a room is in any of the views."""
    return any(seen.id == room for view in place.views for seen in view.rooms)


def _add_crowd(found: Around, study: Study, view: View, side: Side) -> None:
    """Paints that stand apart from the same walls are judged once."""
    me, limits = side.part.id, check_of("crowd").limits_in(study.house)
    rooms = [room.id for room in view.rooms if room.id == me or "walls" in room.coats]
    others = [room for room in rooms if room != me]
    walls = colours_of([study.rooms[room].coats["walls"].swatch for room in others])
    among = ucs_parts(walls.ucs[:, None], walls.ucs)[0] >= limits["apart"]
    mine = ucs_parts(side.on("walls").ucs[:, None], walls.ucs)[0] >= limits["apart"]
    together = tuple(crowd.together(view, study))
    kinds, kind_of = np.unique(mine, axis=0, return_inverse=True)
    most = [crowd.most_at_once(rooms, together, _apart(others, among, kind)) for kind in kinds]
    count = np.array([len(seen) for seen in most], dtype=np.float64)
    cost = crowd.count_costs(count, limits["colours"])
    own = np.array([me in seen for seen in most])
    found.add("crowd", cost[kind_of], own[kind_of])


def _apart(others: list[str], among: Truths, mine: Truths) -> Callable[[str, str], bool]:
    """Whether two rooms' walls stand apart; the one not among the others is the repainted one."""
    at = {room: i for i, room in enumerate(others)}

    def apart(one: str, other: str) -> bool:
        if one in at and other in at:
            return bool(among[at[one], at[other]])
        return bool(mine[at[one] if one in at else at[other]])

    return apart


def _add_lone(found: Around, study: Study, place: Surroundings, side: Side) -> None:
    check, me = check_of("lone"), place.room.id == side.part.id
    scope = Scope(study, check.limits_in(study.house))
    assert side.options is not None
    options, limits = side.options.colours, scope.limits
    rest = [coat for coat in _coats(place) if not _is_mine(coat, side)]
    others = colours_of([coat.swatch for coat in rest])
    for at, accent in enumerate(rest):
        if accent.room == place.room.id and lone.is_accent(accent, place.room.room, scope):
            one = others.rows(np.array([at]))
            if not np.delete(_echoes(one, others, limits)[0], at).any():
                cost = lone.chroma_costs(_strength(one), limits)
                found.add("lone", cost * ~_echoes(one, options, limits)[0], np.array(me))
    if me and (side.surface == "walls" or side.surface.startswith("accent ")):
        as_role = side.surface == "walls" and place.room.room.role == "accent"
        alone = (_strength(options) > limits["chroma"]) | as_role
        accents = options.rows(np.flatnonzero(alone))
        alone[alone] = ~_echoes(accents, others, limits).any(axis=1)
        found.add("lone", lone.chroma_costs(_strength(options), limits) * alone, np.array(me))


def _coats(place: Surroundings) -> Iterator[Coat]:
    """Every coat in any of the views, once."""
    seen = {room.id: room for view in place.views for room in view.rooms}
    for room in seen.values():
        yield from room.every_coat


def _is_mine(coat: Coat, side: Side) -> bool:
    return coat.room == side.part.id and coat.surface == side.surface


def _strength(colours: Colours) -> Floats:
    return np.asarray(np.sqrt((colours.ucs[:, 1:] ** 2).sum(-1)))


def _echoes(accents: Colours, others: Colours, limits: Mapping[str, float]) -> Truths:
    """Whether each of the others takes up the hue of each accent: (accents, others)."""
    hue = hue_apart(accents.ucs[:, None], others.ucs)
    same = accents.ids[:, None] == others.ids
    return np.asarray(same | lone.echoes(hue, _strength(others), limits))
