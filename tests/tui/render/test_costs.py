"""The page on cost names every check, where it counts, and adds up."""

import re

from housemap.checks import CHECKS, report_of
from housemap.tui.render.cells import text_of
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.tasks.help import cost_rows
from tests.support.houses import small_house


def told(look: Look, *, with_house: bool) -> str:
    report = report_of(small_house()) if with_house else None
    return " ".join(text_of(cost_rows(report, Page(look, 100))).split())


def test_every_check_is_named_once() -> None:
    for with_house in (False, True):
        text = told(Look(), with_house=with_house)
        for check in CHECKS:
            assert text.count(check.title) >= 1


def test_the_parts_add_up() -> None:
    text = told(Look(), with_house=True)
    parts = [float(part) for part in re.findall(r"(\d+\.\d)(?:, \d+ %)?: ", text)]
    whole = re.search(r"(\d+\.\d) in all", text)
    assert whole is not None
    assert abs(sum(parts) - float(whole[1])) < 0.05 * len(parts) + 0.05
