"""Whether the dies have begun to wear much faster: what stops the machine first, and no slide move may hide."""

from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.wear.belief import RATE

__all__ = ["goes_with_wear", "growth_jumped"]

_JUMPED = 1.5
"""Times the growth so far from which it has jumped (common practice, no source)."""


def growth_jumped(context: CheckContext, judged: Judged) -> bool:
    """Whether growth is well above what it was before this check; a change nobody measured counts as one."""
    if not goes_with_wear(judged):
        return False
    before = context.belief(judged.characteristic)
    if before is None or judged.tale is None:
        return True
    return abs(before.mean[RATE] + judged.tale.amount_um) >= _JUMPED * abs(before.mean[RATE])


def goes_with_wear(judged: Judged) -> bool:
    """Whether a size is off on the side that wear comes from."""
    return judged.off_um * (judged.gain or 1.0) >= 0.0
