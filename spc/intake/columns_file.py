"""A file of named columns, texts and numbers, for studies and traces that need no plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from spc.errors import Refusal, Refused
from spc.intake.number import AS_ALLOWED, read_between
from spc.intake.number_style import settle_style
from spc.intake.source import Source
from spc.intake.table_file import read_table, refuse_unknown_columns

__all__ = ["ColumnsRead", "read_columns", "read_unbroken"]


@dataclass(frozen=True, slots=True)
class ColumnsRead:
    """Columns of equal length, in file order, one entry a row that was read whole.

    Attributes
    ----------
    texts, numbers : tuple of (name, entries)
        In the order asked for.
    rows : tuple of int
        Line of the file of each entry.
    """

    file: str
    texts: tuple[tuple[str, tuple[str, ...]], ...]
    numbers: tuple[tuple[str, tuple[Decimal, ...]], ...]
    rows: tuple[int, ...]
    refusals: tuple[Refusal, ...]

    def text(self, name: str) -> tuple[str, ...]:
        """Return one column of texts."""
        return dict(self.texts)[name]

    def number(self, name: str) -> tuple[Decimal, ...]:
        """Return one column of numbers."""
        return dict(self.numbers)[name]


def read_columns(source: Source, texts: Sequence[str], numbers: Sequence[str]) -> ColumnsRead:
    r"""Read the named columns of a CSV or XLSX file, all of them needed in each row.

    Parameters
    ----------
    source : path, or (name, bytes)
    texts, numbers : sequence of str
        Columns of texts, such as appraiser and part, and of numbers, such as value.

    Raises
    ------
    Refused
        No table, a column missing, or no row that could be read.

    Examples
    --------
    >>> trace = b"position_mm;deviation_um\n0;0,5\n"
    >>> found = read_columns(("trace.csv", trace), (), ("position_mm", "deviation_um"))
    >>> found.number("deviation_um")
    (Decimal('0.5'),)
    """
    names = (*texts, *numbers)
    needed = ", ".join(names)
    table = read_table(source, names.__contains__, needed)
    missing = [name for name in names if name not in table.columns]
    if missing:
        reason = f"the header lacks {', '.join(missing)}"
        raise Refused.one(reason, file=table.file, row=table.header_row, column=missing[0], allowed=needed)
    refuse_unknown_columns(table, names.__contains__, names)
    places = {name: table.columns.index(name) for name in names}
    cells = [{name: _cell(given, place) for name, place in places.items()} for _, given in table.rows]
    style = settle_style(((each[name], None) for each in cells for name in numbers), table.separator)
    refusals = list(table.refusals)
    kept: list[tuple[int, tuple[str, ...], tuple[Decimal, ...]]] = []
    for (row, _), each in zip(table.rows, cells, strict=True):
        found = [read_between(each[name], style) for name in numbers]
        wrong = [(name, "the text is missing", "a text") for name in texts if not each[name]]
        wrong += [
            (name, value, AS_ALLOWED)
            for name, value in zip(numbers, found, strict=True)
            if isinstance(value, str)
        ]
        refusals += [
            Refusal(reason, each[name], table.file, row, name, allowed) for name, reason, allowed in wrong
        ]
        if not wrong:
            values = tuple(value for value in found if isinstance(value, Decimal))
            kept.append((row, tuple(each[name] for name in texts), values))
    if not kept:
        raise Refused(refusals or [Refusal("the file holds no rows", file=table.file, allowed=needed)])
    return ColumnsRead(
        table.file,
        tuple((name, tuple(entry[1][place] for entry in kept)) for place, name in enumerate(texts)),
        tuple((name, tuple(entry[2][place] for entry in kept)) for place, name in enumerate(numbers)),
        tuple(entry[0] for entry in kept),
        tuple(refusals),
    )


def read_unbroken(source: Source, names: Sequence[str]) -> ColumnsRead:
    r"""Read columns of numbers measured along a part; a gap would bend them, so one bad cell refuses the file.

    Parameters
    ----------
    source : path, or (name, bytes)
    names : sequence of str
        Columns of numbers, such as position_mm and height_um.

    Raises
    ------
    Refused
        As `read_columns`; and every cell of these columns that holds no number.

    Examples
    --------
    >>> read_unbroken(("profile.csv", b"position_mm,height_um\n0,0.5\n10,\n"), ("position_mm", "height_um"))
    Traceback (most recent call last):
    ...
    spc.errors.Refused: profile.csv, row 3, height_um: the value is missing. Allowed: ...
    """
    read = read_columns(source, (), names)
    gaps = [refusal for refusal in read.refusals if refusal.column in names]
    if gaps:
        raise Refused(gaps)
    return read


def _cell(cells: Sequence[str], place: int) -> str:
    return cells[place].strip() if place < len(cells) else ""
