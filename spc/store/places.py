"""Places in the order of facts, as a query says them."""

from typing import Any

from sqlalchemy import ColumnElement, TableClause, bindparam, tuple_

from spc.store.rows import Position

__all__ = ["HERE", "OF_PART", "between", "here", "order", "place", "values", "within"]

OF_PART: ColumnElement[str] = bindparam("of_part")
HERE: Any = tuple_(bindparam("here_time"), bindparam("here_rank"), bindparam("here_id"))
"""Part and place of a statement that is built once and asked often; `here` fills them."""


def here(part: str, position: Position) -> dict[str, str | int]:
    """Fill `OF_PART` and `HERE`."""
    return {
        "of_part": part, "here_time": position.time, "here_rank": position.rank, "here_id": position.fact_id
    }  # fmt: skip


def order(table: TableClause) -> list[ColumnElement[Any]]:
    """Columns that put rows into the order of facts."""
    return [table.c.time, table.c.rank, table.c.fact_id if "fact_id" in table.c else table.c.id]


def place(table: TableClause) -> Any:
    """The place of a row, to be compared with `values` of a position."""
    return tuple_(*order(table))


def values(position: Position) -> Any:
    """A position as a query carries it."""
    return tuple_(position.time, position.rank, position.fact_id)


def between(table: TableClause, after: Position | None, until: Position | None) -> list[ColumnElement[bool]]:
    """Conditions for rows beyond `after`, up to and including `until`."""
    where: list[ColumnElement[bool]] = []
    if after is not None:
        where.append(place(table) > values(after))
    if until is not None:
        where.append(place(table) <= values(until))
    return where


def within(table: TableClause, from_time: str | None, to_time: str | None) -> list[ColumnElement[bool]]:
    """Conditions for rows from `from_time` on and before `to_time`."""
    where: list[ColumnElement[bool]] = []
    if from_time is not None:
        where.append(table.c.time >= from_time)
    if to_time is not None:
        where.append(table.c.time < to_time)
    return where
