"""Which cell of a readings file holds what: one value a row, or one subgroup a row."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import Final

from spc.errors import Refused
from spc.intake.table_file import TableRead, refuse_unknown_columns
from spc.shop.layouts import READING_COLUMNS

__all__ = ["NEEDED", "ReadingColumns", "is_reading_column", "piece_of_column", "reading_columns"]

NEEDED: Final = "time, machine, part, characteristic, piece, value (or x1 … xn for piece and value)"
_PIECE: Final = re.compile(r"x([1-9][0-9]{0,2})")
_HEAD: Final = ("time", "machine", "part", "counter", "operator", "purpose")
_PLACE: Final = ("part", "characteristic", "unit")
_TAIL: Final = ("position", "temperature_c", "master_temperature_c")

Pick = Callable[[Sequence[str]], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class ReadingColumns:
    """How to pick the cells of a row; a column the file lacks picks the "" that ends each row.

    Attributes
    ----------
    width : int
        Cells under the header.
    head, place, tail : callable
        Pick (time, machine, part, counter, operator, purpose), (part, characteristic, unit) and
        (position, temperature_c, master_temperature_c).
    common : callable
        Picks all cells but the piece's number and the values: what rows of one subgroup share.
    piece : int or None
        Cell of the piece number; None in the wide layout.
    values : tuple of (piece, cell)
        Cells of values; piece 0 in the long layout.
    """

    width: int
    head: Pick
    place: Pick
    tail: Pick
    common: Pick
    has_tail: bool
    piece: int | None
    values: tuple[tuple[int, int], ...]


def is_reading_column(name: str) -> bool:
    """Say whether a column belongs to either layout."""
    return name in READING_COLUMNS or piece_of_column(name) is not None


def piece_of_column(name: str) -> int | None:
    """Return the piece of a wide column x1 … xn, None for any other."""
    found = _PIECE.fullmatch(name)
    return int(found[1]) if found else None


def reading_columns(table: TableRead) -> ReadingColumns:
    """Find the columns of a readings file.

    Raises
    ------
    Refused
        A needed column is missing.
    """
    columns = table.columns
    wide = [(piece, cell) for cell, name in enumerate(columns) if (piece := piece_of_column(name))]
    if "value" in columns:
        wide = []
    needed = ("time", "machine", "part", "characteristic", *(() if wide else ("piece", "value")))
    missing = [name for name in needed if name not in columns]
    if missing:
        reason = f"the header lacks {', '.join(missing)}"
        raise Refused.one(reason, file=table.file, row=table.header_row, column=missing[0], allowed=NEEDED)
    unused = () if wide else tuple(name for name in columns if piece_of_column(name))
    refuse_unknown_columns(
        table, lambda name: is_reading_column(name) and name not in unused, READING_COLUMNS
    )

    def pick(names: Sequence[str]) -> Pick:
        return itemgetter(*(columns.index(name) if name in columns else -1 for name in names))

    values = tuple(sorted(wide)) or ((0, columns.index("value")),)
    own = {cell for _, cell in values} | ({columns.index("piece")} if not wide else set())
    return ReadingColumns(
        width=len(columns),
        common=itemgetter(*(cell for cell in range(len(columns)) if cell not in own)),
        head=pick(_HEAD),
        place=pick(_PLACE),
        tail=pick(_TAIL),
        has_tail=any(name in columns for name in _TAIL),
        piece=None if wide else columns.index("piece"),
        values=values,
    )
