"""Run length of the EWMA chart by its integral equation, for a step and for a steady drift."""

from collections.abc import Iterator
from itertools import count
from math import pi, sqrt
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import roots_legendre

from spc.errors import Refused
from spc.statistics.narrow_start import narrow_start_factor
from spc.statistics.run_length_law import RunLengthLaw, check_change, law_of_survival

__all__ = ["EwmaLimits", "ewma_law"]

Floats = npt.NDArray[np.float64]
EwmaLimits = Literal["exact", "constant"]
_NODES, _WEIGHTS = roots_legendre(120)


def ewma_law(
    shift_sigma: float = 0.0,
    drift_sigma: float = 0.0,
    weight: float = 0.2,
    width: float = 3.0,
    limits: EwmaLimits = "exact",
    head_start: float = 0.0,
    narrow_start: float = 1.0,
) -> RunLengthLaw:
    """Distribution of the checks until an EWMA chart signals, for whoever chooses its constants.

    Parameters
    ----------
    shift_sigma : float
        Shift of the mean from the first point on, in standard deviations of the plotted point.
    drift_sigma : float
        Move of the mean from point to point; point t lies shift + t · drift off centre.
    weight : float
        Weight of the newest point, 0.01 to 1.
    width : float
        Half width of the limits in standard deviations of the smoothed value, above 0.
    limits : {"exact", "constant"}
        Limits that widen from the start as `ewma_limits` draws them, or those of the long run.
    head_start : float
        Where the smoothed value starts, as a share of the half width of constant limits, -1 to 1.
    narrow_start : float
        Width of exact limits at the first point as a share of their own, above 0.1 up to 1: a head start to both
        sides; see `narrow_start_factor`.

    Returns
    -------
    RunLengthLaw
        Independent normal points with known centre and sigma, zero state.

    Raises
    ------
    Refused
        A weight, width or head start out of range, a change that is not finite.

    Notes
    -----
    The density of the smoothed value inside the limits is carried from point to point on 120 Gauss-Legendre
    nodes; summed over time this is the Fredholm equation of the second kind L = 1 + ∫ L(y) f(y) dy of
    Crowder (1987, from memory). The integrand is analytic, so the error stays below 1e-7 for these weights.

    References
    ----------
    Crowder, Technometrics 29 (1987) 401-407; Lucas & Saccucci, Technometrics 32 (1990) 1-12 (from memory).

    Examples
    --------
    >>> round(ewma_law(1.0, weight=0.1, width=2.814, limits="constant").mean_points, 3)
    10.331
    """
    check_change(shift_sigma, drift_sigma)
    _check(weight, width, head_start, limits)
    if narrow_start_factor(1, narrow_start) < 1.0 and limits == "constant":
        raise Refused.one(
            "a narrow start wants limits that widen",
            value=str(narrow_start),
            do="Take exact limits, or a head start of the smoothed value",
        )
    survival = _survival(
        shift_sigma, drift_sigma, weight, _half_widths(weight, width, limits, narrow_start), head_start
    )
    return law_of_survival(
        survival,
        shift_sigma=shift_sigma,
        drift_sigma=drift_sigma,
        method=f"EWMA weight {weight:g}, width {width:g}, {limits} limits; integral equation on {_NODES.size} nodes",
        relative_error=1e-7,
    )


def _check(weight: float, width: float, head_start: float, limits: EwmaLimits) -> None:
    if not 0.01 <= weight <= 1.0:
        raise Refused.one(
            "the weight of the newest point is out of range", value=str(weight), allowed="0.01 to 1"
        )
    if not 0.0 < width < 10.0:
        raise Refused.one(
            "the width of the limits is out of range", value=str(width), allowed="above 0 to 10"
        )
    if not abs(head_start) < 1.0 or (head_start and limits == "exact"):
        raise Refused.one(
            "a head start wants constant limits and lies inside them",
            value=str(head_start),
            allowed="between -1 and 1, with limits that do not widen",
            do="Give limits that widen a narrow start instead",
        )


def _half_widths(weight: float, width: float, limits: EwmaLimits, narrow_start: float) -> Iterator[float]:
    """Half width at point 1, 2, 3, … in standard deviations of the plotted point."""
    final = width * sqrt(weight / (2.0 - weight))
    for point in count(1):
        left = 0.0 if limits == "constant" else (1.0 - weight) ** (2 * point)
        yield final * sqrt(1.0 - left) * narrow_start_factor(point, narrow_start)


def _survival(
    shift: float, drift: float, weight: float, half_widths: Iterator[float], head_start: float
) -> Iterator[float]:
    """Carry the density of the smoothed value from point to point; its mass inside is the chance of no signal.

    Until the widening limits stand still to the last bit, the nodes move with them.
    """
    kernel: Floats | None = None
    half_before = -1.0
    nodes, mass = np.empty(0), np.array([1.0])
    for point, half in enumerate(half_widths, start=1):
        if point == 1:
            nodes = np.array([head_start * half])
        moved = shift + point * drift
        if kernel is None or drift or half != half_before or point == 2:
            kernel = _moves(half * _NODES, nodes, weight, moved)
        nodes, half_before = half * _NODES, half
        mass = half * _WEIGHTS * (kernel @ mass)
        yield float(mass.sum())


def _moves(to: Floats, come_from: Floats, weight: float, moved: float) -> Floats:
    """Density of the next smoothed value at `to` for each one before."""
    z = (to[:, None] - (1.0 - weight) * come_from[None, :]) / weight - moved
    density: Floats = np.exp(-0.5 * z * z) / (weight * sqrt(2.0 * pi))
    return density
