"""The chance of no signal where rules remember the last value: its density as polynomials in each zone."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr, ndtri

from spc.statistics.rule_sets import RunRule
from spc.statistics.rules_chain import order_memory, zone_chain

if TYPE_CHECKING:
    from scipy.sparse import csr_array

__all__ = ["ordered_survival"]

Floats = npt.NDArray[np.float64]
_Pairs = list[tuple[int, int]]
_EDGES = (-2.0, -1.0, 0.0, 1.0, 2.0)


@dataclass(frozen=True, slots=True, eq=False)
class _Moves:
    """States with the cell of the last value, and which state leads to which."""

    edges: tuple[float, ...]
    cells: npt.NDArray[np.intp]
    first: npt.NDArray[np.intp]
    across: "csr_array"
    up_within: "csr_array"
    down_within: "csr_array"


def ordered_survival(
    rules: tuple[RunRule, ...], shift: float, drift: float, nodes: int = 6
) -> Iterator[float]:
    """Chance of no signal up to and with point 1, 2, 3, … where trends or alternations count.

    Parameters
    ----------
    rules : tuple of RunRule
        At least one trend or alternating rule.
    shift, drift : float
        Point t has its mean at shift + t · drift, in standard deviations of the plotted point.
    nodes : int
        Gauss-Legendre nodes in each zone.

    Yields
    ------
    float

    Notes
    -----
    In u = Phi(z - mean) a point is uniform. For every state the density of the last u inside its zone is held
    at nodes. A step up to a higher zone takes the whole mass of a state; inside the zone it takes the mass
    below the new value, the integral of the interpolating polynomial. Without drift these densities are
    piecewise smooth in u (they solve linear equations with constant coefficients), so few nodes suffice. With
    drift the last value sits at Phi(Phi^-1(u) + drift) of its old scale, and the integrals end there.
    """
    moves = _moves(rules, _EDGES if drift else ())
    points, weights = np.polynomial.legendre.leggauss(nodes)
    points, weights = (points + 1.0) / 2.0, weights / 2.0
    basis: Floats = np.asarray(np.linalg.inv(np.vander(points, increasing=True)), dtype=np.float64)
    borders = np.array([-np.inf, *moves.edges, np.inf])
    left, widths = _cells(borders, shift + drift)
    density = np.zeros((len(moves.cells), nodes))
    density[moves.first[moves.first >= 0]] = 1.0
    below = np.broadcast_to(_integrals(points, basis), (len(widths), nodes, nodes))
    for point in count(2):
        mass = widths[moves.cells] * (density @ weights)
        yield float(mass.sum())
        ends = left
        left, new_widths = _cells(borders, shift + point * drift)
        if drift:
            below = _shifted_integrals(left, new_widths, ends, widths, points, basis, drift)
        under = widths[moves.cells, None] * np.einsum("sij,sj->si", below[moves.cells], density)
        density = (moves.across @ mass)[:, None] + moves.up_within @ under
        density += moves.down_within @ (mass[:, None] - under)
        widths = new_widths


def _cells(borders: Floats, mean: float) -> tuple[Floats, Floats]:
    """Left ends and widths of the zones on the scale of u."""
    ends = ndtr(borders - mean)
    return ends[:-1], np.diff(ends)


def _integrals(up_to: Floats, basis: Floats) -> Floats:
    """Rows: integral from 0 to each end; columns: the node whose interpolating polynomial is integrated."""
    powers = np.arange(1, len(basis) + 1)
    integrals: Floats = (up_to[..., None] ** powers / powers) @ basis
    return integrals


def _shifted_integrals(
    left: Floats,
    widths: Floats,
    old_left: Floats,
    old_widths: Floats,
    points: Floats,
    basis: Floats,
    drift: float,
) -> Floats:
    """Integrals up to where each new node lies on the scale of the point before."""
    at = ndtr(ndtri(left[:, None] + widths[:, None] * points) + drift)
    share = (at - old_left[:, None]) / np.where(old_widths > 0.0, old_widths, 1.0)[:, None]
    return _integrals(np.clip(share, 0.0, 1.0), basis)


def _moves(rules: tuple[RunRule, ...], more_edges: tuple[float, ...]) -> _Moves:
    """Walk from the first point; a state is (zone memory, order memory, cell of the last value)."""
    chain, order = zone_chain(rules, more_edges), order_memory(rules)
    cells = range(len(chain.edges) + 1)
    starts = [(int(chain.after[0, cell]), 0, cell) for cell in cells if chain.after[0, cell] >= 0]
    number = {state: place for place, state in enumerate(starts)}
    waiting = list(starts)
    across: _Pairs = []
    up_within: _Pairs = []
    down_within: _Pairs = []
    for state in waiting:
        zone, memory, last = state
        for cell in cells:
            for after, within in ((order.up[memory], up_within), (order.down[memory], down_within)):
                rising = within is up_within
                if cell != last and rising != (cell > last):
                    continue
                target = (int(chain.after[zone, cell]), after, cell)
                if target[0] < 0 or after < 0:
                    continue
                if target not in number:
                    number[target] = len(number)
                    waiting.append(target)
                (within if cell == last else across).append((number[target], number[state]))
    size = len(waiting)
    return _Moves(
        edges=chain.edges,
        cells=np.array([state[2] for state in waiting], dtype=np.intp),
        first=np.arange(len(starts)),
        across=_pairs(across, size),
        up_within=_pairs(up_within, size),
        down_within=_pairs(down_within, size),
    )


def _pairs(pairs: _Pairs, size: int) -> "csr_array":
    from scipy.sparse import csr_array

    targets, sources = np.array(pairs, dtype=np.intp).reshape(-1, 2).T
    return csr_array((np.ones(len(pairs)), (targets, sources)), shape=(size, size))
