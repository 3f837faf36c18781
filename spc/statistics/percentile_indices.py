"""Performance indices from the quantiles of any distribution model (percentile method), with intervals."""

from dataclasses import dataclass

import numpy as np

from spc.statistics.fitted_model import FittedModel
from spc.statistics.index_intervals import Estimate, tail_share
from spc.statistics.indices import check_tolerance
from spc.statistics.normal_model import NormalQuantiles
from spc.statistics.percentile_intervals import SHARES, by_order, by_refitting, quantile_indices

__all__ = ["PercentileIndices", "percentile_indices"]


@dataclass(frozen=True, slots=True)
class PercentileIndices:
    """Indices that read only quantiles, so that any distribution will do.

    Attributes
    ----------
    model : str
        Word of the distribution model.
    n : int
        Pieces.
    quantiles : NormalQuantiles
        0.135 %, 50 % and 99.865 % quantile of the model.
    pp, ppk_lower, ppk_upper : Estimate or None
        None where the tolerance has no such index.
    ppk : Estimate
        The smaller of the two, or the only one.
    fallout_ppm : Estimate
        Expected outside the limits, in parts per million.
    level : float
        Confidence of the intervals.
    method : str
        How the intervals came to be.
    warning : str
        What the number of pieces cannot carry; empty where nothing speaks against it.
    """

    model: str
    n: int
    quantiles: NormalQuantiles
    pp: Estimate | None
    ppk: Estimate
    ppk_upper: Estimate | None
    ppk_lower: Estimate | None
    fallout_ppm: Estimate
    level: float
    method: str
    warning: str


def percentile_indices(
    model: FittedModel,
    lower: float | None = None,
    upper: float | None = None,
    *,
    seed: int,
    natural_zero: bool = False,
    confidence: float = 0.95,
    draws: int = 2000,
) -> PercentileIndices:
    """Performance indices of a fitted model, for characteristics that are not normal.

    Parameters
    ----------
    model : FittedModel
        Any.
    lower, upper : float, optional
        Tolerance limits in the unit of the readings, at least one.
    seed, draws : int
        Of the make-believe samples behind the intervals.
    natural_zero : bool
        The characteristic cannot be negative: a lower limit of 0 is then no tolerance limit.
    confidence : float
        Of the two-sided intervals.

    Returns
    -------
    PercentileIndices
        Pp = (U-L)/(X99.865 - X0.135), PpkU = (U - X50)/(X99.865 - X50), PpkL = (X50 - L)/(X50 - X0.135).

    Raises
    ------
    Refused
        No limit left, crossed limits, confidence out of range.

    Notes
    -----
    Shares are taken literally, so a normal model gives 2.999977 and not 3 sigma. Intervals refit the model to
    make-believe samples (reverse percentiles on the asinh scale, which is exact for Pp of a normal model). The
    empirical model has intervals from order statistics alone; below 741 pieces no piece lies so far out, and
    the lower end is 0.

    References
    ----------
    ISO 22514-2, general geometric method (from memory).

    Examples
    --------
    >>> from spc.statistics.fitted_model import fit_model
    >>> runout = [2.0, 3.1, 1.2, 4.0, 2.6, 3.3, 5.1, 1.9, 2.8, 0.9]
    >>> found = percentile_indices(fit_model(runout, "rayleigh"), upper=10.0, seed=1, natural_zero=True)
    >>> round(found.ppk.estimate, 2), found.pp is None
    (1.47, True)
    """
    if natural_zero and lower is not None and lower <= 0.0:
        lower = None
    check_tolerance(lower, upper, None)
    tail_share(confidence, model.n)
    ends = np.array([model.quantile(share) for share in SHARES])
    points = {key: float(each) for key, each in quantile_indices(ends, lower, upper).items()}
    ppm = 1e6 * model.outside(lower, upper)
    intervals, method = _intervals(model, (lower, upper), points, ppm, (seed, draws), confidence)

    def estimate(key: str, value: float) -> Estimate:
        return Estimate(value, *intervals[key], model.n, confidence, method)

    found = {key: estimate(key, value) for key, value in points.items()}
    return PercentileIndices(
        model=model.name,
        n=model.n,
        quantiles=NormalQuantiles(float(ends[0]), float(ends[1]), float(ends[2]), model.n),
        pp=found.get("pp"),
        ppk=found["ppk"],
        ppk_upper=found.get("ppk_upper"),
        ppk_lower=found.get("ppk_lower"),
        fallout_ppm=estimate("fallout_ppm", ppm),
        level=confidence,
        method=method,
        warning=_warning(model, ppm),
    )


def _intervals(
    model: FittedModel,
    limits: tuple[float | None, float | None],
    points: dict[str, float],
    ppm: float,
    random: tuple[int, int],
    confidence: float,
) -> tuple[dict[str, tuple[float, float]], str]:
    """Ends of each index and of the fallout, and how they came to be; `random` is seed and draws."""
    if model.family is None:
        return by_order(model, limits, points, confidence), "order statistics, any distribution"
    return by_refitting(model, limits, points, ppm, random, confidence)


def _warning(model: FittedModel, ppm: float) -> str:
    said = []
    if model.family is None and model.n * SHARES[0] < 1.0:
        said.append(
            f"{model.n} pieces have none as far out as 0.135 %: the outermost piece stands in for that quantile and "
            "the indices look too good. Take 741 pieces or more, or a model with a formula."
        )
    if ppm < 1.0 and model.family is not None:
        said.append(f"Expected outside: under 1 ppm, cannot be told from {model.n:,} pieces.")
    return " ".join(said)
