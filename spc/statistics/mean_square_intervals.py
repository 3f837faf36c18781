"""Intervals for sums and differences of mean squares: how well a variance component is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt

from spc.errors import Refused
from spc.statistics.chance_laws import chi_square_above, chi_square_below, f_above, f_below

__all__ = ["MeanSquare", "VarianceInterval", "mean_square_interval"]


@dataclass(frozen=True, slots=True)
class MeanSquare:
    """One mean square with the factor it enters with.

    Attributes
    ----------
    factor : float
        Positive or negative.
    ms : float
        Mean square, above 0.
    df : int
        Its degrees of freedom.
    """

    factor: float
    ms: float
    df: int


@dataclass(frozen=True, slots=True)
class VarianceInterval:
    """A variance with its interval; what falls below 0 is 0.

    Attributes
    ----------
    estimate, low, high : float
        In the unit of the readings squared.
    level : float
        Confidence of the two-sided interval.
    method : str
        Whose interval.
    """

    estimate: float
    low: float
    high: float
    level: float
    method: str


def mean_square_interval(terms: Sequence[MeanSquare], level: float = 0.95) -> VarianceInterval:
    """Two-sided interval for a sum of mean squares with factors, for whoever reports a component.

    Parameters
    ----------
    terms : sequence of MeanSquare
        Independent mean squares; those with a factor of 0 are passed over.
    level : float
        Confidence, between 0 and 1.

    Returns
    -------
    VarianceInterval
        Modified large sample interval; exact (chi-square) for a single term.

    Raises
    ------
    Refused
        No term, or a confidence out of range.

    References
    ----------
    Ting, Burdick, Graybill, Jeyaratnam & Lu, J. Stat. Comput. Simul. 35 (1990) 135-143; Burdick, Borror &
    Montgomery, J. Quality Technology 35 (2003) 342-354 (from memory; coverage checked by simulation).

    Examples
    --------
    >>> found = mean_square_interval([MeanSquare(1.0, 43.12, 9)])
    >>> round(found.low, 2), round(found.high, 2)
    (20.4, 143.71)
    """
    if not 0.0 < level < 1.0:
        raise Refused.one("the confidence is out of range", value=str(level), allowed="between 0 and 1")
    used = [term for term in terms if term.factor != 0.0]
    if not used:
        raise Refused.one("a variance interval wants a mean square", allowed="one or more")
    estimate = sum(term.factor * term.ms for term in used)
    alpha = (1.0 - level) / 2.0
    return VarianceInterval(
        estimate=max(0.0, estimate),
        low=max(0.0, estimate - sqrt(max(0.0, _below(used, alpha)))),
        high=max(0.0, estimate + sqrt(max(0.0, _above(used, alpha)))),
        level=level,
        method="chi-square" if len(used) == 1 else "modified large sample",
    )


def _below(terms: Sequence[MeanSquare], alpha: float) -> float:
    """Squared distance from the estimate down to the lower end."""
    plus, minus = _sides(terms)
    squares = sum((_g(t, alpha) * t.factor * t.ms) ** 2 for t in plus)
    squares += sum((_h(t, alpha) * t.factor * t.ms) ** 2 for t in minus)
    mixed = sum(_mixed_below(q, r, alpha) * _product(q, r) for q in plus for r in minus)
    return squares + mixed + _pairs(plus, alpha)


def _above(terms: Sequence[MeanSquare], alpha: float) -> float:
    """Squared distance from the estimate up to the upper end."""
    plus, minus = _sides(terms)
    squares = sum((_h(t, alpha) * t.factor * t.ms) ** 2 for t in plus)
    squares += sum((_g(t, alpha) * t.factor * t.ms) ** 2 for t in minus)
    mixed = sum(_mixed_above(q, r, alpha) * _product(q, r) for q in plus for r in minus)
    return squares + mixed + _pairs(minus, alpha)


def _sides(terms: Sequence[MeanSquare]) -> tuple[list[MeanSquare], list[MeanSquare]]:
    return [t for t in terms if t.factor > 0.0], [t for t in terms if t.factor < 0.0]


def _product(q: MeanSquare, r: MeanSquare) -> float:
    return abs(q.factor * q.ms * r.factor * r.ms)


def _g(term: MeanSquare, alpha: float) -> float:
    return float(1.0 - term.df / chi_square_above(alpha, term.df))


def _h(term: MeanSquare, alpha: float) -> float:
    return float(term.df / chi_square_below(alpha, term.df) - 1.0)


def _mixed_below(q: MeanSquare, r: MeanSquare, alpha: float) -> float:
    ratio = f_above(alpha, q.df, r.df)
    return ((ratio - 1.0) ** 2 - (_g(q, alpha) * ratio) ** 2 - _h(r, alpha) ** 2) / ratio


def _mixed_above(q: MeanSquare, r: MeanSquare, alpha: float) -> float:
    ratio = f_below(alpha, q.df, r.df)
    return ((1.0 - ratio) ** 2 - (_h(q, alpha) * ratio) ** 2 - _g(r, alpha) ** 2) / ratio


def _pairs(same_side: Sequence[MeanSquare], alpha: float) -> float:
    """Correction for several terms of one sign, only where terms of the other sign stand too or not at all."""
    if len(same_side) < 2:
        return 0.0
    total = 0.0
    for a, b in combinations(same_side, 2):
        both = 1.0 - (a.df + b.df) / float(chi_square_above(alpha, a.df + b.df))
        factor = (
            both**2 * (a.df + b.df) ** 2 / (a.df * b.df)
            - _g(a, alpha) ** 2 * a.df / b.df
            - _g(b, alpha) ** 2 * b.df / a.df
        )
        total += factor / (len(same_side) - 1) * _product(a, b)
    return total
