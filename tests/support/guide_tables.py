"""The tables of the guide that follow from the program: `python -m tests.support.guide_tables`.

Writes each into the page of its name, between `<!-- NAME -->` and `<!-- end of NAME -->`.
"""

from collections.abc import Callable, Iterable, Mapping

from housemap.checks import CHECKS
from housemap.checks.check import Check, Limit
from housemap.cli.command import every_command
from housemap.guide import page
from housemap.tui.commands import BY_ID, PLACES, Command, Context, uses_by_place
from housemap.tui.keys import shown_key
from tests.support.project import ROOT

FINDER = shown_key(BY_ID["find"].keys[0])

GUIDE = ROOT / "housemap" / "guide"


def checks_table() -> str:
    """Every check with what it finds, its limits and where they come from."""
    rows = [(f"`{check.id}`", check.title, _limits(check), _sources(check)) for check in CHECKS]
    return _table(("check", "finds", "limits", "where the limit comes from"), rows)


def _limits(check: Check) -> str:
    return "; ".join(f"`{limit.kind}` {_amount(limit)}" for limit in check.limits) or "none"


def _amount(limit: Limit) -> str:
    return f"{limit.default:g} {limit.unit}"


def _sources(check: Check) -> str:
    return "; ".join(dict.fromkeys(limit.source for limit in check.limits))


def keys_table() -> str:
    """A table a place: every command there, with its keys and its name in keymap.toml."""
    head = ("keys", "what it does", "name")
    return "\n\n".join(
        f"## {_place(place)}\n\n"
        + _table(head, ((_keys(command), use.title, f"`{command.id}`") for command, use in uses))
        for place, uses in uses_by_place()
    )


def _place(place: Context) -> str:
    name, way = PLACES[place]
    return name.capitalize() + (f": {way}" if way else "")


def _keys(command: Command) -> str:
    return " ".join(f"`{shown_key(key)}`" for key in command.keys) or f"by `{FINDER}`"


def commands_table() -> str:
    """Every command of the command line with what it does and an example."""
    rows = [
        (f"`{command.name}`", command.summary, f"`{command.examples[0]}`")
        for command in every_command()
    ]
    return _table(("command", "what it does", "for example"), rows)


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    return "\n".join(map(_row, (head, tuple("---" for _ in head), *rows)))


def _row(cells: tuple[str, ...]) -> str:
    return f"| {' | '.join(cell.replace('|', '&#124;') for cell in cells)} |"


TABLES: Mapping[str, Callable[[], str]] = {
    "checks": checks_table,
    "commands": commands_table,
    "keys": keys_table,
}


def with_table(topic: str) -> str:
    """The page of a topic with its table made anew; ValueError where a mark is missing."""
    text = page(topic)
    first, last = f"<!-- {topic} -->", f"<!-- end of {topic} -->"
    before, first_found, rest = text.partition(first)
    _, last_found, after = rest.partition(last)
    if not (first_found and last_found):
        raise ValueError(f"the guide has no place for the table of {topic}")
    return f"{before}{first}\n{TABLES[topic]()}\n{last}{after}"


if __name__ == "__main__":
    for topic in TABLES:
        (GUIDE / f"{topic}.md").write_text(with_table(topic), "utf-8")
