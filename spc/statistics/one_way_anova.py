"""One-way analysis of variance: whether groups differ in their mean more than chance explains."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refusal, Refused
from spc.statistics.anova_line import AnovaLine, anova_line
from spc.statistics.group_squares import group_squares

__all__ = ["OneWayAnova", "checked_groups", "one_way_anova"]


@dataclass(frozen=True, slots=True)
class OneWayAnova:
    """Groups against each other, single values independent.

    Attributes
    ----------
    n : tuple of int
        Values in each group.
    means, sds : tuple of float
        Of each group; the sd of a single value is 0 and says nothing.
    mean : float
        Of all values.
    correction : float
        N mean², the sum of squares that the grand mean takes out.
    lines : tuple of AnovaLine
        between, within, total.
    r_squared : float
        Share of the total sum of squares between groups.
    residual_sd : float
        Pooled standard deviation within groups.
    """

    n: tuple[int, ...]
    means: tuple[float, ...]
    sds: tuple[float, ...]
    mean: float
    correction: float
    lines: tuple[AnovaLine, AnovaLine, AnovaLine]
    r_squared: float
    residual_sd: float

    @property
    def f(self) -> float:
        """Ratio of the mean squares between and within."""
        return self.lines[0].f or 0.0

    @property
    def p(self) -> float:
        """Chance of a ratio at least as large without any difference."""
        return 1.0 if self.lines[0].p is None else self.lines[0].p


def one_way_anova(groups: Sequence[Sequence[float]]) -> OneWayAnova:
    """Analysis of variance of groups of independent values, for whoever compares machines or batches.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more, one of them with two values or more; sizes may differ.

    Returns
    -------
    OneWayAnova
        Assumes equal spreads: `welch_anova` does not. Pieces of one check are not independent: `compare_groups`.

    Raises
    ------
    Refused
        Too few groups or values, missing values, or no spread within any group.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 7.4.3; StRD data set SiRstv.

    Examples
    --------
    >>> found = one_way_anova([[6.9, 5.4, 5.8, 4.6, 4.0], [8.3, 6.8, 7.8, 9.2, 6.5], [8.0, 10.5, 8.1, 6.9, 9.3]])
    >>> round(found.f, 2), round(found.p, 5)
    (9.59, 0.00325)
    """
    values = checked_groups(groups)
    squares = group_squares(values)
    if squares.within_freedom == 0 or not squares.within > 0.0:
        raise Refused.one(
            "no group shows any spread, so nothing can be compared with chance",
            do="Bring groups with two values or more that differ",
        )
    within = anova_line("within", squares.within_freedom, squares.within)
    between = anova_line("between", squares.between_freedom, squares.between, within)
    total = AnovaLine("total", sum(squares.sizes) - 1, squares.between + squares.within)
    return OneWayAnova(
        n=squares.sizes,
        means=tuple(squares.mean + offset for offset in squares.offsets),
        sds=tuple(
            sqrt(ss / (size - 1)) if size > 1 else 0.0
            for ss, size in zip(squares.within_each, squares.sizes, strict=True)
        ),
        mean=squares.mean,
        correction=sum(squares.sizes) * squares.mean**2,
        lines=(between, within, total),
        r_squared=squares.between / total.ss,
        residual_sd=sqrt(squares.within_mean_square),
    )


def checked_groups(
    groups: Sequence[Sequence[float]], least_groups: int = 2, least_values: int = 1
) -> tuple[tuple[float, ...], ...]:
    """Groups as tuples, or every reason against them at once."""
    values = tuple(tuple(float(value) for value in group) for group in groups)
    found = []
    if len(values) < least_groups:
        found.append(
            Refusal("too few groups to compare", value=str(len(values)), allowed=f"{least_groups} or more")
        )
    for number, group in enumerate(values, start=1):
        if len(group) < least_values:
            found.append(
                Refusal(
                    "the group has too few values",
                    value=str(len(group)),
                    column=f"group {number}",
                    allowed=f"{least_values} or more",
                    do="Collect more, or leave the group out",
                )
            )
        found += [
            Refusal(
                "the value is missing or not finite",
                str(value),
                column=f"group {number}, value {place}",
                do="Leave it out",
            )
            for place, value in enumerate(group, start=1)
            if not isfinite(value)
        ]
    if found:
        raise Refused(found)
    return values
