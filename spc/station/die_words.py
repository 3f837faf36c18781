"""What is said of a die set: what takes it off, when on the plant's clock, how often one ends suddenly."""

from datetime import datetime, timedelta

from spc.shop import Costs, DieLife, HoursLeft
from spc.shop.moment import to_local
from spc.shop.names import shop_name
from spc.shop.two_digits import two_digits
from spc.station.priors import planned_age_of
from spc.station.state import StreamState
from spc.wear import SAFE_ENDS, SetLives, SuddenEnds, set_lives

__all__ = ["clock_span", "end_words", "on_the_clock", "planned_age_words", "sudden_words"]

_ENDS = {
    "travel": "holding {} needs more infeed than the set may use",
    "upper": "{} reaches its upper limit",
    "lower": "{} reaches its lower limit",
}
_WEEK = timedelta(days=6)
_TEN_MINUTES = 600.0


def end_words(life: DieLife) -> str:
    """Say what most likely takes the set off.

    Examples
    --------
    >>> from spc.shop import PiecesLeft, WearRate
    >>> left, rate = PiecesLeft(1, 2, 3, 4, 5), WearRate(1.0, 0.5, 1.5)
    >>> end_words(DieLife("over_pin", "travel", left, rate, None, 0.06, 0.8))
    'holding over pins needs more infeed than the set may use'
    """
    return _ENDS.get(life.limit, "{} reaches its limit").format(shop_name(life.limited_by))


def on_the_clock(moment: datetime, zone: str, since: datetime) -> str:
    """Say a moment to come, to ten minutes; with its date where the day of the week alone would not do.

    Examples
    --------
    >>> from datetime import UTC
    >>> base = datetime(2026, 3, 26, 13, tzinfo=UTC)
    >>> on_the_clock(base + timedelta(hours=12.6), "Europe/Berlin", base)
    'Fri 02:40'
    >>> on_the_clock(base + timedelta(days=9), "Europe/Berlin", base)
    'Sat 4 Apr'
    """
    seconds = round(moment.timestamp() / _TEN_MINUTES) * _TEN_MINUTES
    local = to_local(datetime.fromtimestamp(seconds, tz=moment.tzinfo), zone)
    if moment - since > _WEEK:
        return f"{local:%a} {local.day} {local:%b}"
    return f"{local:%a %H:%M}"


def clock_span(hours: HoursLeft, since: datetime, zone: str) -> str:
    """Say hours left as times of the plant's clock, running round the clock from `since`.

    Examples
    --------
    >>> from datetime import UTC
    >>> clock_span(HoursLeft(12.6, 29.1, 45.0), datetime(2026, 3, 25, 13, tzinfo=UTC), "Europe/Berlin")
    'Thu 02:40 to Fri 11:00, likely Thu 19:10'
    """
    early, likely, late = (
        on_the_clock(since + timedelta(hours=min(each, 87_600.0)), zone, since)
        for each in (hours.early, hours.likely, hours.late)
    )
    return f"{early} to {late}, likely {likely}"


def sudden_words(found: SuddenEnds | None) -> str:
    """Say how often sets of the part chip or crack, which no forecast of wear foresees."""
    if found is None:
        return "not known before a set has come off"
    rare, often = two_digits(1000.0 / found.high90), two_digits(1000.0 / max(found.low90, 1e-9))
    sets = "1 finished set" if found.sets == 1 else f"{found.sets} finished sets"
    if found.chipped == 0:
        return f"none of {sets} chipped: less than one in {rare} pieces"
    middle = two_digits(1000.0 / found.per_1000)
    return (
        f"{found.chipped} of {sets} chipped: about one in {middle} pieces (one in {rare} to one in {often})"
    )


def planned_age_words(state: StreamState, costs: Costs | None) -> str:
    """Say at which age a planned change of this part's dies costs least; "" where the plan names no costs."""
    planned = None if costs is None else planned_age_of(state, costs)
    lives = set_lives(state.finished)
    if costs is None or planned is None or lives is None:
        return (
            "" if costs is None else "No set of this part has come to its end yet, so no age can be planned."
        )
    sets = f"{lives.ends} of {lives.sets} finished sets that came to their end, {_shape(lives)}"
    guess = f"; how lives scatter is partly assumed until {SAFE_ENDS} have" if lives.is_guessed else ""
    best = planned.best
    if best.age is None:
        return f"Running to the end costs least, by {sets}{guess}."
    low = "?" if planned.low90 is None else two_digits(planned.low90)
    high = "no planned age" if planned.high90 is None else two_digits(planned.high90)
    saved = round(100.0 * (1.0 - best.cost_rate / best.cost_rate_to_end))
    return (
        f"By what a change costs, a planned age of {two_digits(best.age)} pieces is cheapest ({low} to {high}), "
        f"{saved} % below always running to the end; by {sets}{guess}."
    )


def _shape(lives: SetLives) -> str:
    low, high = lives.shape_90()
    return f"Weibull shape {lives.shape:.1f} ({low:.1f} to {high:.1f})"
