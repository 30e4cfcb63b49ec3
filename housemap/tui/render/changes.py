"""What is to be drawn again when one picture of a map follows another."""

from collections.abc import Iterator

from housemap.tui.render.house_map import Picture, Selected

Part = tuple[int, int, int]
"""Of a picture: a row, its first column, and the column after its last."""


def changed_parts(first: Selected, second: Selected) -> list[Part]:
    """What to draw again when one selection follows another on a map of the same geometry."""
    return [*_restamped(first, second), *_recoloured(first.picture, second.picture)]


def _restamped(first: Selected, second: Selected) -> Iterator[Part]:
    for row in sorted(first.stamps.keys() | second.stamps.keys()):
        differing = set(first.stamps.get(row, ())) ^ set(second.stamps.get(row, ()))
        if differing:
            start = min(stamp.column for stamp in differing)
            end = max(stamp.column + stamp.width for stamp in differing)
            yield row, start, end


def _recoloured(first: Picture, second: Picture) -> Iterator[Part]:
    if first is second:
        return
    for row in range(second.geometry.port.rows):
        before, after = first.cells(row), second.cells(row)
        if before is not after and before != after:
            differing = [n for n, (a, b) in enumerate(zip(before, after, strict=True)) if a != b]
            yield row, differing[0], differing[-1] + 1


def repainted(before: Picture, picture: Picture) -> Picture:
    """The picture, with the rows of one of the same geometry that hold no room that changed."""
    if (before.look, before.units) != (picture.look, picture.units):
        return picture
    geometry = picture.geometry
    changed = {r for r in geometry.rooms if before.blocks.get(r) != picture.blocks.get(r)}
    rows = {row for room in changed for _, row in geometry.cells.get(room, ())}
    for gap in geometry.gaps.values():
        if not changed.isdisjoint(gap.opening.between):
            rows |= {row for _, row in gap.cells}
    kept = {row: cells for row, cells in before.made.items() if row not in rows}
    picture.made.update(kept)
    return picture
