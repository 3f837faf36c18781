"""A crossed gauge study by analysis of variance: how much of what is seen is the gauge and its users."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, isfinite, sqrt

from spc.errors import Refused
from spc.statistics.anova_line import AnovaLine
from spc.statistics.gauge_anova import gauge_anova
from spc.statistics.gauge_layout import GaugeReading, gauge_layout
from spc.statistics.mean_square_intervals import VarianceInterval, mean_square_interval

__all__ = ["GaugeComponent", "GaugeStudy", "distinct_sizes", "gauge_study"]

POOL_ABOVE = 0.25
"""An interaction with a p above this is pooled with repeatability (AIAG manual, 4th ed., from memory)."""


@dataclass(frozen=True, slots=True)
class GaugeComponent:
    """One source of spread.

    Attributes
    ----------
    name : str
        repeatability, appraiser, interaction, reproducibility (these two together), grr, part or total.
    sigma, low, high : float
        Standard deviation with the interval of the study's level, in the unit of the readings.
    percent_of_total : float
        100 sigma / sigma(total).
    percent_of_tolerance : float or None
        100 · 6 sigma / tolerance; None without a tolerance.
    percent_of_variance : float
        100 sigma² / sigma(total)²; these add up.
    """

    name: str
    sigma: float
    low: float
    high: float
    percent_of_total: float
    percent_of_tolerance: float | None
    percent_of_variance: float


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """What a gauge study found.

    Attributes
    ----------
    n, parts, appraisers, trials : int
        Readings; parts, appraisers, and readings of one part by one appraiser.
    anova : tuple of AnovaLine
        part, appraiser, interaction, repeatability, total; with one appraiser part, repeatability, total.
    components : tuple of GaugeComponent
        In the order of `GaugeComponent.name`; with one appraiser repeatability, grr, part, total.
    ndc_exact, ndc : float, int
        Sizes that can be told apart: sqrt(2) sigma(part) / sigma(grr), and its whole number, at least 1.
        AIAG's 1.41 in place of sqrt(2) is 0.3 % less. Infinite where the gauge shows no spread.
    interaction_pooled : bool
        Whether the interaction went into repeatability.
    tolerance : float or None
        Upper minus lower limit.
    level : float
        Confidence of the intervals.
    method : str
        How the components were computed.
    """

    n: int
    parts: int
    appraisers: int
    trials: int
    anova: tuple[AnovaLine, ...]
    components: tuple[GaugeComponent, ...]
    ndc_exact: float
    ndc: int
    interaction_pooled: bool
    tolerance: float | None
    level: float
    method: str

    def component(self, name: str) -> GaugeComponent | None:
        """Return the source of spread of that name; None where this study cannot know it."""
        return next((each for each in self.components if each.name == name), None)


def gauge_study(
    readings: Sequence[GaugeReading],
    tolerance: float | None = None,
    *,
    pool_above: float = POOL_ABOVE,
    level: float = 0.95,
) -> GaugeStudy:
    """Split the spread of a gauge study into gauge, people and parts, for whoever approves a gauge.

    Parameters
    ----------
    readings : sequence of GaugeReading
        Every appraiser gauges every part equally often, twice or more.
    tolerance : float, optional
        Upper minus lower limit, above 0, in the unit of the readings.
    pool_above : float
        The interaction is pooled with repeatability where its p is above this; 1 keeps it always.
    level : float
        Confidence of the intervals.

    Returns
    -------
    GaugeStudy
        Part and appraiser are tested against the interaction, or against the pooled repeatability.

    Raises
    ------
    Refused
        An incomplete or too small study, a tolerance not above 0.

    Notes
    -----
    Appraisers and parts count as random. A negative component is 0. Reproducibility includes the interaction.
    Intervals: chi-square for repeatability, modified large sample for the rest. With one appraiser nothing is
    known about reproducibility and the gauge's spread is its repeatability alone.

    References
    ----------
    AIAG Measurement Systems Analysis, 4th ed. (2010), chapter III-B, analysis of variance method (from memory).
    """
    if tolerance is not None and not (isfinite(tolerance) and tolerance > 0.0):
        raise Refused.one(
            "the tolerance must be above 0", value=str(tolerance), allowed="upper minus lower limit"
        )
    layout = gauge_layout(readings)
    if not 0.0 <= pool_above <= 1.0:
        raise Refused.one(
            "the chance for pooling is out of range", value=str(pool_above), allowed="0 to 1, usually 0.25"
        )
    anova = gauge_anova(layout, pool_above)
    intervals = {name: mean_square_interval(terms, level) for name, terms in anova.mean_squares.items()}
    sigmas = _consistent({name: interval.estimate for name, interval in intervals.items()})
    exact, whole = distinct_sizes(sigmas["part"], sigmas["grr"])
    parts, appraisers, trials = layout.values.shape
    return GaugeStudy(
        n=layout.values.size,
        parts=parts,
        appraisers=appraisers,
        trials=trials,
        anova=anova.lines,
        components=_components(sigmas, intervals, tolerance),
        ndc_exact=exact,
        ndc=whole,
        interaction_pooled=anova.interaction_pooled,
        tolerance=tolerance,
        level=level,
        method="analysis of variance, " + _said(appraisers, anova.interaction_pooled),
    )


def distinct_sizes(sigma_part: float, sigma_gauge: float) -> tuple[float, int]:
    """Number of sizes a gauge can tell apart: exact, and whole (cut off, at least 1).

    Examples
    --------
    >>> exact, whole = distinct_sizes(1.042327, 0.302372)
    >>> round(exact, 4), whole
    (4.875, 4)
    """
    if sigma_gauge <= 0.0:
        return float("inf"), 10**6
    exact = sqrt(2.0) * sigma_part / sigma_gauge
    return exact, max(1, floor(min(exact, 1e6)))


def _components(
    sigmas: dict[str, float], intervals: dict[str, VarianceInterval], tolerance: float | None
) -> tuple[GaugeComponent, ...]:
    """Each source of spread with its interval and its shares; an interval always holds its sigma."""
    return tuple(
        GaugeComponent(
            name=name,
            sigma=sigma,
            low=min(sigma, sqrt(intervals[name].low)),
            high=max(sigma, sqrt(intervals[name].high)),
            percent_of_total=100.0 * sigma / sigmas["total"],
            percent_of_tolerance=None if tolerance is None else 600.0 * sigma / tolerance,
            percent_of_variance=100.0 * (sigma / sigmas["total"]) ** 2,
        )
        for name, sigma in sigmas.items()
    )


def _said(appraisers: int, pooled: bool) -> str:
    if appraisers == 1:
        return "one appraiser"
    return "interaction pooled with repeatability" if pooled else "interaction kept"


def _consistent(variances: dict[str, float]) -> dict[str, float]:
    """Standard deviations that add up, with each negative component at 0."""
    repeats, part = variances["repeatability"], variances["part"]
    if "appraiser" not in variances:
        sums = {"repeatability": repeats, "grr": repeats, "part": part, "total": repeats + part}
    else:
        people = variances["appraiser"] + variances["interaction"]
        sums = {
            "repeatability": repeats,
            "appraiser": variances["appraiser"],
            "interaction": variances["interaction"],
            "reproducibility": people,
            "grr": repeats + people,
            "part": part,
            "total": repeats + people + part,
        }
    return {name: sqrt(variance) for name, variance in sums.items()}
