"""Pieces in doubt: since when, how many, and whether the model expects bad ones among them."""

import math
from collections.abc import Collection, Iterator, Sequence

from spc.shop import Contain, Signal
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.reaction_lists import EXPECTED_OUT
from spc.station.said import signal
from spc.station.standing import troubled_since
from spc.station.state import News
from spc.wear.belief import RATE

__all__ = ["contain", "doubt_signals", "share_outside"]

_HOLDS = ("out_of_tolerance", "visual")
_STEPS = 8
_SQRT_HALF = math.sqrt(0.5)
_LEAST_DF = 4.0
"""Degrees of freedom below which the spread of pieces is mostly a first guess: no pieces are held on a guess."""


def doubt_signals(context: CheckContext, judged: Sequence[Judged]) -> tuple[Signal, ...]:
    """Signals where the model puts more of the pieces since the last good check outside than the plan lets pass."""
    found = []
    for each in judged:
        if each.chart.spread.df < _LEAST_DF:
            continue
        share = _share_since_good(context, each)
        has_piece_out = any(said.kind == "out_of_tolerance" for said in each.signals)
        if share > context.plan.doubt_share and not has_piece_out and not each.subgroup.suspect:
            says = f"{EXPECTED_OUT}about {100 * share:.1f} % of those since the last good check should be"
            found.append(signal(context, each.characteristic.name, "out_of_tolerance", says))
    return tuple(found)


def _share_since_good(context: CheckContext, judged: Judged) -> float:
    """Mean share over the pieces since the last good check: the believed growth run back to it.

    A step has no known place between the two checks, so it counts as made by all of them. Where not even the
    ends of the growth reach what the plan lets pass, the bound that they give is enough.
    """
    now, good = context.check.counter, _last_good(context)
    if judged.belief is None or now is None or good is None or now <= good:
        return share_outside(judged, judged.level_um)
    grown_um, level_um = judged.belief.mean[RATE] * (now - good) / 1000.0, judged.level_um
    most = _shares_outside(judged, max(level_um, level_um - grown_um))[0]
    most += _shares_outside(judged, min(level_um, level_um - grown_um))[1]
    if most <= context.plan.doubt_share:
        return most
    places = [(step + 0.5) / _STEPS for step in range(_STEPS)]
    return sum(share_outside(judged, level_um - grown_um * place) for place in places) / _STEPS


def _last_good(context: CheckContext) -> int | None:
    return next((each.counter for each in reversed(context.machine.good) if each.counter is not None), None)


def share_outside(judged: Judged, level_um: float) -> float:
    """Share of pieces outside the tolerance at a size (minus target, µm), by a normal spread of pieces."""
    return sum(_shares_outside(judged, level_um))


def _shares_outside(judged: Judged, level_um: float) -> tuple[float, float]:
    """Shares above and below the tolerance."""
    characteristic = judged.characteristic
    above = below = 0.0
    if characteristic.high_um is not None:
        above = _beyond((characteristic.high_um - level_um) / judged.sigma_um)
    if characteristic.low_um is not None:
        below = _beyond((level_um - characteristic.low_um) / judged.sigma_um)
    return above, below


def _beyond(z: float) -> float:
    """Share of a normal law more than z standard deviations above its middle."""
    return 0.5 * math.erfc(z * _SQRT_HALF)


def contain(context: CheckContext, signals: Sequence[Signal], judged: Sequence[Judged] = ()) -> Contain:
    """Pieces to hold back: after the last good check before the cause first showed, to this check.

    Notes
    -----
    The cause first shows at the earliest check from which signals on the same characteristic have stood
    without a break. Without counters the counts are None; a good check whose counter is missing, or beyond
    this one's, gives way to the one before it. Where the gauge has just been set on its master and was off, a check
    made since it was set the time before is good only if its reading, put right by that much, is.
    """
    to_counter = context.check.counter
    if to_counter is None:
        return Contain(None, None, None)
    holding = {each.characteristic for each in signals if each.kind in _HOLDS}
    since = troubled_since(context, holding)
    good = [each.counter for each in context.machine.good if each.time < since and each.counter is not None]
    misread = min(_misread(context, judged, holding), default=math.inf)
    good = [each for each in good if each < misread]
    from_counter = next((each for each in reversed(good) if each <= to_counter), 0)
    return Contain(from_counter, to_counter, to_counter - from_counter)


def _misread(context: CheckContext, judged: Sequence[Judged], holding: Collection[str]) -> Iterator[int]:
    """Counters of good checks that a gauge, found off now, made look good."""
    age, counter = context.age, context.check.counter
    if age is None or counter is None:
        return
    for each in judged:
        if each.characteristic.name not in holding:
            continue
        for news in context.news_about(each.characteristic):
            for good in _read_since(context, news):
                right_um = _read_um(each, age - counter + good) + news.amount_um
                if share_outside(each, right_um) > context.plan.doubt_share:
                    yield good


def _read_since(context: CheckContext, news: News) -> Iterator[int]:
    """Counters of the good checks that a named gauge read since it was set on its master the time before."""
    if news.kind != "gauge_zero" or news.since is None or not news.characteristic:
        return
    for good in context.machine.good:
        if good.counter is not None and news.since < good.time < news.time:
            yield good.counter


def _read_um(judged: Judged, age: int) -> float:
    """Mean minus target of the remembered check nearest to an age of the set; this one's where none is remembered."""
    near = min(judged.memory.levels, key=lambda each: abs(each.age_pieces - age), default=None)
    return judged.level_um if near is None else near.level_um - judged.gain * near.approach_um
