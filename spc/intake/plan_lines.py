"""Where in a plan's text each key stands, so that a refusal can name the line."""

import re
from typing import Final

__all__ = ["PlanLines"]

Path = tuple[str | int, ...]

_TABLE: Final = re.compile(r"\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(#.*)?$")
_KEY: Final = re.compile(r"""\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*[A-Za-z0-9_"'-]+)*)\s*=""")
_LONG_TEXT: Final = re.compile(r'"""|' + "'''")


class PlanLines:
    r"""Lines of the keys of one plan.

    Parameters
    ----------
    text : str
        The plan, TOML.

    Examples
    --------
    >>> lines = PlanLines('[part]\nid = "P"\n[[characteristic]]\nname = "a"\n')
    >>> lines.of(("characteristic", 0, "name")), lines.of(("characteristic", 0, "absent"))
    (4, 3)
    """

    def __init__(self, text: str) -> None:
        self._lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        self._read(text)

    def of(self, path: Path) -> int | None:
        """Return the line of a key, else of the table around it, else None."""
        while path:
            if path in self._lines:
                return self._lines[path]
            path = path[:-1]
        return None

    def _read(self, text: str) -> None:
        table: Path = ()
        inside_text = False
        for number, line in enumerate(text.splitlines(), start=1):
            marks = len(_LONG_TEXT.findall(line))
            if inside_text:
                inside_text = marks % 2 == 0
                continue
            if found := _TABLE.match(line):
                table = self._place(_names(found[2]), array=found[1] == "[[")
                self._lines.setdefault(table, number)
            elif found := _KEY.match(line):
                self._note(table, _names(found[1]), number)
            inside_text = marks % 2 == 1

    def _note(self, table: Path, names: list[str], number: int) -> None:
        for end in range(1, len(names) + 1):
            self._lines.setdefault((*table, *names[:end]), number)

    def _place(self, names: list[str], *, array: bool) -> Path:
        """Turn the names of a table header into a path with the index of the array entry it belongs to."""
        path: Path = ()
        for place, name in enumerate(names):
            path = (*path, name)
            if array and place == len(names) - 1:
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:
                path = (*path, self._counts[path])
        return path


def _names(dotted: str) -> list[str]:
    return [name.strip().strip("\"'") for name in dotted.split(".")]
