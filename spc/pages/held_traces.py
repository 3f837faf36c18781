"""Curves of a check that is still being typed: as the draft keeps them, and as the station takes them."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any

from spc.intake import TraceRead
from spc.pages.grid_places import grid_places, place_of
from spc.shop import CheckGauged, Plan, Trace
from spc.shop.trace import trace_words

__all__ = ["HeldTrace", "held_traces", "note_of", "traces_of_check", "with_traces"]


@dataclass(frozen=True, slots=True)
class HeldTrace:
    """One curve and the texts it put into the grid.

    Attributes
    ----------
    kind, name, position : str
    piece : int
    points : tuple of (position mm, value)
        Numbers as text.
    cells : tuple of (column, text)
    """

    kind: str
    name: str
    piece: int
    position: str
    points: tuple[tuple[str, str], ...]
    cells: tuple[tuple[str, str], ...]

    @classmethod
    def of(cls, read: TraceRead, piece: int, position: str, texts: Mapping[str, str]) -> "HeldTrace":
        """Hold a curve just read."""
        return cls(read.kind, read.name, piece, position, _texts(read.points), tuple(texts.items()))

    @property
    def says(self) -> str:
        """Say where its values came from."""
        return trace_words(self.kind, self.name, len(self.points))

    def shares_a_place_with(self, other: "HeldTrace") -> bool:
        """Whether both put a value into one place of the grid."""
        mine, others = {column for column, _ in self.cells}, {column for column, _ in other.cells}
        return self.piece == other.piece and bool(mine & others)

    def to_plain(self) -> dict[str, Any]:
        """Return it for a draft."""
        return asdict(self)


def held_traces(kept: Any) -> list[HeldTrace]:
    """Return the curves that a draft keeps; none where another version wrote it."""
    try:
        return [
            HeldTrace(
                str(each["kind"]),
                str(each["name"]),
                int(each["piece"]),
                str(each["position"]),
                tuple((str(x), str(y)) for x, y in each["points"]),
                tuple((str(column), str(text)) for column, text in each["cells"]),
            )
            for each in kept or ()
        ]
    except (KeyError, TypeError, ValueError):
        return []


def note_of(kept: Any, column: str, piece: int, text: str) -> str | None:
    """Say under a value of the grid that a curve gave it; None where somebody typed it."""
    for each in held_traces(kept):
        if each.piece == piece and (column, text) in each.cells:
            return each.says
    return None


def with_traces(plan: Plan, values: Mapping[str, list[Any]], kept: Any) -> dict[str, list[Any]]:
    """Return the values of a check with the curves behind them.

    A value typed over goes along with its curve, so that the station refuses the two together; a place left empty
    takes no curve.
    """
    taken = {name: list(pieces) for name, pieces in values.items()}
    for each in held_traces(kept):
        for column, _ in each.cells:
            spot = place_of(plan, column)
            pieces = taken.get(spot.characteristic.name, [])
            if len(pieces) < each.piece:
                continue
            stands = pieces[each.piece - 1]
            text = stands.get(spot.position) if isinstance(stands, dict) else stands
            if not text:
                continue
            given = {"trace": each.points, "name": each.name, "value": text}
            pieces[each.piece - 1] = {**stands, spot.position: given} if isinstance(stands, dict) else given
    return taken


def traces_of_check(plan: Plan, check: CheckGauged) -> list[dict[str, Any]]:
    """Return the curves of a kept check for a draft, to be entered again."""
    return [_held(plan, check, each).to_plain() for each in check.traces]


def _held(plan: Plan, check: CheckGauged, trace: Trace) -> HeldTrace:
    texts = {each.key: each.text for each in check.readings}
    cells = {
        each.column: texts[each.characteristic.name, trace.piece, trace.position]
        for each in grid_places(plan)
        if each.characteristic.name in trace.gives
        and each.position == trace.position
        and (each.characteristic.name, trace.piece, trace.position) in texts
    }
    return HeldTrace(
        trace.kind, trace.name, trace.piece, trace.position, _texts(trace.points), tuple(cells.items())
    )


def _texts(points: tuple[tuple[Decimal, Decimal], ...]) -> tuple[tuple[str, str], ...]:
    return tuple((f"{x:f}", f"{y:f}") for x, y in points)
