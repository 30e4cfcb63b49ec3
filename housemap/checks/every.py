"""Every check, in the order in which findings are listed."""

from collections.abc import Iterator

from housemap.checks.check import Check
from housemap.checks.pages.brief import BRIEF
from housemap.checks.pages.light import BACKBONE, DIM, TURN
from housemap.checks.pages.records import CLOSING, GAMUT, LABEL
from housemap.checks.pages.samples import LIGHTS, REJECTED, UNTRIED
from housemap.checks.pages.steps import JAR, NEAR_MISS, STOP
from housemap.checks.pages.undertones import FIXED, UNDERTONE
from housemap.checks.pages.views import BARE, CROWD, LONE
from housemap.checks.pages.wear import SHEEN
from housemap.checks.pages.woodwork import EDGE, TRIM
from housemap.model.fieldtypes import unknown_id
from housemap.model.house import House

CHECKS: tuple[Check, ...] = (
    JAR, STOP, UNDERTONE, NEAR_MISS, FIXED, REJECTED, BRIEF, BACKBONE, DIM, CROWD, TRIM, EDGE, LONE,
    SHEEN, BARE, TURN, CLOSING, UNTRIED, LIGHTS, LABEL, GAMUT,
)  # fmt: skip

_BY_ID = {check.id: check for check in CHECKS}


def check_of(check_id: str) -> Check:
    """The check of that id; KeyError where there is none."""
    return _BY_ID[check_id]


def unknown_names(house: House) -> Iterator[str]:
    """Checks and kinds of limits that the file names and this version has not."""
    kinds = {check.id: check.defaults for check in CHECKS}
    named = [(f"limits.{check}", check) for check in house.limits]
    named += [(f"accepted.{key}", each.check) for key, each in house.accepted.items()]
    for place, check in named:
        if check not in kinds:
            yield f"{place}: {unknown_id('check', check, kinds)}"
    for check, limits in house.limits.items():
        known = kinds.get(check, {})
        for kind in limits if known else ():
            if kind not in known:
                yield f"limits.{check}: {unknown_id('limit', kind, known)}"
