"""Does the bias of a gauge change along its range? Repeats on several masters and a line through them."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["GaugeLinearity", "gauge_linearity"]


@dataclass(frozen=True, slots=True)
class GaugeLinearity:
    """Bias over size.

    Attributes
    ----------
    masters, n : int
        Different sizes and all readings.
    biases : tuple of (float, float)
        Size and mean bias, in ascending size.
    line : TrendLine
        Bias of single readings over certified size.
    linear : bool
        Zero bias lies inside the interval of the line at every master.
    level : float
        Confidence of that interval.
    says : str
        In one sentence.
    """

    masters: int
    n: int
    biases: tuple[tuple[float, float], ...]
    line: TrendLine
    linear: bool
    level: float
    says: str


def gauge_linearity(
    references: Sequence[float], readings: Sequence[float], *, level: float = 0.95
) -> GaugeLinearity:
    """Bias of a gauge over its range, for whoever gauges several sizes with it.

    Parameters
    ----------
    references, readings : sequence of float
        Certified size and reading, in pairs and one unit; at least two sizes, better five.
    level : float
        Confidence of the interval of the line.

    Returns
    -------
    GaugeLinearity
        Slope in unit per unit; the intercept is the line's bias at size 0.

    Raises
    ------
    Refused
        Fewer than three readings, one size only, missing values.

    References
    ----------
    AIAG Measurement Systems Analysis, 4th ed. (2010), chapter III-B, linearity (from memory).

    Examples
    --------
    >>> found = gauge_linearity([2, 2, 6, 6, 10, 10], [2.5, 2.4, 6.0, 6.1, 9.4, 9.3])
    >>> found.linear, round(found.line.slope, 3)
    (False, -0.137)
    """
    if len(references) != len(readings):
        raise Refused.one(
            "sizes and readings come in pairs",
            value=f"{len(references)}, {len(readings)}",
            allowed="one reading a size",
        )
    biases = [reading - size for size, reading in zip(references, readings, strict=True)]
    line = trend_line(references, biases, level)
    sizes = sorted(set(references))
    means = tuple(
        (size, sum(chosen) / len(chosen))
        for size in sizes
        for chosen in ([bias for at, bias in zip(references, biases, strict=True) if at == size],)
    )
    ends = [line.interval_at(size, level) for size in sizes]
    linear = all(low <= 0.0 <= high for low, high in ends)
    says = (
        f"Bias goes from {line.at(sizes[0]):+.3g} at {sizes[0]:g} to {line.at(sizes[-1]):+.3g} at "
        f"{sizes[-1]:g}: {'no more than chance explains' if linear else 'more than chance explains'}."
    )
    return GaugeLinearity(len(sizes), line.n, means, line, linear, level, says)
