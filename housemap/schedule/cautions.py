"""What a painter and a household are warned of. Usual cautions; codes and licences decide."""

from collections.abc import Iterator

from housemap.model.house import House

LEAD_BANNED = 1978
"""Target housing is what was built before 1978 (US EPA, 73 FR 21692, 40 CFR 745)."""


def cautions(house: House) -> tuple[str, ...]:
    return tuple(_cautions(house))


def _cautions(house: House) -> Iterator[str]:
    yield (
        "A screen or a print is no colour sample. Decide by a tester on the wall, by day and by"
        " lamp, and buy only then."
    )
    if house.built is None or house.built < LEAD_BANNED:
        age = "Its age is not known" if house.built is None else f"Built in {house.built}"
        yield (
            f"Old paint: {age}. A building from before {LEAD_BANNED} may have lead in its paint:"
            " have it tested before sanding, scraping or removing any; local law may require a"
            " certified firm."
        )
    yield (
        "Air: open the windows wide while painting and for two to three days after, a fan blowing"
        " out; children and people with trouble breathing stay away that long (US EPA, Healthy"
        " Indoor Painting Practices). Read the label for solvents and keep flames away."
    )
    yield (
        "Ladders: set a leaning ladder one out for four up, keep three points of contact, never"
        " stand on the top step (29 CFR 1926.1053). Stairwells want a platform or a trade with one."
    )
    if house.low_vision:
        yield (
            "Low vision: edges are judged by 30 LRV points (BS 8300-2:2018). The local code, and"
            " whoever is licensed to sign it off, decides."
        )
