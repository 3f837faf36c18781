"""What the operator has typed so far: every text as it came, nothing parsed, nothing lost."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from types import MappingProxyType
from typing import Any

from spc.pages.entry.layout import GridLayout

__all__ = ["GridCell", "GridState", "Mark", "Meanwhile", "Struck"]

_NO_REFUSALS: Mapping[tuple[str, int], str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class GridCell:
    """One place of the grid: the text as typed, or why there is none.

    Attributes
    ----------
    text : str
        As typed or sent by the gauge, blanks at the ends removed; empty where nothing was entered.
    skip : str
        The reason, where the value was left out.
    seen : bool
        True once the operator has read the refusal of this very text.
    """

    text: str = ""
    skip: str = ""
    seen: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """A quiet remark under a value that was taken; `is_outside` where it lies beyond a limit."""

    says: str
    is_outside: bool = False


@dataclass(frozen=True, slots=True)
class Struck:
    """A text that was replaced; `why` is ``"redo"``, ``"typed over"``, ``"refused"`` or ``"left out"``."""

    column: str
    piece: int
    text: str
    why: str


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """A value that arrived while the grid was stopped, or when no place was open.

    Attributes
    ----------
    text : str
        As it arrived.
    column, piece : str, int
        The place whose refusal had stopped the grid; ``""`` and 0 where every place was filled.
    fate : str
        ``"waiting"``, ``"put in"`` or ``"set aside"``.
    into_column, into_piece : str, int
        Where it was put in; ``""`` and 0 otherwise.
    """

    text: str
    column: str = ""
    piece: int = 0
    fate: str = "waiting"
    into_column: str = ""
    into_piece: int = 0


@dataclass(frozen=True, slots=True)
class GridState:
    """Everything typed for one check; it is its own draft.

    Attributes
    ----------
    token : str
        The check it belongs to.
    seq : int
        Counts the changes; of two states under one token the higher is the newer.
    cells : mapping of str to tuple of GridCell
        For each column, its places in the order of the pieces.
    struck : tuple of Struck
        Replaced texts, oldest first.
    meanwhile : tuple of Meanwhile
        Values that arrived while the grid was stopped, oldest first.
    refusals : mapping of (str, int) to str
        Column and piece (from 1) of each text that was not taken, with the sentence why.
    """

    token: str
    seq: int
    cells: Mapping[str, tuple[GridCell, ...]]
    struck: tuple[Struck, ...] = ()
    meanwhile: tuple[Meanwhile, ...] = ()
    refusals: Mapping[tuple[str, int], str] = field(default_factory=lambda: _NO_REFUSALS)

    @classmethod
    def empty(cls, layout: GridLayout) -> "GridState":
        """The state before the first key."""
        return cls(layout.token, 0, {c.name: (GridCell(),) * c.pieces for c in layout.columns})

    def texts(self, column: str) -> tuple[str, ...]:
        """What stands in one column, piece by piece; ``""`` where nothing was entered."""
        return tuple(cell.text for cell in self.cells[column])

    def skipped(self) -> dict[tuple[str, int], str]:
        """Column and piece of each value left out, with its reason."""
        return {
            (name, piece): cell.skip
            for name, cells in self.cells.items()
            for piece, cell in enumerate(cells, start=1)
            if cell.skip
        }

    def waiting(self) -> tuple[Meanwhile, ...]:
        """Values that arrived during a stop and still have no place."""
        return tuple(value for value in self.meanwhile if value.fate == "waiting")

    def open_places(self, layout: GridLayout) -> tuple[tuple[str, int], ...]:
        """Places that still want a value or a reason; columns that come later never do."""
        return tuple(
            (column.name, piece)
            for column in layout.columns
            if not column.later
            for piece, cell in enumerate(self.cells[column.name], start=1)
            if not cell.text and not cell.skip
        )

    def complete(self, layout: GridLayout) -> bool:
        """True when nothing is open, refused or waiting, so that the check can be saved."""
        return not (self.open_places(layout) or self.refusals or self.waiting())

    def fitted(self, layout: GridLayout) -> "GridState":
        """The same texts laid into `layout`: missing places come empty, unknown ones are dropped."""
        cells = {}
        for column in layout.columns:
            old = tuple(self.cells.get(column.name, ()))[: column.pieces]
            cells[column.name] = old + (GridCell(),) * (column.pieces - len(old))
        return GridState(layout.token, self.seq, cells, self.struck, self.meanwhile)

    def with_text(self, column: str, piece: int, text: str) -> "GridState":
        """The state after a text was put into a place by something other than the keys; counts as a change."""
        cells = list(self.cells[column])
        old = cells[piece - 1].text
        cells[piece - 1] = GridCell(text)
        struck = (Struck(column, piece, old, "typed over"),) if old and old != text else ()
        changed = {**self.cells, column: tuple(cells)}
        return replace(self, seq=self.seq + 1, cells=changed, struck=self.struck + struck)

    def to_dict(self) -> dict[str, Any]:
        """The state as plain lists and texts; refusals are left out, because they are judged anew."""
        return {
            "token": self.token,
            "seq": self.seq,
            "cells": {name: [asdict(cell) for cell in cells] for name, cells in self.cells.items()},
            "struck": [asdict(entry) for entry in self.struck],
            "meanwhile": [asdict(entry) for entry in self.meanwhile],
        }

    def to_json(self) -> str:
        """The draft as one line of text, to be stored by the page on every change."""
        return json.dumps(self.to_dict(), ensure_ascii=False)

    @classmethod
    def from_dict(cls, record: Mapping[str, Any]) -> "GridState":
        """Read a state that came from the browser or a stored draft.

        Raises
        ------
        ValueError
            When the record is not one that `to_dict` or the grid wrote.
        """
        try:
            return cls(
                token=str(record["token"]),
                seq=int(record["seq"]),
                cells={
                    str(name): tuple(
                        GridCell(str(c["text"]), str(c.get("skip", "")), bool(c.get("seen"))) for c in cells
                    )
                    for name, cells in record["cells"].items()
                },
                struck=tuple(
                    Struck(str(s["column"]), int(s["piece"]), str(s["text"]), str(s["why"]))
                    for s in record.get("struck", ())
                ),
                meanwhile=tuple(_meanwhile(m) for m in record.get("meanwhile", ())),
            )
        except (KeyError, TypeError, AttributeError) as error:
            raise ValueError(f"not a draft of the entry grid: {error!r}") from error

    @classmethod
    def from_json(cls, text: str) -> "GridState":
        """Read a stored draft.

        Raises
        ------
        ValueError
            When the text is not one that `to_json` wrote.

        Examples
        --------
        >>> draft = GridState("check 7", 3, {"over_pin": (GridCell("31,251"), GridCell(skip="piece lost"))})
        >>> GridState.from_json(draft.to_json()) == draft
        True
        """
        record = json.loads(text)
        if not isinstance(record, dict):
            raise ValueError("not a draft of the entry grid: it holds no table")
        return cls.from_dict(record)


def _meanwhile(record: Mapping[str, Any]) -> Meanwhile:
    return Meanwhile(
        text=str(record["text"]),
        column=str(record.get("column", "")),
        piece=int(record.get("piece", 0)),
        fate=str(record.get("fate", "waiting")),
        into_column=str(record.get("into_column", "")),
        into_piece=int(record.get("into_piece", 0)),
    )
