"""The paints in their proportions: two strips, of the area and of the view, and a key to them."""

from collections.abc import Callable, Sequence

from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.page.parts import chip, ink_on
from housemap.schedule.page.tags import Html, tag, together
from housemap.schedule.proportions import Share

NUMBERED, NUMBERED_ON_PHONE = 0.01, 0.025
"""Of a strip for each digit: a part's number stands in it where there is room for it."""


def board(schedule: Schedule) -> Html:
    shares = schedule.board
    if not shares:
        return Html()
    strips = [_strip(schedule, "by area", shares, lambda share: share.of_area)]
    if any(share.of_view for share in shares):
        strips.append(_strip(schedule, "by view", shares, lambda share: share.of_view))
    cards = (_card(schedule, number, share) for number, share in enumerate(shares, 1))
    note = "By view: of the paint that is seen by somebody who stands in each room and looks round."
    return together(*strips, tag("div", *cards, class_="cards"), tag("p", note, class_="soft"))


def _strip(
    schedule: Schedule, name: str, shares: Sequence[Share], of: Callable[[Share], float]
) -> Html:
    parts = [
        _part(schedule, number, share, of(share))
        for number, share in enumerate(shares, 1)
        if of(share) > 0
    ]
    strip = tag("div", *parts, class_="strip")
    return tag("figure", strip, tag("figcaption", name), class_="board")


def _part(schedule: Schedule, number: int, share: Share, size: float) -> Html:
    swatch = schedule.swatch(share.paint)
    hex_ = swatch.colour.srgb_hex
    style = f"flex:{size:.4f} 1 0;background:{hex_};color:{ink_on(hex_)}"
    digits = len(str(number))
    text = str(number) if size >= NUMBERED * digits else ""
    thin = "thin" if size < NUMBERED_ON_PHONE * digits else None
    title = f"{swatch.name} {wording.percent(size)}"
    return tag("div", text, style=style, title=title, class_=thin)


def _card(schedule: Schedule, number: int, share: Share) -> Html:
    house, swatch = schedule.house, schedule.swatch(share.paint)
    colour = swatch.colour
    area, view = wording.percent(share.of_area), wording.percent(share.of_view)
    paint = house.paints[share.paint]
    code = f"{paint.code}, " if paint.code else ""
    lines = (
        f"{code}LRV {swatch.lrv:.0f}",
        colour.undertone.name,
        f"{colour.notation.text}, {colour.srgb_hex}",
        f"area {area}, view {view}",
    )
    words = (tag("span", line, class_="soft") for line in lines)
    name = tag("b", f"{number} {paint.name}")
    return tag("div", chip(swatch), tag("div", name, *words))
