"""How much of the spread lies between checks and how much within them (one-way random effects)."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf, sqrt

from scipy.stats import f as fisher

from spc.errors import Refused
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
    n, checks = summaries.pieces, len(summaries.sizes)
    if n == checks:
        raise Refused.one(
            "every check is a single piece, so the spread cannot be split",
            allowed="2 or more pieces in a check",
            do="Gauge several pieces a check",
        )
    between = fsum(
        size * (mean - summaries.mean) ** 2
        for size, mean in zip(summaries.sizes, summaries.means, strict=True)
    )
    within = fsum((size - 1) * sd**2 for size, sd in zip(summaries.sizes, summaries.sds, strict=True))
    if between == 0.0 and within == 0.0:
        raise Refused.one("the readings are all equal", do="Read the gauge to a finer step")
    ms_between, ms_within = between / (checks - 1), within / (n - checks)
    typical = (n - fsum(size**2 for size in summaries.sizes) / n) / (checks - 1)
    component = max(0.0, (ms_between - ms_within) / typical)
    f = ms_between / ms_within if ms_within > 0.0 else inf
    return BetweenChecks(
        between_squares=between,
        within_squares=within,
        between_freedom=checks - 1,
        within_freedom=n - checks,
        between_mean_square=ms_between,
        within_mean_square=ms_within,
        f=f,
        p=float(fisher.sf(f, checks - 1, n - checks)),
        sigma_between=sqrt(component),
        sigma_within=sqrt(ms_within),
        sigma_total=sqrt(component + ms_within),
        between_share=component / (component + ms_within),
        mean=summaries.mean,
        n=n,
        subgroups=checks,
        method="one-way random effects by the analysis of variance",
    )
