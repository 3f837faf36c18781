"""A mean that neither the forecast nor its own limits allow, and what most likely lies behind it."""

from dataclasses import dataclass

from spc.shop import Characteristic, Explained, Signal
from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made
from spc.station.accounted import beside_plain_limits
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.limits_now import Limits
from spc.station.own_limits import own_limits
from spc.station.size_memory import SizeMemory
from spc.station.state import ChartState
from spc.station.told import told
from spc.wear import Forecast, Tale, WearBelief, watch_mean

__all__ = ["MeanJudged", "mean_signals"]


@quickly_made
@dataclass(frozen=True, slots=True)
class MeanJudged:
    """What judging a mean gave.

    Attributes
    ----------
    tale : Tale or None
        The story that fits best where the forecast was surprised.
    """

    chart: ChartState
    signals: tuple[Signal, ...] = ()
    explained: tuple[Explained, ...] = ()
    tale: Tale | None = None


def mean_signals(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    limits: Limits | None,
    expected: tuple[WearBelief | None, Forecast | None, bool],
    chart: ChartState,
    memory: SizeMemory,
) -> MeanJudged:
    """Judge a mean against the forecast, and against limits of its own where it has some.

    Parameters
    ----------
    expected : (WearBelief or None, Forecast or None, bool)
        What is believed and expected, and whether that is sure enough to judge by.
    memory : SizeMemory
        With this check as its last level.
    """
    belief, forecast, judging = expected
    if forecast is not None and judging:
        surprise = (gauged.mean_um - forecast.mean_um) / forecast.sd_um
        watch, finding = watch_mean(chart.watch, surprise)
        chart = changed(chart, watch=watch)
        if finding is not None:
            off_um = gauged.mean_um - forecast.mean_um
            signals, tale = told(
                context, characteristic, finding, off_um, forecast.sd_um, chart, memory.levels
            )
            return MeanJudged(chart, signals, (), tale)
    known = (belief, forecast)
    if limits is None or limits.standing == "forecast":
        plain = beside_plain_limits(context, characteristic, gauged, known, chart, memory)
        return MeanJudged(chart, (), plain)
    chart, signals, explained = own_limits(context, characteristic, gauged, limits, known, chart, memory)
    return MeanJudged(chart, signals, explained)
