"""Constants of an EWMA or a CUSUM chart for a wanted false-alarm rate."""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, log

from spc.errors import Refused
from spc.statistics.cusum_law import cusum_law
from spc.statistics.ewma_law import EwmaLimits, ewma_law
from spc.statistics.run_length_law import RunLengthLaw

__all__ = ["CusumDesign", "EwmaDesign", "design_cusum", "design_ewma"]


@dataclass(frozen=True, slots=True)
class EwmaDesign:
    """Constants of an EWMA chart and what they promise.

    Attributes
    ----------
    weight, width : float
        Weight of the newest point; half width of the limits in standard deviations of the smoothed value.
    limits : {"exact", "constant"}
        Limits that widen from the start, or those of the long run.
    narrow_start : float
        Width of exact limits at the first point as a share of their own; 1 narrows nothing.
    in_control : RunLengthLaw
        Run length between false alarms.
    """

    weight: float
    width: float
    limits: EwmaLimits
    narrow_start: float
    in_control: RunLengthLaw


@dataclass(frozen=True, slots=True)
class CusumDesign:
    """Constants of a two-sided CUSUM and what they promise.

    Attributes
    ----------
    slack, decision, head_start : float
        K and H in standard deviations of the plotted point; start of the sums as a share of H.
    in_control : RunLengthLaw
        Run length between false alarms.
    """

    slack: float
    decision: float
    head_start: float
    in_control: RunLengthLaw


def design_ewma(
    arl0: float,
    weight: float | None = None,
    *,
    shift_sigma: float | None = None,
    limits: EwmaLimits = "exact",
    narrow_start: float = 1.0,
) -> EwmaDesign:
    """EWMA constants with about one false alarm in `arl0` checks, for whoever chooses the chart.

    Parameters
    ----------
    arl0 : float
        Wanted mean number of points between false alarms, 20 to 10,000.
    weight : float, optional
        Weight of the newest point, 0.02 to 1; without it the one that finds `shift_sigma` soonest.
    shift_sigma : float, optional
        The step worth finding, in standard deviations of the plotted point, 0.25 to 4.
    limits : {"exact", "constant"}
        As the chart draws them.
    narrow_start : float
        Width of exact limits at the first point as a share of their own, above 0.1 up to 1; 0.5 is a customary head
        start.

    Returns
    -------
    EwmaDesign
        The width solves ARL(0) = arl0 to 1e-6 for the limits that are drawn; an optimal weight is good to 0.005.

    Raises
    ------
    Refused
        Neither weight nor shift, both, or one out of range.

    Notes
    -----
    The weight for a shift is that of the long run (constant limits), whatever limits are drawn: with limits that widen
    an ever smaller weight looks best for a shift at the very first point and is slow for every later one.

    References
    ----------
    Crowder, J. Quality Technology 21 (1989) 155-162; Lucas & Saccucci, Technometrics 32 (1990) 1-12 (from
    memory): weight 0.25 with width 2.998 and 0.10 with 2.814 for a mean of 500 between false alarms.

    Examples
    --------
    >>> round(design_ewma(500, 0.25, limits="constant").width, 3)
    2.998
    """
    _check_wanted(arl0)
    if (weight is None) == (shift_sigma is None):
        raise Refused.one(
            "an EWMA is designed for a weight or for a shift, one of the two",
            value=f"weight {weight}, shift {shift_sigma}",
            do="Give the weight, or the step that is worth finding",
        )
    if weight is None:
        weight = _soonest_weight(arl0, shift_sigma or 0.0)
    if not 0.02 <= weight <= 1.0:
        raise Refused.one(
            "the weight of the newest point is out of range", value=str(weight), allowed="0.02 to 1"
        )
    width = _ewma_width(arl0, weight)
    if limits == "exact":
        width = _drawn_width(arl0, weight, width, narrow_start)
    law = ewma_law(0.0, 0.0, weight, width, limits, narrow_start=narrow_start)
    return EwmaDesign(weight, width, limits, narrow_start, law)


def design_cusum(arl0: float, slack: float = 0.5, *, head_start: float = 0.0) -> CusumDesign:
    """CUSUM decision value with about one false alarm in `arl0` checks, for whoever chooses the chart.

    Parameters
    ----------
    arl0 : float
        Wanted mean number of points between false alarms, both sums together, 20 to 10,000.
    slack : float
        K, half the step worth finding, in standard deviations of the plotted point, 0.1 to 2.
    head_start : float
        Start of the sums as a share of H, 0 to 0.5.

    Returns
    -------
    CusumDesign
        H solves ARL(0) = arl0 to 1e-6.

    Raises
    ------
    Refused
        A rate or a slack out of range.

    References
    ----------
    Hawkins, J. Quality Technology 25 (1993) 463-477 (from memory): for 370, K 0.25 takes H 8.01, 0.5 takes
    4.77, 1 takes 2.52.

    Examples
    --------
    >>> round(design_cusum(370, 0.25).decision, 2)
    8.01
    """
    from scipy.optimize import brentq

    _check_wanted(arl0)
    if not 0.1 <= slack <= 2.0:
        raise Refused.one("the slack K is out of range", value=str(slack), allowed="0.1 to 2, usually 0.5")

    def miss(decision: float) -> float:
        return cusum_law(0.0, 0.0, slack, decision, head_start=head_start).mean_points - arl0

    decision = float(brentq(miss, *_bracket(miss, 0.05, 20.0), xtol=1e-10))
    return CusumDesign(
        slack, decision, head_start, cusum_law(0.0, 0.0, slack, decision, head_start=head_start)
    )


def _check_wanted(arl0: float) -> None:
    if not (isfinite(arl0) and 20.0 <= arl0 <= 10_000.0):
        raise Refused.one(
            "the wanted number of checks between false alarms is out of range",
            value=str(arl0),
            allowed="20 to 10,000; 370 is that of plain limits at 3 σ",
        )


def _ewma_width(arl0: float, weight: float) -> float:
    """Width for constant limits, whose law is quick."""
    from scipy.optimize import brentq

    def miss(width: float) -> float:
        return ewma_law(0.0, 0.0, weight, width, "constant").mean_points - arl0

    return float(brentq(miss, *_bracket(miss, 0.2, 4.5), xtol=1e-10))


def _drawn_width(arl0: float, weight: float, constant: float, narrow_start: float) -> float:
    """Width for limits that widen: never below that of constant ones; the log of the run length is nearly straight."""
    from scipy.optimize import brentq

    def miss(width: float) -> float:
        return log(ewma_law(0.0, 0.0, weight, width, "exact", narrow_start=narrow_start).mean_points / arl0)

    step, high = 0.02, constant
    while miss(high) < -1e-9 and high < 6.0:
        high, step = high + step, 4.0 * step
    if high == constant:
        return constant
    return float(brentq(miss, constant, high, xtol=1e-9))


def _bracket(miss: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    """Walk up from the low end, where run lengths are short and cheap, to the first that is long enough."""
    step = 1.3
    while miss(low * step) < 0.0 and low * step < high:
        low *= step
    return low, min(low * step, high)


def _soonest_weight(arl0: float, shift: float) -> float:
    from scipy.optimize import minimize_scalar

    if not 0.25 <= shift <= 4.0:
        raise Refused.one(
            "the step worth finding is out of range",
            value=str(shift),
            allowed="0.25 to 4 standard deviations of the plotted point",
        )

    def wait(weight: float) -> float:
        return ewma_law(shift, 0.0, weight, _ewma_width(arl0, weight), "constant").mean_points

    return float(minimize_scalar(wait, bounds=(0.02, 1.0), method="bounded", options={"xatol": 0.005}).x)
