"""All pairs of groups at once, with intervals that hold together: Tukey-Kramer and Games-Howell."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt

from spc.errors import Refused
from spc.statistics.one_way_anova import one_way_anova
from spc.statistics.studentized_range_law import studentized_range_point, studentized_range_tail

__all__ = ["PairDifference", "games_howell", "pair_of", "tukey"]


@dataclass(frozen=True, slots=True)
class PairDifference:
    """Mean of the second group minus that of the first.

    Attributes
    ----------
    first, second : int
        Places of the groups, from 0.
    difference, low, high : float
        Second minus first, with an interval that holds for all pairs together.
    p : float
        Adjusted for the number of pairs.
    df : float
        Degrees of freedom of its error.
    level : float
        Confidence of all intervals together.
    method : str
        Whose intervals.
    """

    first: int
    second: int
    difference: float
    low: float
    high: float
    p: float
    df: float
    level: float
    method: str

    @property
    def shown(self) -> bool:
        """The interval leaves 0 out."""
        return self.low > 0.0 or self.high < 0.0


def tukey(groups: Sequence[Sequence[float]], *, level: float = 0.95) -> tuple[PairDifference, ...]:
    """All pairwise differences with equal spreads, for whoever asks which groups differ.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more of independent values.
    level : float
        Confidence of all intervals together.

    Returns
    -------
    tuple of PairDifference
        Second minus first, by place; Tukey-Kramer for unequal sizes.

    Raises
    ------
    Refused
        As `one_way_anova`; a confidence out of range.

    References
    ----------
    Tukey 1953; Kramer, Biometrics 12 (1956) 307-310 (from memory).
    """
    plain = one_way_anova(groups)
    df = float(plain.lines[1].df)
    errors = [plain.residual_sd**2 / size for size in plain.n]
    return tuple(
        pair_of((i, j), plain.means, errors[i] + errors[j], (len(plain.n), df), level, "Tukey-Kramer")
        for i, j in combinations(range(len(plain.n)), 2)
    )


def games_howell(groups: Sequence[Sequence[float]], *, level: float = 0.95) -> tuple[PairDifference, ...]:
    """All pairwise differences with spreads of their own, for whoever asks which groups differ.

    Parameters
    ----------
    groups, level
        As for `tukey`; three values or more in each group are wanted, two are taken.

    Returns
    -------
    tuple of PairDifference
        Welch's degrees of freedom for each pair.

    Raises
    ------
    Refused
        As `one_way_anova`; a group of one value or without spread.

    References
    ----------
    Games & Howell, J. Educational Statistics 1 (1976) 113-125 (from memory).
    """
    plain = one_way_anova(groups)
    if min(plain.n) < 2 or min(plain.sds) <= 0.0:
        raise Refused.one(
            "every group must show a spread of its own",
            value=f"smallest group {min(plain.n)}, smallest s {min(plain.sds):g}",
            do="Collect more values, or leave out the group without spread",
        )
    errors = [sd**2 / size for sd, size in zip(plain.sds, plain.n, strict=True)]
    pairs = []
    for i, j in combinations(range(len(plain.n)), 2):
        a, b = errors[i], errors[j]
        df = (a + b) ** 2 / (a**2 / (plain.n[i] - 1) + b**2 / (plain.n[j] - 1))
        pairs.append(pair_of((i, j), plain.means, a + b, (len(plain.n), df), level, "Games-Howell"))
    return tuple(pairs)


def pair_of(
    places: tuple[int, int],
    means: Sequence[float],
    variance: float,
    family: tuple[int, float],
    level: float,
    method: str,
) -> PairDifference:
    """One pair by the studentized range.

    Parameters
    ----------
    places : tuple of int
        Of the two groups.
    means : sequence of float
        Of all groups.
    variance : float
        Of the difference of these two means.
    family : tuple of (int, float)
        How many groups, and the degrees of freedom of the error.
    level, method
        Said in the result.
    """
    if not 0.0 < level < 1.0:
        raise Refused.one("the confidence is out of range", value=str(level), allowed="between 0 and 1")
    count, df = family
    difference = means[places[1]] - means[places[0]]
    error = sqrt(variance / 2.0)
    reach = studentized_range_point(level, count, df) * error
    p = studentized_range_tail(abs(difference) / error, count, df)
    return PairDifference(*places, difference, difference - reach, difference + reach, p, df, level, method)
