"""When to change what wears out, by age alone: planned changes are cheap, ends that nobody planned are dear."""

from dataclasses import dataclass
from math import exp, inf, isfinite, log

from scipy.special import gamma, gammainc

from spc.errors import Refused

__all__ = ["AgeReplacement", "age_replacement", "cost_rate_at"]

_NAMES = ("shape", "scale", "planned cost", "unplanned cost", "age")
_LARGEST = log(700.0)
"""ln of (age/scale)^shape beyond which no set is left that could still be changed as planned."""


@dataclass(frozen=True, slots=True)
class AgeReplacement:
    """The cheapest age for a planned change.

    Attributes
    ----------
    age : float or None
        In the unit of the scale; None where it is cheapest to run to the end.
    cost_rate : float
        Cost a piece in the long run when changing at that age.
    cost_rate_to_end : float
        The same when always running to the end.
    share_before : float
        Share of sets whose end comes before that age; 1 where there is none.
    """

    age: float | None
    cost_rate: float
    cost_rate_to_end: float
    share_before: float


def age_replacement(shape: float, scale: float, planned_cost: float, unplanned_cost: float) -> AgeReplacement:
    """Find the age at which a planned change costs least a piece, for Weibull lives.

    Parameters
    ----------
    shape : float
        Above 0. At 1 or below the risk does not rise with age, and no planned change pays.
    scale : float
        Age by which 63.2 % have ended, pieces; above 0.
    planned_cost, unplanned_cost : float
        Of one change, above 0.

    Returns
    -------
    AgeReplacement
        Without an age where shape <= 1, or where an unplanned end costs no more than a planned change.

    Raises
    ------
    Refused
        A number that is not above 0.

    Notes
    -----
    With R the share that lives longer, cp and cf the two costs, one cycle costs cp R(T) + cf (1 − R(T)) and
    makes ∫₀ᵀ R pieces; the ratio C(T) is the long-run cost a piece. It is least where
    h(T) ∫₀ᵀ R − F(T) = cp/(cf − cp) with h the rate of ends at age T; for a rising h the left side rises, so there
    is one such age. Lives twice as long double the age and halve the cost rate.

    References
    ----------
    R. Barlow & L. Hunter, *Optimum preventive maintenance policies*, Operations Research 8 (1960), 90-100, policy I;
    R. Barlow & F. Proschan, *Mathematical Theory of Reliability* (1965), ch. 4 (both from memory).

    Examples
    --------
    >>> found = age_replacement(3, 40_000, 1_700, 6_000)
    >>> round(found.age), round(found.cost_rate, 5), round(found.cost_rate_to_end, 5)
    (23494, 0.11125, 0.16798)
    """
    from scipy.optimize import brentq

    _expect_above_zero(shape, scale, planned_cost, unplanned_cost)
    to_end = unplanned_cost / (scale * float(gamma(1.0 + 1.0 / shape)))
    by_end = AgeReplacement(None, to_end, to_end, 1.0)
    if shape <= 1.0 or unplanned_cost <= planned_cost:
        return by_end
    wanted = planned_cost / (unplanned_cost - planned_cost)
    if _balance(_LARGEST, shape) <= wanted:
        return by_end
    ended = exp(float(brentq(lambda u: _balance(u, shape) - wanted, -200.0 * shape, _LARGEST, xtol=1e-12)))
    age = scale * ended ** (1.0 / shape)
    rate = cost_rate_at(age, shape, scale, planned_cost, unplanned_cost)
    return AgeReplacement(age, rate, to_end, 1.0 - exp(-ended))


def cost_rate_at(age: float, shape: float, scale: float, planned_cost: float, unplanned_cost: float) -> float:
    """Return the long-run cost a piece when sets are changed at an age or at their end, whichever comes first.

    Parameters
    ----------
    age : float
        Pieces, above 0.
    shape, scale, planned_cost, unplanned_cost : float
        As for `age_replacement`.

    Raises
    ------
    Refused
        A number that is not above 0.

    References
    ----------
    As for `age_replacement`, C(T) of its notes.

    Examples
    --------
    >>> round(cost_rate_at(23_494, 3, 40_000, 1_700, 6_000), 5)
    0.11125
    """
    _expect_above_zero(shape, scale, planned_cost, unplanned_cost, age)
    ended = (age / scale) ** shape
    alive = exp(-ended)
    pieces = scale * float(gamma(1.0 + 1.0 / shape) * gammainc(1.0 / shape, ended))
    return (planned_cost * alive + unplanned_cost * (1.0 - alive)) / pieces if pieces > 0.0 else inf


def _balance(log_ended: float, shape: float) -> float:
    """h(T) ∫R − F(T) as a function of ln (T/scale)^shape; it rises with it where the shape is above 1."""
    ended = exp(log_ended)
    integral = float(gamma(1.0 + 1.0 / shape) * gammainc(1.0 / shape, ended))
    risk: float = shape * ended ** (1.0 - 1.0 / shape)
    return risk * integral - (1.0 - exp(-ended))


def _expect_above_zero(*numbers: float) -> None:
    for name, number in zip(_NAMES, numbers, strict=False):
        if not (isfinite(number) and number > 0.0):
            raise Refused.one(f"the {name} is not above 0", value=str(number), allowed="a number above 0")
