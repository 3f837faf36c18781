"""When to change this very set: the cost a piece of running on, by the forecast of the pieces it has left."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, inf, log

from scipy.special import ndtr

from spc.errors import Refused

__all__ = ["DieCosts", "SetAhead", "chance_of_end", "cheapest_change", "cost_at", "waiting_cost"]

_Z05 = 1.6448536269514722
_STEP = 0.5
_GRID = tuple((step * _STEP, float(ndtr(-step * _STEP))) for step in range(-7, 8))
"""Standard normal points and the share beyond each."""


@dataclass(frozen=True, slots=True)
class DieCosts:
    """What one change costs: planned, and forced by the end of the set; both above 0."""

    planned: float
    unplanned: float


@dataclass(frozen=True, slots=True)
class SetAhead:
    """What lies ahead of a set.

    Attributes
    ----------
    age : float
        Pieces so far, 0 or more.
    early, likely, late : float
        Pieces left until worn (5, 50 and 95 %), rising.
    sudden_per_1000 : float
        Sudden ends in 1,000 pieces, 0 or more; they come on top.
    """

    age: float
    early: float
    likely: float
    late: float
    sudden_per_1000: float = 0.0

    def __post_init__(self) -> None:
        """Refuse numbers that do not rise or are below 0."""
        if not (
            0.0 <= self.early <= self.likely <= self.late < inf and self.age >= 0.0 <= self.sudden_per_1000
        ):
            said = f"{self.age}; {self.early}, {self.likely}, {self.late}; {self.sudden_per_1000}"
            raise Refused.one(
                "pieces left do not rise from early to late", value=said, allowed="0 or more, rising"
            )


def cheapest_change(ahead: SetAhead, costs: DieCosts) -> tuple[float | None, float]:
    """Find after how many more pieces a change is cheapest.

    Parameters
    ----------
    ahead : SetAhead
    costs : DieCosts

    Returns
    -------
    (float or None, float)
        More pieces (0: now; None: run to the end), and the cost a piece over the life of the set.

    Notes
    -----
    The rule of `age_replacement` for a set that has lived so far: a change after n more pieces costs
    cp S(n) + cf (1 − S(n)) and comes after age + ∫₀ⁿ S pieces, S being the chance not to have ended by then;
    their ratio is least at the advice. ln(pieces left) is taken as normal on each side of the likely number with the
    spread of that side, so that all three numbers are met; sudden ends multiply S by exp(−rate·n). The integral is
    by trapezes over half a standard deviation, the bottom by the parabola through three of them.

    References
    ----------
    Barlow & Hunter, Operations Research 8 (1960), with the law of a set of known age in the place of the law of a
    new one (own derivation).

    Examples
    --------
    >>> pieces, cost = cheapest_change(SetAhead(20_000, 4_000, 8_000, 14_000), DieCosts(1_700, 6_000))
    >>> round(pieces, -2), round(cost, 3)
    (2800.0, 0.076)
    """
    now = costs.planned / ahead.age if ahead.age > 0.0 else inf
    dearer = costs.unplanned - costs.planned
    places = [(0.0, now)]
    for pieces, alive, made in _along(ahead):
        places.append((pieces, (costs.unplanned - dearer * alive) / (ahead.age + made)))
    said = [cost for _, cost in places]
    best = said.index(min(said))
    if best == 0:
        return 0.0, now
    if best == len(places) - 1:
        return None, places[-1][1]
    return _between(places[best - 1 : best + 2])


def _between(three: list[tuple[float, float]]) -> tuple[float, float]:
    """Bottom of the parabola through three costs an even step of ln(pieces) apart; the middle one is least."""
    (before, high), (at, least), (after, higher) = three
    if before <= 0.0 or before == after:
        return at, least
    bend = high - 2.0 * least + higher
    step = 0.5 * (high - higher) / bend if bend > 0.0 else 0.0
    beside = after if step > 0.0 else before
    return at * (beside / at) ** abs(step), least - 0.25 * (high - higher) * step


def cost_at(ahead: SetAhead, costs: DieCosts, pieces: float) -> float:
    """Return the cost a piece over the life of the set when it is changed after so many more pieces."""
    alive, made = _after(ahead, pieces)
    return (costs.unplanned - (costs.unplanned - costs.planned) * alive) / max(ahead.age + made, 1.0)


def waiting_cost(ahead: SetAhead, costs: DieCosts, first: float, later: float) -> float:
    """Return what waiting adds, in money for this set: change after `later` more pieces instead of `first`.

    Notes
    -----
    The cost a piece moves from C(first) to C(later), for the pieces that the set makes until then.
    """
    rise = cost_at(ahead, costs, later) - cost_at(ahead, costs, first)
    return rise * (ahead.age + _after(ahead, later)[1])


def chance_of_end(ahead: SetAhead, pieces: float) -> float:
    """Return the chance that the set ends before so many more pieces."""
    return 1.0 - _after(ahead, pieces)[0]


def _along(ahead: SetAhead) -> Iterator[tuple[float, float, float]]:
    """More pieces, the chance to be on still, and the pieces to expect until then, along the grid."""
    if ahead.early < 1.0:
        return
    low, high = log(ahead.likely / ahead.early) / _Z05, log(ahead.late / ahead.likely) / _Z05
    rate = -0.001 * ahead.sudden_per_1000
    before, was_alive, made = 0.0, 1.0, 0.0
    for z, share in _GRID:
        pieces = ahead.likely * exp((low if z < 0.0 else high) * z)
        alive = share * exp(rate * pieces)
        made += 0.5 * (was_alive + alive) * (pieces - before)
        before, was_alive = pieces, alive
        yield pieces, alive, made


def _after(ahead: SetAhead, pieces: float) -> tuple[float, float]:
    """Chance to be on after so many more pieces, and the pieces to expect until then, straight between places."""
    before, was_alive, made = 0.0, 1.0, 0.0
    if ahead.early < 1.0 and pieces > 0.0:
        return 0.0, 0.0
    for at, alive, so_far in _along(ahead):
        if at >= pieces:
            now = (
                was_alive + (alive - was_alive) * (pieces - before) / (at - before) if at > before else alive
            )
            return now, made + 0.5 * (was_alive + now) * (pieces - before)
        before, was_alive, made = at, alive, so_far
    return was_alive, made
