"""Warm-up: after a start the size is off by an amount that dies away; its height and sign are learned."""

import math
from dataclasses import dataclass

from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made

__all__ = ["COLD_PIECES", "WarmUp", "fresh_warm_up", "learn_warm_up", "still_cold"]

COLD_PIECES = 150.0
"""Pieces in which the effect of a cold start falls to 1/e (common practice, no source)."""
_GONE = 0.03
"""Share of the effect below which the machine counts as warm."""
_FIRST_GUESS = 0.05
"""Share of the tolerance by which a cold start may move a size, either way, as a first guess."""


@quickly_made
@dataclass(frozen=True, slots=True)
class WarmUp:
    """What is believed of one size on one machine right after a start.

    Attributes
    ----------
    height_um : float
        How much it is off at the first piece; the sign is learned.
    variance_um2 : float
        How sure that is.
    odd_um2 : float
        While a start lasts that did more than starts do here: the variance that takes it in; else 0.
    """

    height_um: float
    variance_um2: float
    odd_um2: float = 0.0

    @property
    def doubt_um2(self) -> float:
        """Variance of what the present start may do, µm²."""
        return self.variance_um2 + self.odd_um2


def fresh_warm_up(tolerance_um: float) -> WarmUp:
    """Begin with an effect of unknown sign, a twentieth of the tolerance."""
    return WarmUp(0.0, (_FIRST_GUESS * tolerance_um) ** 2)


def still_cold(pieces_since_start: int | None) -> float:
    """Share of the effect that is left so many pieces after a start; 0 once it is gone, or no start is known.

    Examples
    --------
    >>> still_cold(0), round(still_cold(150), 3), still_cold(900), still_cold(None)
    (1.0, 0.368, 0.0, 0.0)
    """
    if pieces_since_start is None or pieces_since_start < 0:
        return 0.0
    share = math.exp(-pieces_since_start / COLD_PIECES)
    return share if share > _GONE else 0.0


def learn_warm_up(warm_up: WarmUp, share: float, surprise_um: float, variance_um2: float) -> WarmUp:
    """Take in the first checks after a start.

    Parameters
    ----------
    warm_up : WarmUp
        As believed before.
    share : float
        From `still_cold`, 0 to 1.
    surprise_um : float
        Mean of the check minus its forecast, the effect as believed included in the forecast.
    variance_um2 : float
        Of that surprise, above 0, the doubt about the effect included.

    Notes
    -----
    A scalar Kalman update with the state of the die left aside, for c the share, v the surprise's variance:
    H ← H + c·Var H·surprise/v, Var H ← Var H·(1 − c²·Var H/v). That state learns from the same check by its own share
    of the variance. An odd start, which did more than starts do here, says nothing of the usual one;
    it is over once the machine is warm (share 0).
    """
    if share == 0.0:
        return changed(warm_up, odd_um2=0.0)
    if warm_up.odd_um2 > 0.0:
        return warm_up
    weight = warm_up.variance_um2 * share / variance_um2
    return WarmUp(
        warm_up.height_um + weight * surprise_um,
        max(warm_up.variance_um2 * (1.0 - weight * share), 0.0),
    )
