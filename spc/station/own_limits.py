"""Limits of a chart of its own, signed or provisional, that do not follow the die."""

from spc.shop import Characteristic, Explained, Signal
from spc.shop.changed import changed
from spc.shop.layouts import Cause
from spc.station.accounted import accounted, batch_um, is_expected
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.limits_now import Limits
from spc.station.said import signal
from spc.station.size_memory import SizeMemory
from spc.station.state import ChartState
from spc.statistics import RunFinding, last_point_findings, rule_set
from spc.wear import Forecast, WearBelief

__all__ = ["own_limits"]

Told = tuple[Cause, float, str]

_WINDOW = 15
_RULES = rule_set("house")
_ALONE = tuple(each for each in _RULES if each.window == 1)
"""What a single point can break."""


def own_limits(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    limits: Limits,
    expected: tuple[WearBelief | None, Forecast | None],
    chart: ChartState,
    memory: SizeMemory,
) -> tuple[ChartState, tuple[Signal, ...], tuple[Explained, ...]]:
    """Judge a mean by limits that stand still.

    Notes
    -----
    Signed limits judge by the letter, runs included; only what the present bar batch does, a known cause as long
    as it lasts, is explained. Provisional ones were drawn by twenty checks that nobody has looked at: where the
    forecast, which carries the doubt of a new die set, slow wander and wear, is not surprised, a point outside
    them is kept as explained, for the auditor.
    """
    unit_um = characteristic.um_per_unit
    centre_um = (limits.centre - float(characteristic.aim)) * unit_um
    off_um = gauged.mean_um - centre_um
    if _is_within_grain(context, characteristic, off_um):
        off_um = 0.0
    error_um = (limits.upper - limits.centre) * unit_um / 3.0
    before, z = chart.z, off_um / error_um
    if context.check.purpose == "hourly":
        chart = changed(chart, z=(*before, z)[-_WINDOW:])
    window = (z,) if limits.standing == "provisional" else (*before, z)[-_WINDOW:]
    found = _found(context, window)
    if found is None:
        return chart, (), ()
    belief, forecast = expected
    if belief is not None and is_expected(forecast, gauged):
        if limits.standing == "provisional":
            return chart, (), (accounted(context, characteristic, gauged, belief, centre_um, memory),)
        bars_um = batch_um(context, characteristic, gauged, memory)
        if bars_um and _is_of_batch(context, found, window, bars_um / error_um, memory):
            return chart, (), (_of_batch(context, characteristic, off_um, bars_um),)
    if found.rule == "beyond_limits":
        return chart, (_beyond(context, characteristic, off_um, limits),), ()
    return chart, (_run(context, characteristic, off_um, found),), ()


def _found(context: CheckContext, window: tuple[float, ...]) -> RunFinding | None:
    """Return what the last point of a window breaks: its limit first, and a rule of runs at hourly checks alone."""
    broken = last_point_findings(window, _RULES if len(window) > 1 else _ALONE)
    findings = sorted(broken, key=lambda each: each.rule != "beyond_limits")
    if not findings or (findings[0].rule != "beyond_limits" and context.check.purpose != "hourly"):
        return None
    return findings[0]


def _is_of_batch(
    context: CheckContext,
    found: RunFinding,
    window: tuple[float, ...],
    bars_z: float,
    memory: SizeMemory,
) -> bool:
    """Whether a finding is gone once what the present bar batch does is taken out of the points that it made."""
    if found.rule == "beyond_limits":
        return _found(context, (window[-1] - bars_z,)) is None
    now = memory.levels[-1].batch
    first = len(window) - sum(1 for each in memory.levels[-len(window) :] if each.batch == now)
    return _found(context, (*window[:first], *(each - bars_z for each in window[first:]))) is None


def _of_batch(
    context: CheckContext, characteristic: Characteristic, off_um: float, bars_um: float
) -> Explained:
    way = "above" if off_um > 0 else "below"
    says = f"{abs(off_um):.1f} µm {way} the signed centre line: bar batch {context.machine.batch} adds "
    return Explained(characteristic.name, "batch", f"{says}{bars_um:+.1f} µm")


def _beyond(context: CheckContext, characteristic: Characteristic, off_um: float, limits: Limits) -> Signal:
    width = (limits.upper - limits.centre) * characteristic.um_per_unit
    way = "above" if off_um > 0 else "below"
    says = f"the mean is {abs(off_um):.1f} µm {way} the centre line; chance allows {width:.1f} µm"
    step: Told = ("step", 0.5, f"a step of {abs(off_um):.1f} µm that no logged event explains")
    if characteristic.wears_with_die:
        step = ("wear", 0.6, f"the dies' wear, {off_um:+.1f} µm by now")
    gauge: Told = ("gauge_zero", 0.25, f"the gauge, {abs(off_um):.1f} µm off until it was set on its master")
    return signal(context, characteristic.name, "beyond_limits", says, step, gauge)


def _run(context: CheckContext, characteristic: Characteristic, off_um: float, run: RunFinding) -> Signal:
    says = f"{run.says}; the last mean is {off_um:+.1f} µm from it"
    slow: Cause = "wear" if characteristic.wears_with_die else "drift"
    change: Told = (slow, 0.4, f"a slow change, {off_um:+.1f} µm by now")
    unknown: Told = ("unknown", 0.4, f"not known yet what moves it by {abs(off_um):.1f} µm")
    return signal(context, characteristic.name, "run_rule", says, change, unknown)


def _is_within_grain(context: CheckContext, characteristic: Characteristic, off_um: float) -> bool:
    """Whether a mean is half a step off at most: no mean of readings with so many decimals can come nearer."""
    values = [
        each.value
        for each in context.check.readings
        if each.characteristic == characteristic.name and each.value is not None
    ]
    unit_um, n = characteristic.um_per_unit, len(values)
    return all(abs(off_um) <= 0.5 * 10.0 ** int(each.as_tuple().exponent) * unit_um / n for each in values)
