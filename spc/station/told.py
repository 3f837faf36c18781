"""Telling a surprise: which story fits the last checks best, in a sentence, with its evidence."""

import math

from spc.shop import Characteristic, Signal
from spc.shop.layouts import Cause, SignalKind
from spc.shop.moment import to_local
from spc.station.context import CheckContext
from spc.station.priors import tolerance_um
from spc.station.said import signal
from spc.wear import Forecast
from spc.wear.change import Level, Story, Tale, weigh_stories
from spc.wear.watch import Finding

__all__ = ["told"]

_EVENTS: dict[str, Cause] = {"batch": "batch", "gauge_zero": "gauge_zero", "setting": "setting", "stop": "warm_up"}


def told(
    context: CheckContext,
    characteristic: Characteristic,
    finding: Finding,
    mean_um: float,
    forecast: Forecast,
    levels: tuple[Level, ...],
    spread_evidence: float,
) -> tuple[tuple[Signal, ...], Tale | None]:
    """Say what changed: the signal, and the story that fits best."""
    tales = _tales(context, characteristic, levels)
    off_um = mean_um - forecast.mean_um
    way = "above" if off_um > 0 else "below"
    if finding.single:
        kind: SignalKind = "beyond_limits"
        says = (
            f"the mean is {abs(off_um):.1f} µm {way} what the die's age and the slide lead one to expect; "
            f"chance allows {3.4 * forecast.sd_um:.1f} µm"
        )
    else:
        kind = "step"
        if tales and tales[0].cause == "wear":
            kind = "wear_rate"
        elif tales and tales[0].cause == "drift":
            kind = "drift"
        up = "above" if finding.up else "below"
        says = f"the means of the last {finding.checks} checks lie {up} what was expected; the last by {abs(off_um):.1f} µm"
    causes = tuple((_cause(tale), round(tale.weight, 2), _says(tale, levels)) for tale in tales[:2])
    if finding.single and spread_evidence > 0.0:
        wider = 1.0 / (1.0 + math.exp(2.0 - spread_evidence))
        causes = tuple(sorted(
            (*((cause, round(weight * (1.0 - wider), 2), words) for cause, weight, words in causes),
             ("spread", round(wider, 2), f"pieces differ more than before: {spread_evidence:.1f} in favour of a grown spread")),
            key=lambda each: -each[1]))[:2]
    said = [signal(context, characteristic.name, kind, says, *causes)]
    if finding.single and tales and tales[0].cause in ("wear", "drift") and tales[0].weight >= 0.5:
        slow: SignalKind = "wear_rate" if tales[0].cause == "wear" else "drift"
        said.append(signal(context, characteristic.name, slow, _says(tales[0], levels), *causes))
    return tuple(said), (tales[0] if tales else None)


def _tales(context: CheckContext, characteristic: Characteristic, levels: tuple[Level, ...]) -> tuple[Tale, ...]:
    if len(levels) < 3:
        return ()
    prior, tolerance = context.prior(characteristic), tolerance_um(characteristic)
    last = len(levels) - 1
    places = range(1, len(levels))
    slow = "wear" if characteristic.wears_with_die else "drift"
    slope = max(4.0 * abs(levels[0].rate_um_per_1000), tolerance / 10.0)
    stories = [Story("step", place, 1.0 / last, tolerance / 6.0) for place in places]
    stories += [Story(slow, place, 0.5 / last, slope, is_slope=True) for place in places]
    for place in places:
        cause = _EVENTS.get(levels[place].news)
        if cause is not None and cause != "warm_up":
            spread = 2.0 * prior.batch_sd_um if cause == "batch" else tolerance / 6.0
            stories.append(Story(cause, place, 0.5, spread))
    stories.append(Story("entry", last, 0.05 / last, tolerance / 3.0))
    tales = weigh_stories(levels, prior, stories)
    return tuple(tale for tale in tales if tale.cause)


def _cause(tale: Tale) -> Cause:
    return tale.cause  # type: ignore[return-value]  # every story is named by a cause


def _says(tale: Tale, levels: tuple[Level, ...]) -> str:
    ago = len(levels) - 1 - tale.place % len(levels)
    when = "at this check" if ago == 0 else f"since {ago} check{'s' if ago > 1 else ''} ago"
    way = "up" if tale.amount_um > 0 else "down"
    if tale.cause in ("wear", "drift"):
        return f"growth changed by {tale.amount_um:+.1f} µm per 1,000 pieces {when}"
    return f"{abs(tale.amount_um):.1f} µm {way} {when}"
