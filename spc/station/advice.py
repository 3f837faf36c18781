"""The correction that a verdict carries: from the believed sizes to a number that stands on the machine."""

from collections.abc import Sequence
from decimal import Decimal

from spc.shop import Characteristic, Correction, Signal
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.priors import tolerance_um
from spc.wear import SlideSize, WearBelief, advise, forecast_mean, level_um, sigma_um

__all__ = ["correction_for"]

_PURPOSES = ("hourly", "first_off", "after_move", "setup", "confirm")
_HIDES = ("beyond_limits", "step", "isolated", "spread", "suspect_entry", "visual")
"""With one of these on a size that the slide sets, moving the slide would hide what nobody understands yet."""


def correction_for(
    context: CheckContext, judged: Sequence[Judged], signals: Sequence[Signal]
) -> Correction | None:
    """Return the one move of the slide to make now, or None.

    Notes
    -----
    Nothing is advised where no setting is known, where the entry or a step is not understood, on pieces that
    were sorted or tried, or past the travel that the plan allows a die set. A size that the slide sets too
    but that this check did not gauge has its say as far as earlier checks of the die set tell of it.
    """
    set_by_slide = [each for each in judged if each.characteristic.is_set_by_slide and each.gain]
    setting = context.machine.setting_mm
    if not set_by_slide or setting is None or context.check.purpose not in _PURPOSES:
        return None
    names = {each.characteristic.name for each in set_by_slide}
    if any(
        each.kind == "visual" or (each.kind in _HIDES and each.characteristic in names) for each in signals
    ):
        return None
    largest = context.habits.largest_move_mm
    step_um = float(context.habits.slide_step_mm) * context.per_mm
    advice = advise(
        [_gauged_now(context, each) for each in set_by_slide] + _known_before(context, names),
        step_um,
        None if largest is None else float(largest) * context.per_mm,
    )
    if advice is None:
        return None
    steps = round(advice.approach_um / step_um)
    move = steps * context.habits.slide_step_mm
    if _past_travel(context, move):
        return None
    lands = tuple((name, _size(context, name, off_um)) for name, off_um in advice.lands_um)
    return Correction(advice.characteristic, move, setting, setting + move, lands)


def _gauged_now(context: CheckContext, judged: Judged) -> SlideSize:
    levels = (judged.level_um, judged.level_sd_um, judged.sigma_um)
    return _slide_size(context, judged.characteristic, judged.belief, judged.gain, levels)


def _known_before(context: CheckContext, gauged: set[str]) -> list[SlideSize]:
    """Sizes that the slide sets and that this check did not gauge, as earlier checks leave them."""
    found = []
    for characteristic in context.plan.gauged:
        if characteristic.name in gauged or not characteristic.is_set_by_slide:
            continue
        belief = context.belief(characteristic)
        if belief is None or belief.checks == 0 or not belief.mean[3]:
            continue
        sigma = max(sigma_um(context.chart(characteristic).spread), 1e-3)
        ahead = forecast_mean(belief, context.approach_um, 1e-6)
        levels = (level_um(belief, context.approach_um), ahead.sd_um, sigma)
        found.append(_slide_size(context, characteristic, belief, belief.mean[3], levels))
    return found


def _slide_size(
    context: CheckContext,
    characteristic: Characteristic,
    belief: WearBelief | None,
    gain: float,
    levels: tuple[float, float, float],
) -> SlideSize:
    """`levels`: size minus target, how sure that is, spread of one piece, all in µm."""
    unit_um, aim = characteristic.um_per_unit, characteristic.aim
    upper, lower = characteristic.tolerance.upper, characteristic.tolerance.lower
    level, level_sd, sigma = levels
    return SlideSize(
        name=characteristic.name,
        level_um=level,
        level_sd_um=level_sd,
        growth_um=_growth_um(context, belief),
        gain=gain,
        sigma_um=sigma,
        low_um=None if lower is None else float(lower - aim) * unit_um,
        high_um=None if upper is None else float(upper - aim) * unit_um,
        tolerance_um=tolerance_um(characteristic),
    )


def _growth_um(context: CheckContext, belief: WearBelief | None) -> float:
    """Growth expected until the next check: the believed rate times the pieces of one interval."""
    hours = (context.plan.check.interval_minutes or 60.0) / 60.0
    if belief is None or context.machine.pieces_per_hour is None:
        return 0.0
    return belief.mean[2] * context.machine.pieces_per_hour * hours / 1000.0


def _past_travel(context: CheckContext, move: Decimal) -> bool:
    travel = context.plan.correction_travel_mm
    return (
        travel is not None
        and context.moved_mm is not None
        and move > 0
        and float(context.moved_mm + move) > travel
    )


def _size(context: CheckContext, name: str, off_um: float) -> float:
    characteristic = context.plan.characteristic(name)
    return float(characteristic.aim) + off_um / characteristic.um_per_unit
