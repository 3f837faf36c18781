"""The normal model of a characteristic: its quantiles and the share it expects outside the tolerance."""

from dataclasses import dataclass

from scipy.special import ndtr, ndtri

from spc.statistics.sound_arguments import want_above_zero, want_finite

__all__ = ["NormalQuantiles", "fallout_ppm", "normal_quantiles"]


@dataclass(frozen=True, slots=True)
class NormalQuantiles:
    """The three quantiles that capability by quantiles needs, in the unit of the readings.

    Attributes
    ----------
    q00135, q50, q99865 : float
        0.135 %, 50 % and 99.865 % quantile.
    n : int
        Pieces the model was fitted to; 0 where it was given.
    """

    q00135: float
    q50: float
    q99865: float
    n: int


def normal_quantiles(mean: float, sigma: float, n: int = 0) -> NormalQuantiles:
    """Quantiles of the normal model.

    Parameters
    ----------
    mean, sigma : float
        Of the pieces, one unit; sigma above 0.
    n : int
        Pieces they came from.

    Returns
    -------
    NormalQuantiles
        0.135 % is taken literally, so the ends lie at 2.999977 and not at 3 sigma.

    Raises
    ------
    Refused
        A mean that is not finite, or a sigma not above 0.

    References
    ----------
    ISO 22514-2, general geometric method (from memory).

    Examples
    --------
    >>> round(normal_quantiles(0.0, 1.0).q99865, 6)
    2.999977
    """
    want_finite(mean=mean)
    want_above_zero(sigma=sigma)
    reach = float(ndtri(0.99865)) * sigma
    return NormalQuantiles(mean - reach, mean, mean + reach, n)


def fallout_ppm(mean: float, sigma: float, lower: float | None, upper: float | None) -> float:
    """Pieces per million that a normal model expects outside the tolerance limits.

    Parameters
    ----------
    mean, sigma : float
        Of the pieces, in the unit of the limits; sigma above 0.
    lower, upper : float or None
        Tolerance limits; a missing one loses nothing.

    Returns
    -------
    float
        Parts per million, as a model extrapolates it: far below one in n pieces it cannot be seen in data.

    Raises
    ------
    Refused
        A number that is not finite, or a sigma not above 0.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 6.1.6 (from memory).

    Examples
    --------
    >>> round(fallout_ppm(0.0, 1.0, None, 3.0), 3)
    1349.898
    """
    want_finite(mean=mean, lower=lower, upper=upper)
    want_above_zero(sigma=sigma)
    below = 0.0 if lower is None else float(ndtr((lower - mean) / sigma))
    above = 0.0 if upper is None else float(ndtr((mean - upper) / sigma))
    return 1e6 * (below + above)
