"""XML of CxF 3 files, read with the standard library's expat and nothing from outside the file.

Document types, and with them entities and external references, are refused before they are
looked at. Depth and size are limited. Only the subtrees that are asked for are kept, one at a
time, so that a large file takes little memory.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

from housemap.deck.decoding import refuse

DEEPEST = 32
LONGEST_TEXT = 100_000
MOST_ELEMENTS = 2_000_000
MOST_NODES = 20_000
"""In one kept subtree."""
NAMESPACE_END = "CxF3-core"
SEPARATOR = " "
CUT_OFF = {
    expat.errors.codes[message]
    for message in (
        expat.errors.XML_ERROR_NO_ELEMENTS,
        expat.errors.XML_ERROR_UNCLOSED_TOKEN,
        expat.errors.XML_ERROR_UNCLOSED_CDATA_SECTION,
        expat.errors.XML_ERROR_PARTIAL_CHAR,
    )
}


@dataclass(slots=True)
class Node:
    """An element: its local name, attributes, text and children."""

    tag: str
    attributes: Mapping[str, str]
    line: int
    text: str = ""
    children: list["Node"] = field(default_factory=list)

    def child(self, *path: str) -> "Node | None":
        """The first descendant along a path of tags."""
        node: Node | None = self
        for tag in path:
            node = next((each for each in node.children if each.tag == tag), None) if node else None
        return node

    def told(self, *path: str) -> str:
        """The text of a descendant; empty where it is missing."""
        node = self.child(*path)
        return node.text.strip() if node else ""


@dataclass(slots=True)
class Builder:
    """Keeps the subtrees whose tag is in `takers` and hands each one over when it is whole."""

    parser: expat.XMLParserType
    name: str
    takers: Mapping[str, Callable[[Node], None]]
    depth: int = 0
    elements: int = 0
    nodes: int = 0
    open: list[Node] = field(default_factory=list)

    def start(self, full_tag: str, attributes: dict[str, str]) -> None:
        namespace, _, tag = full_tag.rpartition(SEPARATOR)
        line = self.parser.CurrentLineNumber
        self.depth += 1
        self.elements += 1
        if self.depth == 1:
            self.check_root(namespace, tag, line)
        if self.depth > DEEPEST:
            raise refuse(f"elements are nested more than {DEEPEST} deep", self.name, line)
        if self.elements > MOST_ELEMENTS:
            raise refuse(f"more than {MOST_ELEMENTS:,} elements", self.name, line)
        if self.open or tag in self.takers:
            self.keep(Node(tag, attributes, line))

    def keep(self, node: Node) -> None:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            raise refuse(f"more than {MOST_NODES:,} elements in one object", self.name, node.line)
        if self.open:
            self.open[-1].children.append(node)
        self.open.append(node)

    def end(self, _: str) -> None:
        self.depth -= 1
        if self.open:
            node = self.open.pop()
            if not self.open:
                self.nodes = 0
                self.takers[node.tag](node)

    def data(self, text: str) -> None:
        if self.open:
            node = self.open[-1]
            node.text += text
            if len(node.text) > LONGEST_TEXT:
                raise refuse("a value is far too long", self.name, node.line)

    def check_root(self, namespace: str, tag: str, line: int) -> None:
        if tag != "CxF" or not namespace.endswith(NAMESPACE_END):
            what = f"{tag} of {namespace or 'no namespace'}"
            raise refuse(f"XML, but not CxF 3: its root is {what[:80]}", self.name, line)

    def refuse_type(self, *_: object) -> None:
        raise refuse(
            "it declares a document type; entities and outside references are never followed",
            self.name,
            self.parser.CurrentLineNumber,
        )


def read_nodes(data: bytes, name: str, takers: Mapping[str, Callable[[Node], None]]) -> None:
    """Hand every subtree with a tag of `takers` to its taker, in the order of the file.

    Raises InputError for what is no well-formed CxF 3, is cut off, or is not safe to read.
    """
    parser = expat.ParserCreate(namespace_separator=SEPARATOR)
    builder = Builder(parser, name, takers)
    parser.buffer_text = True
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    parser.CharacterDataHandler = builder.data
    parser.StartDoctypeDeclHandler = builder.refuse_type
    try:
        parser.Parse(data, True)  # noqa: FBT003 (expat takes no keyword)
    except expat.ExpatError as error:
        raise refuse(fault(error), name, error.lineno) from error
    except (ValueError, LookupError) as error:
        # What expat raises for an encoding that it does not know.
        raise refuse("XML in an encoding other than UTF-8, UTF-16 or Latin-1", name) from error


def fault(error: expat.ExpatError) -> str:
    if error.code in CUT_OFF:
        return "the XML ends too early: the file is cut off"
    return f"not well-formed XML ({expat.ErrorString(error.code)})"
