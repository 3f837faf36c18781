"""Grooves whose lead and depth change along the part on purpose: what the table on the drawing asks for."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.errors import Refused
from spc.geometry.trace import checked_trace

__all__ = ["NominalLead", "nominal_lead", "DepthDeviation", "depth_deviation", "less_meant"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class NominalLead:
    """Nominal lead over position, straight between the rows of the drawing's table.

    Attributes
    ----------
    position_mm, lead_mm : array of shape (n,)
        The table; positions strictly increasing, leads above 0.
    """

    position_mm: Floats
    lead_mm: Floats

    def at(self, position_mm: ArrayLike) -> Floats:
        """Nominal lead at positions within the table, mm."""
        x = reached(position_mm, self.position_mm)
        return np.interp(x, self.position_mm, self.lead_mm)

    def turns(self, position_mm: ArrayLike) -> Floats:
        """Turns of the groove from the start of the table to positions within it.

        The lead runs straight between two rows, so the turns, ∫ dx/lead, are logarithms of its ratio.
        """
        first, leads = self.position_mm, self.lead_mm
        x = reached(position_mm, first)
        whole = np.concatenate([[0.0], np.cumsum(turns_of(np.diff(first), leads[:-1], leads[1:]))])
        row = np.clip(np.searchsorted(first, x, side="right") - 1, 0, len(first) - 2)
        return whole[row] + turns_of(x - first[row], leads[row], self.at(x))

    def nominal_deviation_um(self, position_mm: ArrayLike, lead_mm: float) -> Floats:
        """How far the groove is meant to be ahead of one with a constant lead, in µm, from the start on."""
        x = np.asarray(position_mm, dtype=np.float64)
        start = float(self.position_mm[0])
        return 1000 * (x - start - lead_mm * self.turns(x))


def nominal_lead(position_mm: ArrayLike, lead_mm: ArrayLike) -> NominalLead:
    """Take the drawing's table of nominal lead over position.

    Parameters
    ----------
    position_mm : array of shape (n,)
        Strictly increasing, at least two.
    lead_mm : array of shape (n,)
        Nominal lead there, above 0; straight between the rows.

    Returns
    -------
    NominalLead

    Raises
    ------
    Refused
        As for a trace; or a lead of 0 or less.

    Examples
    --------
    >>> table = nominal_lead([0, 100, 200], [10.0, 10.0, 20.0])
    >>> [round(float(turns), 4) for turns in table.turns([100, 200])]
    [10.0, 16.9315]
    """
    x, lead = checked_trace(position_mm, lead_mm, "table of nominal leads")
    wrong = np.flatnonzero(lead <= 0.0)
    if wrong.size:
        raise Refused.one(
            f"row {wrong[0] + 1} of the table: a groove moves on with every turn",
            value=f"{lead[wrong[0]]:g} mm",
            column="lead",
            allowed="above 0 mm",
        )
    return NominalLead(position_mm=x, lead_mm=lead)


def turns_of(way: Floats, first: Floats, last: Floats) -> Floats:
    """Turns along a way over which the lead runs straight from `first` to `last`."""
    ratio = last / first - 1.0
    small = np.abs(ratio) < 1e-6
    safe = np.where(small, 1.0, ratio)
    per_lead = np.where(small, 1.0 - ratio / 2 + ratio**2 / 3, np.log1p(safe) / safe)
    return way / first * per_lead


@dataclass(frozen=True, slots=True, eq=False)
class DepthDeviation:
    """How far a groove is deeper or shallower than its table asks, µm; deeper counts positive.

    Attributes
    ----------
    position_mm, deviation_um : array of shape (n,)
        The readings less the nominal depth there.
    mean_um, deepest_um, shallowest_um : float
        Mean and extremes of these.
    at_deepest_mm, at_shallowest_mm : float
        Where the extremes lie.
    n : int
        Readings.
    """

    position_mm: Floats
    deviation_um: Floats
    mean_um: float
    deepest_um: float
    shallowest_um: float
    at_deepest_mm: float
    at_shallowest_mm: float
    n: int


def depth_deviation(
    position_mm: ArrayLike, depth_mm: ArrayLike, nominal_position_mm: ArrayLike, nominal_depth_mm: ArrayLike
) -> DepthDeviation:
    """Judge a measured groove depth against the drawing's table of depth over position.

    Parameters
    ----------
    position_mm, depth_mm : array of shape (n,)
        Readings, positions strictly increasing.
    nominal_position_mm, nominal_depth_mm : array of shape (m,)
        The table, straight between its rows.

    Returns
    -------
    DepthDeviation

    Raises
    ------
    Refused
        As for a trace; or readings beyond the table.

    Examples
    --------
    >>> found = depth_deviation([0, 50, 100], [1.502, 2.0, 2.495], [0, 100], [1.5, 2.5])
    >>> round(found.deepest_um, 6), round(found.shallowest_um, 6)
    (2.0, -5.0)
    """
    x, depth = checked_trace(position_mm, depth_mm, "depth trace")
    table_x, table_depth = checked_trace(nominal_position_mm, nominal_depth_mm, "table of nominal depths")
    off = 1000 * (depth - np.interp(reached(x, table_x), table_x, table_depth))
    off.flags.writeable = False
    return DepthDeviation(
        position_mm=x,
        deviation_um=off,
        mean_um=float(off.mean()),
        deepest_um=float(off.max()),
        shallowest_um=float(off.min()),
        at_deepest_mm=float(x[off.argmax()]),
        at_shallowest_mm=float(x[off.argmin()]),
        n=len(x),
    )


def less_meant(
    position_mm: ArrayLike,
    deviation_um: ArrayLike,
    table_position_mm: ArrayLike,
    table_deviation_um: ArrayLike,
) -> Floats:
    """Take off a trace what the drawing means it to deviate, for a table of deviations over position.

    Parameters
    ----------
    position_mm, deviation_um : array of shape (n,)
        The trace, positions strictly increasing.
    table_position_mm, table_deviation_um : array of shape (m,)
        The table, straight between its rows.

    Returns
    -------
    array of shape (n,)
        What is left, µm.

    Raises
    ------
    Refused
        As for a trace; or readings beyond the table.

    Examples
    --------
    >>> less_meant([0, 50, 100], [0.0, 6.0, 10.0], [0, 100], [0.0, 10.0]).tolist()
    [0.0, 1.0, 0.0]
    """
    x, e = checked_trace(position_mm, deviation_um)
    table_x, meant = checked_trace(table_position_mm, table_deviation_um, "table of nominal deviations")
    return e - np.interp(reached(x, table_x), table_x, meant)


def reached(position_mm: ArrayLike, table_mm: Floats) -> Floats:
    """Refuse positions beyond a table: nothing is said there."""
    x = np.asarray(position_mm, dtype=np.float64)
    low, high = float(table_mm[0]), float(table_mm[-1])
    outside = x[(x < low) | (x > high)]
    if outside.size:
        raise Refused.one(
            "the table of nominal values doesn't reach this far",
            value=f"{outside[0]:g} mm",
            column="position",
            allowed=f"{low:g} to {high:g} mm",
            do="Lengthen the table, or leave these readings out",
        )
    return x
