"""The noncentral t distribution by quadrature; library routines for it give up in the far tails."""

from math import sqrt

from scipy.special import ndtr, roots_legendre

from spc.errors import Refused
from spc.statistics.chance_laws import chi_density, chi_square_above, chi_square_below

__all__ = ["noncentral_t_cdf", "noncentral_t_quantile"]

_NODES, _WEIGHTS = roots_legendre(400)


def noncentral_t_cdf(t: float, freedom: float, noncentrality: float) -> float:
    """Chance that (Z + noncentrality) / S is at most t, with S the root of chi-square over its freedom.

    Parameters
    ----------
    t, noncentrality : float
        Any finite number.
    freedom : float
        Degrees of freedom, above 0.

    Returns
    -------
    float
        The mean of Phi(t S - noncentrality) over S, 400 nodes.

    Raises
    ------
    Refused
        A freedom of 0 or less.

    Examples
    --------
    >>> round(noncentral_t_cdf(2.0, 10.0, 0.0), 6)
    0.963306
    """
    if freedom <= 0.0:
        raise Refused.one("degrees of freedom must be above 0", value=str(freedom), allowed="above 0")
    least, most = sqrt(chi_square_below(1e-16, freedom)), sqrt(chi_square_above(1e-16, freedom))
    spread = least + (most - least) * (_NODES + 1.0) / 2.0
    weights = chi_density(spread, freedom) * _WEIGHTS
    return float(weights @ ndtr(t * spread / sqrt(freedom) - noncentrality) / weights.sum())


def noncentral_t_quantile(share: float, freedom: float, noncentrality: float) -> float:
    """Value below which the given share (0 to 1, ends excluded) of noncentral t lies; arguments as for the cdf.

    Examples
    --------
    >>> round(noncentral_t_quantile(0.95, 10.0, 0.0), 4)
    1.8125
    """
    from scipy.optimize import brentq

    if not 0.0 < share < 1.0:
        raise Refused.one("the share is out of range", value=str(share), allowed="between 0 and 1")
    reach = 10.0 + abs(noncentrality)

    def miss(t: float) -> float:
        return noncentral_t_cdf(t, freedom, noncentrality) - share

    while miss(-reach) > 0.0 or miss(reach) < 0.0:
        reach *= 2.0
    return float(brentq(miss, -reach, reach, xtol=1e-12, rtol=1e-13))
