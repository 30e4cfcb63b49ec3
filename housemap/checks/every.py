"""Every check, in the order in which findings are listed."""

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

CHECKS: tuple[Check, ...] = (
    JAR, STOP, UNDERTONE, NEAR_MISS, FIXED, REJECTED, BRIEF, BACKBONE, DIM, CROWD, TRIM, EDGE, LONE,
    SHEEN, BARE, TURN, CLOSING, UNTRIED, LIGHTS, LABEL, GAMUT,
)  # fmt: skip

_BY_ID = {check.id: check for check in CHECKS}


def check_of(check_id: str) -> Check:
    """The check of that id; KeyError where there is none."""
    return _BY_ID[check_id]
