"""A house with twelve mistakes, each in rooms of its own: they are the first causes in the list."""

from dataclasses import replace

from housemap.checks import report_of
from housemap.checks.examples import colour
from housemap.model.house import (
    Finish,
    House,
    Opening,
    Paint,
    Room,
    Sample,
    SurfacePaints,
    SurfaceSheens,
)

MOST_MORE = 8
PAINTS = {
    "oat": "5Y 8.7/1", "white": "N 9.5/", "navy": "5PB 3/6", "pink": "5R 7.5/2", "sage": "5G 7.5/2",
    "mist": "5PB 7.5/2", "dusk": "5Y 6/1", "pearl": "N 9.3/", "stone": "5Y 6.8/1",
    "rust": "10R 4/10", "linen": "10YR 8.4/1.5", "sand": "2.5Y 8/2.5", "flax": "2.5Y 8.6/1.5",
    "flame": "2.5Y 8/16", "wheat": "5Y 8.2/1.5", "husk": "5Y 8.5/1.5",
}  # fmt: skip
PLANTED = {
    "jar", "stop", "undertone", "near-miss", "fixed", "rejected", "backbone", "trim", "lone",
    "sheen", "label", "gamut",
}  # fmt: skip


def room(walls: str, trim: str = "white", **more: object) -> Room:
    plain = Room("", paints=SurfacePaints(walls=walls, trim=trim))
    return replace(plain, **more)  # type: ignore[arg-type]  # as named


def planted() -> House:
    rooms = {
        "hall": room("oat", role="backbone"),
        "office": room("oat"), "den": room("navy"),  # a jump
        "kitchen": room("sand"), "dining": room("flax"),  # no place to change
        "parlour": room("pink"), "library": room("sage"),  # undertones
        "bedroom": room("wheat"), "closet": room("sand", trim="pearl"),  # two whites
        "bath": room("mist", floor="oak"),  # against a finish
        "nursery": room("husk"),  # rejected
        "passage": room("dusk", role="backbone"),  # too dark
        "utility": room("dusk", trim="stone"),  # trim undecided
        "snug": room("rust"),  # an accent alone
        "scullery": room("oat", use="kitchen", sheens=SurfaceSheens(walls="matt")),
        "attic": room("linen", paints=SurfacePaints("linen", "flame", "white")),
        # the card is wrong, and no screen shows the ceiling
    }  # fmt: skip
    shut = {key: Opening(("hall", key), "doorway", door="shut") for key in rooms if key != "hall"}
    joined = {
        "office-den": Opening(("office", "den"), "cased"),
        "kitchen-dining": Opening(("kitchen", "dining"), "open"),
        "parlour-library": Opening(("parlour", "library"), "doorway"),
        "bedroom-closet": Opening(("bedroom", "closet"), "cased"),
    }
    paints = {key: Paint(key.title(), colour(text)) for key, text in PAINTS.items()}
    paints["linen"] = replace(paints["linen"], lrv=50.0)
    return House(
        paints=paints,
        finishes={"oak": Finish("Oak", colour("10YR 6/4"))},
        rooms={key: replace(each, name=key.title()) for key, each in rooms.items()},
        openings={**shut, **joined},
        samples={"s": Sample("husk", "nursery", verdict="reject", seen="too yellow")},
    )


def test_twelve_planted_mistakes_are_the_first_dozen_causes() -> None:
    report = report_of(planted())
    causes = report.causes
    assert {cause.check for cause in causes[: len(PLANTED)]} == PLANTED, [
        cause.describe(report.house) for cause in causes
    ]
    assert len(causes) <= len(PLANTED) + MOST_MORE


def test_a_mistake_is_one_cause_however_often_it_shows() -> None:
    causes = report_of(planted()).causes
    assert len({(cause.check, cause.paints) for cause in causes}) == len(causes)
