"""A study from a house and, where there is one, the study before: only what changed is made anew.

Edits share the tables and entities that they leave alone, so "unchanged" is told by identity.
"""

from housemap.light.sky import OUTDOOR_LUX
from housemap.model.house import House
from housemap.plan.house_graph import graph_of
from housemap.plan.placing import place
from housemap.study.layout import layout_of
from housemap.study.lighting import Lighting
from housemap.study.rooms import rooms_of
from housemap.study.study import DifferenceTable, Study, Touched
from housemap.study.swatches import swatches_of
from housemap.study.views import pairs_of, surroundings_of, views_of

_EMPTY_HOUSE = House()
_EMPTY = Study(
    house=_EMPTY_HOUSE,
    plan=place(_EMPTY_HOUSE),
    graph=graph_of(_EMPTY_HOUSE),
    swatches={},
    table=DifferenceTable({}),
    rooms={},
    pairs={},
    views={},
    surroundings={},
    lighting=Lighting(_EMPTY_HOUSE, {}, {}, {}),
    known_sight=None,
    touched=Touched(),
)


def study_of(
    house: House, previous: Study | None = None, outdoor_lux: float = OUTDOOR_LUX
) -> Study:
    """The study of `house`; equal to one from scratch whatever `previous` was.

    `outdoor_lux`: the overcast sky's light on open level ground, for the light by day.

    Raises InputError, a line each, for paints and finishes whose colour no surface can have.
    """
    before = previous or _EMPTY
    swatches = swatches_of(house, before)
    layout = layout_of(house, before)
    rooms = rooms_of(house, layout.graph, before, swatches)
    pairs = pairs_of(before, layout, rooms)
    views = views_of(before, layout, rooms, pairs)
    surroundings = surroundings_of(before, layout, views)
    table = before.table
    return Study(
        house=house,
        plan=layout.plan,
        graph=layout.graph,
        swatches=swatches.parts,
        table=table.renewed(swatches) if swatches.touched else table,
        rooms=rooms.parts,
        pairs=pairs.parts,
        views=views.parts,
        surroundings=surroundings.parts,
        lighting=before.lighting.renewed(
            house, swatches.parts, rooms.parts, views.parts, outdoor_lux
        ),
        known_sight=before.__dict__.get("sight", before.known_sight),
        touched=Touched(
            swatches=swatches.touched,
            rooms=rooms.touched,
            pairs=pairs.touched,
            views=views.touched,
            surroundings=surroundings.touched,
            plans=frozenset() if layout.plan is before.plan else frozenset({""}),
        ),
    )
