"""Pieces left until the die set must come off: the first of all its ends, as quantiles."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtr

from spc.wear.learned import LeftLaw, PastWays, left_law
from spc.wear.way import Way

__all__ = ["CROSSING_LEVELS", "LifeForecast", "forecast_life"]

CROSSING_LEVELS = (0.05, 0.25, 0.50, 0.75, 0.95)
MOST_PIECES = 1_000_000.0
_GRID = np.geomspace(1.0, MOST_PIECES, 240)
_GRID.flags.writeable = False
_LOG_GRID = np.log(_GRID)

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LifeForecast:
    """Pieces left as quantiles at `CROSSING_LEVELS`, and what most likely ends the set.

    Attributes
    ----------
    pieces : tuple of 5 int
    characteristic, limit : str
        The end that most likely comes first.
    finished_sets : int
        Earlier sets that the forecast of that end leaned on.
    """

    pieces: tuple[int, ...]
    characteristic: str
    limit: str
    finished_sets: int


def forecast_life(ways: Sequence[Way], past: Mapping[str, PastWays]) -> LifeForecast | None:
    """Combine all that can end the set.

    Parameters
    ----------
    ways : sequence of Way
        One for each thing that can end it; none gives None.
    past : mapping characteristic -> PastWays
        From earlier sets of the part; one for each way.

    Returns
    -------
    LifeForecast or None
        Pieces left; 0 where a limit has been reached, 1,000,000 stands for that many or more.

    Notes
    -----
    The set lasts until the first end: survivals multiply, as if the ends knew nothing of each other. Sudden ends
    (chips) stand outside.
    """
    if not ways:
        return None
    laws = [left_law(way, past[way.characteristic]) for way in ways]
    alone = [_survival(law) for law in laws]
    reached = 1.0 - np.prod(alone, axis=0)
    pieces = tuple(round(_pieces_at(reached, level)) for level in CROSSING_LEVELS)
    place = min(int(np.searchsorted(reached, 0.5)), len(_GRID) - 1)
    first = min(range(len(laws)), key=lambda i: float(alone[i][place]))
    name = laws[first].characteristic
    return LifeForecast(pieces, name, laws[first].limit, past[name].lives)


def _survival(law: LeftLaw) -> Array:
    """Chance that this end has not come by each count of the grid."""
    standing = (law.centre - np.log(_GRID + law.unsure)) / law.scale
    return np.asarray(stdtr(law.df, standing), dtype=np.float64)


def _pieces_at(reached: Array, level: float) -> float:
    """Pieces at a level, straight in ln(pieces) between two places of the grid; 0 where it is past already."""
    if reached[0] >= level:
        return 0.0
    return float(np.exp(np.interp(level, reached, _LOG_GRID)))
