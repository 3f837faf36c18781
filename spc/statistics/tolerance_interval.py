"""Between which sizes a wanted share of all pieces lies, with a wanted confidence."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.statistics.moments import sample_moments
from spc.statistics.tolerance_factors import one_sided_factor, two_sided_factor

__all__ = ["ToleranceInterval", "tolerance_interval"]


@dataclass(frozen=True, slots=True)
class ToleranceInterval:
    """Sizes that hold a share of all pieces.

    Attributes
    ----------
    low, high : float or None
        In the unit of the readings; None where that side is open.
    factor : float
        k of mean -/+ k s.
    mean, sd : float
        Of the pieces.
    share, level : float
        Share held, and with what confidence.
    n : int
        Pieces.
    method : str
        Whose factor.
    """

    low: float | None
    high: float | None
    factor: float
    mean: float
    sd: float
    share: float
    level: float
    n: int
    method: str


def tolerance_interval(
    readings: Sequence[float], share: float = 0.9973, confidence: float = 0.95, side: str = "both"
) -> ToleranceInterval:
    """Normal tolerance interval, for whoever must say where nearly all pieces lie.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        2 or more independent normal pieces that differ.
    share, confidence : float
        Share of pieces to hold and the chance that it is held, between 0 and 1.
    side : {"both", "upper", "lower"}
        Both ends, or one end with the other side open.

    Returns
    -------
    ToleranceInterval
        With the exact factor.

    Raises
    ------
    Refused
        Another side, too few, missing or equal readings, a share or confidence out of range.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 7.2.6.3.

    Examples
    --------
    >>> found = tolerance_interval([9.9, 10.1, 10.0, 10.2, 9.8, 10.0], share=0.9, confidence=0.9)
    >>> round(found.low, 2), round(found.high, 2)
    (9.56, 10.44)
    """
    if side not in ("both", "upper", "lower"):
        raise Refused.one("no such side", value=side, allowed="both, upper or lower")
    moments = sample_moments(readings)
    factor = (two_sided_factor if side == "both" else one_sided_factor)(moments.n, share, confidence)
    reach = factor * moments.sd
    return ToleranceInterval(
        low=None if side == "upper" else moments.mean - reach,
        high=None if side == "lower" else moments.mean + reach,
        factor=factor,
        mean=moments.mean,
        sd=moments.sd,
        share=share,
        level=confidence,
        n=moments.n,
        method="exact factor for normal pieces, " + ("both sides" if side == "both" else "one side"),
    )
