"""What run rules remember, as a finite chain: zones exactly, and up-and-down order beside them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from spc.statistics.rule_sets import RunRule

__all__ = ["OrderMemory", "ZoneChain", "order_memory", "zone_chain"]

Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class ZoneChain:
    """The states of all zone rules together.

    Attributes
    ----------
    edges : tuple of float
        Borders of the cells of the normal line, in standard deviations of the plotted point.
    after : ndarray of int, shape (states, cells)
        State after a point in that cell; -1 is a signal. State 0 is the fresh start.
    """

    edges: tuple[float, ...]
    after: Ints


@dataclass(frozen=True, slots=True)
class OrderMemory:
    """What trend and alternating rules remember beside the last value.

    Attributes
    ----------
    up, down : tuple of int
        State after a step up or down; -1 is a signal. State 0 is the first point.
    """

    up: tuple[int, ...]
    down: tuple[int, ...]


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


@cache
def zone_chain(rules: tuple[RunRule, ...], more_edges: tuple[float, ...] = ()) -> ZoneChain:
    """Chain of every rule on zones and sides, found by walking from the empty record and merged.

    Parameters
    ----------
    rules : tuple of RunRule
        Trend and alternating ones are passed over.
    more_edges : tuple of float
        Further borders of cells, for whoever integrates over them.

    Returns
    -------
    ZoneChain
        The smallest chain that signals at the same points (states that no future can tell apart are one).
    """
    zones = [rule for rule in rules if rule.pattern not in ("trend", "alternating")]
    borders = {side * rule.zone + 0.0 for rule in zones for side in (-1.0, 1.0)}
    edges = tuple(sorted(borders | set(more_edges)))
    watches = _watches(zones, edges)
    start = (0,) * len(watches)
    number = {start: 0}
    rows = []
    waiting = [start]
    for state in waiting:
        row = []
        for cell in range(len(edges) + 1):
            after = tuple(watch.step(bits, cell) for watch, bits in zip(watches, state, strict=True))
            if -1 not in after and after not in number:
                number[after] = len(number)
                waiting.append(after)
            row.append(-1 if -1 in after else number[after])
        rows.append(row)
    return ZoneChain(edges, _merged(np.array(rows, dtype=np.intp)))


def _watches(zones: Sequence[RunRule], edges: tuple[float, ...]) -> tuple[_Watch, ...]:
    """Say which cells hit which rule on which side."""
    ends = (edges[0] - 1.0, *edges, edges[-1] + 1.0) if edges else (-1.0, 1.0)
    middles = [(a + b) / 2.0 for a, b in pairwise(ends)]

    def cells(rule: RunRule, side: float) -> frozenset[int]:
        if rule.pattern == "one_side":
            return frozenset(i for i, z in enumerate(middles) if side * z > rule.zone)
        inside = rule.pattern == "inside"
        return frozenset(i for i, z in enumerate(middles) if (abs(z) < rule.zone) == inside)

    return tuple(
        _Watch(cells(rule, side), rule.window, rule.count)
        for rule in zones
        for side in ((1.0, -1.0) if rule.pattern == "one_side" else (1.0,))
    )


def _merged(after: Ints) -> Ints:
    """Merge states with the same future: split classes until no class splits (Moore 1956, from memory)."""
    classes = np.zeros(len(after), dtype=np.intp)
    while True:
        future = np.where(after < 0, -1, classes[after])
        _, split = np.unique(np.column_stack([classes, future]), axis=0, return_inverse=True)
        split = np.asarray(split, dtype=np.intp).reshape(-1)
        if split.max() == classes.max():
            break
        classes = split
    order = np.unique(classes, return_index=True)[1]
    rank = np.empty(len(order), dtype=np.intp)
    rank[np.argsort(order)] = np.arange(len(order))
    chosen = np.sort(order)
    merged: Ints = np.where(after[chosen] < 0, -1, rank[classes[after[chosen]]])
    return merged


@cache
def order_memory(rules: tuple[RunRule, ...]) -> OrderMemory:
    """States of all trend and alternating rules together: direction, steps alike, steps in turn."""
    alike = min((rule.window - 1 for rule in rules if rule.pattern == "trend"), default=0)
    in_turn = min((rule.window - 1 for rule in rules if rule.pattern == "alternating"), default=0)
    number = {(0, 0, 0): 0}
    rows = []
    waiting = [(0, 0, 0)]
    for direction, same, turns in waiting:
        row = []
        for way in (1, -1):
            now = (way, same + 1, 1) if way == direction else (way, 1, turns + 1)
            if (alike and now[1] >= alike) or (in_turn and now[2] >= in_turn):
                row.append(-1)
                continue
            kept = (way, now[1] if alike else 1, now[2] if in_turn else 1)
            if kept not in number:
                number[kept] = len(number)
                waiting.append(kept)
            row.append(number[kept])
        rows.append(row)
    return OrderMemory(tuple(row[0] for row in rows), tuple(row[1] for row in rows))
