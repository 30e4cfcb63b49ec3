"""HTML elements in which everything that is not an element already is escaped."""

from html import escape

VOID = frozenset({"meta", "img", "br", "col", "path", "rect", "polygon", "line", "circle"})
"""Elements without an end tag, those of SVG closed in their start tag."""


class Html(str):
    """Text that is HTML; plain str is not, and is escaped wherever it is put in."""

    __slots__ = ()


def tag(name: str, /, *children: str, **attributes: str | float | None) -> Html:
    """One element. `class_` stands for class, `_` within a name for `-`; None leaves one out."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(str(value))}"'
        for key, value in attributes.items()
        if value is not None
    )
    if name in VOID:
        closed = "" if name in {"meta", "img", "br", "col"} else "/"
        return Html(f"<{name}{given}{closed}>")
    return Html(f"<{name}{given}>{together(*children)}</{name}>")


def together(*children: str) -> Html:
    return Html("".join(c if isinstance(c, Html) else escape(c) for c in children))
