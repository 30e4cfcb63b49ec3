"""Where openings pass light, paints tried are judged with the light that comes back by them."""

import numpy as np
import pytest

from housemap.checks import report_of
from housemap.checks.options import own_options
from housemap.choose.rank import in_place
from housemap.choose.surface_trial import SurfaceTrial
from housemap.file.reader import read_house
from housemap.model.edits import paint_on
from tests.support.project import DEMO

pytestmark = pytest.mark.lit_together

HOUSE = read_house(DEMO)
ONE_FINDING = 8.0
"""A finding at its limit may be found or not."""


@pytest.mark.parametrize("room", ["living", "landing", "study"])
def test_a_paint_costs_about_what_its_report_says_where_light_passes_openings(room: str) -> None:
    """Other rooms are judged in the light that they have: most figures within 0.2."""
    report, apart = report_of(HOUSE), []
    paints = list(HOUSE.paints)[::2]
    options = own_options([report.study.paint(paint) for paint in paints])
    found = SurfaceTrial(report, room, "walls").effects(options, deep=True)
    for row, paint in enumerate(paints):
        expected = in_place(report.after(paint_on(HOUSE, room, "walls", paint)), room).parts
        told = found.row(row, paint).parts
        checks = expected.keys() | told.keys()
        apart += [abs(told.get(check, 0.0) - expected.get(check, 0.0)) for check in checks]
    assert float(np.median(apart)) < 0.2
    assert max(apart) < ONE_FINDING
