"""One characteristic of one check, judged: limits, signals, and what it taught."""

import math
from dataclasses import dataclass
from decimal import Decimal

from spc.shop import Characteristic, Explained, Interval90, Signal, Subgroup
from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made
from spc.station.context import CheckContext
from spc.station.explained import explained_by_news, informed_news
from spc.station.gauged import Gauged, expected_mean, gauged_now
from spc.station.learned_chart import learned_chart
from spc.station.limits_now import Limits, judges, limits_now
from spc.station.look_back import learned_moves, with_level
from spc.station.mean_signals import MeanJudged, mean_signals
from spc.station.over_adjusted import with_over_adjustment
from spc.station.piece_signals import piece_signals, spread_signals
from spc.station.size_memory import SizeMemory
from spc.station.state import ChartState
from spc.station.warm_check import warm_gauging
from spc.wear import (
    Forecast,
    Tale,
    WearBelief,
    forecast_mean,
    learn_warm_up,
    observe,
    open_rate,
    open_shift,
    remembered,
    sigma_um,
    wear_line_um,
)
from spc.wear.belief import OFFSET

__all__ = ["Judged", "judge"]


@quickly_made
@dataclass(frozen=True, slots=True)
class Judged:
    """What judging a characteristic gave.

    Attributes
    ----------
    belief : WearBelief or None
        After this check.
    chart : ChartState
    memory : SizeMemory
        Of the mounted set, with this check in it.
    level_um, level_sd_um, sigma_um : float
        Size minus target as now believed, how sure, and the spread of one piece.
    gain : float
        µm smaller per µm of approach; 0 where the slide does not set it.
    off_um : float
        Mean minus what was expected of it: the forecast, else the centre line; 0 where neither stands.
    tale : Tale or None
        The story that fits best where the forecast was surprised.
    """

    characteristic: Characteristic
    subgroup: Subgroup
    signals: tuple[Signal, ...]
    explained: tuple[Explained, ...]
    belief: WearBelief | None
    chart: ChartState
    memory: SizeMemory
    level_um: float
    level_sd_um: float
    sigma_um: float
    gain: float
    off_um: float = 0.0
    tale: Tale | None = None


def judge(
    context: CheckContext, characteristic: Characteristic, values: tuple[Decimal, ...], doubt: str
) -> Judged:
    """Judge the pieces of one characteristic against tolerance, limits and forecast.

    Parameters
    ----------
    values : tuple of Decimal
        One a piece, in the plan's unit; at least one.
    doubt : str
        Why the entry is hard to believe; "" where it is believed. A doubted entry teaches nothing.
    """
    gauged = gauged_now(context, characteristic, values)
    before = context.belief(characteristic)
    belief = None if before is None else informed_news(before, context, characteristic)
    forecast = expected_mean(context, belief, gauged)
    limits = limits_now(context, characteristic, belief, forecast, gauged)
    signals = piece_signals(context, characteristic, values, doubt)
    means = MeanJudged(context.chart(characteristic))
    memory = context.memory(characteristic)
    if not doubt:
        memory = with_level(context, characteristic, belief, gauged)
        plain = forecast if before is belief else expected_mean(context, before, gauged)
        judging = judges(characteristic, belief, forecast)
        means = _changes(context, characteristic, gauged, limits, (belief, plain, forecast, judging), memory)
        chart = learned_chart(context, characteristic, gauged, means.chart, means.signals)
        means = with_over_adjustment(context, characteristic, memory, changed(means, chart=chart))
        is_odd = any(each.kind == "isolated" for each in means.signals)
        if belief is not None and forecast is not None and not is_odd:  # an odd piece waits to be confirmed
            belief, means, memory = _taught(context, characteristic, gauged, belief, forecast, means, memory)
    level, level_sd = _level(context, belief, gauged)
    return Judged(
        characteristic,
        _subgroup(context, characteristic, values, limits, belief, bool(doubt)),
        (*signals, *means.signals),
        means.explained,
        belief,
        means.chart,
        memory,
        level,
        level_sd,
        max(sigma_um(means.chart.spread), 1e-3),
        context.slide_gain(characteristic, belief),
        _off_um(characteristic, gauged, forecast, limits),
        means.tale,
    )


def _off_um(
    characteristic: Characteristic, gauged: Gauged, forecast: Forecast | None, limits: Limits | None
) -> float:
    if forecast is not None:
        return gauged.mean_um - forecast.mean_um
    if limits is None:
        return 0.0
    return gauged.mean_um - (limits.centre - float(characteristic.aim)) * characteristic.um_per_unit


def _changes(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    limits: Limits | None,
    expected: tuple[WearBelief | None, Forecast | None, Forecast | None, bool],
    memory: SizeMemory,
) -> MeanJudged:
    """What changed, in spread and mean, and what of it is explained.

    `expected`: what is believed, its forecast without the settings logged since and with them, and whether that
    one is sure enough to judge.
    """
    belief, plain, forecast, judging = expected
    chart = context.chart(characteristic)
    explained = explained_by_news(context, characteristic, gauged, plain, chart)
    chart, spread = spread_signals(context, characteristic, gauged, limits, chart, memory.levels)
    if explained or any(each.kind == "isolated" for each in spread):
        return MeanJudged(chart, spread, explained)
    means = mean_signals(context, characteristic, gauged, limits, (belief, forecast, judging), chart, memory)
    return changed(means, signals=(*spread, *means.signals)) if spread else means


def _taught(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    belief: WearBelief,
    forecast: Forecast,
    means: MeanJudged,
    memory: SizeMemory,
) -> tuple[WearBelief, MeanJudged, SizeMemory]:
    """Take the check into the belief; a surprise nobody logged first opens what the best story says has moved."""
    off_um = gauged.mean_um - forecast.mean_um
    surprised = any(each.kind not in ("run_rule", "spread") for each in means.signals)
    if surprised and means.tale is not None:
        memory = changed(memory, levels=remembered(memory.levels, means.tale))
    if surprised and means.tale is not None and means.tale.cause == "warm_up":
        odd = changed(gauged.warm_up, odd_um2=off_um**2)  # of this start alone; the dies have not moved
        return belief, changed(means, chart=changed(means.chart, warm_up=odd)), memory
    if memory.before_step is not None:
        memory = changed(memory, before_step=None)
    if surprised:
        before, belief = belief, open_shift(belief, off_um**2)
        tale = means.tale
        if tale is not None and tale.cause in ("wear", "drift"):
            belief = open_rate(belief, tale.amount_um**2)
        else:
            moved_um = tale.amount_um if tale is not None and tale.cause == "step" else off_um
            stepped_um = memory.stepped_um + moved_um
            memory = changed(memory, stepped_um=stepped_um, before_step=before, surprise_um=off_um)
    else:
        memory = learned_moves(context, characteristic, memory, gauged)
        if gauged.cold or gauged.warm_up.odd_um2:
            warm_up = learn_warm_up(gauged.warm_up, gauged.cold, off_um, forecast.sd_um**2)
            means = changed(means, chart=changed(means.chart, warm_up=warm_up))
        if any(each.cause == "gauge_zero" for each in means.explained):
            memory = changed(memory, stepped_um=0.0)  # what was told as a step was the gauge
    level_um = gauged.mean_um - gauged.cold_um
    return observe(belief, level_um, context.approach_um, gauged.noise_um2), means, memory


def _subgroup(
    context: CheckContext,
    characteristic: Characteristic,
    values: tuple[Decimal, ...],
    limits: Limits | None,
    belief: WearBelief | None,
    suspect: bool,
) -> Subgroup:
    mean = sum(values, Decimal(0)) / len(values)
    at_reference = None
    if characteristic.is_set_by_slide and context.moved_mm is not None:
        gain = context.slide_gain(characteristic, belief)
        offset = 0.0 if belief is None else belief.mean[OFFSET] - belief.reference_um
        at_reference = float(mean) + (gain * context.approach_um - offset) / characteristic.um_per_unit
    return Subgroup(
        n=len(values),
        mean=float(mean),
        range=float(max(values) - min(values)),
        mean_at_reference_setting=at_reference,
        centre=None if limits is None else limits.centre,
        lower=None if limits is None else limits.lower,
        upper=None if limits is None else limits.upper,
        spread_upper=None if limits is None else limits.spread_upper,
        standing="" if limits is None else limits.standing,
        suspect=suspect,
        warm=warm_gauging(context.check, characteristic),
        wear_line=_wear_line(characteristic, belief),
    )


def _wear_line(characteristic: Characteristic, belief: WearBelief | None) -> Interval90 | None:
    """The size at the reference setting as the dies alone have made it, in the plan's unit."""
    if belief is None or belief.checks == 0 or not characteristic.wears_with_die:
        return None
    mean_um, sd_um = wear_line_um(belief, is_set_by_slide=characteristic.is_set_by_slide)
    aim, unit_um = float(characteristic.aim), characteristic.um_per_unit
    half_um = 1.6448536269514722 * sd_um
    return Interval90(
        aim + mean_um / unit_um, aim + (mean_um - half_um) / unit_um, aim + (mean_um + half_um) / unit_um
    )


def _level(context: CheckContext, belief: WearBelief | None, gauged: Gauged) -> tuple[float, float]:
    """Size minus target as now believed, and how sure; the check's own mean where there is no model."""
    if belief is None or belief.checks == 0:
        return gauged.mean_um, math.sqrt(gauged.noise_um2)
    ahead = forecast_mean(belief, context.approach_um, gauged.noise_um2)
    sd = math.sqrt(max(ahead.sd_um**2 - gauged.noise_um2, 0.0))
    return ahead.mean_um, sd
