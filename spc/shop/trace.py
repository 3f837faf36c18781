"""A measured curve of one piece, and what a plan wants read from it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal, get_args

__all__ = ["TRACE_COLUMNS", "TRACE_KINDS", "TRACE_OF", "Trace", "TraceKind", "TraceRule", "trace_words"]

TraceKind = Literal["travel", "profile", "depth"]
TRACE_KINDS: Final[tuple[str, ...]] = get_args(TraceKind)

TRACE_COLUMNS: Final[dict[TraceKind, tuple[str, str]]] = {
    "travel": ("position_mm", "deviation_um"),
    "profile": ("position_mm", "height_um"),
    "depth": ("position_mm", "depth_mm"),
}
"""Columns of the file of each kind of trace."""

TRACE_OF: Final[dict[str, TraceKind]] = {
    "mean_travel_deviation": "travel",
    "travel_variation": "travel",
    "straightness": "profile",
    "groove_depth": "depth",
}
"""Which trace gives a kind of characteristic its value."""


@dataclass(frozen=True, slots=True)
class Trace:
    """A curve as it was measured, kept with its check so that every value from it can be worked out again.

    Attributes
    ----------
    kind : {"travel", "profile", "depth"}
    piece : int
        From 1 within the check.
    name : str
        File it came from; "" where a program gave it.
    points : tuple of (position mm, value)
        Value in µm, of a depth in mm; numbers as they were read.
    gives : tuple of str
        Characteristics whose reading on this piece comes from it.
    position : str
        Where on the piece; "" where there is one place only.
    """

    kind: TraceKind
    piece: int
    name: str
    points: tuple[tuple[Decimal, Decimal], ...]
    gives: tuple[str, ...]
    position: str = ""

    @property
    def says(self) -> str:
        """Say where a value came from: name and number of points."""
        return trace_words(self.kind, self.name, len(self.points))


def trace_words(kind: str, name: str, points: int) -> str:
    """Say where a value came from, in the grid and in the record alike.

    Examples
    --------
    >>> trace_words("travel", "lead.csv", 412)
    'from trace lead.csv, 412 points'
    """
    of = f" {name}" if name else ""
    return f"from {'profile' if kind == 'profile' else 'trace'}{of}, {points} points"


Rows = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class TraceRule:
    """How a plan wants a value read from a trace.

    Attributes
    ----------
    useful_mm : (float, float) or None
        Ends of the useful travel; None: the whole trace.
    lead_mm : float or None
        Lead; with `nominal_lead` the constant one that traces are measured against.
    over : {"travel", "300", "turn"}
        Where a travel variation is looked for: the useful travel, the worst 300 mm, the worst turn.
    line : {"minimum_zone", "least_squares", "end_points"}
        Which lines a straightness is held between.
    least_readings : int
        Fewest readings in any 300 mm, or in all of it where it is shorter.
    nominal_lead, nominal_deviation, nominal_depth : tuple of (position mm, value)
        What the groove is meant to be: lead mm, deviation µm, depth mm; straight between the rows.
    """

    useful_mm: tuple[float, float] | None = None
    lead_mm: float | None = None
    over: str = "travel"
    line: str = "minimum_zone"
    least_readings: int = 3
    nominal_lead: Rows = ()
    nominal_deviation: Rows = ()
    nominal_depth: Rows = ()
