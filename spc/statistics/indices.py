"""The capability indices as formulas: tolerance against spread, for limits on one side or both."""

from math import hypot, isfinite

from spc.errors import Refusal, Refused

__all__ = ["check_tolerance", "location_index", "spread_index", "target_index"]


def spread_index(lower: float | None, upper: float | None, sigma: float) -> float | None:
    """Cp or Pp: tolerance over six sigma; None where a limit is missing.

    Parameters
    ----------
    lower, upper : float or None
        Tolerance limits, in the unit of sigma.
    sigma : float
        Standard deviation within checks (Cp) or of all pieces (Pp), above 0.

    Returns
    -------
    float or None
        Dimensionless.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 6.1.6 (from memory).

    Examples
    --------
    >>> spread_index(8.0, 20.0, 2.0)
    1.0
    """
    if lower is None or upper is None:
        return None
    return (upper - lower) / (6.0 * sigma)


def location_index(mean: float, lower: float | None, upper: float | None, sigma: float) -> float:
    """Cpk or Ppk: distance to the nearer limit over three sigma; with one limit the distance to it.

    Parameters
    ----------
    mean : float
        Mean of all pieces.
    lower, upper : float or None
        Tolerance limits, at least one.
    sigma : float
        Standard deviation within checks (Cpk) or of all pieces (Ppk), above 0.

    Returns
    -------
    float
        Dimensionless, negative where the mean lies outside.

    Examples
    --------
    >>> round(location_index(16.0, 8.0, 20.0, 2.0), 4), round(location_index(16.0, 8.0, None, 2.0), 4)
    (0.6667, 1.3333)
    """
    distances = []
    if upper is not None:
        distances.append(upper - mean)
    if lower is not None:
        distances.append(mean - lower)
    return min(distances) / (3.0 * sigma)


def target_index(
    mean: float, lower: float | None, upper: float | None, target: float | None, sigma: float
) -> float | None:
    """Cpm: tolerance over six times the spread about the target; None where a limit or the target is missing.

    Parameters
    ----------
    mean : float
        Mean of all pieces.
    lower, upper : float or None
        Tolerance limits.
    target : float or None
        Where the pieces should lie.
    sigma : float
        Standard deviation of all pieces, n-1 in the divisor.

    Returns
    -------
    float or None
        Dimensionless.

    References
    ----------
    Chan, Cheng & Spiring, J. Quality Technology 20 (1988).

    Examples
    --------
    >>> round(target_index(16.0, 8.0, 20.0, 14.0, 2.0), 6)
    0.707107
    """
    if lower is None or upper is None or target is None:
        return None
    return (upper - lower) / (6.0 * hypot(sigma, mean - target))


def check_tolerance(lower: float | None, upper: float | None, target: float | None) -> None:
    """Refuse missing, crossed or infinite limits and a target outside them, all at once."""
    named = (("lower", lower), ("upper", upper), ("target", target))
    refusals = [
        Refusal(
            "the number is not finite",
            value=str(value),
            column=name,
            allowed="a finite number",
            do="Leave out a limit that does not exist",
        )
        for name, value in named
        if value is not None and not isfinite(value)
    ]
    if lower is None and upper is None:
        refusals.append(Refusal("capability wants a tolerance limit", allowed="lower, upper or both"))
    if lower is not None and upper is not None and lower >= upper:
        refusals.append(
            Refusal(
                "the lower limit is not below the upper one",
                value=f"{lower:g} and {upper:g}",
                column="lower",
                do="Change them round",
            )
        )
    elif target is not None and not (
        (lower is None or lower <= target) and (upper is None or target <= upper)
    ):
        refusals.append(
            Refusal(
                "the target lies outside the limits",
                value=f"{target:g}",
                column="target",
                allowed="between the limits",
            )
        )
    if refusals:
        raise Refused(refusals)
