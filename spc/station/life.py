"""The life of the mounted die set as one record: growth, slide used, pieces left and what binds."""

from collections.abc import Sequence

from spc.shop import DieLife, HoursLeft, Interval90, PiecesLeft, Signal, WearRate
from spc.station.change_advice import change_advice
from spc.station.context import CheckContext
from spc.station.priors import past_ways_of, sudden_ends_of
from spc.station.said import signal
from spc.wear import Way, WearBelief, advance, forecast_life, gain_of, size_way, travel_way
from spc.wear.belief import RATE

__all__ = ["die_life", "life_signals", "ways_now"]

_Z90 = 1.6448536269514722
_TRAVEL_NOTICE = 0.9
"""Share of the allowed slide travel from which the set is spoken of."""


def die_life(context: CheckContext, beliefs: dict[str, WearBelief], ways: Sequence[Way]) -> DieLife | None:
    """Return what is known of the mounted set; None without a counter or with nothing that wears.

    Parameters
    ----------
    beliefs : mapping
        Of the set after this check, characteristics not gauged now included.
    ways : sequence of Way
        From `ways_now`.
    """
    if context.age is None:
        return None
    past = {way.characteristic: past_ways_of(context.state, way.characteristic) for way in ways}
    forecast = forecast_life(ways, past)
    if forecast is None:
        return None
    belief = beliefs[forecast.characteristic]
    sd = max(belief.var(RATE), 0.0) ** 0.5
    rate = WearRate(belief.mean[RATE], belief.mean[RATE] - _Z90 * sd, belief.mean[RATE] + _Z90 * sd)
    characteristic = context.plan.characteristic(forecast.characteristic)
    left = PiecesLeft(*forecast.pieces)
    return DieLife(
        limited_by=forecast.characteristic,
        limit=forecast.limit,
        pieces_left=left,
        wear_um_per_1000=rate,
        correction_used_mm=None if context.moved_mm is None else float(context.moved_mm),
        correction_travel_mm=context.plan.correction_travel_mm,
        gain=gain_of(belief) if characteristic.is_set_by_slide else _slide_gain(context, beliefs),
        sudden_end_per_1000=_sudden(context),
        hours_left=_hours(context, left),
        change=change_advice(context.state, context.age, left),
    )


def _sudden(context: CheckContext) -> Interval90 | None:
    found = sudden_ends_of(context.state)
    return None if found is None else Interval90(found.per_1000, found.low90, found.high90)


def _hours(context: CheckContext, left: PiecesLeft) -> HoursLeft | None:
    """Pieces left as running hours at the rate since the last check."""
    pace = context.pieces_per_hour
    if not pace or left.p05 is None or left.p50 is None or left.p95 is None:
        return None
    return HoursLeft(left.p05 / pace, left.p50 / pace, left.p95 / pace)


def life_signals(context: CheckContext, life: DieLife | None) -> tuple[Signal, ...]:
    """The slide travel nearly used up."""
    if life is None:
        return ()
    found = []
    if life.correction_used_mm is not None and life.correction_travel_mm is not None:
        used, travel = 1000 * life.correction_used_mm, 1000 * life.correction_travel_mm
        if used >= _TRAVEL_NOTICE * travel:
            says = f"{used:.0f} of {travel:.0f} µm infeed used: book the die change"
            wear = f"die wear, now {life.wear_um_per_1000.estimate:.1f} µm per 1,000 pieces"
            set_by_slide = (each.name for each in context.plan.gauged if each.is_set_by_slide)
            name = next(set_by_slide, life.limited_by)
            found.append(signal(context, name, "travel_used", says, ("wear", 0.9, wear)))
    return tuple(found)


def ways_now(context: CheckContext, beliefs: dict[str, WearBelief]) -> tuple[Way, ...]:
    """All that can end the set: a size that the slide holds by the travel it needs, any other by its limits.

    Where the plan allows no travel, a size that the slide sets ends the set with the slide as it stands.
    """
    ways: list[Way] = []
    for characteristic in context.plan.gauged:
        belief = beliefs.get(characteristic.name)
        if belief is None or context.age is None or not characteristic.wears_with_die:
            continue
        belief = advance(belief, context.prior(characteristic), context.age)
        name, travel_mm = characteristic.name, context.plan.correction_travel_mm
        is_set = characteristic.is_set_by_slide
        if is_set and travel_mm is not None:
            ways.append(travel_way(belief, name, travel_mm * context.per_mm))
            continue
        now_um = gain_of(belief) * context.approach_um if is_set else 0.0
        way = size_way(belief, name, characteristic.low_um, characteristic.high_um, now_um)
        if way is not None:
            ways.append(way)
    return tuple(ways)


def _slide_gain(context: CheckContext, beliefs: dict[str, WearBelief]) -> float | None:
    for characteristic in context.plan.gauged:
        if characteristic.is_set_by_slide and characteristic.name in beliefs:
            return gain_of(beliefs[characteristic.name])
    return None
