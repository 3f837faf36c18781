"""When to change this very set: the cost a piece of running on, by the forecast of the pieces it has left."""

from dataclasses import dataclass
from functools import lru_cache
from math import erfc, exp, inf, log, pi, sqrt

from scipy.special import ndtr

from spc.errors import Refused

__all__ = [
    "DieCosts",
    "SetAhead",
    "chance_of_end",
    "cheapest_change",
    "cost_at",
    "least_cost_rate",
    "waiting_cost",
]

_Z05 = 1.6448536269514722
_STEP = 0.5
_GRID = tuple((step * _STEP, float(ndtr(-step * _STEP))) for step in range(-7, 8))
"""Standard normal points and the share beyond each."""
_HALVINGS = 24
_NO_SPREAD = 1e-6
"""Of ln(pieces), where early and likely, or likely and late, are one number."""


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


def cheapest_change(ahead: SetAhead, costs: DieCosts, usual_rate: float) -> float | None:
    """Find after how many more pieces a change is cheapest.

    Parameters
    ----------
    ahead : SetAhead
    costs : DieCosts
    usual_rate : float
        What a piece costs in the long run with sets of this part, from `age_replacement`, above 0: what the pieces
        of this set are worth, because another set would have to make them.

    Returns
    -------
    float or None
        More pieces; 0: now; None: run to the end.

    Notes
    -----
    In the long run the cost a piece is least where each set is stopped at the least of

        J(n) = cp S(n) + cf (1 − S(n)) − g ∫₀ⁿ S,

    S being the chance not to have ended after n more pieces and g the usual rate: where the risk of a piece times
    cf − cp comes to g. (The cost over the pieces of this set alone would not do: it stops every set that has been
    lucky so far, even where a new one is at the same risk.) ln(pieces left) is taken as normal on each side of the
    likely number with the spread of that side, so that all three numbers are met, none of them below one piece;
    sudden ends multiply S by exp(−rate·n). The integral is by trapezes over half a standard deviation; between the
    places beside the least the risk is halved in on.

    References
    ----------
    Barlow & Hunter, Operations Research 8 (1960), for sets of which nothing but the age is known; the fractional
    objective as in W. Dinkelbach, Management Science 13 (1967) (both from memory).

    Examples
    --------
    >>> ahead, costs = SetAhead(20_000, 4_000, 8_000, 14_000), DieCosts(1_700, 6_000)
    >>> round(cheapest_change(ahead, costs, 0.11), -2)
    3100.0
    """
    dearer = costs.unplanned - costs.planned
    places = [(0.0, costs.planned)]
    for pieces, alive, made in _along(ahead):
        places.append((pieces, costs.unplanned - dearer * alive - usual_rate * made))
    said = [cost for _, cost in places]
    best = said.index(min(said))
    if best == 0:
        return 0.0
    if best == len(places) - 1:
        return None
    worth = usual_rate / dearer
    return _where_risk_comes_to(ahead, worth, places[best - 1][0], places[best + 1][0])


def _where_risk_comes_to(ahead: SetAhead, worth: float, low: float, high: float) -> float:
    """Pieces between two places at which the risk of the next one comes to what it is worth, by halving.

    At the likely number the risk jumps where the law is narrower above than below: the bottom then often lies in
    that corner, which no smooth curve through neighbours finds.
    """
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _risk(ahead, middle) < worth else (low, middle)
    return 0.5 * (low + high)


def _risk(ahead: SetAhead, pieces: float) -> float:
    """Chance that a set still on ends with the next piece, worn or suddenly."""
    early, likely, late = (max(each, 1.0) for each in (ahead.early, ahead.likely, ahead.late))
    side = likely / early if pieces < likely else late / likely
    spread = max(log(side) / _Z05, _NO_SPREAD)
    z = log(pieces / likely) / spread
    density = exp(-0.5 * z * z) / sqrt(2.0 * pi)
    return density / (0.5 * erfc(z * sqrt(0.5))) / (spread * pieces) + 0.001 * ahead.sudden_per_1000


def cost_at(ahead: SetAhead, costs: DieCosts, pieces: float) -> float:
    """Return the cost a piece over the life of this set when it is changed after so many more pieces.

    Parameters
    ----------
    ahead : SetAhead
    costs : DieCosts
    pieces : float
        More pieces, 0 or more.

    Notes
    -----
    (cp S(n) + cf (1 − S(n)))/(age + ∫₀ⁿ S), in the currency of the costs, with S as in `cheapest_change`.
    """
    alive, made = _after(ahead, pieces)
    return (costs.unplanned - (costs.unplanned - costs.planned) * alive) / max(ahead.age + made, 1.0)


def least_cost_rate(ahead: SetAhead, costs: DieCosts) -> float:
    """Return the cost a piece over the life of this set when it is changed where that is least, now included.

    Parameters
    ----------
    ahead : SetAhead
    costs : DieCosts

    Notes
    -----
    The least of `cost_at` over the places of `cheapest_change`, in the currency of the costs.

    Examples
    --------
    >>> round(least_cost_rate(SetAhead(0, 12_000, 30_000, 50_000), DieCosts(1_700, 4_200)), 3)
    0.117
    """
    dearer = costs.unplanned - costs.planned
    now = (costs.planned, max(ahead.age, 1.0))
    later = (
        (costs.unplanned - dearer * alive, max(ahead.age + made, 1.0)) for _, alive, made in _along(ahead)
    )
    return min(cost / made for cost, made in (now, *later))


def waiting_cost(ahead: SetAhead, costs: DieCosts, usual_rate: float, first: float, later: float) -> float:
    """Return what waiting adds in money: change after `later` more pieces instead of `first`.

    Parameters
    ----------
    ahead, costs, usual_rate
        As for `cheapest_change`.
    first, later : float
        More pieces, 0 or more.

    Notes
    -----
    J(later) − J(first) of `cheapest_change`; below 0 where waiting saves.
    """
    ends = [_after(ahead, pieces) for pieces in (first, later)]
    dearer = costs.unplanned - costs.planned
    before, after = (-dearer * alive - usual_rate * made for alive, made in ends)
    return after - before


def chance_of_end(ahead: SetAhead, pieces: float) -> float:
    """Return the chance, 0 to 1, that the set ends before so many more pieces: 1 − S(n) of `cheapest_change`."""
    return 1.0 - _after(ahead, pieces)[0]


@lru_cache(maxsize=16)
def _along(ahead: SetAhead) -> tuple[tuple[float, float, float], ...]:
    """More pieces, the chance to be on still, and the pieces to expect until then, along the grid."""
    early, likely, late = (max(each, 1.0) for each in (ahead.early, ahead.likely, ahead.late))
    low, high = log(likely / early) / _Z05, log(late / likely) / _Z05
    rate = -0.001 * ahead.sudden_per_1000
    before, was_alive, made = 0.0, 1.0, 0.0
    road = []
    for z, share in _GRID:
        pieces = likely * exp((low if z < 0.0 else high) * z)
        alive = share * exp(rate * pieces)
        made += 0.5 * (was_alive + alive) * (pieces - before)
        before, was_alive = pieces, alive
        road.append((pieces, alive, made))
    return tuple(road)


def _after(ahead: SetAhead, pieces: float) -> tuple[float, float]:
    """Chance to be on after so many more pieces, and the pieces to expect until then, straight between places."""
    before, was_alive, made = 0.0, 1.0, 0.0
    for at, alive, so_far in _along(ahead):
        if at >= pieces:
            now = (
                was_alive + (alive - was_alive) * (pieces - before) / (at - before) if at > before else alive
            )
            return now, made + 0.5 * (was_alive + now) * (pieces - before)
        before, was_alive, made = at, alive, so_far
    return was_alive, made
