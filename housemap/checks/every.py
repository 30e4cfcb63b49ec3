"""Every check, in the order in which findings are told."""

from housemap.checks.page import Check
from housemap.checks.pages import (
    backbone,
    bare,
    closing,
    crowd,
    dim,
    edge,
    fixed,
    gamut,
    jar,
    label,
    lone,
    near_miss,
    rejected,
    sheen,
    stop,
    trim,
    turn,
    undertone,
    untried,
)

CHECKS: tuple[Check, ...] = (
    jar.CHECK,
    stop.CHECK,
    undertone.CHECK,
    near_miss.CHECK,
    fixed.CHECK,
    rejected.CHECK,
    backbone.CHECK,
    dim.CHECK,
    crowd.CHECK,
    trim.CHECK,
    edge.CHECK,
    lone.CHECK,
    sheen.CHECK,
    bare.CHECK,
    turn.CHECK,
    closing.CHECK,
    untried.CHECK,
    label.CHECK,
    gamut.CHECK,
)

_BY_ID = {check.id: check for check in CHECKS}


def check_of(check_id: str) -> Check:
    """The check of that id; KeyError where there is none."""
    return _BY_ID[check_id]
