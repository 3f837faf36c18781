"""Modified limits: a capable process may wander inside the tolerance before anyone adjusts it."""

from dataclasses import dataclass
from math import isfinite, sqrt

from scipy.special import ndtri

from spc.errors import Refusal, Refused
from spc.statistics.indices import check_tolerance

__all__ = ["ModifiedLimits", "modified_limits"]


@dataclass(frozen=True, slots=True)
class ModifiedLimits:
    """Limits of check means that leave room inside the tolerance.

    Attributes
    ----------
    lower, upper : float or None
        For the mean of a check, in the unit of the limits; None on a side without tolerance.
    least_mean, most_mean : float or None
        Where the process mean may wander to before the share outside passes the allowed one.
    share_outside : float
        Allowed share of pieces beyond the tolerance limit.
    sigma : float
        Standard deviation of one piece within a check.
    n : int
        Pieces a check.
    level : float
        Width of the limits in standard deviations of a check mean.
    method : str
        Formula.
    """

    lower: float | None
    upper: float | None
    least_mean: float | None
    most_mean: float | None
    share_outside: float
    sigma: float
    n: int
    level: float
    method: str


def modified_limits(
    lower: float | None,
    upper: float | None,
    sigma: float,
    n: int,
    share_outside: float = 0.001,
    width: float = 3.0,
) -> ModifiedLimits:
    """Limits that alarm only when the mean comes too near a tolerance limit, for a process with room to spare.

    Parameters
    ----------
    lower, upper : float or None
        Tolerance limits, at least one.
    sigma : float
        Standard deviation of one piece within a check, in their unit, above 0.
    n : int
        Pieces a check, 1 or more.
    share_outside : float
        Largest share of pieces allowed beyond a limit, between 0 and 0.5.
    width : float
        Of the limits in standard deviations of a check mean, above 0.

    Returns
    -------
    ModifiedLimits
        Upper: USL - (Z - width/sqrt n) sigma, with Z the normal quantile of the allowed share.

    Raises
    ------
    Refused
        No or crossed limits, sigma or width not above 0, no room left between the two means.

    Notes
    -----
    Use only where the spread within checks is in control and Cp is well above 1 (common practice: 2 or more).

    References
    ----------
    Montgomery, Introduction to Statistical Quality Control, section 10.2.1 (exercise text read, formula from memory).

    Examples
    --------
    >>> found = modified_limits(32.0, 48.0, sigma=2.0, n=5)
    >>> round(found.upper, 2), round(found.lower, 2)
    (44.5, 35.5)
    """
    _check(lower, upper, sigma, n, share_outside, width)
    inward = float(ndtri(1.0 - share_outside)) * sigma
    outward = width * sigma / sqrt(n)
    least = None if lower is None else lower + inward
    most = None if upper is None else upper - inward
    if least is not None and most is not None and least >= most:
        raise Refused.one(
            "the tolerance leaves the mean no room to wander",
            value=f"means {least:g} to {most:g}",
            do="Use the usual control limits",
        )
    return ModifiedLimits(
        lower=None if least is None else least - outward,
        upper=None if most is None else most + outward,
        least_mean=least,
        most_mean=most,
        share_outside=share_outside,
        sigma=sigma,
        n=n,
        level=width,
        method="tolerance limit minus (Z - width/sqrt n) sigma",
    )


def _check(
    lower: float | None, upper: float | None, sigma: float, n: int, share_outside: float, width: float
) -> None:
    check_tolerance(lower, upper, None)
    refusals = [
        Refusal(f"the {name} is not above 0", value=str(value), column=name, allowed="above 0")
        for name, value in (("sigma", sigma), ("width", width))
        if not (isfinite(value) and value > 0.0)
    ]
    if n < 1:
        refusals.append(
            Refusal("a check has at least one piece", value=str(n), column="n", allowed="1 or more")
        )
    if not 0.0 < share_outside < 0.5:
        refusals.append(
            Refusal(
                "the share outside is out of range",
                value=str(share_outside),
                column="share_outside",
                allowed="between 0 and 0.5, for instance 0.001",
            )
        )
    if refusals:
        raise Refused(refusals)
