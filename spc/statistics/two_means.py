"""Two groups, or the same pieces twice: the difference of the means with its interval."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt
from typing import Literal

from spc.errors import Refusal, Refused
from spc.statistics.chance_laws import t_above, t_tail
from spc.statistics.one_way_anova import checked_groups
from spc.statistics.sound_arguments import want_finite

__all__ = ["MeanDifference", "difference_from_summary", "paired_difference", "two_means"]

Spread = Literal["unequal", "equal"]


@dataclass(frozen=True, slots=True)
class MeanDifference:
    """First mean minus second.

    Attributes
    ----------
    n : tuple of int
        Values of both groups; pairs once.
    difference, low, high : float
        With the interval of the level.
    t, df, p : float
        Test of no difference, two-sided.
    level : float
        Confidence.
    method : str
        Which test.
    """

    n: tuple[int, ...]
    difference: float
    low: float
    high: float
    t: float
    df: float
    p: float
    level: float
    method: str


def two_means(
    first: Sequence[float], second: Sequence[float], *, spread: Spread = "unequal", level: float = 0.95
) -> MeanDifference:
    """Difference of two groups of independent values, for whoever compares two settings.

    Parameters
    ----------
    first, second : sequence of float
        Two values or more each.
    spread : {"unequal", "equal"}
        Welch's test, or the pooled one.
    level : float
        Confidence of the interval.

    Returns
    -------
    MeanDifference
        First minus second.

    Raises
    ------
    Refused
        Too few or missing values, no spread at all, a confidence out of range.

    References
    ----------
    NIST/SEMATECH e-Handbook, sections 7.3.1 and 1.3.5.3; Welch, Biometrika 34 (1947) 28-35 (from memory).

    Examples
    --------
    >>> found = two_means([5.1, 4.9, 5.3], [4.8, 4.6, 4.7])
    >>> round(found.difference, 2), round(found.low, 2), round(found.high, 2)
    (0.4, -0.02, 0.82)
    """
    groups = checked_groups([first, second], least_values=2)
    means = [fsum(group) / len(group) for group in groups]
    sds = [
        sqrt(fsum((value - mean) ** 2 for value in group) / (len(group) - 1))
        for group, mean in zip(groups, means, strict=True)
    ]
    return difference_from_summary(
        (len(groups[0]), means[0], sds[0]), (len(groups[1]), means[1], sds[1]), spread=spread, level=level
    )


def difference_from_summary(
    first: tuple[int, float, float],
    second: tuple[int, float, float],
    *,
    spread: Spread = "unequal",
    level: float = 0.95,
) -> MeanDifference:
    """Compare two groups of which only (n, mean, sd) is known.

    Parameters
    ----------
    first, second : tuple of (int, float, float)
        Values, mean and standard deviation (n-1) of each; two values or more, mean and sd in one unit.
    spread : {"unequal", "equal"}
        Welch's test, or the pooled one.
    level : float
        Confidence of the interval, between 0 and 1.

    Returns
    -------
    MeanDifference
        First minus second.

    Raises
    ------
    Refused
        Fewer than two values, a mean or spread that is not finite, a spread below 0 or none at all, a confidence out of
        range.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 1.3.5.3, car mileage (from memory).

    Examples
    --------
    >>> round(difference_from_summary((249, 20.14458, 6.4147), (79, 30.48101, 6.10771)).t, 3)
    -12.946
    """
    _want_summaries(first, second)
    (n1, mean1, sd1), (n2, mean2, sd2) = first, second
    a, b = sd1**2 / n1, sd2**2 / n2
    df = float(n1 + n2 - 2)
    if spread == "equal":
        error = sqrt(((n1 - 1) * sd1**2 + (n2 - 1) * sd2**2) / df * (1.0 / n1 + 1.0 / n2))
    else:
        error = sqrt(a + b)
        if error > 0.0:
            df = (a + b) ** 2 / (a**2 / (n1 - 1) + b**2 / (n2 - 1))
    method = "pooled t" if spread == "equal" else "Welch's t"
    return _tested((n1, n2), mean1 - mean2, error, df, level, method)


def _want_summaries(*groups: tuple[int, float, float]) -> None:
    """Refuse what no two values can have as their summary, all at once."""
    refusals = []
    for name, (n, mean, sd) in zip(("first", "second"), groups, strict=True):
        if not n >= 2:
            refusals.append(
                Refusal("a spread wants two values or more", str(n), column=name, allowed="2 or more")
            )
        if not (isfinite(mean) and isfinite(sd) and sd >= 0.0):
            said = f"mean {mean}, standard deviation {sd}"
            refusals.append(
                Refusal("not a mean and a spread", said, column=name, allowed="finite, spread 0 or more")
            )
    if refusals:
        raise Refused(refusals)


def paired_difference(
    first: Sequence[float], second: Sequence[float], *, level: float = 0.95
) -> MeanDifference:
    """Difference on the same pieces, gauged twice, for whoever compares two gauges or two people.

    Parameters
    ----------
    first, second : sequence of float
        Two values or more each, in one unit, pair by pair.
    level : float
        Confidence of the interval, between 0 and 1.

    Returns
    -------
    MeanDifference
        First minus second.

    Raises
    ------
    Refused
        Unequal lengths, too few or missing values, differences all equal, a confidence out of range.

    References
    ----------
    Student, Biometrika 6 (1908) 1-25 (from memory); R's set `sleep` as check.

    Examples
    --------
    >>> found = paired_difference([5.1, 4.9, 5.3], [5.0, 4.9, 5.1])
    >>> round(found.difference, 3)
    0.1
    """
    if len(first) != len(second):
        raise Refused.one(
            "pairs want as many values first as second",
            value=f"{len(first)} and {len(second)}",
            allowed="one second for each first",
        )
    (values,) = checked_groups([[a - b for a, b in zip(first, second, strict=True)]], 1, 2)
    mean = fsum(values) / len(values)
    sd = sqrt(fsum((value - mean) ** 2 for value in values) / (len(values) - 1))
    return _tested((len(values),), mean, sd / sqrt(len(values)), len(values) - 1.0, level, "paired t")


def _tested(
    n: tuple[int, ...], difference: float, error: float, df: float, level: float, method: str
) -> MeanDifference:
    if not 0.0 < level < 1.0:
        raise Refused.one("the confidence is out of range", value=str(level), allowed="between 0 and 1")
    want_finite(difference=difference, error=error)
    if not error > 0.0:
        raise Refused.one(
            "the values show no spread, so nothing can be compared with chance",
            do="Read the gauge finer, or bring values that differ",
        )
    reach = t_above((1.0 - level) / 2.0, df) * error
    t = difference / error
    p = 2.0 * t_tail(abs(t), df)
    return MeanDifference(n, difference, difference - reach, difference + reach, t, df, p, level, method)
