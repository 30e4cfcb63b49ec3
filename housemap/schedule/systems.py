"""The paint system of a surface: what is there now, preparation, primer, coats, and hours.

Every rule carries its source, or says that it is common practice.
"""

from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any, NamedTuple

import tomli

from housemap.model.geometry import LEAST_END_M, wall_ends_m
from housemap.model.house import Ground, House, Opening, Sheen
from housemap.schedule.existing import Existing, colour_name
from housemap.study import Swatch

PRACTICE = "common practice"
_FIRST_COAT = "IS 2395 (Part 2):1994, foreword"

COATS, COATS_OVER_DARKER, COATS_OF_WEAK_HIDING = 2, 3, 3
OVER_DARKER_LRV = 30.0
"""Common practice, no source: two coats, a third where the new colour is this much lighter."""
WEAK_HIDING_CHROMA = 8.0
WEAK_HIDING_HUES = frozenset({"R", "YR", "Y"})
"""Common practice, no source: clean yellows, oranges and reds hide badly (D1535 chroma and hue)."""
BLEEDING_CHROMA = 4.0
BLEEDING_HUES = frozenset({"RP", "R"})
"""Common practice, no source: such a red bleeds into a paint that takes a third coat over it."""
THINNED = frozenset({None, "flat", "matt"})
"""Sheens that are thinned for a mist coat (common practice, no source: others peel)."""
TINTED_OVER_DARKER_LRV, DARK_LRV = 10.0, 25.0
"""Common practice, no source: over a colour this much darker, or darker than this and no such
colour itself, they take a tinted primer."""
PRIMER_COVERAGE_M2_PER_L = 10.0
"""Where a primer states none: common practice, no source."""


class Step(NamedTuple):
    text: str
    source: str = PRACTICE


class FirstCoat(NamedTuple):
    """What goes on before the paint: a primer, or the paint itself thinned (a mist coat)."""

    text: str
    """As in "primer for bare wood"."""
    source: str
    primer: str | None = None
    """The id of a primer of the house; None where none of them is for this ground."""
    is_paint: bool = False
    """A mist coat: one more coat of the paint itself, thinned."""
    coverage: float = PRIMER_COVERAGE_M2_PER_L


class System(NamedTuple):
    now: str
    """What is there, in words."""
    preparation: tuple[Step, ...]
    first: FirstCoat | None
    product: str
    """Product line; empty where none is given."""
    coats: int
    """Of the paint, without the first coat."""
    why_coats: Step


def system_of(
    house: House, new: Swatch, product: str, existing: Existing, sheen: Sheen | None = None
) -> System:
    """The system that puts a paint on a surface as it is now."""
    coats, why = _coats(new, existing)
    preparation = tuple(_preparation(house, new, existing))
    first = _first(house, new, existing, sheen)
    return System(now_text(existing), preparation, first, product, coats, why)


class Rules(NamedTuple):
    """What the trade does with a ground, as `trade.toml` has it."""

    now: str
    prepare: tuple[Step, ...]
    """In the order in which it is done."""
    damaged: tuple[Step, ...]
    worn: tuple[Step, ...]
    primer: str
    """Of the bare ground."""


def _steps(held: str | list[str | list[str]]) -> tuple[Step, ...]:
    """One text, or several of which each may be given with its source."""
    texts = [held] if isinstance(held, str) else held
    return tuple(Step(each) if isinstance(each, str) else Step(*each) for each in texts)


_TRADE = tomli.loads(files(__package__).joinpath("trade.toml").read_text("utf-8"))
CONDITIONS: Mapping[str, str] = _TRADE["conditions"]
"""What holds for the whole work, by item."""
SUNDRIES: Mapping[str, str] = _TRADE["sundries"]


def _rules_in(held: Mapping[str, Any]) -> Rules:
    damaged, worn = _steps(held.get("damaged", [])), _steps(held.get("worn", []))
    return Rules(held["now"], _steps(held["prepare"]), damaged, worn, held.get("primer", ""))


_RULES = {ground: _rules_in(held) for ground, held in _TRADE["ground"].items()}
_WITH_LEAD = {
    ground: _rules_in({**held, **held["lead"]})
    for ground, held in _TRADE["ground"].items()
    if "lead" in held
}
"""Of the grounds that old paint is on, or may be."""


def _rules(ground: Ground | None) -> Rules:
    return _RULES[ground or "unknown"]


def now_text(existing: Existing) -> str:
    facts = [_rules(existing.ground).now]
    if existing.swatch:
        facts.append(f"{colour_name(existing.swatch)}, LRV {existing.swatch.lrv:.0f}")
    if existing.condition:
        facts.append(existing.condition)
    return ", ".join(facts)


def _preparation(house: House, new: Swatch, existing: Existing) -> Iterator[Step]:
    """In the order in which it is done."""
    rules = _rules(existing.ground)
    if may_hold_lead(house) and (with_lead := _WITH_LEAD.get(existing.ground or "unknown")):
        yield Step(_TRADE["steps"]["test_for_lead"], safety_of(house)["lead"])
        rules = with_lead
    if existing.condition == "damaged":
        yield from rules.damaged
    yield from rules.prepare
    if existing.condition in {"worn", "damaged"}:
        yield from rules.worn
    old = existing.swatch
    lighter = old is not None and new.lrv - old.lrv > OVER_DARKER_LRV
    if old and lighter and _is_strong(old, BLEEDING_CHROMA, BLEEDING_HUES):
        yield Step(_TRADE["steps"]["bleeds"])


def safety_of(house: House) -> Mapping[str, Any]:
    """What its country says of old lead paint and of ladders."""
    countries: Mapping[str, Mapping[str, Any]] = _TRADE["safety"]
    return countries.get(house.country, countries["elsewhere"])


def may_hold_lead(house: House) -> bool:
    return house.built is None or house.built < safety_of(house)["lead_before"]


def may_hold_asbestos(house: House) -> bool:
    return house.built is None or house.built < ASBESTOS_BEFORE


def _first(house: House, new: Swatch, existing: Existing, sheen: Sheen | None) -> FirstCoat | None:
    """A tinted primer under what hides badly; else what the ground asks for.

    New plaster takes a mist coat, unless the house has a primer for it or the paint is no matt one.
    """
    own = any("new-plaster" in primer.grounds for primer in house.primers.values())
    if existing.ground == "new-plaster" and sheen in THINNED and not own:
        text = "mist coat: the first coat thinned as its label says"
        return FirstCoat(text, _FIRST_COAT, is_paint=True)
    bare, old, tint = _rules(existing.ground).primer, existing.swatch, f"tinted toward {new.name}"
    if not hides_badly(new):
        return _primer(house, existing, bare) if bare else None
    is_dark = old is not None and old.lrv < DARK_LRV and not hides_badly(old)
    if is_dark or (old is not None and new.lrv - old.lrv > TINTED_OVER_DARKER_LRV):
        return _primer(house, existing, f"primer {tint}")
    return _primer(house, existing, f"{bare}, {tint}") if bare else None


def _primer(house: House, existing: Existing, text: str) -> FirstCoat:
    """The first primer of the house that names the ground, else the first for any ground."""
    named = [each for each in house.primers.items() if existing.ground in each[1].grounds]
    for_any = [each for each in house.primers.items() if not each[1].grounds]
    for key, primer in (*named, *for_any):
        coverage = primer.coverage or PRIMER_COVERAGE_M2_PER_L
        return FirstCoat(f"{primer.name} ({text})", PRACTICE, key, coverage=coverage)
    return FirstCoat(text, PRACTICE)


def hides_badly(swatch: Swatch) -> bool:
    """A clean yellow, orange or red."""
    return _is_strong(swatch, WEAK_HIDING_CHROMA, WEAK_HIDING_HUES)


def _is_strong(swatch: Swatch, chroma: float, families: frozenset[str]) -> bool:
    """Whether a colour has that chroma, and a hue of one of the families, as in "YR"."""
    notation = swatch.colour.notation
    return notation.chroma >= chroma and notation.hue.lstrip("0123456789.") in families


def _coats(new: Swatch, existing: Existing) -> tuple[int, Step]:
    if hides_badly(new):
        return COATS_OF_WEAK_HIDING, Step("a clean yellow, orange or red hides badly")
    if existing.swatch is None:
        bare = existing.ground not in {None, "painted"}
        return COATS, Step("two on a bare ground" if bare else "the colour there now is not given")
    step = new.lrv - existing.swatch.lrv
    if step > OVER_DARKER_LRV:
        return COATS_OVER_DARKER, Step(f"{step:.0f} LRV points lighter than the colour there now")
    return COATS, Step("the colour there now is not much darker")


# Beside the list, for the painter and the household: cautions, edges, conditions.


ASBESTOS_BEFORE = 2000
"""The year up to which buildings in Britain were built or refurbished with it (UK HSE)."""


def cautions(house: House) -> Iterator[str]:
    """Usual cautions; codes and licences decide."""
    age = "The age of the house is not known" if house.built is None else f"Built in {house.built}"
    holds = {
        "old_paint": may_hold_lead(house),
        "asbestos": may_hold_asbestos(house),
        "low_vision": house.low_vision,
    }
    for about, text in _TRADE["cautions"].items():
        if holds.get(about, True):
            yield text.format(age=age, **safety_of(house))


EDGES: Mapping[str, str] = _TRADE["edges"]
AT_ACCENT = EDGES["accent"]
QUESTIONS: Mapping[str, str] = _TRADE["questions"]
"""What is asked of a client where a check finds something."""


def at_edge(house: House, opening: Opening) -> str:
    """What the painter does where the colours of two rooms meet at an opening.

    The latch edge of a door is seen from where it opens into, the hinge edge from the other side.
    """
    into, away = "the room that the door opens into", "the other"
    if opening.into is not None:
        other = next((room for room in opening.between if room != opening.into), opening.into)
        into, away = house.rooms[opening.into].name, house.rooms[other].name
    kind: str = "stop" if opening.stop else opening.kind
    if kind == "open" and min(wall_ends_m(house, opening)) >= LEAST_END_M:
        kind = "wall_ends"
    return EDGES[kind].format(into=into, away=away)
