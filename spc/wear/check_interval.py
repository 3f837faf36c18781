"""How many pieces may be made until the next check: by the share that may go wrong meanwhile, and by cost."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused

__all__ = [
    "CheckCosts", "CheckOptimum", "SizeAhead", "best_check", "loss_per_piece", "safe_interval", "share_ahead",
    "shortened",
]  # fmt: skip

_GAUSS = ((3.0 - math.sqrt(3.0)) / 6.0, (3.0 + math.sqrt(3.0)) / 6.0)
"""Where an interval is looked at: the two-point rule is exact up to cubes."""
_HALVINGS = 7
"""To within a hundredth of the interval."""
_STEPS_PER_1000 = 0.05
"""Steps that nobody sees coming: one in 20,000 pieces (own estimate, no source)."""
_ROOT_HALF = math.sqrt(0.5)


@dataclass(frozen=True, slots=True)
class SizeAhead:
    """One characteristic as it goes into the coming interval, µm minus target.

    Attributes
    ----------
    level_um, level_sd_um : float
        The mean as believed now, and how sure that is.
    rate_um_per_1000, rate_sd_um_per_1000 : float
        Growth, and how sure that is.
    wander_um2_per_1000 : float
        Variance that slow wander adds in 1,000 pieces.
    sigma_um : float
        Spread of one piece, above 0.
    low_um, high_um : float or None
        Tolerance.
    step_um : float
        Standard deviation of a step that nobody sees coming.
    """

    level_um: float
    level_sd_um: float
    rate_um_per_1000: float
    rate_sd_um_per_1000: float
    wander_um2_per_1000: float
    sigma_um: float
    low_um: float | None
    high_um: float | None
    step_um: float


def safe_interval(sizes: Sequence[SizeAhead], longest: int, least: int, share: float) -> tuple[int, int]:
    """Return the longest interval whose pieces are safe enough, for whoever says when to check next.

    Parameters
    ----------
    sizes : sequence of SizeAhead
        Every characteristic that was gauged.
    longest : int
        Pieces until the check that the plan asks for.
    least : int
        Shorter than this makes no sense, whatever comes.
    share : float
        Of the pieces made meanwhile, how many may be expected outside; 0 to 1.

    Returns
    -------
    (int, int)
        Pieces, at least `least` and at most `longest`; and the place of the characteristic that binds, −1 where
        none does.

    Notes
    -----
    The share expected outside grows with the interval: the level moves on at its rate, both are in doubt, and a
    step may come on the way (`share_ahead`). So the longest safe interval is found by halving.
    """
    pieces, binding = longest, -1
    for place, size in enumerate(sizes):
        if share_ahead(size, pieces) <= share:
            continue
        low, high = min(least, pieces), pieces
        for _ in range(_HALVINGS):
            middle = (low + high) // 2
            low, high = (middle, high) if share_ahead(size, middle) <= share else (low, middle)
        pieces, binding = max(low, min(least, pieces)), place
    return pieces, binding


def share_ahead(size: SizeAhead, pieces: float) -> float:
    """Share of the next pieces expected outside the tolerance, with all that is in doubt.

    Parameters
    ----------
    size : SizeAhead
        As it stands now.
    pieces : float
        How many are made until the next check, 0 or more.

    Returns
    -------
    float
        0 to 1: the mean over the interval, plus what a step would put outside, by its chance and for the half of
        the interval that is left after it on average.

    Examples
    --------
    >>> quiet = SizeAhead(0.0, 0.5, 1.0, 0.2, 0.5, 2.0, -18.0, 18.0, 6.0)
    >>> share_ahead(quiet, 300) < 0.001 < share_ahead(quiet, 20_000)
    True
    """
    start, end = (_outside(size, at * pieces, 0.0) for at in _GAUSS)
    after_step = _outside(size, 0.5 * pieces, size.step_um)
    half_chance = 0.5 * -math.expm1(-_STEPS_PER_1000 * pieces / 1000.0)
    plain = 0.5 * (start + end)
    return plain + half_chance * max(after_step - plain, 0.0)


def _outside(size: SizeAhead, pieces: float, step_um: float) -> float:
    """Share outside so many pieces from now: normal, every doubt added to the spread of a piece."""
    k = pieces / 1000.0
    level = size.level_um + k * size.rate_um_per_1000
    doubt = size.level_sd_um**2 + (k * size.rate_sd_um_per_1000) ** 2 + k * size.wander_um2_per_1000
    scale = _ROOT_HALF / math.sqrt(size.sigma_um**2 + doubt + step_um**2)
    share = 0.0
    if size.high_um is not None:
        share += 0.5 * math.erfc((size.high_um - level) * scale)
    if size.low_um is not None:
        share += 0.5 * math.erfc((level - size.low_um) * scale)
    return share


def shortened(pieces: int, times: float) -> int:
    """Shorten an interval that suits quiet days for a time in which trouble is `times` as likely.

    Notes
    -----
    Of what a check costs, B/n a piece, and what a change costs until it is found, in proportion to its chance and
    to n/2, the sum is least at an n in proportion to 1/√chance: the form of Taguchi's n* (see `best_check`). So
    whoever chose the plan's interval for quiet days would choose 1/√times of it now.

    Examples
    --------
    >>> shortened(300, 4.0)
    150
    """
    return int(pieces / math.sqrt(max(times, 1.0)))


@dataclass(frozen=True, slots=True)
class CheckCosts:
    """What checking, moving and rejects cost, in any one currency, and how the size behaves now.

    Attributes
    ----------
    reject : float
        Loss from a piece at the limit, A.
    check : float
        Of one check, B.
    move : float
        Of one slide move, C.
    half_tolerance_um : float
        Δ.
    room_um : float
        How far the size is let go before the slide is moved now, D₀.
    pieces_between_moves : float
        Now, u₀.
    pieces_while_gauging : float
        Made until a check has its answer, l.
    """

    reject: float
    check: float
    move: float
    half_tolerance_um: float
    room_um: float
    pieces_between_moves: float
    pieces_while_gauging: float = 0.0


@dataclass(frozen=True, slots=True)
class CheckOptimum:
    """Cheapest pieces between checks, room before a move, and the loss a piece with both."""

    pieces: float
    room_um: float
    loss: float


def best_check(costs: CheckCosts) -> CheckOptimum:
    """Say how often to check and how far to let the size go at the least cost, for whoever writes a plan.

    Parameters
    ----------
    costs : CheckCosts
        All above 0 (`pieces_while_gauging` may be 0).

    Returns
    -------
    CheckOptimum

    Raises
    ------
    Refused
        Where a cost or length is not above 0.

    Notes
    -----
    n* = √(2 u₀ B / A) · Δ / D₀ and D* = (3 C/A · D₀²/u₀ · Δ²)^¼.

    References
    ----------
    G. Taguchi, E. A. Elsayed, T. Hsiang (1989), *Quality Engineering in Production Systems*, on-line feedback
    control (from memory).

    Examples
    --------
    >>> round(best_check(CheckCosts(0.80, 1.50, 12.0, 15.0, 5.0, 19_560.0, 50.0)).pieces, 2)
    812.5
    """
    _expect(costs)
    of_room = costs.half_tolerance_um / costs.room_um
    pieces = math.sqrt(2.0 * costs.pieces_between_moves * costs.check / costs.reject) * of_room
    wander = costs.room_um**2 / costs.pieces_between_moves
    room = (3.0 * costs.move / costs.reject * wander * costs.half_tolerance_um**2) ** 0.25
    return CheckOptimum(pieces, room, loss_per_piece(costs, pieces, room))


def loss_per_piece(costs: CheckCosts, pieces: float, room_um: float) -> float:
    """Loss a piece with so many pieces between checks and so much room before a move.

    Parameters
    ----------
    costs : CheckCosts
        All above 0.
    pieces, room_um : float
        n and D, above 0.

    Notes
    -----
    L = B/n + C/u + (A/Δ²)·[D²/3 + ((n+1)/2 + l)·D²/u], u = u₀ D²/D₀²; source as for `best_check`.
    """
    _expect(costs)
    between = costs.pieces_between_moves * (room_um / costs.room_um) ** 2
    late = ((pieces + 1.0) / 2.0 + costs.pieces_while_gauging) * room_um**2 / between
    spread = costs.reject / costs.half_tolerance_um**2 * (room_um**2 / 3.0 + late)
    return costs.check / pieces + costs.move / between + spread


def _expect(costs: CheckCosts) -> None:
    above = (
        costs.reject, costs.check, costs.move, costs.half_tolerance_um, costs.room_um, costs.pieces_between_moves,
    )  # fmt: skip
    if not all(0.0 < each < math.inf for each in above) or costs.pieces_while_gauging < 0.0:
        raise Refused.one("a cost or a length is not above 0", value=str(costs), allowed="above 0")
