"""Limits of a chart of its own, signed or provisional, that do not follow the die."""

from dataclasses import replace

from spc.shop import Characteristic, Explained, Signal
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.limits_now import Limits
from spc.station.said import signal
from spc.station.state import ChartState
from spc.statistics import RunFinding, last_point_findings, rule_set
from spc.wear import Forecast

__all__ = ["own_limits"]

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
    A point outside, or a run, that the forecast expected of a characteristic that wears with the die is no
    alarm: it is kept as explained by wear, for the auditor. Provisional limits judge single points only: runs
    along a centre line that twenty checks drew tell of the line.
    """
    unit_um = characteristic.um_per_unit
    off_um = gauged.mean_um - (limits.centre - float(characteristic.aim)) * unit_um
    if abs(off_um) <= _grain_um(context, characteristic):
        off_um = 0.0
    z = 3.0 * off_um / ((limits.upper - limits.centre) * unit_um)
    window = (z,) if limits.standing == "provisional" else (*chart.z, z)[-_WINDOW:]
    if context.check.purpose == "hourly":
        chart = replace(chart, z=(*chart.z, z)[-_WINDOW:])
    findings = last_point_findings(window, _RULES)
    beyond = any(each.rule == "beyond_limits" for each in findings)
    runs = [each for each in findings if each.rule != "beyond_limits"]
    if not beyond and (not runs or context.check.purpose != "hourly"):
        return chart, (), ()
    if characteristic.wears_with_die and forecast is not None:
        way = "above" if off_um > 0 else "below"
        says = f"{abs(off_um):.1f} µm {way} the centre line, as the age of the die leads one to expect"
        return chart, (), (Explained(characteristic.name, "wear", says),)
    if beyond:
        return chart, (_beyond(context, characteristic, off_um, limits),), ()
    return chart, (_run(context, characteristic, off_um, runs[0]),), ()


def _beyond(context: CheckContext, characteristic: Characteristic, off_um: float, limits: Limits) -> Signal:
    width = (limits.upper - limits.centre) * characteristic.um_per_unit
    way = "above" if off_um > 0 else "below"
    says = f"the mean is {abs(off_um):.1f} µm {way} the centre line; chance allows {width:.1f} µm"
    return signal(
        context,
        characteristic.name,
        "beyond_limits",
        says,
        ("step", 0.5, f"a step of {abs(off_um):.1f} µm that no logged event explains"),
        ("gauge_zero", 0.25, f"the gauge, {abs(off_um):.1f} µm off until it was set on its master"),
    )


def _run(context: CheckContext, characteristic: Characteristic, off_um: float, run: RunFinding) -> Signal:
    says = f"{run.says}; the last mean is {off_um:+.1f} µm from it"
    return signal(
        context,
        characteristic.name,
        "run_rule",
        says,
        ("drift", 0.4, f"a slow change, {off_um:+.1f} µm by now"),
        ("unknown", 0.4, f"not known yet what moves it by {abs(off_um):.1f} µm"),
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
