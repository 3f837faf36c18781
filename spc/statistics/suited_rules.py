"""Which charts a run rule suits, and the refusal where it is asked of another."""

from collections.abc import Sequence
from typing import Literal

from spc.errors import Refused

__all__ = ["ANY_CHART", "ORDER_CHARTS", "Plotted", "ZONE_CHARTS", "refuse_unsuited"]

Plotted = Literal["mean", "median", "individual", "range", "sd", "moving_range", "ewma", "cusum"]
"""What a point of the chart is."""

ZONE_CHARTS: tuple[Plotted, ...] = ("mean", "median", "individual")
"""Independent points of a law that is alike on both sides: every rule may read them."""

ORDER_CHARTS: tuple[Plotted, ...] = (*ZONE_CHARTS, "range", "sd")
"""Independent points of any law: limits, runs about the centre, trends and alternation (Nelson's tests 1 to 4)."""

ANY_CHART: tuple[Plotted, ...] = (*ORDER_CHARTS, "moving_range", "ewma", "cusum")
"""The control limits themselves."""

_WHY: dict[Plotted, str] = {
    "range": "ranges are not alike above and below their centre, so zones of 1 and 2 σ do not hold their chances",
    "sd": "standard deviations are not alike above and below their centre, so zones of 1 and 2 σ do not hold their "
    "chances",
    "moving_range": "neighbouring moving ranges share a reading, so they run together by themselves",
    "ewma": "a smoothed value carries the ones before it, so neighbours run together by themselves",
    "cusum": "a sum carries the ones before it, so neighbours run together by themselves",
}


def refuse_unsuited(words: Sequence[str], plotted: str) -> None:
    """Refuse run rules on a chart whose points they were not made for.

    Parameters
    ----------
    words : sequence of str
        The rules that do not suit, as a shop says them; none is no mistake.
    plotted : str
        What a point of the chart is.

    Raises
    ------
    Refused
        A kind of point of another name, or a rule that does not suit it.

    References
    ----------
    Western Electric Co., Statistical Quality Control Handbook (1956): tests 1 to 4 for charts with a roughly
    symmetric distribution, only the limits on range and s charts of few pieces; Nelson, J. Quality Technology 16(4)
    237-239 (1984): only tests 1 to 4 on R, s, p and c charts (both from memory).

    Examples
    --------
    >>> refuse_unsuited((), "range")
    """
    if plotted not in ANY_CHART:
        raise Refused.one("no such kind of point", value=str(plotted), allowed=", ".join(ANY_CHART))
    if words:
        raise Refused.one(
            f"this run rule does not suit the chart: {_WHY.get(plotted, 'its points are of another kind')}",
            value=f"{'; '.join(words)}, on a chart of {plotted.replace('_', ' ')}",
            allowed="the control limits" + (", trends and alternation" if plotted in ORDER_CHARTS else ""),
            do="Read the runs on the chart of means or single values",
        )
