"""What samples on the wall say holds wherever paints are suggested."""

from dataclasses import replace

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.choose.house_problem import approved_rooms
from housemap.model.house import House, Notation, Paint, Sample, Verdict
from tests.choose.support.random_houses import problem_of
from tests.support.houses import small_house
from tests.support.remedies import remedies_of


def with_samples(**samples: tuple[str, str, Verdict]) -> House:
    """Samples by id, each a paint, a room and a verdict."""
    made = {key: Sample(p, room, verdict=v) for key, (p, room, v) in samples.items()}
    return small_house(samples=made)


def test_a_paint_that_was_rejected_in_a_room_is_no_candidate_there() -> None:
    report = report_of(with_samples(no=("moss", "study", "reject")), deep=False)
    candidates = problem_of(report, keep=()).candidates
    assert "moss" not in candidates["study"]
    assert "moss" in candidates["kitchen"]


def test_one_that_was_looked_at_again_and_approved_is() -> None:
    house = with_samples(a=("moss", "study", "reject"), b=("moss", "study", "keep"))
    assert "moss" in problem_of(report_of(house, deep=False), keep=()).candidates["study"]


def test_a_room_in_which_every_paint_was_rejected_still_has_candidates() -> None:
    house = with_samples(**{p: (p, "study", "reject") for p in ("oat", "moss", "chalk")})
    assert problem_of(report_of(house, deep=False), keep=()).candidates["study"]


def test_no_remedy_offers_what_was_rejected_there() -> None:
    house = two_rooms("5Y 9/1", "5PB 3/6", "open")
    house = replace(house, paints={**house.paints, "sand": Paint("Sand", Notation("5Y 8/1"))})

    def offered(house: House) -> set[str | None]:
        report = report_of(house, deep=False)
        [jar] = [finding for finding in report.findings if finding.check == "jar"]
        found = remedies_of(jar, report, most=20)
        return {remedy.report.house.rooms["study"].paints.walls for remedy in found}

    assert "sand" in offered(house)
    rejected = {"no": Sample("sand", "study", verdict="reject")}
    assert "sand" not in offered(replace(house, samples=rejected))


def test_rooms_whose_paint_was_approved_there_are_known() -> None:
    house = with_samples(yes=("oat", "hall", "keep"), no=("oat", "study", "reject"))
    assert approved_rooms(house) == {"hall"}
