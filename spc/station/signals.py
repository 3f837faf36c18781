"""Signals of one characteristic: pieces out, entries in doubt, odd spread, means beyond their limits, runs."""

from dataclasses import replace
from decimal import Decimal
from statistics import median

from spc.shop import Characteristic, Explained, Explanation, Signal
from spc.shop.layouts import Cause, SignalKind
from spc.station.context import CheckContext
from spc.station.limits_now import Limits
from spc.station.pieces import piece_numbers
from spc.station.state import ChartState
from spc.statistics import last_point_findings, rule_set

__all__ = ["mean_signals", "piece_signals", "signal", "spread_signals"]

_WINDOW = 15
_RULES = rule_set("house")
_ODD_PIECE = 4.0
"""Piece-spreads from the middle of the others at which one piece stands apart."""


def signal(
    context: CheckContext,
    characteristic: str,
    kind: SignalKind,
    says: str,
    *explanations: tuple[Cause, float, str],
) -> Signal:
    """Make a signal; it keeps the time of the first check of an unbroken row of checks that show it."""
    since = context.machine.standing.get(f"{characteristic}|{kind}", context.check.time)
    return Signal(characteristic, kind, since, says, tuple(Explanation(*each) for each in explanations))


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
    limits: Limits | None,
) -> tuple[Signal, ...]:
    """One piece apart from the others, or a range wider than chance makes it."""
    if limits is None or limits.spread_upper is None or len(values_um) < 2:
        return ()
    upper_um = limits.spread_upper * characteristic.um_per_unit
    width = max(values_um) - min(values_um)
    if width <= upper_um:
        return ()
    odd_one = _odd_piece(values_um, upper_um)
    says = f"pieces differ by {width:.1f} µm, chance allows {upper_um:.1f} µm"
    if odd_one is not None:
        piece = piece_numbers(context.check, characteristic)[odd_one]
        says = f"piece {piece} stands apart: {says}"
        odd: tuple[tuple[Cause, float, str], ...] = (
            ("odd_piece", 0.6, f"piece {piece} is an odd one"),
            ("entry", 0.3, f"an entry or gauging mistake on piece {piece}"),
        )
        return (signal(context, characteristic.name, "isolated", says, *odd),)
    grown = f"the spread has grown: {width / upper_um:.1f} times what chance allows"
    return (signal(context, characteristic.name, "spread", says, ("spread", 0.7, grown)),)


def mean_signals(
    context: CheckContext,
    characteristic: Characteristic,
    mean_um: float,
    limits: Limits | None,
    chart: ChartState,
    explained: tuple[Explained, ...],
    spread: tuple[Signal, ...],
) -> tuple[ChartState, tuple[Signal, ...]]:
    """A mean beyond its limits, or a run along one side; an explained change raises neither."""
    if limits is None:
        return chart, ()
    unit_um = characteristic.um_per_unit
    aim = float(characteristic.aim)
    off_um = mean_um - (limits.centre - aim) * unit_um
    if abs(off_um) <= _grain_um(context, characteristic):
        off_um = 0.0
    z = 3.0 * off_um / ((limits.upper - limits.centre) * unit_um)
    if explained:
        return replace(chart, z=()), ()
    window = (*chart.z, z)[-_WINDOW:]
    findings = last_point_findings(window, _RULES)
    beyond = [each for each in findings if each.rule == "beyond_limits"]
    if context.check.purpose == "hourly":
        chart = replace(chart, z=() if beyond and limits.standing == "forecast" else window)
    if beyond:
        if spread and spread[0].kind == "isolated":
            return chart, ()
        return chart, (_beyond(context, characteristic, off_um, limits),)
    runs = [each for each in findings if each.rule != "beyond_limits"]
    if not runs or context.check.purpose != "hourly":
        return chart, ()
    way: Cause = "wear" if characteristic.wears_with_die else "drift"
    says = f"{runs[0].says}; the last mean is {off_um:+.1f} µm from it"
    return chart, (
        signal(
            context,
            characteristic.name,
            "run_rule",
            says,
            (way, 0.4, f"a slow change, {off_um:+.1f} µm by now"),
            ("unknown", 0.4, f"not known yet what moves it by {abs(off_um):.1f} µm"),
        ),
    )


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


def _odd_piece(values_um: tuple[float, ...], upper_um: float) -> int | None:
    """Return the place of the piece that stands apart, if the others alone would have been ordinary."""
    if len(values_um) < 3:
        return None
    middle = median(values_um)
    place = max(range(len(values_um)), key=lambda i: abs(values_um[i] - middle))
    others = [value for i, value in enumerate(values_um) if i != place]
    ordinary = max(others) - min(others) <= 0.7 * upper_um
    apart = abs(values_um[place] - sum(others) / len(others)) > _ODD_PIECE * upper_um / 5.0
    return place if ordinary and apart else None
