"""Does a gauge hold its zero over weeks? The same master on many occasions."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refused
from spc.statistics.chart_signals import ChartSignal, chart_signals
from spc.statistics.individuals import individuals_limits
from spc.statistics.shewhart import ShewhartLimits
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["GaugeStability", "gauge_stability"]


@dataclass(frozen=True, slots=True)
class GaugeStability:
    """What a master showed over time.

    Attributes
    ----------
    occasions, repeats : int
        Occasions, and repeats on each.
    bias : float
        Grand mean minus certified size.
    sigma_within, df_within : float, int
        Pooled standard deviation of repeats on one occasion; 0 and 0 for single readings.
    sigma_between, df_between : float, int
        Standard deviation of the occasions' means.
    limits : ShewhartLimits
        Of the occasions' means, charted as individuals, so that day-to-day spread is in them.
    signals : tuple of ChartSignal
        Occasions beyond the limits, and steps between neighbours beyond theirs.
    drift : TrendLine
        Means over the number of the occasion.
    says : str
        In one sentence.
    """

    occasions: int
    repeats: int
    bias: float
    sigma_within: float
    df_within: int
    sigma_between: float
    df_between: int
    limits: ShewhartLimits
    signals: tuple[ChartSignal, ...]
    drift: TrendLine
    says: str


def gauge_stability(
    occasions: Sequence[Sequence[float]], reference: float, *, alpha: float = 0.05
) -> GaugeStability:
    """Stability of a gauge on its master, for whoever sets the time until it is checked again.

    Parameters
    ----------
    occasions : sequence of sequences of float
        Repeats on one master, oldest occasion first, equally many on each; three occasions or more.
    reference : float
        Certified size, in the same unit.
    alpha : float
        A drift is said where its p is below this.

    Returns
    -------
    GaugeStability
        Within: K(J-1) degrees of freedom; between: K-1.

    Raises
    ------
    Refused
        Too few or uneven occasions, missing values, means that never differ.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 2.4.3.1 (levels 1 and 2); AIAG manual, stability (from memory).
    """
    if not isfinite(reference):
        raise Refused.one(
            "the certified size is missing or not finite", value=str(reference), allowed="a finite number"
        )
    summaries = summarise_subgroups(occasions, least_subgroups=3, chart="the stability of a gauge")
    if not 0.0 < alpha < 1.0:
        raise Refused.one("alpha is out of range", value=str(alpha), allowed="between 0 and 1, usually 0.05")
    if not isinstance(summaries.n, int):
        raise Refused.one(
            "the occasions do not have equally many repeats",
            value=f"{min(summaries.sizes)} to {max(summaries.sizes)}",
            do="Leave out the occasions with fewer repeats",
        )
    count, repeats = len(summaries.means), summaries.n
    grand = sum(summaries.means) / count
    between = sqrt(sum((mean - grand) ** 2 for mean in summaries.means) / (count - 1))
    limits = individuals_limits(summaries.means)
    signals = chart_signals(limits)
    drift = trend_line(range(1, count + 1), summaries.means)
    return GaugeStability(
        occasions=count,
        repeats=repeats,
        bias=grand - reference,
        sigma_within=sqrt(sum(sd**2 for sd in summaries.sds) / count),
        df_within=count * (repeats - 1),
        sigma_between=between,
        df_between=count - 1,
        limits=limits,
        signals=signals,
        drift=drift,
        says=_say(count, drift, len({signal.index for signal in signals if signal.of == "location"}), alpha),
    )


def _say(count: int, drift: TrendLine, out: int, alpha: float) -> str:
    over = drift.slope * (count - 1)
    if drift.p < alpha:
        return (
            f"The gauge drifted by {over:+.3g} over {count} occasions (p = {drift.p:.2g}): set it more often."
        )
    if out:
        return f"{out} of {count} occasions {'stands' if out == 1 else 'stand'} out: find out what was different there."
    return f"The gauge held its zero over {count} occasions as far as these readings can tell."
