"""Exact run lengths: how many checks pass between false alarms, and until a shift is found."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import inf, isfinite, sqrt

import numpy as np
from scipy.sparse import coo_array, eye_array
from scipy.sparse.linalg import spsolve
from scipy.special import ndtr

from spc.errors import Refused
from spc.statistics.run_rules import RunRule

__all__ = ["RunLength", "average_run_length", "shewhart_run_length"]


@dataclass(frozen=True, slots=True)
class RunLength:
    """Average number of points up to and with the first signal, from a fresh start.

    Attributes
    ----------
    mean_points : float
        The average run length.
    shift_sigma : float
        Shift of the mean in standard deviations of the plotted point.
    rules : tuple of str
        Keys of the rules.
    states : int
        States of the Markov chain.
    method : str
        How it was computed.
    """

    mean_points: float
    shift_sigma: float
    rules: tuple[str, ...]
    states: int
    method: str


@dataclass(frozen=True, slots=True)
class _Watch:
    """One rule on one side: which cells of the normal line hit it, how many hits of how many signal."""

    hits: frozenset[int]
    window: int
    count: int

    def step(self, bits: int, cell: int) -> int:
        """Remember the newest point in the lowest bit; -1 is the signal.

        A run (count = window) forgets everything at its first miss, which keeps the chain small.
        """
        if cell not in self.hits:
            return 0 if self.count == self.window else (bits << 1) & self._kept
        bits = (bits << 1) | 1
        return -1 if bits.bit_count() >= self.count else bits & self._kept

    @property
    def _kept(self) -> int:
        return (1 << (self.window - 1)) - 1


def average_run_length(rules: Sequence[RunRule], shift_sigma: float = 0.0) -> RunLength:
    """Average run length of any combination of zone rules, exactly, for whoever chooses a set.

    Parameters
    ----------
    rules : sequence of RunRule
        Rules on zones: one side, inside, outside. At least one.
    shift_sigma : float
        Lasting shift of the mean in standard deviations of the plotted point; 0 for false alarms.

    Returns
    -------
    RunLength
        Independent normal points with known centre and sigma.

    Raises
    ------
    Refused
        A trend or alternating rule (its chain is not finite), no rule, or a shift that is not finite.

    Notes
    -----
    The states are the remembered points of every rule, found by walking from the empty record; run lengths
    solve (I - Q) m = 1.

    References
    ----------
    Champ & Woodall, Technometrics 29 (1987) 393-399: 370.40, 225.44 and 91.75 in control (from memory).

    Examples
    --------
    >>> from spc.statistics.run_rules import RULE_SETS
    >>> round(average_run_length(RULE_SETS["we1956"]).mean_points, 2)
    91.75
    >>> round(average_run_length(RULE_SETS["house"]).mean_points, 1)
    216.7
    """
    unfit = [rule.words for rule in rules if rule.pattern in ("trend", "alternating")]
    if unfit or not rules:
        raise Refused.one(
            "no exact run length for this set of rules",
            value="; ".join(unfit) or "no rule",
            allowed="rules on zones and sides of the centre, at least one",
        )
    if not isfinite(shift_sigma):
        raise Refused.one("the shift is missing or not finite", value=str(shift_sigma))
    edges, watches = _cells_and_watches(tuple(rules))
    sources, cells, targets, states = _chain(watches, len(edges) + 1)
    chances = np.diff(ndtr(np.array([-inf, *edges, inf]) - shift_sigma))
    moves = coo_array((chances[cells], (sources, targets)), shape=(states, states))
    steps = spsolve((eye_array(states) - moves).tocsc(), np.ones(states))
    return RunLength(
        mean_points=float(np.atleast_1d(steps)[0]),
        shift_sigma=shift_sigma,
        rules=tuple(rule.key for rule in rules),
        states=states,
        method="finite Markov chain, exact",
    )


def shewhart_run_length(shift_sigma: float, n: int = 1, width: float = 3.0) -> float:
    """Average run length of plain limits on the mean of n pieces.

    Parameters
    ----------
    shift_sigma : float
        Lasting shift of the mean in standard deviations of one piece.
    n : int
        Pieces in a subgroup, 1 or more.
    width : float
        Limits in standard deviations of the plotted mean.

    Returns
    -------
    float
        Points up to and with the first beyond a limit.

    Raises
    ------
    Refused
        No pieces, or limits of no width.

    References
    ----------
    Montgomery & Runger (2003), p. 617: 43.9 at a shift of 1 sigma, n = 1.

    Examples
    --------
    >>> round(shewhart_run_length(1.0), 2), round(shewhart_run_length(1.0, n=5), 2)
    (43.89, 4.5)
    """
    if n < 1 or not width > 0.0:
        raise Refused.one(
            "a run length wants at least 1 piece and limits of some width", value=f"{n}, {width}"
        )
    offset = shift_sigma * sqrt(n)
    return float(1.0 / (ndtr(offset - width) + ndtr(-width - offset)))


@cache
def _cells_and_watches(rules: tuple[RunRule, ...]) -> tuple[tuple[float, ...], tuple[_Watch, ...]]:
    """Cut the normal line at every zone border and say which cells hit which rule on which side."""
    edges = tuple(sorted({side * rule.zone + 0.0 for rule in rules for side in (-1.0, 1.0)}))
    middles = [
        edges[0] - 1.0,
        *((a + b) / 2.0 for a, b in pairwise(edges)),
        edges[-1] + 1.0,
    ]

    def cells(rule: RunRule, side: float) -> frozenset[int]:
        if rule.pattern == "one_side":
            return frozenset(i for i, z in enumerate(middles) if side * z > rule.zone)
        inside = rule.pattern == "inside"
        return frozenset(i for i, z in enumerate(middles) if (abs(z) < rule.zone) == inside)

    watches = (
        _Watch(cells(rule, side), rule.window, rule.count)
        for rule in rules
        for side in ((1.0, -1.0) if rule.pattern == "one_side" else (1.0,))
    )
    return edges, tuple(watches)


@cache
def _chain(watches: tuple[_Watch, ...], cells: int) -> tuple[list[int], list[int], list[int], int]:
    """Moves (from, cell, to) between states without a signal, and how many states there are."""
    start = (0,) * len(watches)
    number = {start: 0}
    waiting = [start]
    sources, used, targets = [], [], []
    for state in waiting:
        for cell in range(cells):
            after = tuple(watch.step(bits, cell) for watch, bits in zip(watches, state, strict=True))
            if -1 in after:
                continue
            if after not in number:
                number[after] = len(number)
                waiting.append(after)
            sources.append(number[state])
            used.append(cell)
            targets.append(number[after])
    return sources, used, targets, len(number)
