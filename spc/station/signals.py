"""Signals of one characteristic: pieces out, entries in doubt, odd spread, means beyond their limits, runs."""

from dataclasses import replace
from decimal import Decimal
from statistics import median

from spc.shop import Characteristic, Explained, Signal
from spc.shop.layouts import Cause
from spc.station.context import CheckContext
from spc.station.limits_now import Limits
from spc.station.pieces import piece_numbers
from spc.station.said import signal
from spc.station.state import ChartState
from spc.station.told import told
from spc.statistics import last_point_findings, rule_set
from spc.wear import Forecast
from spc.wear.change import Level, Tale
from spc.wear.watch import watch_mean, watch_spread

__all__ = ["mean_signals", "piece_signals", "signal", "spread_signals"]

_WINDOW = 15
_RULES = rule_set("house")
_ODD_PIECE = 6.0
_ENOUGH_DF = 16.0
"""Piece-spreads from the middle of the others at which one piece stands apart."""


def piece_signals(
    context: CheckContext, characteristic: Characteristic, values: tuple[Decimal, ...], doubt: str
) -> tuple[Signal, ...]:
    """Pieces outside the tolerance, and an entry that is hard to believe."""
    found = []
    numbered = zip(piece_numbers(context.check, characteristic), values, strict=True)
    out = [(piece, value) for piece, value in numbered if not characteristic.tolerance.holds(value)]
    if out:
        piece, value = max(out, key=lambda each: _beyond_um(characteristic, each[1]))
        limit = characteristic.tolerance.nearest(value)
        beyond = _beyond_um(characteristic, value)
        says = f"{len(out)} of {len(values)} pieces out of tolerance"
        far = "" if doubt else f"{beyond:.1f} µm "
        says += f"; piece {piece} is {_short(value, characteristic)}, {far}beyond {limit}"
        found.append(signal(context, characteristic.name, "out_of_tolerance", says))
    if doubt:
        entry = f"an entry mistake in this check of {len(values)} pieces"
        found.append(signal(context, characteristic.name, "suspect_entry", doubt, ("entry", 0.8, entry)))
    return tuple(found)


def spread_signals(
    context: CheckContext,
    characteristic: Characteristic,
    values_um: tuple[float, ...],
    sigma_um: float,
    chart: ChartState,
) -> tuple[ChartState, tuple[Signal, ...]]:
    """One piece apart from the others, or pieces that differ more than they used to."""
    n = len(values_um)
    if n < 2 or chart.spread.df < _ENOUGH_DF:
        return chart, ()
    odd_one = _odd_piece(values_um, sigma_um)
    if odd_one is not None:
        piece = piece_numbers(context.check, characteristic)[odd_one]
        others = [each for i, each in enumerate(values_um) if i != odd_one]
        away = values_um[odd_one] - sum(others) / len(others)
        says = f"piece {piece} stands {abs(away):.1f} µm apart from the others, which differ by {max(others) - min(others):.1f} µm"
        odd: tuple[tuple[Cause, float, str], ...] = (
            ("odd_piece", 0.6, f"piece {piece} is an odd one"),
            ("entry", 0.3, f"an entry or gauging mistake on piece {piece}"),
        )
        return chart, (signal(context, characteristic.name, "isolated", says, *odd),)
    centre = sum(values_um) / n
    doubt = chart.spread.df / (chart.spread.df + 2.0)
    squares = doubt * sum((each - centre) ** 2 for each in values_um) / sigma_um**2
    watch, checks = watch_spread(chart.watch, squares, n - 1)
    chart = replace(chart, watch=watch)
    if not checks:
        return chart, ()
    now = (sum((each - centre) ** 2 for each in values_um) / (n - 1)) ** 0.5
    over = f"over the last {checks} checks" if checks > 1 else "in this check"
    says = f"pieces differ more than before {over}: spread of one piece {now:.1f} µm now, {sigma_um:.1f} µm before"
    grown = f"the spread has grown from {sigma_um:.1f} µm"
    return chart, (signal(context, characteristic.name, "spread", says, ("spread", 0.8, grown)),)


def mean_signals(
    context: CheckContext,
    characteristic: Characteristic,
    mean_um: float,
    limits: Limits | None,
    forecast: Forecast | None,
    chart: ChartState,
    explained: tuple[Explained, ...],
    spread: tuple[Signal, ...],
    levels: tuple[Level, ...],
) -> tuple[ChartState, tuple[Signal, ...], tuple[Explained, ...], Tale | None]:
    """A mean that the forecast, or its own limits, do not allow; an explained change raises neither."""
    if limits is None and forecast is None:
        return chart, (), (), None
    odd = bool(spread) and spread[0].kind == "isolated"
    finding = None
    if forecast is not None and not explained and not odd:
        surprise = (mean_um - forecast.mean_um) / forecast.sd_um
        watch, finding = watch_mean(chart.watch, surprise)
        chart = replace(chart, watch=watch)
    if finding is not None:
        said, tale = told(context, characteristic, finding, mean_um, forecast, levels, chart.watch.spread)
        return chart, said, (), tale
    if limits is None or limits.standing == "forecast" or odd or explained:
        return chart, (), (), None
    chart, said, why = _own_limits(context, characteristic, mean_um, limits, forecast, chart)
    return chart, said, why, None


def _own_limits(context, characteristic, mean_um, limits, forecast, chart):
    """Signed or provisional limits of a fixed chart: a point outside that the die's wear explains is no alarm."""
    unit_um = characteristic.um_per_unit
    off_um = mean_um - (limits.centre - float(characteristic.aim)) * unit_um
    if abs(off_um) <= _grain_um(context, characteristic):
        off_um = 0.0
    z = 3.0 * off_um / ((limits.upper - limits.centre) * unit_um)
    window = (*chart.z, z)[-_WINDOW:]
    if limits.standing == "provisional":
        findings = [each for each in last_point_findings((z,), _RULES) if each.rule == "beyond_limits"]
    else:
        findings = last_point_findings(window, _RULES)
    if context.check.purpose == "hourly":
        chart = replace(chart, z=window)
    beyond = [each for each in findings if each.rule == "beyond_limits"]
    runs = [each for each in findings if each.rule != "beyond_limits"]
    if characteristic.wears_with_die and forecast is not None and (beyond or runs):
        way = "above" if off_um > 0 else "below"
        says = f"{abs(off_um):.1f} µm {way} the centre line, as the wear of the die leads one to expect"
        return chart, (), (Explained(characteristic.name, "wear", says),)
    if beyond:
        return chart, (_beyond(context, characteristic, off_um, limits),), ()
    if not runs or context.check.purpose != "hourly":
        return chart, (), ()
    says = f"{runs[0].says}; the last mean is {off_um:+.1f} µm from it"
    said = signal(
        context,
        characteristic.name,
        "run_rule",
        says,
        ("drift", 0.4, f"a slow change, {off_um:+.1f} µm by now"),
        ("unknown", 0.4, f"not known yet what moves it by {abs(off_um):.1f} µm"),
    )
    return chart, (said,), ()


def _grain_um(context: CheckContext, characteristic: Characteristic) -> float:
    """Half a step of the mean: no mean of readings with so many decimals can come nearer to a centre line."""
    values = [
        each.value
        for each in context.check.readings
        if each.characteristic == characteristic.name and each.value is not None
    ]
    places = min((int(each.as_tuple().exponent) for each in values), default=0)
    return 0.5 * 10.0**places * characteristic.um_per_unit / max(len(values), 1)


def _beyond(context: CheckContext, characteristic: Characteristic, off_um: float, limits: Limits) -> Signal:
    width = (limits.upper - limits.centre) * characteristic.um_per_unit
    way = "above" if off_um > 0 else "below"
    expected = (
        "what the die's age and the slide lead one to expect"
        if limits.standing == "forecast"
        else "the centre line"
    )
    says = f"the mean is {abs(off_um):.1f} µm {way} {expected}; chance allows {width:.1f} µm"
    return signal(
        context,
        characteristic.name,
        "beyond_limits",
        says,
        ("step", 0.5, f"a step of {abs(off_um):.1f} µm that no logged event explains"),
        ("gauge_zero", 0.25, f"the gauge, {abs(off_um):.1f} µm off until it was set on its master"),
    )


def _short(value: Decimal, characteristic: Characteristic) -> Decimal:
    """Say a gauged value as it came; one that was worked out, to two decimals more than the drawing's."""
    finest = characteristic.nominal.as_tuple().exponent
    least = Decimal(1).scaleb(min(0, int(finest)) - 2)
    return value if value == value.quantize(least) else value.quantize(least)


def _beyond_um(characteristic: Characteristic, value: Decimal) -> float:
    limit = characteristic.tolerance.nearest(value)
    return 0.0 if limit is None else float(abs(value - limit)) * characteristic.um_per_unit


def _odd_piece(values_um: tuple[float, ...], sigma_um: float) -> int | None:
    """Return the place of the piece that stands apart, if the others alone are ordinary."""
    if len(values_um) < 3:
        return None
    middle = median(values_um)
    place = max(range(len(values_um)), key=lambda i: abs(values_um[i] - middle))
    others = [value for i, value in enumerate(values_um) if i != place]
    ordinary = max(others) - min(others) <= 5.0 * sigma_um
    apart = abs(values_um[place] - sum(others) / len(others)) > _ODD_PIECE * sigma_um
    return place if ordinary and apart else None
