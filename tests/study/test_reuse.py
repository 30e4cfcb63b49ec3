"""A study after any sequence of edits equals the study of the final house from scratch."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from housemap.checks import Finding, Report, report_of
from housemap.model.edits import assign, put, remove
from housemap.model.house import SURFACES, Door, House, Lamp, Sample
from tests.support.houses import grid_house, paint, small_house

Edit = Callable[[House], House]

HOUSE = grid_house(9, columns=3, paints=4)
FOUR_ROOMS = grid_house(4, columns=2, paints=4)
LIT_HOUSE = replace(
    FOUR_ROOMS,
    rooms={
        key: replace(room, lamps={"pendant": Lamp(900.0, 2700.0)})
        for key, room in FOUR_ROOMS.rooms.items()
    },
)


def recolour(index: int, grey: int) -> Edit:
    key = f"p{index:02}"
    return lambda house: put(house, "paints", key, paint(f"#{grey:02x}{grey:02x}{grey:02x}"))


def repaint(room: int, index: int | None) -> Edit:
    key = None if index is None else f"p{index:02}"
    return lambda house: assign(house, f"r{room:04}", SURFACES[room % 4], key)


def shut_or_open(index: int) -> Edit:
    def edit(house: House) -> House:
        key = sorted(house.openings)[index % len(house.openings)]
        door = house.openings[key]
        flipped: Door = "shut" if door.door == "open" else "open"
        return put(house, "openings", key, replace(door, door=flipped))

    return edit


def close_up(index: int) -> Edit:
    def edit(house: House) -> House:
        keys = sorted(house.openings)
        return remove(house, "openings", keys[index % len(keys)]) if len(keys) > 1 else house

    return edit


def resize(room: int, height: float) -> Edit:
    key = f"r{room:04}"
    return lambda house: put(house, "rooms", key, replace(house.rooms[key], height_m=height))


def sample(room: int, index: int) -> Edit:
    kept = Sample(f"p{index:02}", f"r{room:04}", verdict="keep")
    return lambda house: put(house, "samples", f"s{room}{index}", kept)


def limit(value: float) -> Edit:
    return lambda house: replace(house, limits={"jar": {"doorway": value}})


rooms, paints = st.integers(0, 3), st.integers(0, 3)
edits = st.lists(
    st.one_of(
        st.builds(recolour, paints, st.integers(0, 255)),
        st.builds(repaint, rooms, st.none() | paints),
        st.builds(shut_or_open, st.integers(0, 20)),
        st.builds(close_up, st.integers(0, 20)),
        st.builds(resize, rooms, st.floats(2.2, 4.0)),
        st.builds(sample, rooms, paints),
        st.builds(limit, st.floats(1.0, 60.0)),
    ),
    max_size=8,
)


def rounded(finding: Finding) -> Finding:
    """To nine digits: sums over other batches differ in the last ones."""
    value = None if finding.value is None else round(finding.value, 9)
    return replace(finding, value=value, parts={k: round(v, 9) for k, v in finding.parts.items()})


def as_values(report: Report) -> tuple[object, ...]:
    study = report.study
    return (
        [rounded(finding) for finding in report.findings],
        study.plan,
        study.graph,
        {k: (s.entity, s.colour) for k, s in study.swatches.items()},
        {
            k: (r.room, [(c.surface, c.swatch.id) for c in r.every_coat], r.samples, r.areas)
            for k, r in study.rooms.items()
        },
        sorted(study.pairs),
        {k: [s.room.id for s in view.seen] for k, view in study.views.items()},
        {k: [v.room.id for v in s.views] for k, s in study.surroundings.items()},
    )


@settings(max_examples=30, deadline=None)
@given(edits)
def test_a_report_after_edits_equals_the_report_from_scratch(sequence: list[Edit]) -> None:
    check_reuse(HOUSE, sequence, deep=False)


@settings(max_examples=4, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(edits)
@example([limit(4.3), shut_or_open(4), recolour(0, 113)])
def test_so_does_a_report_with_light_and_sight(sequence: list[Edit]) -> None:
    check_reuse(LIT_HOUSE, sequence, deep=True)


def check_reuse(house: House, sequence: list[Edit], *, deep: bool) -> None:
    report = report_of(house, deep=deep)
    for edit in sequence:
        house = edit(house)
        report = report_of(house, report, deep=deep)
        assert report.findings is not None  # put in order, for the next report to build on
    fresh = report_of(house, deep=deep)
    if not deep:
        assert as_values(report) == as_values(fresh)
        return
    assert as_values(report)[1:] == as_values(fresh)[1:]
    for one, other in ((report, fresh), (fresh, report)):
        known = {place_of(finding): finding.value for finding in other.findings}
        for finding in clear(one):
            assert known[place_of(finding)] == pytest.approx(finding.value, abs=NEAR / 2.0)


NEAR = 0.3
"""Light that an edit changes by less than a five-hundredth is kept; CAM16-UCS units."""


def place_of(finding: Finding) -> tuple[object, ...]:
    """Without the light: where two lights are equally bad, either may be named."""
    return finding.check, finding.severity, finding.places, finding.kind


def clear(report: Report) -> Iterator[Finding]:
    """The findings whose value is not so near to its limit that it may be found or not."""
    for finding in report.findings:
        if (
            finding.value is None
            or finding.limit is None
            or abs(finding.value - finding.limit) > NEAR
        ):
            yield finding


def test_repainting_one_room_touches_only_that_room_and_what_sees_it() -> None:
    before = report_of(grid_house(100), deep=False)
    after = report_of(assign(before.house, "r0055", "walls", "p00"), before, deep=False)
    touched = after.study.touched
    assert touched.rooms == {"r0055"}
    assert touched.pairs == {pair for pair in after.study.pairs if "r0055" in pair}
    assert touched.views == {"r0055", *after.study.graph.sees("r0055")}
    assert touched.swatches == frozenset()


def test_the_same_house_again_touches_nothing() -> None:
    before = report_of(small_house())
    after = report_of(before.house, before)
    assert after.study.touched == type(after.study.touched)()
    assert after.plain is before.plain
    assert after.deep is before.deep
