"""Making a signal: what it is called, since when, and what may lie behind it; times as the plant's clock shows them."""

from datetime import datetime

from spc.shop import Explanation, Signal
from spc.shop.layouts import Cause, SignalKind
from spc.shop.moment import to_local
from spc.station.context import CheckContext

__all__ = ["clock", "signal"]


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


def clock(context: CheckContext, moment: datetime) -> str:
    """Say a time of day of the plant."""
    return to_local(moment, context.plan.zone).strftime("%H:%M")
