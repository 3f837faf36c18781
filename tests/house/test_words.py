"""Nothing in the project speaks of the place it was written in, and nothing is left for later."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
NOT_OURS = {"__pycache__", "node_modules", "build", "dist"}  # made by tools, like every hidden folder
OUR_HIDDEN = {".ci", ".streamlit", ".github"}
# Each word is written in two pieces, so that this file doesn't hold it.
FOREIGN = ["/wor" + "k/", ".lib" + "rary", "shared/" + "design", "sub" + "agent", "language " + "model"]
UNFINISHED = ["TO" + "DO", "FIX" + "ME", "NotImplemented" + "Error"]
PATTERN = re.compile(
    "|".join([*(f"(?i:{re.escape(word)})" for word in FOREIGN), *(rf"\b{word}\b" for word in UNFINISHED)])
)


def foreign_words(project: Path) -> list[str]:
    """Say where a word stands that doesn't belong in the project."""
    return [
        f"{path.relative_to(project)}, line {number}: {found[0]!r}"
        for path in our_files(project)
        for number, line in enumerate(text_of(path).splitlines(), start=1)
        if (found := PATTERN.search(line))
    ]


def our_files(folder: Path) -> Iterator[Path]:
    """Every file of the project, without what tools put beside it."""
    for path in sorted(folder.iterdir()):
        if path.is_dir():
            hidden = path.name.startswith(".") and path.name not in OUR_HIDDEN
            if not hidden and path.name not in NOT_OURS and not path.name.endswith(".egg-info"):
                yield from our_files(path)
        else:
            yield path


def text_of(path: Path) -> str:
    """Text of a file; empty for pictures and databases."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_no_foreign_and_no_unfinished_words() -> None:
    assert foreign_words(PROJECT) == []


@pytest.mark.parametrize("word", [*FOREIGN, *UNFINISHED])
def test_each_word_is_found(tmp_path: Path, word: str) -> None:
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "a.md").write_text(f"one line\nsee {word} there\n", encoding="utf-8")
    assert foreign_words(tmp_path) == [f"docs/a.md, line 2: {word!r}"]


def test_pictures_and_tool_folders_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / ".venv").mkdir()
    (tmp_path / ".venv" / "a.py").write_text(UNFINISHED[0], encoding="utf-8")
    (tmp_path / "a.png").write_bytes(b"\x89PNG\xff" + UNFINISHED[0].encode())
    assert foreign_words(tmp_path) == []
