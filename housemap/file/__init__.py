"""House files: read, write, save, compare and merge them, and never lose one."""

from housemap.file.reader import HouseFile, has_comments, load_house, parse_house, read_house
from housemap.file.save import NEW_FILE, save_house
from housemap.file.writer import dump_house

__all__ = [
    "NEW_FILE",
    "HouseFile",
    "dump_house",
    "has_comments",
    "load_house",
    "parse_house",
    "read_house",
    "save_house",
]
