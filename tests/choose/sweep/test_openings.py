"""Where openings pass light, paints tried are judged with the light that comes back by them."""

import numpy as np
import pytest
from tests.choose.sweep.test_trial import DEMO, swept

from housemap.checks import report_of
from housemap.choose.rank import in_place
from housemap.model.edits import paint_on

ONE_FINDING = 8.0
"""A finding at its limit may be found or not."""


@pytest.mark.lit_together
@pytest.mark.parametrize("room", ["living", "landing", "study"])
def test_a_paint_costs_about_what_its_report_says_where_light_passes_openings(room: str) -> None:
    """Other rooms are judged in the light that they have: most figures within 0.2."""
    report, apart = report_of(DEMO), []
    found = swept(report, room, "walls")
    for row, paint in [*enumerate(DEMO.paints)][::4]:
        expected = in_place(report.after(paint_on(DEMO, room, "walls", paint)), room).parts
        told = found.row(row).parts
        checks = expected.keys() | told.keys()
        apart += [abs(told.get(check, 0.0) - expected.get(check, 0.0)) for check in checks]
    assert float(np.median(apart)) < 0.2
    assert max(apart) < ONE_FINDING
