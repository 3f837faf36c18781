"""Limits of a chart of its own, signed or provisional, that do not follow the die."""

from spc.shop import Characteristic, Explained, Signal
from spc.shop.changed import changed
from spc.shop.layouts import Cause
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.limits_now import Limits
from spc.station.said import signal
from spc.station.state import ChartState
from spc.statistics import RunFinding, last_point_findings, rule_set
from spc.wear import MEAN_LIMIT, Forecast

__all__ = ["own_limits"]

Told = tuple[Cause, float, str]

_WINDOW = 15
_RULES = rule_set("house")


def own_limits(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    limits: Limits,
    forecast: Forecast | None,
    chart: ChartState,
) -> tuple[ChartState, tuple[Signal, ...], tuple[Explained, ...]]:
    """Judge a mean by limits that stand still.

    Notes
    -----
    Signed limits judge by the letter, runs included. Provisional ones were drawn by twenty checks that nobody has
    looked at: where the forecast, which carries the doubt of a new die set, slow wander and wear, is not surprised,
    a point outside them is kept as explained, for the auditor.
    """
    unit_um = characteristic.um_per_unit
    off_um = gauged.mean_um - (limits.centre - float(characteristic.aim)) * unit_um
    if abs(off_um) <= _grain_um(context, characteristic):
        off_um = 0.0
    z = 3.0 * off_um / ((limits.upper - limits.centre) * unit_um)
    window = (z,) if limits.standing == "provisional" else (*chart.z, z)[-_WINDOW:]
    if context.check.purpose == "hourly":
        chart = changed(chart, z=(*chart.z, z)[-_WINDOW:])
    findings = last_point_findings(window, _RULES)
    beyond = any(each.rule == "beyond_limits" for each in findings)
    runs = [each for each in findings if each.rule != "beyond_limits"]
    if not beyond and (not runs or context.check.purpose != "hourly"):
        return chart, (), ()
    if limits.standing == "provisional" and _allows(forecast, gauged):
        return chart, (), (_expected(characteristic, off_um),)
    said = _beyond(context, characteristic, off_um, limits) if beyond else None
    return chart, (said or _run(context, characteristic, off_um, runs[0]),), ()


def _allows(forecast: Forecast | None, gauged: Gauged) -> bool:
    return forecast is not None and abs(gauged.mean_um - forecast.mean_um) <= MEAN_LIMIT * forecast.sd_um


def _expected(characteristic: Characteristic, off_um: float) -> Explained:
    way = "above" if off_um > 0 else "below"
    says = f"{abs(off_um):.1f} µm {way} the centre line of the first checks, as "
    if characteristic.wears_with_die:
        return Explained(characteristic.name, "wear", says + "the age of the die leads one to expect")
    return Explained(characteristic.name, "drift", says + "the checks before this one lead one to expect")


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


def _grain_um(context: CheckContext, characteristic: Characteristic) -> float:
    """Half a step of the mean: no mean of readings with so many decimals can come nearer to a centre line."""
    values = [
        each.value
        for each in context.check.readings
        if each.characteristic == characteristic.name and each.value is not None
    ]
    places = min((int(each.as_tuple().exponent) for each in values), default=0)
    return 0.5 * 10.0**places * characteristic.um_per_unit / max(len(values), 1)
