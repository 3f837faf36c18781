"""Run length of the CUSUM by Page's integral equation, one- and two-sided, for a step and a drift."""

from collections.abc import Iterator
from itertools import count
from math import pi, sqrt

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr, roots_legendre

from spc.errors import Refused
from spc.statistics.run_length_law import RunLengthLaw, check_change, law_of_survival

__all__ = ["cusum_law"]

Floats = npt.NDArray[np.float64]
_NODES, _WEIGHTS = roots_legendre(80)


def cusum_law(
    shift_sigma: float = 0.0,
    drift_sigma: float = 0.0,
    slack: float = 0.5,
    decision: float = 5.0,
    *,
    two_sided: bool = True,
    head_start: float = 0.0,
) -> RunLengthLaw:
    """Distribution of the checks until a CUSUM signals, for whoever chooses its constants.

    Parameters
    ----------
    shift_sigma : float
        Shift of the mean from the first point on, in standard deviations of the plotted point.
    drift_sigma : float
        Move of the mean from point to point; point t lies shift + t · drift off centre.
    slack, decision : float
        K (0 or more) and H (above 0, up to 20) in standard deviations of the plotted point.
    two_sided : bool
        Both sums, or the upper one alone.
    head_start : float
        Where the sums start, as a share of H, 0 to 0.5; 0.5 is the fast initial response.

    Returns
    -------
    RunLengthLaw
        Independent normal points with known target and sigma.

    Raises
    ------
    Refused
        K, H or the head start out of range, a change that is not finite.

    Notes
    -----
    The density of a sum inside (0, H) is carried on 80 Gauss-Legendre nodes beside the atom at 0; summed over
    time this is Page's integral equation. Whichever sum signals first, the other stands at exactly 0 then
    (they cannot both be above 0 and one of them above H), so first signals of one side are taken out of the
    other side's density at 0: the two-sided law is exact, in drift too, and for a step from 0 gives
    1/ARL = 1/ARL(high) + 1/ARL(low).

    References
    ----------
    Page, Biometrika 41 (1954) 100-115; Lucas & Crosier, Technometrics 24 (1982) 199-205; Hawkins, J. Quality
    Technology 25 (1993) 248-261 (all from memory).

    Examples
    --------
    >>> round(cusum_law(1.0, decision=4.0).mean_points, 4)
    8.3831
    """
    check_change(shift_sigma, drift_sigma)
    _check(slack, decision, head_start)
    sides = "two-sided" if two_sided else "one-sided"
    return law_of_survival(
        _survival(shift_sigma, drift_sigma, slack, decision, two_sided, head_start),
        shift_sigma=shift_sigma,
        drift_sigma=drift_sigma,
        method=f"CUSUM K {slack:g}, H {decision:g}, {sides}; Page's equation on 80 nodes and an atom at 0",
        relative_error=1e-7,
    )


def _check(slack: float, decision: float, head_start: float) -> None:
    if not 0.0 <= slack <= 10.0:
        raise Refused.one("the slack K is out of range", value=str(slack), allowed="0 to 10, usually 0.5")
    if not 0.0 < decision <= 20.0:
        raise Refused.one(
            "the decision value H is out of range", value=str(decision), allowed="above 0 up to 20"
        )
    if not 0.0 <= head_start <= 0.5:
        raise Refused.one("the head start is out of range", value=str(head_start), allowed="0 to 0.5 of H")


def _survival(
    shift: float, drift: float, slack: float, decision: float, two_sided: bool, head_start: float
) -> Iterator[float]:
    """Carry both sums from point to point; what a signal of one side takes, leaves the other side's atom."""
    signs = (1.0, -1.0) if two_sided else (1.0,)
    places = np.array([head_start * decision])
    masses = [np.array([1.0]) for _ in signs]
    kernels: list[Floats] = []
    still = 1.0
    for point in count(1):
        if drift or point <= 2:
            moved = shift + point * drift
            kernels = [_moves(places, sign * moved - slack, decision) for sign in signs]
        after = [kernel @ mass for kernel, mass in zip(kernels, masses, strict=True)]
        signalled = [float(mass.sum() - now.sum()) for mass, now in zip(masses, after, strict=True)]
        if two_sided:
            after[0][0] -= signalled[1]
            after[1][0] -= signalled[0]
        masses, places = after, np.concatenate(([0.0], decision * (_NODES + 1.0) / 2.0))
        still -= sum(signalled)
        yield max(still, 0.0)


def _moves(come_from: Floats, step: float, decision: float) -> Floats:
    """Chance (first row: to 0; then node by node, weighted) of the next sum for each sum before."""
    to = decision * (_NODES + 1.0) / 2.0
    z = to[:, None] - come_from[None, :] - step
    inside = (0.5 * decision * _WEIGHTS)[:, None] * np.exp(-0.5 * z * z) / sqrt(2.0 * pi)
    return np.vstack([ndtr(-come_from - step)[None, :], inside])
