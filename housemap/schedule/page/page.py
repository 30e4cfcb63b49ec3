"""The page: its sections in order, its style, and a policy that forbids everything else."""

from collections.abc import Iterator
from importlib.resources import files

from housemap.schedule import telling
from housemap.schedule.document import Schedule
from housemap.schedule.page.board import board
from housemap.schedule.page.parts import bullets, section
from housemap.schedule.page.plan import plans
from housemap.schedule.page.tables import needs, rooms, samples, testers
from housemap.schedule.page.tags import Html, tag
from housemap.schedule.page.views import views

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""Even a browser that found a script or an address in the page would not follow it."""


def as_html(schedule: Schedule) -> str:
    """One self-contained page, valid HTML, for print (A4 or Letter) and for a phone."""
    style = files("housemap.schedule.page").joinpath("page.css").read_text("utf-8")
    name = schedule.house.name or "House without a name"
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=_POLICY),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", f"Paint schedule: {name}"),
        tag("style", Html(style)),
    )
    body = tag("body", tag("main", *_sections(schedule, name)))
    return f"<!doctype html>\n{tag('html', head, body, lang='en')}\n"


def _sections(schedule: Schedule, name: str) -> Iterator[Html]:
    house = schedule.house
    yield tag(
        "header", tag("p", "Paint schedule", class_="soft"), tag("h1", name), _facts(schedule)
    )
    yield tag("section", *(tag("p", text) for text in schedule.cautions), class_="caution")
    yield section("The paints", board(schedule))
    yield section("The plan", plans(schedule))
    yield section("Views", views(schedule))
    yield section("Room by room", rooms(schedule))
    yield section("To buy", needs(schedule), *_footing(schedule))
    meetings = (telling.meeting(house, meeting) for meeting in schedule.meetings)
    yield section("Where colours meet", bullets(meetings))
    yield section("Samples to put up", testers(schedule))
    yield section("Samples seen", samples(schedule))
    yield section("Still open", _matters(schedule))


def _facts(schedule: Schedule) -> Html:
    pairs = (tag("div", tag("dt", n), tag("dd", value)) for n, value in telling.heading(schedule))
    return tag("dl", *pairs)


def _footing(schedule: Schedule) -> Iterator[Html]:
    if schedule.quantities.needs:
        yield tag("p", telling.cost(schedule))
        yield tag("p", telling.measured_how(schedule), class_="soft")
    if unmeasured := telling.unmeasured(schedule):
        yield tag("p", unmeasured)


def _matters(schedule: Schedule) -> Html:
    items = [
        tag("li", tag("b", matter.severity), f" {matter.tell(schedule.house)}")
        for matter in schedule.matters
    ]
    return tag("ul", *items, class_="matters") if items else Html()
