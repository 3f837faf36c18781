"""What to do about a signal, in order, how to find the first bad box, what else to know, and when to check next."""

from dataclasses import dataclass
from typing import Literal

from spc.shop.quickly_made import quickly_made

__all__ = ["FirstBad", "NextCheck", "Notice", "Reaction"]


@dataclass(frozen=True, slots=True)
class FirstBad:
    """How to find where bad pieces begin among those held back.

    Attributes
    ----------
    by : {"box", "piece", "all"}
        Halving by boxes, by single pieces where their order is kept, or every piece where halving cannot tell.
    take_counter : int or None
        Counter of the middle, which is gauged first; None where all are sorted.
    gaugings : int or None
        How many it takes: pieces gauged one after the other; None by boxes, whose number nobody told.
    says : str
    """

    by: Literal["box", "piece", "all"]
    take_counter: int | None
    gaugings: int | None
    says: str


@dataclass(frozen=True, slots=True)
class Reaction:
    """The ordered reaction to what a check shows.

    Attributes
    ----------
    first : {"stop", "gauge"}
        Which of the two lists comes first: no further piece, or gauge before anything is touched.
    pattern : str
        What is seen, in the shop's words.
    causes : tuple of str
        In the order in which to look for them.
    steps : tuple of str
        What to do, in order.
    cautions : tuple of str
        Which of the fixed cautions belong to the steps: "gauging", "panel", "hands".
    first_bad : FirstBad or None
        Where pieces are held back and counted.
    """

    first: Literal["stop", "gauge"]
    pattern: str
    causes: tuple[str, ...]
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    first_bad: FirstBad | None = None


@dataclass(frozen=True, slots=True)
class Notice:
    """Something to know about a characteristic or its earlier readings; it raises no alarm and explains none."""

    characteristic: str
    says: str


@quickly_made
@dataclass(frozen=True, slots=True)
class NextCheck:
    """When to check next, never later than the plan asks.

    Attributes
    ----------
    pieces : int or None
        From this check on; None where no pace is known.
    minutes : float or None
        Of running time; None where it is bound to pieces alone, such as the first after a move.
    says : str
    """

    pieces: int | None
    minutes: float | None
    says: str
