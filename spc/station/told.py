"""Telling a surprise: which story fits the last checks best, in a sentence with its evidence."""

import math
from collections.abc import Sequence

from spc.shop import Characteristic, Signal
from spc.shop.layouts import Cause, SignalKind
from spc.station.context import CheckContext
from spc.station.logged_since import logged_since
from spc.station.priors import tolerance_um
from spc.station.said import clock, signal
from spc.station.state import ChartState
from spc.wear import MEAN_LIMIT, Finding, Level, Story, Tale, sigma_um, weigh_stories

__all__ = ["told"]

_EVENTS: dict[str, Cause] = {"batch": "batch", "gauge_zero": "gauge_zero", "setting": "setting"}
_SLOW = ("wear", "drift")
_FEWEST = 3
"""Checks before which there is nothing to look back on."""
_STEP_CHANCE, _SLOW_CHANCE, _EVENT_CHANCE, _ENTRY_CHANCE = 1.0, 0.5, 0.5, 0.05
"""How likely each story is beforehand, spread over the checks it may have begun at."""

Told = tuple[Cause, float, str]


def told(
    context: CheckContext,
    characteristic: Characteristic,
    finding: Finding,
    off_um: float,
    sd_um: float,
    chart: ChartState,
    levels: tuple[Level, ...],
) -> tuple[tuple[Signal, ...], Tale | None]:
    """Say what changed, and which story fits best.

    Parameters
    ----------
    off_um, sd_um : float
        Mean of this check minus its forecast, and the standard deviation of that.
    chart : ChartState
        For the evidence of a grown spread, which also throws means about.
    levels : tuple of Level
        The last checks, this one last.
    """
    tales = _tales(context, characteristic, levels)
    best = tales[0] if tales else None
    noted = _noted(context, characteristic)
    causes = [(_cause(tale), tale.weight, _story(tale, levels, noted)) for tale in tales]
    if finding.single and chart.watch.spread > 0.0:
        causes = _with_spread(causes, chart, levels)
    if not causes:
        causes = [("step", 0.5, f"a step of {abs(off_um):.1f} µm that no logged event explains{noted}")]
    shown = [(cause, round(weight, 2), says) for cause, weight, says in causes[:2]]
    kind = _kind(finding, best)
    found = [
        signal(context, characteristic.name, kind, _says(characteristic, finding, off_um, sd_um), *shown)
    ]
    if finding.single and best is not None and best.cause in _SLOW and best.weight >= 0.5:
        found.append(signal(context, characteristic.name, _slow_kind(best), shown[0][2], *shown))
    return tuple(found), best


def _noted(context: CheckContext, characteristic: Characteristic) -> str:
    """What somebody wrote down since the last check: it explains nothing by itself, but the reader may know."""
    notes = [each for each in context.news_about(characteristic) if each.kind == "note"]
    return f"; noted at {clock(context, notes[-1].time)}: “{notes[-1].text}”" if notes else ""


def _tales(context: CheckContext, characteristic: Characteristic, levels: Sequence[Level]) -> list[Tale]:
    if len(levels) < _FEWEST:
        return []
    prior, tolerance = context.prior(characteristic), tolerance_um(characteristic)
    last = len(levels) - 1
    slow: Cause = "wear" if characteristic.wears_with_die else "drift"
    slope = max(4.0 * abs(levels[0].rate_um_per_1000), tolerance / 10.0)
    stories = []
    for place in range(1, len(levels)):
        stories.append(Story("step", place, _STEP_CHANCE / last, tolerance / 6.0))
        stories.append(Story(slow, place, _SLOW_CHANCE / last, slope, is_slope=True))
        stories += _event_stories(levels, place, prior.batch_sd_um, tolerance / 6.0)
    stories.append(Story("entry", last, _ENTRY_CHANCE / last, tolerance / 3.0))
    return [tale for tale in weigh_stories(levels, prior, stories) if tale.cause]


def _event_stories(levels: Sequence[Level], place: int, batch_sd_um: float, usual_um: float) -> list[Story]:
    """What was logged before a check, and a start from cold.

    A gauge moves readings by about what it was off: one found off by less than the noise of a check tells nothing.
    """
    found, level = [], levels[place]
    heights = {"batch": 2.0 * batch_sd_um, "setting": usual_um, "gauge_zero": abs(level.news_um)}
    gauge_held = level.news == "gauge_zero" and level.news_um**2 < level.noise_var_um2
    if level.news in _EVENTS and not gauge_held:
        found.append(Story(_EVENTS[level.news], place, _EVENT_CHANCE, heights[level.news]))
    if level.cold > levels[place - 1].cold:
        found.append(Story("warm_up", place, _EVENT_CHANCE, usual_um, cools=True))
    return found


def _with_spread(causes: list[Told], chart: ChartState, levels: Sequence[Level]) -> list[Told]:
    """A spread that has begun to grow throws means about too: let it stand beside the other stories.

    The watch keeps the log-likelihood ratio of a grown spread; even odds are put at 2.5, where three checks in a
    hundred stand by chance.
    """
    watch, usual_um = chart.watch, sigma_um(chart.spread)
    weight = 1.0 / (1.0 + math.exp(2.5 - watch.spread))
    over = f"over the last {watch.spread_since} checks" if watch.spread_since > 1 else "in this check"
    times = math.sqrt(watch.spread_squares / max(watch.spread_df, 1))
    grown = f"the spread of a piece has grown from {usual_um:.1f} to {times * usual_um:.1f} µm {over}"
    logged = logged_since(levels, watch.spread_since)
    spread: Told = ("spread", weight, grown)
    if logged is not None and logged.news == "setting":
        spread = ("setting", weight, f"{logged.news_says}; since then {grown}")
    return sorted([(c, w * (1.0 - weight), s) for c, w, s in causes] + [spread], key=lambda each: -each[1])


def _kind(finding: Finding, best: Tale | None) -> SignalKind:
    if finding.single:
        return "beyond_limits"
    return "step" if best is None or best.cause not in _SLOW else _slow_kind(best)


def _slow_kind(tale: Tale) -> SignalKind:
    return "wear_rate" if tale.cause == "wear" else "drift"


def _says(characteristic: Characteristic, finding: Finding, off_um: float, sd_um: float) -> str:
    way = "above" if off_um > 0 else "below"
    if finding.single:
        expected = f"what {_known_from(characteristic)} one to expect"
        return f"the mean is {abs(off_um):.1f} µm {way} {expected}; chance allows {MEAN_LIMIT * sd_um:.1f} µm"
    up = "above" if finding.up else "below"
    return (
        f"the means of the last {finding.checks} checks keep {up} what was expected; "
        f"the last is {abs(off_um):.1f} µm {way}"
    )


def _known_from(characteristic: Characteristic) -> str:
    if characteristic.is_set_by_slide:
        return "the die's age and the slide lead"
    return "the die's age leads" if characteristic.wears_with_die else "the checks before lead"


def _cause(tale: Tale) -> Cause:
    cause: Cause = tale.cause  # type: ignore[assignment]  # every story is named by a cause
    return cause


def _story(tale: Tale, levels: Sequence[Level], noted: str) -> str:
    """Tell a story with its number and its beginning."""
    began = levels[tale.place % len(levels)]
    ago = len(levels) - 1 - tale.place % len(levels)
    since = "at this check" if ago == 0 else "since the check before" if ago == 1 else f"for {ago + 1} checks"
    way = "up" if tale.amount_um > 0 else "down"
    amount = f"{abs(tale.amount_um):.1f} µm"
    if tale.cause in _SLOW:
        return f"{way} by {amount} per 1,000 pieces on top of the growth before, {since}"
    if tale.cause == "entry":
        return f"{amount} {way}: this check alone, its entry or its gauging"
    if tale.cause == "warm_up":
        start = "at this check" if ago == 0 else f"{ago} check{'s' if ago > 1 else ''} before this one"
        return f"{amount} {way} at the start from cold {start}, and going by itself"
    why = f"no logged event explains it{noted}" if tale.cause == "step" else f"with {began.news_says}"
    return f"{amount} {way} {since}, {why}"
