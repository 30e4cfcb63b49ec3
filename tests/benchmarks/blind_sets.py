"""Pairs of colour sets for judging blind: ours against a rule of thumb, or against random colours.

    python -m tests.benchmarks.blind_sets FOLDER KEY.json [SEED]
    python -m tests.benchmarks.blind_sets score KEY.json ANSWERS

The first draws COUNT neutrals by chance for each of the two opponents, mixes the pairs and draws
each as two strips, left and right shuffled, and sheets of six; the key is for whoever counts.
The second counts: ANSWERS is a word of l, r and = (no difference), one for each pair. Bars are in
proportion to the area that each colour would take. The rule of thumb knows neither house nor deck:
the neutral's hue lighter, near-white and near-black of that hue, 5BG 6/1.5 and 5GY 5/2. Random
colours have the same structure, drawn from the built-in deck by LRV alone.
"""

import json
import random
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.sets import Basis, sets_around
from housemap.colorimetry.facts import colour_facts
from housemap.deck.notation_deck import notation_deck
from housemap.model.house import Notation, Paint

COUNT = 30
HUES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
WEIGHTS = {"backbone": 40, "neutral": 20, "room": 12, "trim": 14, "dark": 5, "accent": 7}
ORDER = ("backbone", "neutral", "room", "accent", "dark", "trim")
WIDTH, HEIGHT, GAP = 480, 200, 24
A_SHEET = 6
Bars = Sequence[tuple[str, str]]
"""Part and "#rrggbb"."""
Pair = tuple[str, Bars, Bars]
"""Opponent and neutral; left and right."""


def neutrals(dice: random.Random) -> Iterator[str]:
    """Of any hue, LRV 35 to 75, no two the same."""
    known: set[str] = set()
    while True:
        hue = f"{dice.choice((2.5, 5, 7.5, 10)):g}{dice.choice(HUES)}"
        text = f"{hue} {dice.uniform(6.5, 8.9):.1f}/{dice.choice((0.7, 1, 1.2, 1.5, 1.8)):g}"
        if text not in known:
            known.add(text)
            yield text


def hexes(*notations: str) -> list[str]:
    return [one.srgb_hex for one in colour_facts([Notation(text) for text in notations])]


def ours(notation: str) -> Bars:
    [neutral] = all_chips({"neutral": Paint(notation, Notation(notation))}).swatches
    first = sets_around(Basis(neutral, computed_chips(neutral)))[0]
    return [(one.part, one.swatch.colour.srgb_hex) for one in first.colours]


def rule(notation: str) -> Bars:
    """What the judges of sets were shown before, as a rule of thumb."""
    hue, _, rest = notation.partition(" ")
    lighter = min(float(rest.split("/")[0]) + 1.0, 9.0)
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


def made_pairs(dice: random.Random) -> tuple[Sequence[Pair], Mapping[str, str]]:
    """All pairs, and by their number and name on which side ours is."""
    chips, names = all_chips(notation_deck()), neutrals(dice)
    opponents = ["rule"] * COUNT + ["random"] * COUNT
    dice.shuffle(opponents)
    pairs: list[Pair] = []
    key: dict[str, str] = {}
    for number, (opponent, name) in enumerate(zip(opponents, names, strict=False), 1):
        other = rule(name) if opponent == "rule" else at_random(name, chips, dice)
        left = dice.random() < 0.5
        label = f"{number} {opponent} {name}"
        key[label] = "l" if left else "r"
        pairs.append((label, ours(name), other) if left else (label, other, ours(name)))
    return pairs, key


def strip(pen: ImageDraw.ImageDraw, left: int, top: int, bars: Bars) -> None:
    ordered = sorted(bars, key=lambda bar: ORDER.index(bar[0]))
    whole = sum(WEIGHTS[part] for part, _ in ordered)
    x = float(left)
    for part, colour in ordered:
        wide = WIDTH * WEIGHTS[part] / whole
        pen.rectangle((round(x), top, round(x + wide) - 1, top + HEIGHT), fill=colour)
        x += wide


def sheet(path: Path, pairs: Sequence[Pair]) -> None:
    row = HEIGHT + 2 * GAP
    image = Image.new("RGB", (2 * WIDTH + 3 * GAP, len(pairs) * row + GAP), "#e8e8e8")
    pen = ImageDraw.Draw(image)
    for place, (label, *sides) in enumerate(pairs):
        number, top = label.split()[0], place * row + GAP
        for name, left, bars in zip(("left", "right"), (GAP, WIDTH + 2 * GAP), sides, strict=True):
            pen.text((left, top), f"pair {number}: {name}", fill="black")
            strip(pen, left, top + 16, bars)
    image.save(path)


def draw(folder: Path, pairs: Sequence[Pair]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for number, pair in enumerate(pairs, 1):
        sheet(folder / f"pair_{number:02}.png", [pair])
    for start in range(0, len(pairs), A_SHEET):
        sheet(folder / f"sheet_{start // A_SHEET + 1:02}.png", pairs[start : start + A_SHEET])


def score(key: Mapping[str, str], answers: str) -> Iterator[str]:
    """Won, lost and no difference against each opponent; then what was not won."""
    each = list(zip(key.items(), answers, strict=True))
    for opponent in ("rule", "random"):
        some = [(side, answer) for (name, side), answer in each if opponent in name.split()]
        won, even = sum(a == b for a, b in some), sum(answer == "=" for _, answer in some)
        yield f"{opponent}: won {won}, lost {len(some) - won - even}, no difference {even}"
    for (name, side), answer in each:
        if answer != side:
            yield f"{name}: {'no difference' if answer == '=' else 'lost'}"


def main() -> None:
    if sys.argv[1] == "score":
        print(*score(json.loads(Path(sys.argv[2]).read_text()), sys.argv[3]), sep="\n")
        return
    dice = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    pairs, key = made_pairs(dice)
    draw(Path(sys.argv[1]), pairs)
    Path(sys.argv[2]).write_text(json.dumps(key, indent=1))


if __name__ == "__main__":
    main()
