"""Acceptance control limit: between a process level that is wanted and one that must be found."""

from dataclasses import dataclass
from math import ceil, isfinite, sqrt

from scipy.special import ndtr, ndtri

from spc.errors import Refusal, Refused

__all__ = ["AcceptanceLimit", "acceptance_limit"]


@dataclass(frozen=True, slots=True)
class AcceptanceLimit:
    """One acceptance control limit and what it costs.

    Attributes
    ----------
    side : str
        ``upper`` or ``lower``: the side on which the rejectable level lies.
    limit : float
        For the mean of a check: weighted between the two below, so that neither risk is favoured.
    from_acceptable, from_rejectable : float
        Limit that keeps exactly alpha, and the one that keeps exactly beta, with n pieces.
    exact_n : float
        Pieces that keep both risks, unrounded.
    n : int
        Pieces a check.
    alpha, beta : float
        Risks asked for: alarm at the acceptable level, none at the rejectable one.
    alpha_kept, beta_kept : float
        Risks of `limit` with n pieces.
    level : float
        1 - alpha.
    method : str
        Formula.
    """

    side: str
    limit: float
    from_acceptable: float
    from_rejectable: float
    exact_n: float
    n: int
    alpha: float
    beta: float
    alpha_kept: float
    beta_kept: float
    level: float
    method: str


def acceptance_limit(
    acceptable: float,
    rejectable: float,
    sigma: float,
    alpha: float = 0.05,
    beta: float = 0.10,
    n: int | None = None,
) -> AcceptanceLimit:
    """Acceptance control limit of check means, for a process that need not stand still.

    Parameters
    ----------
    acceptable, rejectable : float
        Process levels APL and RPL in one unit; the limit lies on the side of RPL.
    sigma : float
        Standard deviation of one piece within a check, above 0.
    alpha, beta : float
        Risk of an alarm at APL and of none at RPL, between 0 and 0.5.
    n : int, optional
        Pieces a check; the fewest that keep both risks without it.

    Returns
    -------
    AcceptanceLimit
        APL + z(1-alpha) sigma/sqrt n = RPL - z(1-beta) sigma/sqrt n where n is exact; mirrored below.

    Raises
    ------
    Refused
        Equal levels, sigma not above 0, risks out of range.

    Notes
    -----
    Use it only where the spread within checks is in control and the capability is high.

    References
    ----------
    ISO 7870-3:2020 (formulas from memory; the condition of use was read in its foreword).

    Examples
    --------
    >>> found = acceptance_limit(0.010, 0.020, sigma=0.006)
    >>> found.n, round(found.limit, 5)
    (4, 0.01562)
    """
    _check(acceptable, rejectable, sigma, alpha, beta, n)
    z_alpha, z_beta = float(ndtri(1.0 - alpha)), float(ndtri(1.0 - beta))
    side, sign = ("upper", 1.0) if rejectable > acceptable else ("lower", -1.0)
    exact = ((z_alpha + z_beta) * sigma / (rejectable - acceptable)) ** 2
    pieces = max(1, ceil(exact - 1e-9)) if n is None else n
    error = sigma / sqrt(pieces)
    limit = (z_alpha * rejectable + z_beta * acceptable) / (z_alpha + z_beta)
    return AcceptanceLimit(
        side=side,
        limit=limit,
        from_acceptable=acceptable + sign * z_alpha * error,
        from_rejectable=rejectable - sign * z_beta * error,
        exact_n=exact,
        n=pieces,
        alpha=alpha,
        beta=beta,
        alpha_kept=float(ndtr(-abs(limit - acceptable) / error)),
        beta_kept=float(ndtr(-abs(rejectable - limit) / error)),
        level=1.0 - alpha,
        method="acceptance control limit, weighted by the quantiles of both risks",
    )


def _check(
    acceptable: float, rejectable: float, sigma: float, alpha: float, beta: float, n: int | None
) -> None:
    refusals = [
        Refusal(
            f"the risk {name} is out of range", value=str(value), column=name, allowed="between 0 and 0.5"
        )
        for name, value in (("alpha", alpha), ("beta", beta))
        if not 0.0 < value < 0.5
    ]
    if not (isfinite(sigma) and sigma > 0.0):
        refusals.append(Refusal("sigma is not above 0", value=str(sigma), column="sigma", allowed="above 0"))
    if not (isfinite(acceptable) and isfinite(rejectable)) or acceptable == rejectable:
        refusals.append(
            Refusal(
                "the acceptable and the rejectable level must be two different numbers",
                value=f"{acceptable:g} and {rejectable:g}",
                allowed="two finite numbers that differ",
            )
        )
    if n is not None and n < 1:
        refusals.append(
            Refusal("a check has at least one piece", value=str(n), column="n", allowed="1 or more")
        )
    if refusals:
        raise Refused(refusals)
