"""The house files opened last, and the demo house."""

from pathlib import Path

from housemap.workbench import folders

FILE = "recent.json"
MOST = 9


def recent_houses() -> tuple[Path, ...]:
    """Newest first; files that are gone, or a list that cannot be read, are left out."""
    names = folders.recalled(FILE)
    if not isinstance(names, list):
        return ()
    paths = [Path(name) for name in names if isinstance(name, str) and "\0" not in name]
    return tuple(path for path in paths if path.is_file())[:MOST]


def remember(path: Path) -> None:
    """Put a file at the head of the list; where the folder cannot be written, nothing is kept."""
    path = path.absolute()
    names = [str(p) for p in (path, *(p for p in recent_houses() if p != path))][:MOST]
    folders.remember(FILE, names)


def demo_house() -> Path:
    """The demo, from the installed package or from the project's root."""
    package = Path(__file__).parents[1]
    packaged = package / "demo_house.toml"
    return packaged if packaged.is_file() else package.parent / "demo_house.toml"
