"""Over-adjustment: the slide moved to and fro, far more than the dies have grown."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from spc.wear.change import Level

__all__ = ["ToAndFro", "to_and_fro"]

_CHECKS = 8
"""Checks looked back on: one shift at one an hour."""
_FEWEST_MOVES, _FEWEST_TURNS = 4, 2
_TIMES = 3.0
"""Sum of the moves over what was needed from which they chase each other (common practice, no source)."""
_NO_MOVE_UM = 1e-6
"""Approach that is no move but the rounding of a setting in millimetres."""


@dataclass(frozen=True, slots=True)
class ToAndFro:
    """Moves of the slide that took each other back.

    Attributes
    ----------
    moves, checks : int
        How many moves in how many checks.
    sum_um, net_um : float
        Approach of the dies, all moves without their signs and all together with them.
    growth_um : float
        What the dies grew meanwhile, as size.
    """

    moves: int
    checks: int
    sum_um: float
    net_um: float
    growth_um: float


def to_and_fro(levels: Sequence[Level], gain: float) -> ToAndFro | None:
    """Say whether the slide has been chased to and fro; None where it has not.

    Parameters
    ----------
    levels : sequence of Level
        The last checks of one mounting, oldest first, each with the approach at which it was made.
    gain : float
        µm of size per µm of approach; not 0.

    Returns
    -------
    ToAndFro or None
        Over the checks from the first of the moves looked at to the last.

    Notes
    -----
    Answering each reading in full moves a stable process to and fro: the setting then varies by as much as the
    readings do (rule 2 of the funnel), and two moves of three turn back on the one before. Told where four moves
    in eight checks turned at least twice and came to three times what they left, and three times what growth
    asked for; and only at a check with a fresh move.

    References
    ----------
    W. E. Deming, *Out of the Crisis* (1986), ch. 11, the funnel (from memory); the ratio of the sum of moves to
    the net move: common practice, no source.
    """
    if len(levels) < 2 or abs(levels[-1].approach_um - levels[-2].approach_um) < _NO_MOVE_UM:
        return None
    seen = levels[-(_CHECKS + 1) :]
    steps = [after.approach_um - before.approach_um for before, after in pairwise(seen)]
    first = next(place for place, step in enumerate(steps) if abs(step) >= _NO_MOVE_UM)
    moves = [step for step in steps[first:] if abs(step) >= _NO_MOVE_UM]
    turns = sum(one * other < 0.0 for one, other in pairwise(moves))
    if len(moves) < _FEWEST_MOVES or turns < _FEWEST_TURNS:
        return None
    total, net = sum(map(abs, moves)), sum(moves)
    growth = seen[-1].rate_um_per_1000 * (seen[-1].age_pieces - seen[first].age_pieces) / 1000.0
    if total < _TIMES * max(abs(net), abs(growth / gain)):
        return None
    return ToAndFro(len(moves), len(steps) - first, total, net, growth)
