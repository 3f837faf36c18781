"""A file with one measured curve: a trace of travel, a straightness profile, or a depth along a groove."""

from dataclasses import dataclass
from decimal import Decimal

from spc.errors import Refused
from spc.intake.columns_file import ColumnsRead, read_columns
from spc.intake.source import Source
from spc.shop.trace import TRACE_COLUMNS, TraceKind

__all__ = ["TraceRead", "read_trace"]


@dataclass(frozen=True, slots=True)
class TraceRead:
    """A curve as its file has it.

    Attributes
    ----------
    kind : {"travel", "profile", "depth"}
    name : str
        Of the file.
    points : tuple of (position mm, value)
        In file order; value in µm, of a depth in mm.
    """

    kind: TraceKind
    name: str
    points: tuple[tuple[Decimal, Decimal], ...]


def read_trace(source: Source) -> TraceRead:
    r"""Read a curve; its columns say what was measured.

    Parameters
    ----------
    source : path, or (name, bytes)
        CSV or XLSX with position_mm and one of deviation_um (travel), height_um (profile), depth_mm.

    Raises
    ------
    Refused
        No table, none of these columns, or a cell that is no number: a gap would bend the curve, so that one
        bad cell refuses the file.

    Examples
    --------
    >>> read_trace(("stem.csv", b"position_mm;height_um\n0;0,5\n10;1,0\n")).kind
    'profile'
    """
    lacking: Refused | None = None
    for kind, columns in TRACE_COLUMNS.items():
        try:
            read = read_columns(source, (), columns)
        except Refused as refused:
            if [each.column for each in refused.refusals] != [columns[1]] or "lacks" not in str(refused):
                raise
            lacking = refused
            continue
        return TraceRead(kind, read.file, _points(read, columns))
    first = lacking.refusals[0] if lacking is not None else None
    raise Refused.one(
        "the header names nothing that was measured along the part",
        file="" if first is None else first.file,
        row=None if first is None else first.row,
        allowed="position_mm and one of " + ", ".join(names[1] for names in TRACE_COLUMNS.values()),
    )


def _points(read: ColumnsRead, columns: tuple[str, str]) -> tuple[tuple[Decimal, Decimal], ...]:
    bad = [each for each in read.refusals if each.column in columns]
    if bad:
        raise Refused(bad)
    return tuple(zip(*(read.number(name) for name in columns), strict=True))
