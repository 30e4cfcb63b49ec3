"""What the painter and the household are told beside the list: cautions, edges, conditions."""

from collections.abc import Iterator
from dataclasses import dataclass

from housemap.model.house import House, Opening
from housemap.schedule.systems import LEAD_BANNED, may_hold_lead


def cautions(house: House) -> tuple[str, ...]:
    """Usual cautions; codes and licences decide."""
    return tuple(_cautions(house))


def _cautions(house: House) -> Iterator[str]:
    yield (
        "A screen or a print is no colour sample. Decide by a tester on the wall, by day and by"
        " lamp, and buy only then."
    )
    if may_hold_lead(house):
        age = "Its age is not known" if house.built is None else f"Built in {house.built}"
        yield (
            f"Old paint: {age}. A building from before {LEAD_BANNED} may have lead in its paint."
            " Have it tested before sanding, scraping or removing any; local law may require a"
            " certified firm."
        )
    yield (
        "Air: open the windows wide while painting and for two to three days after, with a fan"
        " blowing out. Children and people with trouble breathing keep away that long (US EPA,"
        " Healthy Indoor Painting Practices). Read the label for solvents; keep flames away."
    )
    yield (
        "Ladders: set a leaning ladder one out for four up, keep three points of contact, never"
        " step on the top step (29 CFR 1926.1053). Stairwells need a platform or a trade with one."
    )
    if house.low_vision:
        yield (
            "Low vision: edges are judged by 30 LRV points (BS 8300-2:2018). The local code, and"
            " whoever is licensed to sign it off, decides."
        )


@dataclass(frozen=True, slots=True)
class Junction:
    """Two colours that meet at an opening, and what the painter does there."""

    opening: str
    rooms: tuple[str, str]
    paints: tuple[str, str]
    """Of the first and of the second room."""
    surface: str
    """walls or doors."""
    instruction: str


def junctions(house: House) -> tuple[Junction, ...]:
    return tuple(m for key, opening in house.openings.items() for m in _at(house, key, opening))


def _at(house: House, key: str, opening: Opening) -> Iterator[Junction]:
    walls = tuple(house.rooms[room].paints.walls for room in opening.between)
    if opening.kind in {"open", "cased"} and walls[0] and walls[1] and walls[0] != walls[1]:
        pair = walls[0], walls[1]
        yield Junction(key, opening.between, pair, "walls", _between_walls(opening))
    doors = tuple(house.rooms[room].paints.doors for room in opening.between)
    if opening.kind == "doorway" and doors[0] and doors[1] and doors[0] != doors[1]:
        pair = doors[0], doors[1]
        yield Junction(key, opening.between, pair, "doors", _at_door(house, opening))


def _between_walls(opening: Opening) -> str:
    if opening.kind == "cased":
        return "end each wall colour at its own side of the casing; paint the lining as trim"
    if opening.stop:
        return "change at the corner or trim between the rooms"
    return "there is no place to change colour: agree a line, or carry one colour through"


def _at_door(house: House, opening: Opening) -> str:
    """The latch edge is seen from where the door opens into, the hinge edge from the other side."""
    sides = "paint each side of the leaf as its own room"
    if opening.into is None:
        return (
            f"{sides}; the latch edge as the room that the door opens into, the hinge edge as the"
            " other (common practice)"
        )
    other = next((room for room in opening.between if room != opening.into), opening.into)
    into, away = house.rooms[opening.into].name, house.rooms[other].name
    return f"{sides}; the latch edge as {into}, the hinge edge as {away} (common practice)"


@dataclass(frozen=True, slots=True)
class Condition:
    """One item of a specification: what it says, or that nothing was given."""

    item: str
    text: str
    source: str = "common practice"


def conditions() -> tuple[Condition, ...]:
    """What holds for the whole work, in the order of a guide specification.

    The items are those that UFGS 09 90 00 (May 2011, change 4) lists: regulatory requirements,
    packaging and storage, safety, environmental conditions, scheduling, protection, preparation,
    application, cleaning and waste.
    """
    return _CONDITIONS


_CONDITIONS = (
    Condition("Protection", "Cover floors, furniture and fittings; take off or mask ironmongery,"
              " switches and sockets. Paint no labels, hinges, locks or glass."),
    Condition("Order of work", "Ceiling, walls, then doors, windows and skirting; dry between"
              " coats as long as the label says."),
    Condition("Temperature and damp", "As the label says; no painting on damp surfaces or on ones"
              " that are colder than the air's dew point."),
    Condition("Workmanship", "Each coat even, without runs, sags, misses or brush marks that show"
              " at arm's length by daylight; rub down lightly between coats of trim paint."),
    Condition("Colours", "As the approved samples on the walls; names and codes in the paint key."
              " Ask before any paint is swapped for another make, line or sheen."),
    Condition("One batch", "Order each colour as one batch. Where batches or sizes differ, mix the"
              " tins together before use, and change tins at a corner."),
    Condition("Labels and storage", "Keep paint in its labelled tins, closed, free of frost."),
    Condition("Left over", "Leave what is left, labelled with room and surface, for repairs."),
    Condition("Waste", "Take away empty tins and masking; pour nothing into a drain. Follow the"
              " local rules for paint waste."),
    Condition("Finish of the work", "Clean up paint spots, put fittings back, walk round with the"
              " client by daylight and by lamp, touch up what is found."),
)  # fmt: skip
