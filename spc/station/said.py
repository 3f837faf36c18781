"""Making a signal: what it is called, since when, and what may lie behind it."""

from spc.shop import Explanation, Signal
from spc.shop.layouts import Cause, SignalKind
from spc.station.context import CheckContext

__all__ = ["signal"]


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
