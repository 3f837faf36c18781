"""Whether one slide setting still serves all sizes, or the dies no longer match."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from spc.wear.correction import SlideSize

__all__ = ["Mismatch", "mismatch"]


@dataclass(frozen=True, slots=True)
class Mismatch:
    """Two sizes of one slide that no setting serves together.

    Attributes
    ----------
    deeper, shallower : str
        The size that wants the dies nearer, and the one that wants them less near.
    deeper_um, shallower_um : float
        Approach that each would need to come to its own target; positive deeper.
    """

    deeper: str
    shallower: str
    deeper_um: float
    shallower_um: float


def mismatch(sizes: Sequence[SlideSize], step_um: float) -> Mismatch | None:
    """Find two sizes that no whole step of the slide keeps inside together; None where some setting serves all.

    Parameters
    ----------
    sizes : sequence of SlideSize
        All characteristics that one slide sets.
    step_um : float
        Smallest approach the machine can make, above 0.

    Notes
    -----
    A setting serves a size if its mean stays three piece-spreads inside the tolerance. What is not sure is
    allowed for: the mean may be two standard errors better than believed. A size that no setting serves by
    itself is not capable, which is another matter; it is left aside here.

    Examples
    --------
    >>> pin = SlideSize("over_pin", 10.0, 0.5, 0.0, 1.0, 2.0, -12.0, 12.0, 24.0)
    >>> crest = SlideSize("crest", 10.0, 0.5, 0.0, -1.0, 2.0, -12.0, 12.0, 24.0)
    >>> mismatch([pin, crest], 1.0)
    Mismatch(deeper='over_pin', shallower='crest', deeper_um=10.0, shallower_um=-10.0)
    """
    served = [(size, *_steps(size, step_um)) for size in sizes if size.gain != 0.0]
    served = [each for each in served if each[1] <= each[2]]
    if len(served) < 2:
        return None
    deeper = max(served, key=lambda each: each[1])
    shallower = min(served, key=lambda each: each[2])
    if deeper[1] <= shallower[2]:
        return None
    return Mismatch(deeper[0].name, shallower[0].name, _wanted_um(deeper[0]), _wanted_um(shallower[0]))


def _steps(size: SlideSize, step_um: float) -> tuple[float, float]:
    """First and last whole step that serves a size; the first above the last where none does."""
    margin = 3.0 * size.sigma_um - 2.0 * size.level_sd_um
    high = math.inf if size.high_um is None else size.high_um - margin
    low = -math.inf if size.low_um is None else size.low_um + margin
    by_high, by_low = (size.level_um - high) / size.gain, (size.level_um - low) / size.gain
    first, last = (by_high, by_low) if size.gain > 0.0 else (by_low, by_high)
    first, last = first / step_um, last / step_um
    return _whole(first, math.ceil), _whole(last, math.floor)


def _whole(steps: float, rounded: Callable[[float], int]) -> float:
    return float(rounded(steps)) if math.isfinite(steps) else steps


def _wanted_um(size: SlideSize) -> float:
    return size.level_um / size.gain
