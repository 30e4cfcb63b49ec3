"""Two people at one house file: whole files merged, and a save that merges what came between."""

from collections.abc import Mapping
from dataclasses import dataclass
from os import PathLike

from housemap.errors import ChangedOnDiskError
from housemap.file.comments import comments_for, dump_with_comments, merged_comments
from housemap.file.merge import Conflict, Merge, Side, merge
from housemap.file.reader import HouseFile, load_house
from housemap.file.save import save_bytes
from housemap.model.house import House
from housemap.model.kinds import Path


@dataclass(frozen=True, slots=True)
class Together:
    """What became of a house that met another one's changes on disk."""

    house: House
    file: HouseFile
    """The file last met or written: what the next save must build on."""
    conflicts: tuple[Conflict, ...]
    """Where there are any the house is not saved yet: somebody must choose first."""


def merge_files(
    base: HouseFile,
    mine: HouseFile,
    theirs: HouseFile,
    choices: Mapping[Path, Side] | None = None,
) -> tuple[str, Merge]:
    """Merge three files; return the text of the merged one, comments included, and the merge.

    Raises EditError where choices cannot stand together.
    """
    merged = merge(base.house, mine.house, theirs.house, choices)
    sides = (comments_for(merged.house, each.data) for each in (base, mine, theirs))
    return dump_with_comments(merged.house, merged_comments(*sides)), merged


def save_together(house: House, path: str | PathLike[str], base: HouseFile) -> Together:
    """Save a house that grew from `base`, merged with whatever else was saved meanwhile.

    Nothing is written while there are conflicts: settle them with `merge` and its choices, and
    save again with `file` as the base. Raises HouseFileError where the file cannot be read or
    written.
    """
    while True:
        data = dump_with_comments(house, comments_for(house, base.data)).encode()
        try:
            save_bytes(data, path, expected=base.fingerprint)
        except ChangedOnDiskError:
            theirs = load_house(path)
            merged = merge(base.house, house, theirs.house)
            if merged.conflicts:
                return Together(merged.house, theirs, merged.conflicts)
            house, base = merged.house, theirs
        else:
            return Together(house, HouseFile(house, data), ())
