"""Bow of a stem or shaft from its run-out between centres, with the out-of-round kept apart."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from spc.errors import Refusal, Refused

__all__ = ["Bow", "bow_from_run_out", "bow_from_turn", "bow_of_radius"]


@dataclass(frozen=True, slots=True)
class Bow:
    """How far the axis of a part stands off the line of its centres at one place, µm.

    Attributes
    ----------
    bow_um : float
        The bow; half the run-out.
    least_um, most_um : float
        What it can be at least and at most, for the out-of-round that was given.
    run_out_um : float
        Full indicator movement over a turn.
    out_of_round_um : float
        Out-of-round taken into account.
    direction_deg : float or None
        Where the part stands out most, where a whole turn was read.
    method : str
        How, in words for a report.
    """

    bow_um: float
    least_um: float
    most_um: float
    run_out_um: float
    out_of_round_um: float
    direction_deg: float | None
    method: str


def bow_from_run_out(run_out_um: float, out_of_round_um: float = 0.0) -> Bow:
    """Work out the bow from the full indicator movement over one turn between centres.

    Parameters
    ----------
    run_out_um : float
        Full indicator movement, 0 or more.
    out_of_round_um : float
        Out-of-round at the same place, as a range of radii (a two-point diameter range halved), 0 or more.

    Returns
    -------
    Bow

    Raises
    ------
    Refused
        A movement below 0, or less than the out-of-round leaves.

    Notes
    -----
    A round section off its centre by f moves the indicator by 2 f. An out-of-round of o adds up to o to that
    or, where its lobes fill what the bow leaves, takes up to o off: so the bow lies between (TIR − o)/2 and
    (TIR + o)/2, and never above 2 TIR/π, the most that a first harmonic can have within a band of TIR. An oval
    section changes the movement least, so TIR/2 stays the best guess. Read a whole turn to keep them apart:
    see `bow_from_turn`.

    References
    ----------
    Run-out of a round section is twice the eccentricity: read in a public glossary of a heat treater. The
    bounds: own derivation.

    Examples
    --------
    >>> found = bow_from_run_out(30.0, out_of_round_um=4.0)
    >>> found.bow_um, found.least_um, found.most_um
    (15.0, 13.0, 17.0)
    """
    said = [
        Refusal(f"{name} is a movement, 0 or more", f"{value:g} µm", column=name, allowed="0 µm or more")
        for name, value in (("run-out", run_out_um), ("out-of-round", out_of_round_um))
        if not 0.0 <= value < math.inf
    ]
    if said:
        raise Refused(said)
    most = min((run_out_um + out_of_round_um) / 2, 2 * run_out_um / math.pi)
    return Bow(
        bow_um=run_out_um / 2,
        least_um=max((run_out_um - out_of_round_um) / 2, 0.0),
        most_um=most,
        run_out_um=run_out_um,
        out_of_round_um=out_of_round_um,
        direction_deg=None,
        method="half the run-out; bounds by the out-of-round",
    )


def bow_from_turn(angle_deg: ArrayLike, reading_um: ArrayLike) -> Bow:
    """Split the readings of one turn between centres into bow and out-of-round.

    Parameters
    ----------
    angle_deg : array of shape (n,)
        Angles of the part, at least five different ones that go round.
    reading_um : array of shape (n,)
        Indicator readings there, larger where the part stands out.

    Returns
    -------
    Bow
        With `least_um` and `most_um` equal to the bow, and the range of what is left as the out-of-round.

    Raises
    ------
    Refused
        Too few readings, no numbers, or readings that leave more than a third of the turn open.

    Notes
    -----
    The bow is the first harmonic by least squares, which is the least-squares circle's centre for a bow small
    against the radius (ISO 12181 for the circle, from memory).

    Examples
    --------
    >>> turn = [0, 60, 120, 180, 240, 300]
    >>> round(bow_from_turn(turn, [20.0, 15.0, 5.0, 0.0, 5.0, 15.0]).bow_um, 6)
    10.0
    """
    angle, reading = np.asarray(angle_deg, dtype=np.float64), np.asarray(reading_um, dtype=np.float64)
    if angle.ndim != 1 or angle.shape != reading.shape or len(angle) < 5:
        raise Refused.one(
            "a turn has five readings or more, one for each angle", value=f"{angle.size}, {reading.size}"
        )
    if not (np.isfinite(angle).all() and np.isfinite(reading).all()):
        raise Refused.one("a reading of the turn is no number")
    around = np.unique(np.mod(angle, 360.0))
    open_deg = float(np.diff(np.append(around, around[0] + 360.0)).max())
    if open_deg > 120.0:
        raise Refused.one(
            "the readings don't go round the part",
            value=f"{open_deg:g}° without one",
            allowed="gaps up to 120°",
        )
    turned = np.radians(angle)
    model = np.column_stack([np.ones_like(turned), np.cos(turned), np.sin(turned)])
    (_, east, north), *_ = np.linalg.lstsq(model, reading, rcond=None)
    left = reading - model[:, 1:] @ (east, north)
    bow = float(math.hypot(east, north))
    return Bow(
        bow_um=bow,
        least_um=bow,
        most_um=bow,
        run_out_um=float(np.ptp(reading)),
        out_of_round_um=float(np.ptp(left)),
        direction_deg=math.degrees(math.atan2(north, east)) % 360.0,
        method="first harmonic of the readings of a turn, least squares",
    )


def bow_of_radius(length_mm: float, radius_mm: float) -> float:
    """Bow, in µm, at the middle of a length between centres that is bent to a circle of this radius.

    Notes
    -----
    R − √(R² − L²/4), for a straight part near L²/(8 R).

    Examples
    --------
    >>> round(bow_of_radius(200.0, 250_000.0), 3)
    20.0
    """
    if not 0.0 <= length_mm / 2 <= radius_mm < math.inf:
        raise Refused.one(
            "no circle of this radius spans this length",
            value=f"{length_mm:g} mm on a radius of {radius_mm:g} mm",
            allowed="a length of 0 up to twice the radius",
        )
    half = length_mm / 2
    return 1000 * half**2 / (radius_mm + math.sqrt(radius_mm**2 - half**2))
