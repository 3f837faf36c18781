"""A mean outside limits that stand still, where the model expected it: what accounts for it, with its number."""

import math

from spc.shop import Characteristic, Explained
from spc.shop.layouts import Cause
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.provisional import in_force
from spc.station.size_memory import SizeMemory
from spc.station.state import ChartState
from spc.wear import MEAN_LIMIT, Forecast, WearBelief
from spc.wear.belief import BATCH, GAIN, OFFSET, RATE, SHIFT, WEAR

__all__ = ["BATCHES", "accounted", "batch_um", "beside_plain_limits", "is_expected"]

BATCHES = 3.0
"""Spreads from batch to batch beyond which a change is more than a batch, or another setting, can do."""

Part = tuple[Cause, float, str]


def beside_plain_limits(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    expected: tuple[WearBelief | None, Forecast | None],
    chart: ChartState,
    memory: SizeMemory,
) -> tuple[Explained, ...]:
    """Explain a mean outside the plain X-bar/R limits where others judge, for the auditor who draws that chart.

    Parameters
    ----------
    expected : (WearBelief or None, Forecast or None)
        What was believed, and what the mean should have been.
    chart : ChartState
        For the plain limits: signed ones, or those of the first twenty good hourly checks; three standard errors.
    memory : SizeMemory
        With this check as its last level.
    """
    stands = in_force(characteristic, chart)
    belief, forecast = expected
    if stands is None or belief is None or not is_expected(forecast, gauged):
        return ()
    unit_um = characteristic.um_per_unit
    centre_um = (stands.centre - float(characteristic.aim)) * unit_um
    if abs(gauged.mean_um - centre_um) * math.sqrt(gauged.n) <= 3.0 * stands.sigma_within * unit_um:
        return ()
    return (accounted(context, characteristic, gauged, belief, centre_um, memory),)


def is_expected(forecast: Forecast | None, gauged: Gauged) -> bool:
    """Whether the forecast, with all its doubt, is not surprised by a mean."""
    return forecast is not None and abs(gauged.mean_um - forecast.mean_um) <= MEAN_LIMIT * forecast.sd_um


def accounted(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    belief: WearBelief,
    centre_um: float,
    memory: SizeMemory,
) -> Explained:
    """Say which part of the model accounts for most of a mean's distance from a centre line.

    Parameters
    ----------
    belief : WearBelief
        Before this check; what it is made of adds up to the forecast (see `wear.belief`).
    centre_um : float
        Centre line minus target.

    Notes
    -----
    At the first check of a mounting nothing is known yet of where the set-up stands: the set-up is the reason.
    """
    off_um = gauged.mean_um - centre_um
    way = "above" if off_um > 0 else "below"
    says = f"{abs(off_um):.1f} µm {way} the centre line of the plain chart: "
    if len(memory.levels) <= 1:
        sure = "at the first check after the dies went on, a set-up may be that far off"
        return Explained(characteristic.name, "setting", says + sure)
    parts = _parts(context, characteristic, gauged, belief, centre_um, memory)
    cause, amount_um, what = max(parts, key=lambda each: math.copysign(1.0, off_um) * each[1])
    if amount_um * off_um <= 0.0:  # all that is known lies to the other side
        cause, amount_um, what = _together(parts)
    is_little = 2.0 * math.copysign(1.0, off_um) * amount_um < abs(off_um)
    rest = ", the rest is within what the forecast allows" if is_little else ""
    return Explained(characteristic.name, cause, f"{says}{what} {amount_um:+.1f} µm{rest}")


def _together(parts: list[Part]) -> Part:
    """All that is known as one, under the name of its largest part."""
    cause = max(parts, key=lambda each: abs(each[1]))[0]
    return cause, math.fsum(each[1] for each in parts), "all that is known adds"


def batch_um(
    context: CheckContext, characteristic: Characteristic, gauged: Gauged, memory: SizeMemory
) -> float:
    """Say how far the present bar batch moved the level; 0 where it did not, or by more than bars can do."""
    step = memory.batch_step
    if step is None or not context.machine.batch:
        return 0.0
    most = BATCHES * math.sqrt(2.0 * gauged.white_um2 + context.prior(characteristic).batch_sd_um ** 2)
    return step.step_um if abs(step.step_um) <= most else 0.0


def _parts(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    belief: WearBelief,
    centre_um: float,
    memory: SizeMemory,
) -> list[Part]:
    """What a forecast is made of beyond the centre line: steps told before, bars, a cold machine, and the rest."""
    mean, bars_um, step_um = belief.mean, batch_um(context, characteristic, gauged, memory), memory.stepped_um
    stands = mean[OFFSET] + mean[WEAR] + mean[SHIFT] + mean[BATCH] - mean[GAIN] * context.approach_um
    stands -= centre_um + bars_um + step_um
    parts: list[Part] = [
        ("step", step_um, "a step before, which no logged event explains, adds"),
        ("batch", bars_um, f"bar batch {context.machine.batch} adds"),
        ("warm_up", gauged.cold_um, "the machine, still cold, adds"),
    ]
    if not characteristic.wears_with_die:
        return [("drift", stands, "the level of the checks before adds"), *parts]
    slide = ", less what the slide took off, adds" if characteristic.is_set_by_slide else " adds"
    dies: Part = ("wear", stands, f"the dies' wear{slide}")
    if stands * mean[RATE] <= 0.0:
        dies = ("setting", stands, "the set-up and the slide, as they stand, add")
    return [dies, *parts]
