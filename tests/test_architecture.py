"""No circle of imports, those for types and those inside functions included."""

import ast
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "tracker"
MODULES = {
    ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts): path for path in PACKAGE.rglob("*.py")
}


def imported(path: Path) -> Iterator[str]:
    """The modules of the program that a file names in its imports."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            each = [f"{node.module}.{name.name}" for name in node.names]
            yield from (name if name in MODULES else node.module for name in each)
        elif isinstance(node, ast.Import):
            yield from (name.name for name in node.names)


def test_no_module_leads_back_to_itself() -> None:
    graph = {name: {one for one in imported(path) if one in MODULES} for name, path in MODULES.items()}
    assert sum(map(len, graph.values())) > len(MODULES)
    assert len(list(TopologicalSorter(graph).static_order())) == len(MODULES)
