"""Limits that reach beyond the tolerance: they stay silent while pieces are out already."""

from spc.shop import Characteristic

__all__ = ["beyond_tolerance"]


def beyond_tolerance(characteristic: Characteristic, lower: float, upper: float) -> str:
    """Say where limits of the mean let it leave the tolerance, for whoever is about to sign them.

    Parameters
    ----------
    characteristic : Characteristic
        With its tolerance.
    lower, upper : float
        Control limits of the mean of a check, plan's unit.

    Returns
    -------
    str
        A sentence with the limits that reach too far; "" where both lie inside or on the tolerance.

    Notes
    -----
    Control limits tell what the process does, the tolerance what a piece may be; where the first reach beyond
    the second, the process is not capable of the size, and signing needs a reason (common practice, no source).
    """
    digits = max(0, -int(characteristic.nominal.as_tuple().exponent)) + 1
    least, most = characteristic.tolerance.lower, characteristic.tolerance.upper
    said = []
    if least is not None and lower < float(least):
        said.append(f"the lower limit {lower:.{digits}f} lies below the smallest allowed {least}")
    if most is not None and upper > float(most):
        said.append(f"the upper limit {upper:.{digits}f} lies above the largest allowed {most}")
    if not said:
        return ""
    where = " and ".join(said)
    return (
        f"{where[:1].upper()}{where[1:]}: a mean can leave the tolerance before these limits call. They tell "
        "what the process does, not what a piece may be."
    )
