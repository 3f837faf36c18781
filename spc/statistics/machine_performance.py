"""Pm and Pmk: what a machine held in one short proving run, nothing else changing."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.statistics.fitted_model import FittedModel, fit_model
from spc.statistics.index_intervals import Estimate, location_interval, one_sided_interval, spread_interval
from spc.statistics.indices import check_tolerance, location_index, spread_index
from spc.statistics.moments import sample_moments
from spc.statistics.percentile_indices import percentile_indices

__all__ = ["MachinePerformance", "machine_performance"]

_CUSTOMARY = 100
_LEAST = 50


@dataclass(frozen=True, slots=True)
class MachinePerformance:
    """Indices of a proving run.

    Attributes
    ----------
    n : int
        Pieces of the run.
    mean, sd : float
        In the unit of the readings; n-1 in the divisor.
    model : str
        Distribution model.
    pm : Estimate or None
        Tolerance over the width of the run; None with one limit.
    pmk : Estimate
        Distance to the nearer limit over half that width.
    level : float
        Confidence of the intervals.
    method : str
        How indices and intervals came to be.
    warning : str
        What speaks against believing them; empty where nothing does.
    """

    n: int
    mean: float
    sd: float
    model: str
    pm: Estimate | None
    pmk: Estimate
    level: float
    method: str
    warning: str


def machine_performance(
    readings: Sequence[float],
    lower: float | None = None,
    upper: float | None = None,
    *,
    model: str = "normal",
    natural_zero: bool = False,
    confidence: float = 0.95,
    seed: int = 0,
) -> MachinePerformance:
    """Performance of a machine in one uninterrupted run, for its acceptance after a change of dies or a repair.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        Pieces in the order rolled: one bar batch, one setting, one person, no stop; customary 100, at least 50.
    lower, upper : float, optional
        Tolerance limits, at least one.
    model : str
        Distribution model; see `fit_model`.
    natural_zero : bool
        The characteristic cannot be negative, so a lower limit of 0 is none.
    confidence : float
        Of the intervals, between 0 and 1.
    seed : int
        Of the make-believe samples; not used by the normal model.

    Returns
    -------
    MachinePerformance
        Normal: 6 s and 3 s, chi-square and Bissell (one limit: noncentral t) intervals; others: percentiles.

    Raises
    ------
    Refused
        No limit, crossed limits, too few, missing or equal readings.

    Notes
    -----
    A short run says nothing about wear, bar batches or shifts; process indices do.

    References
    ----------
    ISO 22514-3, machine performance studies (from memory, clause not known).

    Examples
    --------
    >>> run = [9.9, 10.1, 10.0, 10.2, 9.8, 10.0, 10.1, 9.9]
    >>> found = machine_performance(run, lower=9.4, upper=10.6)
    >>> round(found.pm.estimate, 2), found.warning[:8]
    (1.53, '8 pieces')
    """
    if natural_zero and lower is not None and lower <= 0.0:
        lower = None
    check_tolerance(lower, upper, None)
    moments = sample_moments(readings)
    fitted = fit_model(readings, model)
    if model == "normal":
        pm, pmk = _normal(moments.mean, moments.sd, moments.n, lower, upper, confidence)
    else:
        found = percentile_indices(fitted, lower, upper, seed=seed, confidence=confidence)
        pm, pmk = found.pp, found.ppk
    return MachinePerformance(
        n=moments.n,
        mean=moments.mean,
        sd=moments.sd,
        model=model,
        pm=pm,
        pmk=pmk,
        level=confidence,
        method=f"one proving run, {_width(fitted)}; interval: {pmk.method}",
        warning=_warning(moments.n),
    )


def _normal(
    mean: float, sd: float, n: int, lower: float | None, upper: float | None, confidence: float
) -> tuple[Estimate | None, Estimate]:
    spread = spread_index(lower, upper, sd)
    interval = location_interval if lower is not None and upper is not None else one_sided_interval
    pmk = interval(location_index(mean, lower, upper, sd), n, None, confidence)
    return (None if spread is None else spread_interval(spread, n, None, confidence)), pmk


def _width(fitted: FittedModel) -> str:
    return "width 6 s" if fitted.name == "normal" else f"width between quantiles of the {fitted.name} model"


def _warning(n: int) -> str:
    if n >= _CUSTOMARY:
        return ""
    if n >= _LEAST:
        return f"{n} pieces: {_CUSTOMARY} are customary for a proving run."
    return f"{n} pieces are too few for a proving run: roll {_LEAST} at least, {_CUSTOMARY} are customary."
