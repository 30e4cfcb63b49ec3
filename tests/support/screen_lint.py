"""Rules for code that puts text on the screen: text of a house file must never become markup.

Textual reads plain strings as markup in many places; a room called "[/]" would end the program.
`screen_faults` tells where a syntax tree breaks a rule, as "line: what".
"""

import ast
from collections.abc import Iterator

TEXT_WIDGETS = frozenset(
    {"Static", "Label", "Button", "Checkbox", "RadioButton", "Option", "Selection", "Tab"}
)
"""Widgets whose first argument is read as markup when it is a plain string."""

MARKUP_ATTRIBUTES = frozenset({"border_title", "border_subtitle", "tooltip"})
"""Attributes that are read as markup when set to a plain string."""


def screen_faults(tree: ast.Module) -> tuple[str, ...]:
    """Every broken rule, in the order of the file."""
    nodes = sorted(
        (node for node in ast.walk(tree) if isinstance(node, ast.stmt | ast.expr)),
        key=lambda node: (node.lineno, node.col_offset),
    )
    return tuple(f"{node.lineno}: {fault}" for node in nodes for fault in _faults(node))


def _faults(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Call(func=func, args=args, keywords=keywords):
            yield from _call_faults(_name(func), args, keywords)
        case ast.Assign(targets=[ast.Attribute(attr=attr)], value=value):
            if attr in MARKUP_ATTRIBUTES and _is_built_text(value):
                yield f"{attr} is set to text put together here"


def _call_faults(name: str, args: list[ast.expr], keywords: list[ast.keyword]) -> Iterator[str]:
    markup_off = any(_is_false(word) for word in keywords if word.arg == "markup")
    if name in TEXT_WIDGETS and args and _is_built_text(args[0]) and not markup_off:
        yield f"{name} gets text put together here"
    if name == "notify" and not markup_off:
        yield "notify without markup=False"
    if name == "from_markup" and args and _is_built_text(args[0]):
        yield "from_markup gets text put together here"
    if name == "escape":
        yield "escape does not make text safe"


def _name(func: ast.expr) -> str:
    match func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def _is_false(word: ast.keyword) -> bool:
    return isinstance(word.value, ast.Constant) and word.value.value is False


def _is_built_text(node: ast.expr) -> bool:
    """An f-string, a sum, a %-format or a .format(): anything that may carry a name inside."""
    match node:
        case ast.JoinedStr() | ast.BinOp(op=ast.Add() | ast.Mod()):
            return True
        case ast.Call(func=ast.Attribute(attr="format" | "join")):
            return True
    return False
