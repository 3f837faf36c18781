"""Travel of a screw or a groove from a measured trace: mean deviation, and how much it varies about the mean."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.errors import Refused
from spc.geometry.nominal_lead import NominalLead
from spc.geometry.trace import checked_trace, largest_gap

__all__ = ["Travel", "travel"]

Floats = NDArray[np.float64]
WINDOW_MM = 300.0
ROUNDING = 1e-9  # share of a window by which positions typed in decimals may miss its end


@dataclass(frozen=True, slots=True)
class Travel:
    """What a trace says about the travel, in µm.

    Attributes
    ----------
    mean_deviation_um : float
        Mean travel deviation: rise of the least-squares line over the useful travel, signed.
    variation_um : float
        Width of the band parallel to that line that holds the trace over the useful travel.
    variation_300_um : float
        The same within the worst 300 mm; the line of the whole travel is kept.
    variation_2pi_um : float or None
        The same within the worst turn; None without a lead.
    error_300_um : float
        Largest change of the deviation itself between two readings up to 300 mm apart, line and all.
    slope_um_per_mm, intercept_um : float
        The line; the intercept is at position 0.
    travel_mm : float
        Useful travel, first to last reading.
    from_300_mm, to_300_mm : float
        The worst 300 mm.
    from_2pi_mm : float or None
        Where the worst turn begins.
    least_readings_300 : int
        Fewest readings that fall into 300 mm of the travel, or into all of it where it is shorter.
    n : int
        Readings used.
    method : str
        How, in words for a report.
    """

    mean_deviation_um: float
    variation_um: float
    variation_300_um: float
    variation_2pi_um: float | None
    error_300_um: float
    slope_um_per_mm: float
    intercept_um: float
    travel_mm: float
    from_300_mm: float
    to_300_mm: float
    from_2pi_mm: float | None
    least_readings_300: int
    n: int
    method: str


def travel(
    position_mm: ArrayLike,
    deviation_um: ArrayLike,
    *,
    lead_mm: float | None = None,
    nominal: NominalLead | None = None,
    useful_mm: tuple[float, float] | None = None,
) -> Travel:
    """Judge the travel of a screw, worm or groove from a trace of its deviation.

    Parameters
    ----------
    position_mm : array of shape (n,)
        Positions along the part, strictly increasing, at least two.
    deviation_um : array of shape (n,)
        Measured travel less the specified travel there.
    lead_mm : float, optional
        Lead; gives the variation within a turn. With `nominal`: the constant lead the trace is measured
        against.
    nominal : NominalLead, optional
        For a lead that changes on purpose: what the table asks for is taken off before judging, and a turn is
        a turn of that groove.
    useful_mm : (float, float), optional
        Ends of the useful travel; readings outside it are left out.

    Returns
    -------
    Travel

    Raises
    ------
    Refused
        As `checked_trace`; fewer than two readings in the useful travel; a gap wider than 300 mm or, where the
        lead is given, wider than a turn; a table without the lead it is compared with.

    Notes
    -----
    The mean travel is the least-squares line (ISO 3408-3, JIS B 1192), its deviation slope times travel. Bands
    are parallel to the line of the whole travel and are never fitted anew in a window. A window holds the
    readings from its first one up to and including those 300 mm (one turn) further; nothing is read between
    readings, so that few readings show too little: see `readings_needed`.

    References
    ----------
    Definitions read on two makers' public pages that quote JIS B 1192.

    Examples
    --------
    >>> found = travel([0, 100, 200, 300, 400, 500, 600], [0, 2, 5, 4, 8, 9, 14])
    >>> round(found.mean_deviation_um, 6), round(found.variation_um, 6), round(found.variation_300_um, 6)
    (12.642857, 3.678571, 3.678571)
    """
    x, e = within(*checked_trace(position_mm, deviation_um), useful_mm)
    turns, e = less_nominal(x, e, lead_mm, nominal)
    refuse_gap(x, turns, nominal)
    centred = x - x.mean()
    slope = float(centred @ e / (centred @ centred))
    intercept = float(e.mean() - slope * x.mean())
    left = e - intercept - slope * x
    v300, start, end = worst_window(x, left, WINDOW_MM)
    v2pi, start_2pi = None, None
    if turns is not None:
        v2pi, first, _ = worst_window(turns, left, 1.0)
        start_2pi = float(x[first])
    return Travel(
        mean_deviation_um=slope * float(x[-1] - x[0]),
        variation_um=float(np.ptp(left)),
        variation_300_um=v300,
        variation_2pi_um=v2pi,
        error_300_um=worst_window(x, e, WINDOW_MM)[0],
        slope_um_per_mm=slope,
        intercept_um=intercept,
        travel_mm=float(x[-1] - x[0]),
        from_300_mm=float(x[start]),
        to_300_mm=float(x[end]),
        from_2pi_mm=start_2pi,
        least_readings_300=least_readings(x, WINDOW_MM),
        n=len(x),
        method="least-squares line over the useful travel, bands parallel to it, closed windows of readings",
    )


def within(x: Floats, e: Floats, useful_mm: tuple[float, float] | None) -> tuple[Floats, Floats]:
    """Keep the readings of the useful travel."""
    if useful_mm is None:
        return x, e
    low, high = useful_mm
    kept = (x >= low) & (x <= high)
    if kept.sum() < 2:
        raise Refused.one(
            "the useful travel holds fewer than two readings",
            value=f"{low:g} to {high:g} mm",
            column="useful travel",
            allowed=f"within {x[0]:g} to {x[-1]:g} mm",
        )
    return x[kept], e[kept]


def less_nominal(
    x: Floats, e: Floats, lead_mm: float | None, nominal: NominalLead | None
) -> tuple[Floats | None, Floats]:
    """Return the turns at each reading, where a lead is known, and the deviation less what was meant."""
    if lead_mm is not None and not 0.0 < lead_mm < math.inf:
        raise Refused.one(
            "a lead moves on with every turn", value=f"{lead_mm:g} mm", column="lead", allowed="above 0 mm"
        )
    if nominal is None:
        return (None if lead_mm is None else x / lead_mm), e
    if lead_mm is None:
        raise Refused.one(
            "a changing lead is compared with the constant lead that the trace is measured against",
            column="lead",
            do="Give that lead",
        )
    return nominal.turns(x), e - nominal.nominal_deviation_um(x, lead_mm)


def refuse_gap(x: Floats, turns: Floats | None, nominal: NominalLead | None) -> None:
    """Refuse a trace with a gap that a window could fall into."""
    gap, before, after = largest_gap(x)
    if gap > WINDOW_MM * (1 + ROUNDING):
        raise Refused.one(
            "the trace has a gap wider than the 300 mm it is judged over",
            value=f"{before:g} mm, then {after:g} mm",
            allowed="readings at most 300 mm apart",
        )
    if turns is not None and largest_gap(turns)[0] > 1 + ROUNDING:
        place = int(np.argmax(np.diff(turns)))
        raise Refused.one(
            "the trace has a gap wider than a turn, so nothing can be said about a turn",
            value=f"{x[place]:g} mm, then {x[place + 1]:g} mm",
            column="lead",
            allowed="readings at most one lead apart"
            if nominal is None
            else "readings at most one turn apart",
            do="Measure more closely, or leave the lead away",
        )


def worst_window(along: Floats, values: Floats, width: float) -> tuple[float, int, int]:
    """Widest range of values over readings at most `width` apart, with its window's first and last reading.

    Two queues of falling and rising values run along with the window, so a dense trace costs one pass.
    """
    ends = np.searchsorted(along, along + width * (1 + ROUNDING), side="right")
    best, first, last = -1.0, 0, 0
    high: list[int] = []
    low: list[int] = []
    top, bottom, taken = 0, 0, 0
    numbers = values.tolist()
    for start, end in enumerate(ends.tolist()):
        for place in range(taken, end):
            while len(high) > top and numbers[high[-1]] <= numbers[place]:
                high.pop()
            while len(low) > bottom and numbers[low[-1]] >= numbers[place]:
                low.pop()
            high.append(place)
            low.append(place)
        taken = end
        top += high[top] < start
        bottom += low[bottom] < start
        width_here = numbers[high[top]] - numbers[low[bottom]]
        if width_here > best:
            best, first, last = width_here, start, end - 1
    return best, first, last


def least_readings(x: Floats, width: float) -> int:
    """Fewest readings in any window of the travel, one of its two ends counted; all where it is shorter."""
    if x[-1] - x[0] < width:
        return len(x)
    starts = x[x + width <= x[-1] * (1 + ROUNDING) + ROUNDING]
    counts = np.searchsorted(x, starts + width * (1 + ROUNDING), side="right") - np.arange(len(starts)) - 1
    return int(counts.min())
