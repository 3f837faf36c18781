"""How many pieces may be made until the next check: by the share that may go wrong meanwhile, and by cost."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.quickly_made import quickly_made

__all__ = ["SizeAhead", "cheapest_interval", "safe_interval", "share_ahead", "shortened"]

_GAUSS = ((3.0 - math.sqrt(3.0)) / 6.0, (3.0 + math.sqrt(3.0)) / 6.0)
"""Where an interval is looked at: the two-point rule is exact up to cubes."""
_HALVINGS = 7
"""To within a hundredth of the interval."""
_STEPS_PER_1000 = 0.05
"""Steps that nobody sees coming: one in 20,000 pieces (own estimate, no source)."""
_ROOT_HALF = math.sqrt(0.5)


@quickly_made
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
        Of the pieces made meanwhile, how many may be expected outside; 0 to 1 (`doubt_share` of the plan).

    Returns
    -------
    (int, int)
        Pieces, at least `least` and at most `longest`; and the place of the characteristic that binds, −1 where
        none does.

    Notes
    -----
    The share expected outside grows with the interval: the level moves on at its rate, both are in doubt, and a
    step may come on the way (`share_ahead`). So the longest safe interval is found by halving, seven times: to a
    hundredth of the plan's. The station shortens it further where trouble is likelier (`shortened`).
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

    Notes
    -----
    After k thousand pieces the size of a piece is normal about level + k·rate with variance

        V(k) = σ² + level sd² + (k·rate sd)² + k·wander;   o(k, A) = its share outside the limits, A² added to V.

    The mean of o(k, 0) over an interval of N thousand is taken at the two points of Gauss, (3 ± √3)/6 of it. A step
    of standard deviation A comes once in 20,000 pieces: ½·(1 − e^(−N/20))·max(o(N/2, A) − mean, 0) is added.

    References
    ----------
    Own calculus; the chance of a step is an estimate without source.

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

    Parameters
    ----------
    pieces : int
        The interval, 0 or more.
    times : float
        Without unit; below 1 counts as 1.

    Returns
    -------
    int
        Pieces, pieces/√times cut to a whole number.

    Notes
    -----
    Of what a check costs, B/n a piece, and what a change costs until it is found, in proportion to its chance and
    to n/2, the sum is least at an n in proportion to 1/√chance: the form of Taguchi's n* (see `cheapest_interval`). So
    whoever chose the plan's interval for quiet days would choose 1/√times of it now.

    Examples
    --------
    >>> shortened(300, 4.0)
    150
    """
    return int(pieces / math.sqrt(max(times, 1.0)))


def cheapest_interval(
    loss_a_piece: Callable[[float], float], check_cost: float, longest: int, least: int
) -> int:
    """Return the pieces until the next check at which checking and being wrong cost least together.

    Parameters
    ----------
    loss_a_piece : callable
        Of the pieces until the next check: what a piece made meanwhile loses on average, in any one currency.
    check_cost : float
        Of one check in the same currency, above 0.
    longest, least : int
        Pieces that the plan asks for, and those below which a check makes no sense; 1 or more.

    Returns
    -------
    int
        At least `least` and at most `longest`.

    Raises
    ------
    Refused
        Where a check costs nothing.

    Notes
    -----
    B/n + loss(n) is looked at in places a fourth root of 2 apart, and the bottom of the parabola through the least
    three over ln n is taken. Near its least the sum is flat, so this is near enough.
    With Taguchi's loss of a level that wanders, A/Δ²·D₀²/u₀·(n + 1)/2 a piece, it is his n* = √(2 u₀ B/A)·Δ/D₀.

    References
    ----------
    G. Taguchi, E. A. Elsayed, T. Hsiang (1989), *Quality Engineering in Production Systems*, on-line feedback
    control (from memory).

    Examples
    --------
    >>> cheapest_interval(lambda n: 0.80 / 15.0**2 * 5.0**2 / 19_560.0 * (n + 1.0) / 2.0, 1.50, 3_000, 5) in (812, 813)
    True
    """
    if not 0.0 < check_cost < math.inf:
        raise Refused.one("a check that costs nothing has no cheapest interval", value=str(check_cost))
    shortest = min(least, longest)
    steps = max(math.ceil(4.0 * math.log2(longest / shortest)), 2)
    ratio = (longest / shortest) ** (1.0 / steps)
    costs = [
        check_cost / pieces + loss_a_piece(pieces)
        for pieces in (shortest * ratio**i for i in range(steps + 1))
    ]
    best = min(range(steps + 1), key=costs.__getitem__)
    middle = min(max(best, 1), steps - 1)
    before, cheapest, after = costs[middle - 1 : middle + 2]
    bend = before - 2.0 * cheapest + after
    place = middle + 0.5 * (before - after) / bend if bend > 0.0 else best
    return round(float(shortest * ratio ** min(max(place, 0), steps)))
