"""Every sentence that the program can say, a line each: `python -m tests.support.sentences`.

They are the texts of the code that are no docstring and hold at least two words; what is put into
them is shown as {}.
"""

import ast
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.support.project import ROOT

CODE = ROOT / "housemap"
SENTENCE_END = re.compile(r"(?<=[.!?;:])\s+")
WORD = re.compile(r"[A-Za-z][A-Za-z'-]*")


@dataclass(frozen=True, slots=True)
class Said:
    """A text with where it is."""

    path: Path
    line: int
    text: str

    def __str__(self) -> str:
        return f"{self.path.relative_to(ROOT)}:{self.line}: {self.text}"

    @property
    def longest(self) -> int:
        """The words of its longest sentence."""
        parts = SENTENCE_END.split(self.text)
        return max(len(WORD.findall(part)) for part in parts)


@cache
def all_said() -> tuple[Said, ...]:
    return tuple(said for path in sorted(CODE.rglob("*.py")) for said in said_in(path))


def said_in(path: Path) -> Iterator[Said]:
    tree = ast.parse(path.read_text("utf-8"))
    inner = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)
             for part in ast.walk(node) if part is not node}  # fmt: skip
    mute = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if id(node) in inner or id(node) in mute:
            continue
        text = text_of(node)
        if len(WORD.findall(text)) > 1 and " " in text.strip():
            yield Said(path, getattr(node, "lineno", 0), " ".join(text.split()))


def text_of(node: ast.AST) -> str:
    """The text of a string or of a text with values in it; empty for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(part) or "{}" for part in node.values)
    return ""


if __name__ == "__main__":
    sys.stdout.writelines(f"{said}\n" for said in all_said())
