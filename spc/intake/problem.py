"""What is wrong with one cell, before it is known which row it stands in."""

from typing import NamedTuple

from spc.errors import Refusal

__all__ = ["Problem"]


class Problem(NamedTuple):
    """A refusal without its place."""

    column: str
    value: str
    reason: str
    allowed: str = ""
    do: str = ""

    def at(self, file: str, row: int | None) -> Refusal:
        """Return the refusal at its place."""
        return Refusal(self.reason, self.value, file, row, self.column, self.allowed, self.do)
