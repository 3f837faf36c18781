"""The house stands on floors: every import goes down, and a room knows nothing of its neighbours.

Whoever adds a room enters it in `FLOORS` and in the picture of DEVELOPERS.md, and says why.
"""

import sys
from pathlib import Path

import pytest
from imports_found import Import, imports_of

PROJECT = Path(__file__).resolve().parents[2]
FLOORS = (
    {"errors", "settings"},
    {"shop"},
    {"geometry", "statistics"},
    {"wear"},
    {"store", "intake", "simulator"},
    {"station"},
    {"drawing"},
    {"reports"},
    {"pages"},
    {"cli"},
    {"__main__"},  # `python -m spc`, which only calls cli
)
ARITHMETIC_FLOORS = {2, 3}
ARITHMETIC_PACKAGES = {"numpy", "scipy"}
RESERVED = {"streamlit": {"pages", "app"}, "altair": {"drawing", "reports", "pages"}}
EMPTY_NAMES = {"utils", "helpers", "common", "manager", "base", "core"}


def floor_of(room: str) -> int | None:
    """Floor a room stands on; None for a room the house doesn't know."""
    return next((floor for floor, rooms in enumerate(FLOORS) if room in rooms), None)


def room_of(module: str) -> str:
    """Room of a module: that of ``spc.shop.part`` is shop, that of ``app.py`` app, that of ``spc`` spc."""
    parts = module.split(".")
    return parts[1] if parts[0] == "spc" and len(parts) > 1 else parts[0]


def unknown_rooms(project: Path) -> list[str]:
    """Say which folders and modules of ``spc/`` stand on no floor."""
    found = {
        path.stem
        for path in (project / "spc").iterdir()
        if path.suffix == ".py" or (path.is_dir() and any(path.rglob("*.py")))
    }
    return [
        f"spc/{room} stands on no floor: enter it in FLOORS and in DEVELOPERS.md"
        for room in sorted(found - {"__init__"})
        if floor_of(room) is None
    ]


def empty_names(project: Path) -> list[str]:
    """Say which modules have a name that says nothing about what is inside."""
    return [
        f"{path.relative_to(project)}: the name {path.stem!r} doesn't say what is inside"
        for path in sorted((project / "spc").rglob("*"))
        if path.stem in EMPTY_NAMES and (path.is_dir() or path.suffix == ".py")
    ]


def wrong_import(found: Import) -> str | None:
    """Say what is wrong with one import, or None if it is allowed."""
    place = f"{found.file}, line {found.line}"
    if found.target is None:
        return f"{place}: an import by a computed name cannot be checked; write the name out"
    if found.target.split(".")[0] == "spc":
        return wrong_direction(place, room_of(found.importer), room_of(found.target))
    return wrong_package(place, room_of(found.importer), found.target.split(".")[0])


def wrong_direction(place: str, room: str, imported: str) -> str | None:
    """Say whether an import inside the house goes up or sideways."""
    if imported in {room, "spc"}:
        return None
    here, there = floor_of(room), floor_of(imported)
    if room == "app":
        return None if imported == "pages" else f"{place}: app.py imports {imported}; it may only call pages"
    if room == "spc":
        return f"{place}: spc/__init__.py imports {imported}; it is below every floor and imports nothing"
    if here is None or there is None or there < here:
        return None  # a room on no floor is reported once, by unknown_rooms
    way = "sideways" if there == here else "upwards"
    return f"{place}: {room} (floor {here}) imports {way} from {imported} (floor {there})"


def wrong_package(place: str, room: str, package: str) -> str | None:
    """Say whether a room imports a package that isn't for it."""
    if room not in RESERVED.get(package, {room}):
        allowed = ", ".join(sorted(RESERVED[package]))
        return f"{place}: {room} imports {package}, which only {allowed} may"
    allowed_here = ARITHMETIC_PACKAGES | set(sys.stdlib_module_names)
    if floor_of(room) in ARITHMETIC_FLOORS and package not in allowed_here:
        return f"{place}: {room} imports {package}; it may use numpy, scipy and the standard library"
    return None


def violations(project: Path) -> list[str]:
    """Every broken rule of the house, one sentence each."""
    imports = [wrong_import(found) for found in imports_of(project)]
    return unknown_rooms(project) + empty_names(project) + [wrong for wrong in imports if wrong]


def test_every_import_goes_down() -> None:
    assert violations(PROJECT) == []


def test_a_house_that_keeps_the_rules_is_left_alone(tmp_path: Path) -> None:
    build(tmp_path, "station/check_in.py", "from spc.shop.part import Part\nfrom . import fold\nimport spc\n")
    build(tmp_path, "cli.py", "def main():\n    from spc.pages import launch\n")
    build(tmp_path, "cli/size.py", "from spc.geometry import over_pins\n")
    (tmp_path / "app.py").write_text("import streamlit\nfrom spc.pages.main import main\n")
    assert violations(tmp_path) == []


@pytest.mark.parametrize(
    ("file", "source", "sentence"),
    [
        (
            "shop/part.py",
            "import spc.wear",
            "part.py, line 1: shop (floor 1) imports upwards from wear (floor 3)",
        ),
        ("shop/part.py", "from spc import store", "shop (floor 1) imports upwards from store (floor 4)"),
        (
            "shop/part.py",
            "from ..wear.filter import step",
            "shop (floor 1) imports upwards from wear (floor 3)",
        ),
        ("shop/__init__.py", "from .. import wear", "shop (floor 1) imports upwards from wear (floor 3)"),
        (
            "store/a.py",
            "import os\nimport spc.intake.number",
            "line 2: store (floor 4) imports sideways from intake",
        ),
        ("errors.py", "from spc.settings import Settings", "errors (floor 0) imports sideways from settings"),
        (
            "wear/a.py",
            "def late():\n    from spc.cli import main",
            "line 2: wear (floor 3) imports upwards from cli",
        ),
        (
            "wear/a.py",
            "import importlib\nimportlib.import_module('spc.store')",
            "line 2: wear (floor 3) imports up",
        ),
        ("wear/a.py", "__import__('spc.pages')", "wear (floor 3) imports upwards from pages (floor 8)"),
        ("wear/a.py", "from importlib import import_module\nimport_module(name)", "by a computed name"),
        ("wear/a.py", "import pandas", "wear imports pandas; it may use numpy, scipy"),
        ("geometry/a.py", "from sqlalchemy import select", "geometry imports sqlalchemy"),
        ("drawing/a.py", "import streamlit as st", "drawing imports streamlit, which only app, pages may"),
        ("station/a.py", "import altair", "station imports altair, which only drawing, pages, reports may"),
        (
            "__init__.py",
            "from spc.station import open_station",
            "it is below every floor and imports nothing",
        ),
        ("attic/a.py", "", "spc/attic stands on no floor"),
        ("attic.py", "", "spc/attic stands on no floor"),
        ("shop/utils.py", "", "the name 'utils' doesn't say what is inside"),
        ("shop/core/a.py", "", "the name 'core' doesn't say what is inside"),
    ],
)
def test_each_broken_rule_is_said_once(tmp_path: Path, file: str, source: str, sentence: str) -> None:
    build(tmp_path, file, source)
    said = violations(tmp_path)
    assert len(said) == 1
    assert sentence in said[0]


def test_the_entry_file_only_calls_pages(tmp_path: Path) -> None:
    build(tmp_path, "shop/part.py", "")
    (tmp_path / "app.py").write_text("from spc.station import open_station\n")
    assert violations(tmp_path) == ["app.py, line 1: app.py imports station; it may only call pages"]


def build(project: Path, file: str, source: str) -> None:
    """Write one module of a tiny house."""
    path = project / "spc" / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(source, encoding="utf-8")
