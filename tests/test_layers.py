"""The layers of the package, read from its imports: who may know whom."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "valvecalc"
MODULES = sorted(PACKAGE.rglob("*.py"))

# Under this folder only these of our own modules may be imported (the folder itself included).
ONLY = {
    "formulas": {"formula", "formulas", "maths", "quantities", "errors"},
    "sheets": {"sheets", "formula", "formulas", "sheet", "primitives", "facts", "quantities", "errors"},
    "history": {"history", "job", "report", "drawing", "facts", "units", "progress", "version", "writing", "errors"},
}
# Only these files may import the library: heavy ones, or ones with a single door.
HOME = {"pint": {"units.py"}, "tomllib": {"facts.py"}, "numpy": {"maths.py"}, "mkdocs": {"sitegen/plugin.py"}}
# Nobody imports the surfaces but these.
SURFACE = {"cli": {"__main__.py"}, "sitegen": {"cli.py"}}
MOST_LINES = 350  # past about 300 a module is two subjects


def imported(module: Path) -> Iterator[str]:
    """Dotted names of what a module imports, anywhere in it, lazily too: `from a import b` gives a.b."""
    here = ["valvecalc", *module.relative_to(PACKAGE).parts[:-1]]
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = [*here[: len(here) - node.level + 1], node.module] if node.level else [node.module]
            yield from (".".join([*filter(None, start), alias.name]) for alias in node.names)


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_module_keeps_to_its_layer(module: Path) -> None:
    place = module.relative_to(PACKAGE).as_posix()
    folder = place.split("/")[0]
    for name in imported(module):
        top, *rest = name.split(".")
        own = rest[0] if rest else ""
        if top == "valvecalc" and folder in ONLY:
            assert own in ONLY[folder], f"{place} imports {name}"
        if top == "valvecalc" and own in SURFACE and folder != own:
            assert place in SURFACE[own], f"{place} imports {name}"
        if top in HOME:
            assert place in HOME[top], f"{place} imports {name}"
    lines = module.read_text("utf-8").count("\n")
    assert lines <= MOST_LINES, f"{place} is two subjects"
