"""The colour of every paint and finish; only new ones are computed, in one batch."""

from collections.abc import Iterator, Mapping

from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.errors import ColourError, InputError, Problem
from housemap.model.house import Finish, House, Paint
from housemap.study.parts import Swatch
from housemap.study.reuse import Renewed, renewed
from housemap.study.study import Study

Key = tuple[str, str]


def swatches_of(house: House, before: Study) -> Renewed[Key, Swatch]:
    """Raises InputError, a line each, for colours that no surface can have."""
    if house.paints is before.house.paints and house.finishes is before.house.finishes:
        return Renewed(before.swatches, frozenset())
    entities = dict(_coloured(house))
    old = before.swatches
    fresh = {k: entity for k, entity in entities.items() if not _same(old.get(k), entity)}
    made = {
        key: Swatch(key[1], entity, colour)
        for (key, entity), colour in zip(fresh.items(), _facts(fresh), strict=True)
    }
    return renewed(old, entities, made)


def _same(swatch: Swatch | None, entity: Paint | Finish) -> bool:
    return swatch is not None and swatch.entity == entity


def _coloured(house: House) -> Iterator[tuple[Key, Paint | Finish]]:
    for paint_id, paint in house.paints.items():
        yield (Paint.__name__, paint_id), paint
    for finish_id, finish in house.finishes.items():
        yield (Finish.__name__, finish_id), finish


def _facts(entities: Mapping[Key, Paint | Finish]) -> tuple[ColourFacts, ...]:
    """Facts of all; InputError with a line for each colour that has no meaning."""
    made = facts_or_errors([entity.colour for entity in entities.values()])
    problems = [
        Problem(f'{kind.lower()} "{entity_id}": {error}', (kind.lower(), entity_id))
        for (kind, entity_id), error in zip(entities, made, strict=True)
        if isinstance(error, ColourError)
    ]
    if problems:
        raise InputError(problems)
    return tuple(each for each in made if isinstance(each, ColourFacts))
