"""When to check next: the plan's interval, or sooner where more may go wrong until then."""

from collections.abc import Iterator, Sequence

from spc.shop import NextCheck, Verdict
from spc.shop.names import shop_name
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.priors import limits_um, past_ways_of, tolerance_um
from spc.wear import (
    COLD_PIECES,
    SizeAhead,
    cheapest_interval,
    safe_interval,
    share_ahead,
    shortened,
    still_cold,
)
from spc.wear.belief import RATE

__all__ = ["TROUBLED_CHECKS", "next_check", "troubled_after"]

TROUBLED_CHECKS = 3
"""Checks in a row without a find until a change that nobody logged counts as over (common practice, no source)."""
_UNEXPLAINED = (
    "out_of_tolerance", "beyond_limits", "run_rule", "step", "drift", "spread", "isolated", "wear_rate", "visual",
)  # fmt: skip
_AT_ONCE, _AFTERWARDS, _NEW, _LATE = 16.0, 4.0, 4.0, 4.0
"""How many times as likely trouble is: with a find, after one, on new dies, on dies near their end (own estimate)."""
_BREAK_IN, _LAST_STRETCH = 0.05, 0.85
"""Shares of a life until which dies break in, and from which they wear faster (process knowledge)."""

Sooner = tuple[int, str]
"""Pieces, and why not more."""


def next_check(context: CheckContext, judged: Sequence[Judged], verdict: Verdict) -> NextCheck | None:
    """Say when to check next, for the operator and the clock on the page.

    Parameters
    ----------
    judged : sequence of Judged
        What this check told of each characteristic.
    verdict : Verdict
        With its correction, reaction and die life.

    Returns
    -------
    NextCheck or None
        Never later than the plan asks; None where the plan names no interval.

    Notes
    -----
    The longest interval in which no more of the pieces than the plan's `doubt_share` are expected outside
    (`wear.check_interval`). Where the plan says what a check and a scrapped piece cost, no longer than the interval
    at which the two cost least together. Shorter by 1/√r where trouble is r times as likely as on quiet days. After
    a slide move, and where the machine stands, the next check is of the first pieces.
    """
    least = max((each.subgroup.n for each in judged), default=context.plan.check.subgroup_size)
    if verdict.verdict == "hold" or (verdict.reaction is not None and verdict.reaction.first == "stop"):
        return NextCheck(least, None, f"the first {least} pieces, before it runs on")
    if verdict.verdict == "correct":
        return NextCheck(least, None, f"the first {least} pieces after the move")
    minutes, pace = context.plan.check.interval_minutes, context.pieces_per_hour
    planned = context.plan.check.pieces_between(pace)
    if planned is None:
        return _by_minutes(context, verdict, minutes)
    found = min(_sooner(context, judged, verdict, planned, least), key=lambda each: each[0], default=None)
    pieces, why = (planned, "as planned") if found is None or found[0] >= planned else found
    pieces = max(pieces, min(least, planned))
    due = _minutes(pieces, minutes, pace)
    return NextCheck(pieces, due, _says(pieces, due, why))


def troubled_after(context: CheckContext, verdict: Verdict) -> int:
    """Checks that still come sooner after this one, because something changed that nobody logged."""
    if _is_unexplained(verdict):
        return TROUBLED_CHECKS
    return max(context.machine.troubled_checks - 1, 0)


def _is_unexplained(verdict: Verdict) -> bool:
    """Whether something changed that nobody logged; a value that was probably mistyped is no change."""
    doubted = {each.characteristic for each in verdict.signals if each.kind == "suspect_entry"}
    return any(each.kind in _UNEXPLAINED and each.characteristic not in doubted for each in verdict.signals)


def _minutes(pieces: int, planned: float | None, pace: float | None) -> float | None:
    """Minutes in which so many pieces are made, whole ones; never more than the plan's."""
    if pace is None:
        return planned
    minutes = max(1.0, float(round(60.0 * pieces / pace)))
    return minutes if planned is None else min(minutes, planned)


def _by_minutes(context: CheckContext, verdict: Verdict, minutes: float | None) -> NextCheck | None:
    """Without a pace there are no pieces to count by; what makes trouble likelier still shortens the time."""
    if minutes is None:
        return None
    whole = round(minutes)
    found = [(shortened(whole, times), why) for times, why in _troubles(context, verdict)]
    sooner, why = min(found, key=lambda each: each[0], default=(whole, "as planned"))
    return NextCheck(None, float(max(sooner, 1)), _says(None, float(max(sooner, 1)), why))


def _sooner(
    context: CheckContext, judged: Sequence[Judged], verdict: Verdict, planned: int, least: int
) -> Iterator[Sooner]:
    at_each = [each for each in judged if each.characteristic.at == ("every",)]
    sizes = [_ahead(context, each) for each in at_each]
    shortest = max(least, shortened(planned, _AT_ONCE))
    pieces, place = safe_interval(sizes, planned, shortest, context.plan.doubt_share)
    if place >= 0:
        name = shop_name(at_each[place].characteristic.name)
        yield pieces, f"more of {name} would be out of tolerance later"
    yield from _cheaper(context, at_each, sizes, (shortest, planned))
    for times, why in _troubles(context, verdict):
        yield shortened(planned, times), why
    if still_cold(context.pieces_since_start):
        yield int(COLD_PIECES), "the machine is not warm yet"


def _cheaper(
    context: CheckContext, at_each: Sequence[Judged], sizes: Sequence[SizeAhead], between: tuple[int, int]
) -> Iterator[Sooner]:
    """The interval at which checks and the scrap until then cost least, where the plan says what they cost."""
    costs, (shortest, planned) = context.plan.costs, between
    if costs is None or not costs.check or not sizes:
        return

    def scrap(pieces: float) -> float:
        return costs.scrap_per_piece * sum(share_ahead(each, pieces) for each in sizes)

    pieces = cheapest_interval(scrap, costs.check, planned, shortest)
    worst = max(range(len(sizes)), key=lambda place: share_ahead(sizes[place], planned))
    name = shop_name(at_each[worst].characteristic.name)
    yield pieces, f"later, scrap of {name} would cost more than a check"


def _troubles(context: CheckContext, verdict: Verdict) -> Iterator[tuple[float, str]]:
    """How many times as likely trouble is as on quiet days, and why."""
    if _is_unexplained(verdict):
        yield _AT_ONCE, "something has changed"
    elif troubled_after(context, verdict) > 0:
        yield _AFTERWARDS, "something changed lately"
    life, age = verdict.die_life, context.age
    if life is None or age is None:
        return
    if age < _BREAK_IN * past_ways_of(context.state, life.limited_by).middle_life:
        yield _NEW, "new dies wear in faster"
    likely = life.pieces_left.p50
    if likely is not None and age >= _LAST_STRETCH * (age + likely):
        yield _LATE, "the dies are near their end"


def _ahead(context: CheckContext, judged: Judged) -> SizeAhead:
    characteristic, belief = judged.characteristic, judged.belief
    low, high = limits_um(characteristic)
    rate = rate_sd = wander = 0.0
    if belief is not None:
        prior = context.prior(characteristic)
        rate, rate_sd = belief.mean[RATE], max(belief.var(RATE), 0.0) ** 0.5
        wander = 2000.0 * prior.wander_sd_um**2 / prior.wander_pieces
    return SizeAhead(
        judged.level_um,
        judged.level_sd_um,
        rate,
        rate_sd,
        wander,
        judged.sigma_um,
        low,
        high,
        tolerance_um(characteristic) / 6.0 if low is None or high is None else (high - low) / 6.0,
    )


def _says(pieces: int | None, minutes: float | None, why: str) -> str:
    count = "" if pieces is None else f"{pieces:,} pieces"
    if minutes is None:
        return f"after {count}, {why}" if why == "as planned" else f"after {count}: {why}"
    about = f"in {minutes:.0f} min" + (f", about {count}" if count else "")
    return f"{about}, {why}" if why == "as planned" else f"{about}: {why}"
