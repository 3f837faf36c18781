"""The correction that a verdict carries: from the believed sizes to a number that stands on the machine."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from spc.shop import Correction, Signal
from spc.shop.names import shop_name
from spc.shop.quickly_made import quickly_made
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.left_alone import why_left_alone
from spc.station.said import signal
from spc.station.slide_sizes import slide_sizes
from spc.wear import Advice, SlideSize, advise, mismatch

__all__ = ["SlideAdvice", "slide_advice"]

_PURPOSES = ("hourly", "first_off", "after_move", "setup", "confirm")


@quickly_made
@dataclass(frozen=True, slots=True)
class SlideAdvice:
    """What is said of the slide at a check.

    Attributes
    ----------
    correction : Correction or None
        The one move to make now.
    left_alone : str
        Why a move that is wanted is not advised; "" where none is wanted, or it is advised.
    signals : tuple of Signal
        Where no setting serves all sizes.
    """

    correction: Correction | None = None
    left_alone: str = ""
    signals: tuple[Signal, ...] = ()


def slide_advice(context: CheckContext, judged: Sequence[Judged], signals: Sequence[Signal]) -> SlideAdvice:
    """Return the one move of the slide to make now, or why it is left where it stands.

    Parameters
    ----------
    signals : sequence of Signal
        Of this check so far.

    Notes
    -----
    Nothing is advised where no setting is known, where the entry or a step is not understood, on pieces that
    were sorted or tried, on a machine still cold, or past the travel that the plan allows a die set. A size
    that the slide sets too but that this check did not gauge has its say as far as earlier checks of the die
    set tell of it.
    """
    sizes = slide_sizes(context, judged)
    setting = context.machine.setting_mm
    if not sizes or setting is None or context.check.purpose not in _PURPOSES:
        return SlideAdvice()
    step_um = float(context.habits.slide_step_mm) * context.per_mm
    clash = _clash(context, sizes, step_um)
    if clash is not None:
        return SlideAdvice(signals=(clash,))
    wanted = advise(sizes, step_um, _largest_um(context))
    if wanted is None:
        return SlideAdvice()
    why = why_left_alone(
        context, judged, signals, next(each for each in sizes if each.name == wanted.characteristic)
    )
    if why:
        return SlideAdvice(left_alone=why)
    left_um = _travel_left_um(context)
    allowed = advise(sizes, step_um, _largest_um(context), left_um)
    if allowed is None:
        return SlideAdvice(left_alone=_past_travel(context, wanted))
    return SlideAdvice(_correction(context, allowed, step_um, setting))


def _correction(context: CheckContext, advice: Advice, step_um: float, setting: Decimal) -> Correction:
    move = round(advice.approach_um / step_um) * context.habits.slide_step_mm
    lands = tuple((name, _size(context, name, off_um)) for name, off_um in advice.lands_um)
    return Correction(advice.characteristic, move, setting, setting + move, lands)


def _clash(context: CheckContext, sizes: Sequence[SlideSize], step_um: float) -> Signal | None:
    """Sizes that no setting serves together, told as what holds pieces back."""
    found = mismatch(sizes, step_um)
    if found is None:
        return None
    needs = [
        f"{shop_name(name)} would need {_display_um(context, um):.0f} µm {'deeper' if um > 0 else 'shallower'}"
        for name, um in ((found.deeper, found.deeper_um), (found.shallower, found.shallower_um))
    ]
    says = f"no slide setting serves all: {', '.join(needs)}; the dies no longer match"
    apart = (
        f"the sizes of the dies have grown {abs(found.deeper_um - found.shallower_um):.0f} µm of slide apart"
    )
    setting = (
        f"the dies are matched or set wrongly, by {abs(found.deeper_um - found.shallower_um):.0f} µm of slide"
    )
    return signal(
        context, found.deeper, "out_of_tolerance", says, ("wear", 0.5, apart), ("setting", 0.3, setting)
    )


def _display_um(context: CheckContext, approach_um: float) -> float:
    """Approach of the dies as displayed travel, without sign."""
    return 1000.0 * abs(approach_um) / context.per_mm


def _largest_um(context: CheckContext) -> float | None:
    largest = context.habits.largest_move_mm
    return None if largest is None else float(largest) * context.per_mm


def _travel_left_um(context: CheckContext) -> float | None:
    travel = context.plan.correction_travel_mm
    if travel is None or context.moved_mm is None:
        return None
    return (travel - float(context.moved_mm)) * context.per_mm


def _past_travel(context: CheckContext, wanted: Advice) -> str:
    travel = context.plan.correction_travel_mm or 0.0
    used = float(context.moved_mm or 0)
    return (
        f"{_display_um(context, wanted.approach_um):.0f} µm deeper would be past the infeed the dies may have: "
        f"{1000 * used:.0f} of {1000 * travel:.0f} µm are used"
    )


def _size(context: CheckContext, name: str, off_um: float) -> float:
    characteristic = context.plan.characteristic(name)
    return float(characteristic.aim) + off_um / characteristic.um_per_unit
