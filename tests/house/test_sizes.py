"""Files and functions a reader can hold in the head, and a sentence on everything public.

A file may be longer than the ceiling only if it is a pure data table: a Python file that defines no function
and no class, just names and their values. A function may be longer only where a comment on its ``def`` line
or on the line above (above its decorators) says ``# long:`` and why.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
FILE_CEILING = 300
FUNCTION_CEILING = 40
MEASURED = {".py", ".js", ".css", ".html", ".sql"}

Function = ast.FunctionDef | ast.AsyncFunctionDef


def long_files(project: Path) -> list[str]:
    """Say which source files are above the ceiling and no data table."""
    said = []
    for path in source_files(project):
        lines = len(path.read_text(encoding="utf-8").splitlines())
        if lines > FILE_CEILING and not is_data_table(path):
            said.append(f"{path.relative_to(project)} has {lines} lines, allowed {FILE_CEILING}")
    return said


def source_files(project: Path) -> Iterator[Path]:
    """Every file of program text in ``spc/`` and ``tests/``."""
    for folder in ("spc", "tests"):
        yield from (path for path in sorted((project / folder).rglob("*")) if path.suffix in MEASURED)


def is_data_table(path: Path) -> bool:
    """Tell whether a file only gives names to values."""
    if path.suffix != ".py":
        return False
    nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    return not any(isinstance(node, Function | ast.ClassDef | ast.Lambda) for node in nodes)


def long_functions(project: Path) -> list[str]:
    """Say which functions have a body above the ceiling and no reason beside them."""
    said = []
    for path in source_files(project):
        if path.suffix != ".py":
            continue
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, Function) and body_lines(node) > FUNCTION_CEILING and not excused(node, text):
                place = f"{path.relative_to(project)}, line {node.lineno}: {node.name}"
                said.append(f"{place} has {body_lines(node)} lines of body, allowed {FUNCTION_CEILING}")
    return said


def body_lines(function: Function) -> int:
    """Lines after the signature, the docstring not counted."""
    first = function.body[0]
    if ast.get_docstring(function) is not None:
        return (function.end_lineno or 0) - (first.end_lineno or 0)
    return (function.end_lineno or 0) - first.lineno + 1


def excused(function: Function, text: str) -> bool:
    """Tell whether the function says why it is long."""
    lines = text.splitlines()
    top = min([function.lineno, *(decorator.lineno for decorator in function.decorator_list)])
    beside = [lines[function.lineno - 1], lines[top - 2] if top > 1 else ""]
    return any(re.search(r"# long: \w+", line) for line in beside)


def silent_names(project: Path) -> list[str]:
    """Say which public modules, classes, functions and methods of ``spc/`` have no docstring."""
    said = []
    for path in sorted((project / "spc").rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        place = path.relative_to(project)
        if ast.get_docstring(tree) is None and (path.stem == "__init__" or path.stem[0] != "_"):
            said.append(f"{place} has no docstring")
        said += [f"{place}, line {node.lineno}: {node.name} has no docstring" for node in silent(tree)]
    return said


def silent(scope: ast.Module | ast.ClassDef) -> Iterator[Function | ast.ClassDef]:
    """Yield what is public in a module or class and has no docstring."""
    for node in scope.body:
        if not isinstance(node, Function | ast.ClassDef) or node.name.startswith("_"):
            continue
        if ast.get_docstring(node) is None and not speaks_elsewhere(node):
            yield node
        if isinstance(node, ast.ClassDef):
            yield from silent(node)


def speaks_elsewhere(node: Function | ast.ClassDef) -> bool:
    """Tell whether the docstring stands elsewhere: at the overloaded function, at the property."""
    names = {getattr(decorator, "attr", getattr(decorator, "id", "")) for decorator in node.decorator_list}
    return bool(names & {"overload", "override", "setter", "deleter"})


def rooms_without_charter(project: Path) -> list[str]:
    """Say which rooms don't open with one line on what they are for."""
    said = []
    for folder in sorted(path for path in (project / "spc").iterdir() if any(path.glob("*.py"))):
        door = folder / "__init__.py"
        charter = ast.get_docstring(ast.parse(door.read_text(encoding="utf-8"))) if door.exists() else None
        if not charter or not charter.splitlines()[0].endswith("."):
            said.append(f"spc/{folder.name}/__init__.py doesn't open with one line on what the room is for")
    return said


CHECKS = (long_files, long_functions, silent_names, rooms_without_charter)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_the_project_keeps_the_measure(check) -> None:
    assert check(PROJECT) == []


LONG_BODY = '    """Say."""\n' + "    x = 1\n" * 41


@pytest.mark.parametrize(
    ("check", "source", "sentence"),
    [
        (long_files, '"""M."""\n' + "def f():\n    pass\n" * 150, "a.py has 301 lines, allowed 300"),
        (long_functions, "def f():\n" + LONG_BODY, "a.py, line 1: f has 41 lines of body, allowed 40"),
        (long_functions, "@decorated\ndef f(\n    a,\n):\n" + LONG_BODY, "line 2: f has 41 lines of body"),
        (silent_names, "x = 1\n", "a.py has no docstring"),
        (silent_names, '"""M."""\ndef f():\n    pass\n', "a.py, line 2: f has no docstring"),
        (
            silent_names,
            '"""M."""\nclass A:\n    """A."""\n    def f(self):\n        pass\n',
            "line 4: f has no",
        ),
        (rooms_without_charter, '"""M."""\n', "spc/shop/__init__.py doesn't open with one line"),
    ],
)
def test_each_breach_is_said_once(tmp_path: Path, check, source: str, sentence: str) -> None:
    said = check(build(tmp_path, source))
    assert len(said) == 1
    assert sentence in said[0]


@pytest.mark.parametrize(
    ("check", "source"),
    [
        (long_files, '"""M."""\nTABLE = {\n' + "    1: 2,\n" * 400 + "}\n"),
        (long_functions, "def f():  # long: one recursion, read as one formula\n" + LONG_BODY),
        (long_functions, "# long: one recursion, read as one formula\n@decorated\ndef f():\n" + LONG_BODY),
        (long_functions, "def f():\n" + LONG_BODY.replace("    x = 1\n", "", 1)),
        (silent_names, '"""M."""\ndef _f():\n    pass\nclass _A:\n    def f(self):\n        pass\n'),
    ],
)
def test_what_is_excused_is_left_alone(tmp_path: Path, check, source: str) -> None:
    assert check(build(tmp_path, source)) == []


def build(project: Path, source: str) -> Path:
    """Write one module of a tiny project."""
    path = project / "spc" / "shop" / "a.py"
    path.parent.mkdir(parents=True)
    path.write_text(source, encoding="utf-8")
    return project
