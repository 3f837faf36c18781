"""Repeats on a setting master: bias, its interval, and what they leave of the tolerance."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, sqrt

import numpy as np

from spc.errors import Refused
from spc.statistics.chance_laws import chi_square_below, t_above, t_tail
from spc.statistics.sound_arguments import want_above_zero

__all__ = ["MasterRepeats", "master_repeats"]


@dataclass(frozen=True, slots=True)
class MasterRepeats:
    """Bias and spread of a gauge on one master.

    Attributes
    ----------
    n : int
        Repeats.
    reference, mean, sigma : float
        Certified size, mean and standard deviation (n-1) of the repeats, in one unit.
    bias, bias_low, bias_high : float
        Mean minus reference, with its interval.
    t, p : float
        Test of no bias on n-1 degrees of freedom.
    sigma_low, sigma_high : float
        Interval of sigma.
    cg, cgk : float or None
        share·T / (spread·sigma) and (share·T/2 - |bias|) / (spread/2·sigma); None without a tolerance.
    level : float
        Confidence of the intervals.
    says : str
        In one sentence.
    """

    n: int
    reference: float
    mean: float
    sigma: float
    bias: float
    bias_low: float
    bias_high: float
    t: float
    p: float
    sigma_low: float
    sigma_high: float
    cg: float | None
    cgk: float | None
    level: float
    says: str


def master_repeats(
    readings: Sequence[float],
    reference: float,
    tolerance: float | None = None,
    *,
    share: float = 0.2,
    spread: float = 6.0,
    level: float = 0.95,
) -> MasterRepeats:
    """Judge a gauge by repeats on its master, for whoever accepts it before a study.

    Parameters
    ----------
    readings : sequence of float
        Repeats on one master by one person, the gauge taken off each time; 2 or more, 25 or 50 are usual.
    reference : float
        Certified size of the master, in the same unit.
    tolerance : float, optional
        Upper minus lower limit, above 0.
    share, spread : float
        The convention: a fifth of the tolerance against six standard deviations; others take 0.15 or 4.
    level : float
        Confidence of the intervals.

    Returns
    -------
    MasterRepeats
        Cg and Cgk of 1.33 or more are commonly asked for.

    Raises
    ------
    Refused
        Too few or missing repeats, a tolerance not above 0, a spread of 0 where Cg is asked for.

    References
    ----------
    ISO 22514-7 (from memory) for the idea; AIAG Measurement Systems Analysis, 4th ed., chapter III-B, bias by
    the independent sample method (from memory), which takes sigma from a range and so differs a little.

    Examples
    --------
    >>> found = master_repeats([6.001, 6.003, 6.002, 6.000, 6.002], 6.0, tolerance=0.1)
    >>> round(found.bias, 4), round(found.cg, 2), round(found.cgk, 2)
    (0.0016, 2.92, 2.46)
    """
    values = np.asarray(readings, dtype=float)
    _check(values, reference, tolerance, level)
    n, mean, sigma = len(values), float(values.mean()), float(values.std(ddof=1))
    want_above_zero(share=share, spread=spread)
    bias = mean - reference
    error = sigma / sqrt(n)
    reach = t_above((1.0 - level) / 2.0, n - 1) * error
    ratio = bias / error if error > 0.0 else (0.0 if bias == 0.0 else inf)
    most, least = (float(chi_square_below((1.0 + side * level) / 2.0, n - 1)) for side in (1.0, -1.0))
    p = 2.0 * t_tail(abs(ratio), n - 1)
    cg, cgk = (None, None) if tolerance is None else _indices(bias, sigma, share * tolerance, spread)
    return MasterRepeats(
        n=n,
        reference=reference,
        mean=mean,
        sigma=sigma,
        bias=bias,
        bias_low=bias - reach,
        bias_high=bias + reach,
        t=ratio,
        p=p,
        sigma_low=sigma * sqrt((n - 1) / most),
        sigma_high=sigma * sqrt((n - 1) / least),
        cg=cg,
        cgk=cgk,
        level=level,
        says=_say(bias, reach, n, level),
    )


def _check(values: np.ndarray, reference: float, tolerance: float | None, level: float) -> None:
    if len(values) < 2:
        raise Refused.one(
            "too few repeats on the master", value=str(len(values)), allowed="2 or more, usually 25"
        )
    if not (np.isfinite(values).all() and isfinite(reference)):
        raise Refused.one("a repeat or the reference is missing or not finite", do="Leave it out")
    if tolerance is not None and not (isfinite(tolerance) and tolerance > 0.0):
        raise Refused.one(
            "the tolerance must be above 0", value=str(tolerance), allowed="upper minus lower limit"
        )
    if not 0.0 < level < 1.0:
        raise Refused.one("the confidence is out of range", value=str(level), allowed="between 0 and 1")


def _indices(bias: float, sigma: float, granted: float, spread: float) -> tuple[float, float]:
    """Cg and Cgk against the part of the tolerance granted to the gauge."""
    if not sigma > 0.0:
        raise Refused.one(
            "every repeat gave the same reading, so Cg has nothing to divide by",
            do="Read the gauge one digit finer",
        )
    return granted / (spread * sigma), (granted / 2.0 - abs(bias)) / (spread / 2.0 * sigma)


def _say(bias: float, reach: float, n: int, level: float) -> str:
    interval = f"{bias - reach:.3g} to {bias + reach:.3g}, {100 * level:g} % interval, n = {n}"
    if abs(bias) <= reach:
        return f"No bias is shown: the mean is {bias:+.3g} from the master ({interval})."
    side = "high" if bias > 0 else "low"
    return f"The gauge reads {abs(bias):.3g} {side} on its master ({interval}): set it again before relying on it."
