"""Groups of checks of pieces: spread between checks and between pieces by restricted maximum likelihood."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal

import numpy as np
import numpy.typing as npt

from spc.errors import Refused

__all__ = ["NestedFit", "nested_reml"]

Floats = npt.NDArray[np.float64]
Likelihood = Literal["reml", "ml"]


@dataclass(frozen=True, slots=True)
class NestedFit:
    """Two components of spread and the groups' means.

    Attributes
    ----------
    n, checks : tuple of int
        Pieces and checks in each group.
    means, mean_variances : tuple of float
        Generalised least squares mean of each group and its variance.
    sigma_between, sigma_within : float
        Standard deviation between checks and between pieces of one check.
    df : int
        Checks minus groups: what the comparison of groups rests on.
    method : str
        reml or ml.
    """

    n: tuple[int, ...]
    checks: tuple[int, ...]
    means: tuple[float, ...]
    mean_variances: tuple[float, ...]
    sigma_between: float
    sigma_within: float
    df: int
    method: Likelihood


def nested_reml(groups: Sequence[Sequence[Sequence[float]]], method: Likelihood = "reml") -> NestedFit:
    """Fit checks as random within fixed groups, for comparisons whose pieces are not independent.

    Parameters
    ----------
    groups : sequence of groups of checks of float
        Each group with two checks or more, each check with one piece or more; sizes may differ.
    method : {"reml", "ml"}
        Restricted likelihood (equal to the analysis of variance where balanced and positive), or the plain one.

    Returns
    -------
    NestedFit
        With single pieces only, what is between checks and within cannot be told apart: all is "within".

    Raises
    ------
    Refused
        A group of fewer than two checks, an empty check, missing values, no spread within checks.

    Notes
    -----
    With θ = between²/within² and w = n/(1 + n θ) everything but θ is closed; θ is the root of the score.

    References
    ----------
    Patterson & Thompson, Biometrika 58 (1971) 545-554; Searle, Casella & McCulloch, Variance Components (1992)
    (from memory).
    """
    if not groups:
        raise Refused.one(
            "there is no group to fit", value="0", allowed="1 group or more, with 2 checks or more each"
        )
    sizes, means, squares = _summarised(groups)
    pieces = int(sum(size.sum() for size in sizes))
    count = len(sizes)
    free = pieces - (count if method == "reml" else 0)
    theta = 0.0
    if max(size.max() for size in sizes) > 1:
        if not squares > 0.0:
            raise Refused.one(
                "the pieces of every check read the same, so their spread cannot be seen",
                do="Read the gauge one digit finer",
            )
        theta = _ratio(sizes, means, squares, free, method)
    weights = [size / (1.0 + theta * size) for size in sizes]
    centres = [float(w @ m / w.sum()) for w, m in zip(weights, means, strict=True)]
    total = squares + sum(
        float(w @ (m - centre) ** 2) for w, m, centre in zip(weights, means, centres, strict=True)
    )
    within = total / free
    if not within > 0.0:
        raise Refused.one("the readings show no spread at all", do="Read the gauge one digit finer")
    return NestedFit(
        n=tuple(int(size.sum()) for size in sizes),
        checks=tuple(len(size) for size in sizes),
        means=tuple(centres),
        mean_variances=tuple(within / float(w.sum()) for w in weights),
        sigma_between=sqrt(theta * within),
        sigma_within=sqrt(within),
        df=sum(len(size) for size in sizes) - count,
        method=method,
    )


def _summarised(
    groups: Sequence[Sequence[Sequence[float]]],
) -> tuple[list[Floats], list[Floats], float]:
    """Sizes and means of the checks by group, and the sum of squares within checks."""
    sizes, means, squares = [], [], 0.0
    for number, checks in enumerate(groups, start=1):
        if len(checks) < 2:
            raise Refused.one(
                "a group needs two checks or more, as pieces of one check say nothing about the next",
                value=str(len(checks)),
                column=f"group {number}",
                do="Collect more checks",
            )
        values = [np.asarray(check, dtype=float) for check in checks]
        if any(len(check) == 0 or not np.isfinite(check).all() for check in values):
            raise Refused.one(
                "a check is empty or holds a value that is missing or not finite",
                column=f"group {number}",
                do="Leave it out",
            )
        sizes.append(np.array([len(check) for check in values], dtype=float))
        means.append(np.array([check.mean() for check in values]))
        squares += sum(float(np.sum((check - check.mean()) ** 2)) for check in values)
    return sizes, means, squares


def _ratio(sizes: list[Floats], means: list[Floats], squares: float, free: int, method: Likelihood) -> float:
    """Root of the score of θ; 0 where the likelihood falls from there on."""
    from scipy.optimize import brentq

    def score(theta: float) -> float:
        slope, lost, total = 0.0, 0.0, squares
        for size, mean in zip(sizes, means, strict=True):
            w = size / (1.0 + theta * size)
            from_centre = (mean - w @ mean / w.sum()) ** 2
            total += float(w @ from_centre)
            lost += float(w**2 @ from_centre)
            slope += float(w.sum())
            if method == "reml":
                slope -= float(w @ w / w.sum())
        return slope - free * lost / total

    if score(0.0) >= 0.0:
        return 0.0
    high = 1.0
    while score(high) < 0.0:
        high *= 4.0
    return float(brentq(score, 0.0, high, xtol=1e-14 * high, rtol=1e-14))
