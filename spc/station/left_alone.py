"""Why the slide is left where it stands although a size is off: in a sentence with its number."""

from collections.abc import Sequence

from spc.shop import Signal
from spc.shop.names import shop_name
from spc.station.acceptance import past_acceptance_um
from spc.station.context import CheckContext
from spc.station.growth_jump import growth_jumped
from spc.station.judged import Judged
from spc.station.standing import likeliest
from spc.wear import COLD_PIECES, SlideSize, still_cold

__all__ = ["why_left_alone"]

_NOT_UNDERSTOOD = {
    "beyond_limits": "the mean has jumped and nothing logged explains it",
    "step": "the size has stepped and nothing logged explains it",
    "isolated": "one piece stands apart from the others",
    "spread": "the pieces have begun to differ more",
    "suspect_entry": "what was typed is hard to believe",
}
"""With one of these on a size that the slide sets, moving the slide would hide what nobody understands yet."""
_COLD = 0.36
"""Share of the warm-up from which a machine counts as cold: the first 150 pieces (common practice, no source)."""


def why_left_alone(
    context: CheckContext, judged: Sequence[Judged], signals: Sequence[Signal], size: SlideSize
) -> str:
    """Say why a wanted move is not advised; "" where it is.

    Parameters
    ----------
    signals : sequence of Signal
        Of this check.
    size : SlideSize
        The one that is off most.

    Notes
    -----
    A machine still cold is waited for, unless the mean as gauged is past the acceptance limits, three
    piece-spreads inside the tolerance. A step is held against a move at the check that tells it; where the next
    check finds the size at the same place it is confirmed, and a hold carries the move to make once its cause is
    known. A ban for as long as it stands would have no way out: off the aim it goes on holding.
    """
    off_um = abs(size.level_um)
    off = f"{shop_name(size.name)} is {off_um:.1f} µm {'above' if size.level_um > 0 else 'below'} its aim"
    if any(each.kind == "visual" for each in signals):
        return f"{off}, but first the dies have to be looked at"
    set_by_slide = {each.characteristic.name for each in judged if each.characteristic.is_set_by_slide}
    for each in signals:
        if each.kind in _NOT_UNDERSTOOD and each.characteristic in set_by_slide:
            return f"{off}, but {_NOT_UNDERSTOOD[each.kind]}: moving the slide would hide it"
    if _growth_has_jumped(context, judged, signals):
        return f"{off}, but growth has jumped: moving the slide before the dies were looked at would hide it"
    since = context.pieces_since_start
    if still_cold(since) > _COLD and not _past_acceptance(judged, size):
        return (
            f"{off}, but the machine is warming up: {since} pieces since the start, "
            f"wait until about {COLD_PIECES:.0f}"
        )
    return ""


def _growth_has_jumped(context: CheckContext, judged: Sequence[Judged], signals: Sequence[Signal]) -> bool:
    """Whether the check that tells of a growth that has jumped is this one; the next one may move."""
    faster = {
        each.characteristic for each in signals if each.kind == "wear_rate" and likeliest(each) == "wear"
    }
    return any(
        each.characteristic.is_set_by_slide
        and each.characteristic.name in faster
        and growth_jumped(context, each)
        for each in judged
    )


def _past_acceptance(judged: Sequence[Judged], size: SlideSize) -> bool:
    """Whether the mean as gauged leaves less than three piece-spreads to a limit of the tolerance."""
    gauged = next((each for each in judged if each.characteristic.name == size.name), None)
    if gauged is None:
        return False
    return past_acceptance_um(gauged.characteristic, gauged.subgroup.mean, size.sigma_um) != 0.0
