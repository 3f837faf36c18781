"""What a check teaches the chart of one characteristic on one machine: spread and provisional limits."""

from collections.abc import Sequence

from spc.shop import Characteristic, Signal
from spc.shop.changed import changed
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.provisional import with_trial
from spc.station.state import ChartState
from spc.wear import learn_spread

__all__ = ["learned_chart"]


def learned_chart(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    chart: ChartState,
    signals: Sequence[Signal],
) -> ChartState:
    """Let the pieces teach the spread and, while there are none, the provisional limits."""
    single = None
    if gauged.n == 1:
        single = gauged.mean_um + context.slide_gain(characteristic, None) * context.approach_um
    spread = chart.spread
    if not any(each.kind in ("spread", "isolated") for each in signals):
        spread = learn_spread(spread, gauged.values_um, single)
    chart = changed(chart, spread=spread, last_mean_um=gauged.mean_um)
    if context.check.purpose == "hourly" and characteristic.tolerance.holds_all(gauged.values):
        chart = with_trial(characteristic, chart, gauged.values)
    return chart
