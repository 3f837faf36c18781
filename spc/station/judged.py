"""One characteristic of one check, judged: limits, signals, and what it taught."""

import math
from dataclasses import dataclass, replace
from decimal import Decimal

from spc.shop import Characteristic, Explained, Signal, Subgroup
from spc.station.context import CheckContext
from spc.station.explained import explained_by_news, informed_news
from spc.station.limits_now import Limits, limits_now
from spc.station.provisional import with_trial
from spc.station.signals import mean_signals, piece_signals, spread_signals
from spc.station.state import ChartState
from spc.station.warm_check import warm_gauging
from spc.wear import (
    Forecast,
    WearBelief,
    forecast_mean,
    learn_spread,
    level_um,
    observe,
    open_shift,
    sigma_um,
)

from spc.station.priors import tolerance_um
from spc.wear.belief import GAIN, RATE
from spc.wear.breaks import open_rate
from spc.wear.change import KEPT_LEVELS, Level

__all__ = ["Judged", "judge"]


@dataclass(frozen=True, slots=True)
class Judged:
    """What judging a characteristic gave.

    Attributes
    ----------
    level_um, level_sd_um, sigma_um : float
        Size minus target as now believed, how sure, and the spread of one piece.
    gain : float
        µm smaller per µm of approach; 0 where the slide does not set it.
    """

    characteristic: Characteristic
    subgroup: Subgroup
    signals: tuple[Signal, ...]
    explained: tuple[Explained, ...]
    belief: WearBelief | None
    chart: ChartState
    level_um: float
    level_sd_um: float
    sigma_um: float
    gain: float
    moved: tuple[float, float, float] | None = None
    levels: tuple[Level, ...] = ()


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
    unit_um = characteristic.um_per_unit
    values_um = tuple(float(value - characteristic.aim) * unit_um for value in values)
    mean_um = sum(values_um) / len(values_um)
    chart, belief = context.chart(characteristic), context.belief(characteristic)
    sigma = max(sigma_um(chart.spread), 1e-3)
    noise = sigma**2 / len(values)
    if context.age is not None:
        noise += context.prior(characteristic).check_sd_um ** 2
    plain = None if belief is None else forecast_mean(belief, context.approach_um, noise)
    if belief is not None:
        belief = informed_news(belief, context, characteristic)
    forecast = None if belief is None else forecast_mean(belief, context.approach_um, noise)
    limits = limits_now(context, characteristic, chart, belief, forecast, len(values), sigma)
    signals = piece_signals(context, characteristic, values, doubt)
    explained: tuple[Explained, ...] = ()
    moved = None
    if not doubt:
        explained = explained_by_news(context, characteristic, mean_um, plain, chart, noise)
        chart, spread = spread_signals(context, characteristic, values_um, sigma, chart)
        levels = _levels(context, characteristic, belief, mean_um, noise)
        chart, means, why, tale = mean_signals(
            context, characteristic, mean_um, limits,
            forecast if belief is not None and belief.checks > 0 and 6.0 * forecast.sd_um <= tolerance_um(characteristic) else None,
            chart, explained, spread, levels)
        signals = (*signals, *spread, *means)
        explained = (*explained, *why)
        if not any(
            each.kind == "isolated" for each in spread
        ):  # one odd piece teaches nothing until confirmed
            surprised = tale is not None or any(each.kind == "beyond_limits" for each in means)
            if tale is not None and tale.cause in ("wear", "drift") and belief is not None:
                belief = open_rate(belief, tale.amount_um**2)
            if belief is not None and not surprised:
                moved = (belief.mean[RATE], mean_um + belief.mean[GAIN] * context.approach_um, sigma**2 / len(values))
            belief = _taught(context, belief, forecast, mean_um, noise, surprised)
        chart = _learned(context, characteristic, chart, values, values_um, mean_um, bool(spread))
    subgroup = _subgroup(context, characteristic, values, limits, belief, bool(doubt))
    level, level_sd = _level(context, belief, mean_um, noise)
    gain = context.slide_gain(characteristic, belief)
    return Judged(
        characteristic,
        subgroup,
        signals,
        explained,
        belief,
        chart,
        level,
        level_sd,
        max(sigma_um(chart.spread), 1e-3),
        gain,
        moved,
        levels if not doubt else (),
    )


def _levels(context, characteristic, belief, mean_um, noise):
    """The window of checks to look back on, this one last."""
    if belief is None:
        return ()
    news = next((each.kind for each in reversed(context.machine.news) if each.kind != "stop" and each.characteristic in ("", characteristic.name)), "")
    changed = context.machine.batch != context.die_set.seen_batch
    now = Level(context.age or 0, mean_um + belief.mean[GAIN] * context.approach_um, noise, belief.mean[RATE],
                max(belief.var(RATE), 0.0) ** 0.5, context.die_set.batches + int(changed), news)
    return (*context.die_set.levels.get(characteristic.name, ()), now)[-KEPT_LEVELS:]


def _taught(
    context: CheckContext,
    belief: WearBelief | None,
    forecast: Forecast | None,
    mean_um: float,
    noise: float,
    surprised: bool,
) -> WearBelief | None:
    """Take the check into the belief; a surprise nobody logged first opens the passing shift."""
    if belief is None or forecast is None:
        return None
    if surprised:
        belief = open_shift(belief, (mean_um - forecast.mean_um) ** 2)
    return observe(belief, mean_um, context.approach_um, noise)


def _learned(
    context: CheckContext,
    characteristic: Characteristic,
    chart: ChartState,
    values: tuple[Decimal, ...],
    values_um: tuple[float, ...],
    mean_um: float,
    spread_is_odd: bool,
) -> ChartState:
    """Let the pieces teach the spread and, while there are none, the provisional limits."""
    single = mean_um + context.slide_gain(characteristic, None) * context.approach_um
    if not spread_is_odd:
        chart = replace(chart, spread=learn_spread(chart.spread, values_um, single))
    chart = replace(chart, last_mean_um=mean_um)
    good = all(characteristic.tolerance.holds(value) for value in values)
    if context.check.purpose == "hourly" and good:
        chart = with_trial(characteristic, chart, values)
    return chart


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
        offset = 0.0 if belief is None else belief.mean[0] - belief.reference_um
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
    )


def _level(
    context: CheckContext, belief: WearBelief | None, mean_um: float, noise: float
) -> tuple[float, float]:
    """Size minus target as now believed, and how sure; the check's own mean where there is no model."""
    if belief is None or belief.checks == 0:
        return mean_um, math.sqrt(noise)
    ahead = forecast_mean(belief, context.approach_um, noise)
    return level_um(belief, context.approach_um), math.sqrt(max(ahead.sd_um**2 - noise, 0.0))
