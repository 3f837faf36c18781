"""How much of the spread lies between checks and how much within them (one-way random effects)."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

from spc.errors import Refused
from spc.statistics.chance_laws import f_tail
from spc.statistics.group_squares import group_squares
from spc.statistics.subgroups import summarise_subgroups

__all__ = ["BetweenChecks", "between_checks"]


@dataclass(frozen=True, slots=True)
class BetweenChecks:
    """Analysis of variance of checks, and the two sigma behind it.

    Attributes
    ----------
    between_squares, within_squares : float
        Sums of squares, in squared units of the readings.
    between_freedom, within_freedom : int
        Checks less one, and pieces less checks.
    between_mean_square, within_mean_square : float
        Squares over freedom.
    f, p : float
        Ratio of the two, and its chance if all checks had one mean; infinite without spread within.
    sigma_between, sigma_within, sigma_total : float
        Standard deviation of the check means' true levels (0 where none shows), of a piece within its check, and
        of both together.
    between_share : float
        Share of the variance that lies between checks (intraclass correlation).
    mean : float
        Of all pieces.
    n, subgroups : int
        Pieces and checks.
    method : str
        How the components came to be.
    """

    between_squares: float
    within_squares: float
    between_freedom: int
    within_freedom: int
    between_mean_square: float
    within_mean_square: float
    f: float
    p: float
    sigma_between: float
    sigma_within: float
    sigma_total: float
    between_share: float
    mean: float
    n: int
    subgroups: int
    method: str


def between_checks(subgroups: Sequence[Sequence[float]]) -> BetweenChecks:
    """Split the spread into a part between checks and a part within them, for honest intervals.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, 2 or more subgroups, at least one of 2 or more pieces; sizes may differ.

    Returns
    -------
    BetweenChecks
        Components by the analysis of variance; a negative one between checks is given as 0.

    Raises
    ------
    Refused
        Too few subgroups, single pieces only, missing readings, readings that are all equal.

    References
    ----------
    Checked against SiRstv of the NIST Statistical Reference Datasets; Davies & Goldsmith (1972), Table 6.1.

    Examples
    --------
    >>> found = between_checks([[55, 53, 54], [26, 37, 32], [78, 91, 85], [92, 100, 96], [49, 51, 50], [80, 85, 83]])
    >>> round(found.sigma_between, 3), round(found.sigma_within, 4)
    (24.805, 4.0208)
    """
    summaries = summarise_subgroups(subgroups, chart="a split of the spread")
    if summaries.pieces == len(summaries.sizes):
        raise Refused.one(
            "every check is a single piece, so the spread cannot be split",
            allowed="2 or more pieces in a check",
            do="Gauge several pieces a check",
        )
    squares = group_squares(summaries.readings)
    if squares.between == 0.0 and squares.within == 0.0:
        raise Refused.one("the readings are all equal", do="Read the gauge to a finer step")
    within, component = squares.within_mean_square, squares.between_variance
    f = squares.between_mean_square / within if within > 0.0 else inf
    return BetweenChecks(
        between_squares=squares.between,
        within_squares=squares.within,
        between_freedom=squares.between_freedom,
        within_freedom=squares.within_freedom,
        between_mean_square=squares.between_mean_square,
        within_mean_square=within,
        f=f,
        p=f_tail(f, squares.between_freedom, squares.within_freedom),
        sigma_between=sqrt(component),
        sigma_within=sqrt(within),
        sigma_total=sqrt(component + within),
        between_share=component / (component + within),
        mean=squares.mean,
        n=summaries.pieces,
        subgroups=len(summaries.sizes),
        method="one-way random effects by the analysis of variance",
    )
