"""Room inside the tolerance: limits for a size so capable that its mean may wander before anybody adjusts."""

from dataclasses import dataclass

from scipy.special import ndtri

from spc.shop import Characteristic
from spc.statistics import AcceptanceLimit, ModifiedLimits, acceptance_limit, modified_limits

__all__ = ["ACCEPTABLE_SHARE", "REJECTABLE_SHARE", "RoomToWander", "room_to_wander"]

_LEAST = 2.0
"""Cp, or Cpk of one limit, from which a mean may be let wander (common practice, no source)."""
ACCEPTABLE_SHARE = 1e-5
REJECTABLE_SHARE = 1e-2
"""Pieces outside at a level that must not alarm, and at one that must (common practice, no source)."""
_ALPHA, _BETA = 0.05, 0.10


@dataclass(frozen=True, slots=True)
class RoomToWander:
    """Modified and acceptance limits of one size, beside its control limits.

    Attributes
    ----------
    index : float
        Cp from the spread within a check; Cpk to the one limit of a one-sided tolerance.
    n : int
        Pieces a check.
    modified : ModifiedLimits
        Three sigma beyond the means that keep one piece in a thousand inside.
    lower, upper : AcceptanceLimit or None
        One at each limit of the tolerance.
    """

    index: float
    n: int
    modified: ModifiedLimits
    lower: AcceptanceLimit | None
    upper: AcceptanceLimit | None


def room_to_wander(
    characteristic: Characteristic, centre: float, sigma: float, n: int
) -> RoomToWander | None:
    """Return the limits that let the mean wander, for whoever writes a plan; None where there is no room.

    Parameters
    ----------
    characteristic : Characteristic
        With its tolerance.
    centre, sigma : float
        Middle of the control limits and spread of one piece within a check, plan's unit; sigma above 0.
    n : int
        Pieces a check.

    Notes
    -----
    Only where the ranges are in control: both methods take the spread within a check as known. Pieces about a
    mean are taken as normal.

    References
    ----------
    ISO 7870-3:2020 for acceptance limits; Montgomery, Introduction to SQC, section 10.2.1, for modified ones
    (both from memory).
    """
    edges = [
        None if edge is None else float(edge)
        for edge in (characteristic.tolerance.lower, characteristic.tolerance.upper)
    ]
    index = _index(edges, centre, sigma)
    if index < _LEAST:
        return None
    lower, upper = edges
    return RoomToWander(
        index=index,
        n=n,
        modified=modified_limits(lower, upper, sigma, n),
        lower=None if lower is None else _acceptance(lower, 1.0, sigma, n),
        upper=None if upper is None else _acceptance(upper, -1.0, sigma, n),
    )


def _index(edges: list[float | None], centre: float, sigma: float) -> float:
    lower, upper = edges
    if lower is not None and upper is not None:
        return (upper - lower) / (6.0 * sigma)
    known = [abs(edge - centre) for edge in edges if edge is not None]
    return known[0] / (3.0 * sigma) if known else 0.0


def _acceptance(edge: float, inward: float, sigma: float, n: int) -> AcceptanceLimit:
    acceptable, rejectable = (
        edge + inward * float(ndtri(1.0 - share)) * sigma for share in (ACCEPTABLE_SHARE, REJECTABLE_SHARE)
    )
    return acceptance_limit(acceptable, rejectable, sigma, _ALPHA, _BETA, n)
