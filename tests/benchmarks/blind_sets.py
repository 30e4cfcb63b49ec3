"""Pairs of colour sets for judging blind: ours against a rule of thumb, or against random colours.

    python -m tests.benchmarks.blind_sets FOLDER [rule|random] [SEED]
    python -m tests.benchmarks.blind_sets FOLDER score ANSWERS

The first writes sheets of pairs, left and right shuffled, and a key that the judge does not open.
The second counts: ANSWERS is a word of l, r and = (no difference), one for each pair. Bars are in
proportion to the area that each colour would take. The rule of thumb knows neither house nor deck:
the neutral's hue lighter, near-white and near-black of that hue, 5BG 6/1.5 and 5GY 5/2. Random
colours have the same structure, drawn from the built-in deck by LRV alone.
"""

import json
import random
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.sets import Basis, sets_around
from housemap.colorimetry.facts import colour_facts
from housemap.deck.notation_deck import notation_deck
from housemap.model.house import Notation, Paint

NEUTRALS = (
    "10YR 7/1", "5Y 8/1", "2.5Y 7.5/1.5", "5YR 7.5/1", "10R 7/1", "5PB 7/1", "5B 7.5/1", "5G 7/1",
    "10Y 6.5/1", "5GY 7.5/1", "7.5YR 6.5/1.5", "2.5Y 8.5/1", "10YR 8/2", "5R 7.5/1", "5RP 8/1",
    "10B 6.5/1", "10PB 7.5/1", "5BG 8/1", "N 7/", "2.5GY 7/1", "10YR 6.5/1", "5Y 7/2", "7.5Y 8/1.5",
    "2.5YR 8/1", "5YR 6.5/1", "7.5B 8.5/1", "10G 6.5/1", "2.5Y 6.5/1", "7.5YR 8/1", "5P 7/1",
)  # fmt: skip
WEIGHTS = {"backbone": 40, "neutral": 20, "room": 12, "trim": 14, "dark": 5, "accent": 7}
ORDER = ("backbone", "neutral", "room", "accent", "dark", "trim")
WIDTH, HEIGHT, GAP = 360, 120, 24
Bars = Sequence[tuple[str, str]]
"""Part and "#rrggbb"."""


def hexes(*notations: str) -> list[str]:
    return [one.srgb_hex for one in colour_facts([Notation(text) for text in notations])]


def ours(notation: str) -> Bars:
    [neutral] = all_chips({"neutral": Paint(notation, Notation(notation))}).swatches
    first = sets_around(Basis(neutral, computed_chips(neutral)))[0]
    return [(one.part, one.swatch.colour.srgb_hex) for one in first.colours]


def rule(notation: str) -> Bars:
    """What the judges of sets were shown before, as a rule of thumb."""
    hue, _, rest = notation.partition(" ")
    value = float(rest.split("/")[0])
    lighter = min(value + 1.0, 9.0)
    if hue == "N":
        names = [f"N {lighter}/", notation, "N 9.4/", "N 2.2/"]
    else:
        names = [f"{hue} {lighter}/0.8", notation, f"{hue} 9.4/0.4", f"{hue} 2.2/0.5"]
    made = hexes(*names, "5BG 6/1.5", "5GY 5/2")
    return list(zip(("backbone", "neutral", "trim", "dark", "accent", "accent"), made, strict=True))


def at_random(notation: str, chips: Chips, dice: random.Random) -> Bars:
    def one(low: float, high: float) -> str:
        rows = np.flatnonzero((chips.lrv >= low) & (chips.lrv <= high)).tolist()
        return chips.swatches[dice.choice(rows)].colour.srgb_hex

    ranges = (("backbone", 55, 75), ("trim", 80, 95), ("dark", 2, 10),
              ("accent", 12, 45), ("accent", 12, 45))  # fmt: skip
    [own] = hexes(notation)
    return [("neutral", own), *((part, one(low, high)) for part, low, high in ranges)]


def draw(sheet: ImageDraw.ImageDraw, left: int, top: int, bars: Bars) -> None:
    ordered = sorted(bars, key=lambda bar: ORDER.index(bar[0]))
    each = {part: WEIGHTS[part] for part, _ in ordered}
    whole = sum(each[part] for part, _ in ordered)
    x = float(left)
    for part, colour in ordered:
        wide = WIDTH * each[part] / whole
        sheet.rectangle((round(x), top, round(x + wide) - 1, top + HEIGHT), fill=colour)
        x += wide


def sheets(folder: Path, pairs: Sequence[tuple[str, Bars, Bars]], dice: random.Random) -> None:
    """Ten pairs a sheet; the key says on which side ours is."""
    folder.mkdir(parents=True, exist_ok=True)
    key: dict[str, str] = {}
    for start in range(0, len(pairs), 10):
        some = pairs[start : start + 10]
        size = (2 * WIDTH + 3 * GAP + 40, len(some) * (HEIGHT + GAP) + GAP)
        image = Image.new("RGB", size, "#e8e8e8")
        pen = ImageDraw.Draw(image)
        for row, (name, mine, other) in enumerate(some):
            left = dice.random() < 0.5
            key[f"{start + row + 1} {name}"] = "l" if left else "r"
            top = GAP + row * (HEIGHT + GAP)
            pen.text((8, top + HEIGHT // 2), str(start + row + 1), fill="black")
            draw(pen, 40, top, mine if left else other)
            draw(pen, 40 + WIDTH + 2 * GAP, top, other if left else mine)
        image.save(folder / f"pairs-{start // 10 + 1}.png")
    (folder / "key.json").write_text(json.dumps(key, indent=1))


def score(key: Mapping[str, str], answers: str) -> tuple[int, int, int]:
    """Won, lost, no difference."""
    sides = list(key.values())[: len(answers)]
    won = sum(a == side for a, side in zip(answers, sides, strict=True))
    even = answers.count("=")
    return won, len(answers) - won - even, even


def main() -> None:
    folder = Path(sys.argv[1])
    against = sys.argv[2] if len(sys.argv) > 2 else "rule"
    if against == "score":
        key = json.loads((folder / "key.json").read_text())
        print("won {}, lost {}, no difference {}".format(*score(key, sys.argv[3])))
        for (name, side), answer in zip(key.items(), sys.argv[3], strict=False):
            print(name, "won" if side == answer else "even" if answer == "=" else "lost")
        return
    dice = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    chips = all_chips(notation_deck())
    others = [
        rule(name) if against == "rule" else at_random(name, chips, dice) for name in NEUTRALS
    ]
    mine = [ours(name) for name in NEUTRALS]
    sheets(folder, list(zip(NEUTRALS, mine, others, strict=True)), dice)


if __name__ == "__main__":
    main()
