"""Limits of two different meanings: the drawing's tolerance and the chart's control limits."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Literal

__all__ = ["ControlLimits", "ToleranceLimits"]


@dataclass(frozen=True, slots=True)
class ToleranceLimits:
    """What the drawing allows one piece to be; a value equal to a limit is inside.

    Attributes
    ----------
    lower, upper : Decimal or None
        In the plan's unit; a missing one makes the tolerance one-sided.
    """

    lower: Decimal | None
    upper: Decimal | None

    def holds(self, value: Decimal) -> bool:
        """Say whether a piece is inside; equality is inside."""
        return (self.lower is None or value >= self.lower) and (self.upper is None or value <= self.upper)

    def holds_all(self, values: Sequence[Decimal]) -> bool:
        """Say whether all of one or more pieces are inside."""
        return self.holds(min(values)) and self.holds(max(values))

    def nearest(self, value: Decimal) -> Decimal | None:
        """Return the limit that `value` passes, or None where it is inside."""
        if self.lower is not None and value < self.lower:
            return self.lower
        if self.upper is not None and value > self.upper:
            return self.upper
        return None

    @property
    def width(self) -> Decimal | None:
        """Upper minus lower, or None where one side is open."""
        return None if self.lower is None or self.upper is None else self.upper - self.lower


@dataclass(frozen=True, slots=True)
class ControlLimits:
    """What chance alone lets a subgroup's mean and range be, and who stands for it.

    Attributes
    ----------
    centre, sigma_within : float
        Centre line and spread of one piece, in the plan's unit.
    n : int
        Pieces a subgroup that the limits were computed from.
    subgroups : int
        How many subgroups taught them; 0 where a person gave them.
    standing : {"provisional", "signed"}
        Provisional until somebody signs.
    signed_by : str
        Empty while provisional.
    signed_at : datetime or None
        In UTC.
    """

    centre: float
    sigma_within: float
    n: int
    subgroups: int
    standing: Literal["provisional", "signed"]
    signed_by: str = ""
    signed_at: datetime | None = None
