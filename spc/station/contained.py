"""Pieces in doubt: since when, how many, and whether the model expects bad ones among them."""

from collections.abc import Sequence

from scipy.special import ndtr

from spc.shop import Contain, Signal
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.signals import signal
from spc.station.standing import troubled_since

__all__ = ["contain", "doubt_signals", "share_outside"]

_HOLDS = ("out_of_tolerance", "visual")


def doubt_signals(context: CheckContext, judged: Sequence[Judged]) -> tuple[Signal, ...]:
    """Signals where the model puts more of the pieces since the last good check outside than the plan lets pass."""
    found = []
    for each in judged:
        share = share_outside(each)
        has_piece_out = any(said.kind == "out_of_tolerance" for said in each.signals)
        if share > context.plan.doubt_share and not has_piece_out and not each.subgroup.suspect:
            says = f"about {100 * share:.1f} % of the pieces now made would be out of tolerance"
            found.append(signal(context, each.characteristic.name, "out_of_tolerance", says))
    return tuple(found)


def share_outside(judged: Judged) -> float:
    """Share of pieces outside the tolerance at the size now believed, by a normal spread of pieces."""
    characteristic = judged.characteristic
    unit_um, aim, share = characteristic.um_per_unit, characteristic.aim, 0.0
    if characteristic.tolerance.upper is not None:
        high = float(characteristic.tolerance.upper - aim) * unit_um
        share += float(ndtr((judged.level_um - high) / judged.sigma_um))
    if characteristic.tolerance.lower is not None:
        low = float(characteristic.tolerance.lower - aim) * unit_um
        share += float(ndtr((low - judged.level_um) / judged.sigma_um))
    return share


def contain(context: CheckContext, signals: Sequence[Signal]) -> Contain:
    """Pieces to hold back: after the last good check before the cause first showed, to this check.

    Notes
    -----
    The cause first shows at the earliest check from which signals on the same characteristic have stood
    without a break. Without counters the counts are None; a good check whose counter is missing, or beyond
    this one's, gives way to the one before it.
    """
    to_counter = context.check.counter
    if to_counter is None:
        return Contain(None, None, None)
    holding = {each.characteristic for each in signals if each.kind in _HOLDS}
    since = troubled_since(context, holding)
    good = [each.counter for each in context.machine.good if each.time < since and each.counter is not None]
    from_counter = next((each for each in reversed(good) if each <= to_counter), 0)
    return Contain(from_counter, to_counter, to_counter - from_counter)
