"""Find every import of a package by reading its source, those inside functions and those by name included."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Import:
    """One import statement, or one call that imports by name.

    `target` is the full dotted name, or None where the name is computed and cannot be read from the source.
    """

    file: Path
    line: int
    importer: str
    target: str | None


def imports_of(project: Path, package: str = "spc", entry: str = "app.py") -> list[Import]:
    """Collect the imports of all modules of `package` and of the entry file under `project`."""
    files = sorted((project / package).rglob("*.py"))
    if (project / entry).exists():
        files.append(project / entry)
    return [found for file in files for found in imports_of_file(project, file)]


def imports_of_file(project: Path, file: Path) -> Iterator[Import]:
    """Yield the imports of one file in the order of the source."""
    place = file.relative_to(project)
    importer = dotted(place)
    parent = importer if file.name == "__init__.py" else importer.rpartition(".")[0]
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        for target in targets(node, parent):
            yield Import(place, node.lineno, importer, target)


def dotted(place: Path) -> str:
    """Name of the module that stands in a file: ``spc/shop/part.py`` is ``spc.shop.part``."""
    parts = place.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def targets(node: ast.AST, parent: str) -> Iterator[str | None]:
    """Yield the modules one node imports; `parent` is the package that relative imports start from."""
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        start = absolute("." * node.level + (node.module or ""), parent)
        yield from (f"{start}.{alias.name}" for alias in node.names)
    elif isinstance(node, ast.Call) and called(node.func) in {"import_module", "__import__"}:
        name = node.args[0] if node.args else None
        text = name.value if isinstance(name, ast.Constant) and isinstance(name.value, str) else None
        yield None if text is None else absolute(text, parent)


def called(function: ast.expr) -> str:
    """Last word of what is called: ``importlib.import_module(…)`` calls ``import_module``."""
    return getattr(function, "attr", getattr(function, "id", ""))


def absolute(name: str, parent: str) -> str:
    """Turn a name with leading dots into a full name, seen from the package `parent`."""
    bare = name.lstrip(".")
    up = len(name) - len(bare)
    if not up:
        return name
    start = parent.split(".")[: len(parent.split(".")) - (up - 1)]
    return ".".join([*start, bare] if bare else start)
