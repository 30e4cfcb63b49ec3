"""The shape of the code in figures: `python -m tests.benchmarks.structure [CHECKOUT ...]`.

Several checkouts are printed side by side, so that before and after can be compared. Read from
the source alone: nothing is imported.
"""

import ast
import statistics
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import networkx as nx


@dataclass(frozen=True)
class Module:
    """One file of the package."""

    name: str
    source: str

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.source)

    @cached_property
    def lines(self) -> int:
        return self.source.count("\n")

    def nodes(self, *kinds: type[ast.AST]) -> Iterator[ast.AST]:
        return (node for node in ast.walk(self.tree) if isinstance(node, kinds))

    @cached_property
    def functions(self) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
        found = self.nodes(ast.FunctionDef, ast.AsyncFunctionDef)
        return [node for node in found if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))]

    @cached_property
    def late_imports(self) -> int:
        """Import statements inside functions."""
        return sum(
            isinstance(node, (ast.Import, ast.ImportFrom))
            for function in self.functions
            for node in ast.walk(function)
        )

    def imported(self, names: frozenset[str]) -> Iterator[str]:
        """The modules of the package that this one imports anywhere, for types too."""
        for node in self.nodes(ast.ImportFrom):
            assert isinstance(node, ast.ImportFrom)
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found = inner if inner in names else node.module
                if found in names and found != self.name:
                    yield str(found)


@dataclass(frozen=True)
class Code:
    """All files of a checkout's package."""

    modules: Mapping[str, Module]

    @classmethod
    def of(cls, checkout: Path) -> "Code":
        paths = sorted((checkout / "housemap").rglob("*.py"))
        named = {".".join(path.relative_to(checkout).with_suffix("").parts): path for path in paths}
        return cls(
            {name: Module(name, path.read_text(encoding="utf-8")) for name, path in named.items()}
        )

    @cached_property
    def imports(self) -> "nx.DiGraph[str]":
        names = frozenset(self.modules)
        graph: nx.DiGraph[str] = nx.DiGraph()
        graph.add_nodes_from(names)
        for module in self.modules.values():
            graph.add_edges_from((module.name, other) for other in module.imported(names))
        return graph

    @cached_property
    def circles(self) -> int:
        """Groups of modules that import each other round in a circle."""
        return sum(len(group) > 1 for group in nx.strongly_connected_components(self.imports))

    @cached_property
    def single_importer(self) -> int:
        return sum(self.imports.in_degree(name) == 1 for name in self.imports)

    @cached_property
    def shared_basenames(self) -> int:
        bases = Counter(name.rsplit(".", 1)[-1] for name in self.modules)
        del bases["__init__"]
        return sum(count > 1 for count in bases.values())

    @cached_property
    def bases(self) -> "nx.DiGraph[str]":
        """Every class of the package with its own bases."""
        graph: nx.DiGraph[str] = nx.DiGraph()
        for module in self.modules.values():
            for node in module.nodes(ast.ClassDef):
                assert isinstance(node, ast.ClassDef)
                graph.add_node(node.name)
                graph.add_edges_from((node.name, _name(base)) for base in node.bases)
        return graph

    @cached_property
    def most_ancestors(self) -> tuple[int, str]:
        """Of all classes called a screen, the one with the most ancestors of our own."""
        own = {
            node.name
            for module in self.modules.values()
            for node in module.nodes(ast.ClassDef)
            if isinstance(node, ast.ClassDef)
        }
        screens = [name for name in own if name.endswith("Screen")]
        return max((len(nx.descendants(self.bases, name) & own), name) for name in screens)

    def figures(self) -> dict[str, str]:
        modules = self.modules.values()
        sizes = [end_line(f) - f.lineno + 1 for module in modules for f in module.functions]
        lines = sum(module.lines for module in modules)
        ancestors, screen = self.most_ancestors
        return {
            "lines": f"{lines:,}",
            "files": str(len(modules)),
            "files a thousand lines": f"{1000 * len(modules) / lines:.1f}",
            "lines a file, median": f"{statistics.median(m.lines for m in modules):.0f}",
            "lines a function, median": f"{statistics.median(sizes):.0f}",
            "lines a function, 9 of 10 within": f"{statistics.quantiles(sizes, n=10)[-1]:.0f}",
            "circles of imports, types too": str(self.circles),
            "imports inside functions": str(sum(module.late_imports for module in modules)),
            "modules with one importer": str(self.single_importer),
            "basenames used more than once": str(self.shared_basenames),
            "own ancestors of a screen, most": f"{ancestors} ({screen})",
        }


def end_line(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    return function.end_lineno or function.lineno


def _name(base: ast.expr) -> str:
    """Of a base class, without what stands in brackets."""
    if isinstance(base, ast.Subscript):
        return _name(base.value)
    return base.attr if isinstance(base, ast.Attribute) else getattr(base, "id", "")


def main(checkouts: list[str]) -> None:
    tables = [Code.of(Path(checkout)).figures() for checkout in checkouts or ["."]]
    print(f"{'':36}" + "".join(f"{checkout[-24:]:>26}" for checkout in checkouts))
    for figure in tables[0]:
        print(f"{figure:36}" + "".join(f"{table[figure]:>26}" for table in tables))


if __name__ == "__main__":
    main(sys.argv[1:])
