"""Pitch deviations of splines and worms: single, cumulative, and from tooth to tooth."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.errors import Refused

__all__ = ["PitchDeviations", "pitch_deviations"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class PitchDeviations:
    """Pitch deviations of one set of flanks, µm.

    Attributes
    ----------
    single_um : float
        The single pitch deviation largest in size, signed.
    cumulative_um : float
        Largest deviation between any two flanks, however many pitches apart; 0 or more.
    neighbours_um : float
        Largest difference of two neighbouring pitches; 0 or more.
    deviations_um : array of shape (n,)
        Deviation of each pitch, after the mean is off where the pitches close a circle.
    index_um : array of shape (n + 1,)
        Deviation of each flank from where it should be, the first at 0; on a circle the last is the first again.
    closed : bool
        Whether the pitches close a circle.
    n : int
        Pitches.
    """

    single_um: float
    cumulative_um: float
    neighbours_um: float
    deviations_um: Floats
    index_um: Floats
    closed: bool
    n: int


def pitch_deviations(measured_um: ArrayLike, *, closed: bool = True) -> PitchDeviations:
    """Judge the pitches of a spline's teeth all round, or of a worm's or thread's flanks along the axis.

    Parameters
    ----------
    measured_um : array of shape (n,)
        Each pitch in order, less any one reference: a comparator's readings from flank to flank. At least
        three on a circle, two along an axis.
    closed : bool
        All pitches of a circle, whose sum is known: their mean is taken off, whatever the comparator was set
        to. False along an axis: the readings are then from the nominal pitch.

    Returns
    -------
    PitchDeviations

    Raises
    ------
    Refused
        Too few pitches, or a reading that is no number.

    Notes
    -----
    The cumulative deviation is the range of the flanks' index deviations, as F_p of ISO 1328-1 and ISO 4156
    (from memory): the worst of all sectors. The sign of `single_um` says whether the pitch is long (+).

    Examples
    --------
    >>> found = pitch_deviations([3.0, 1.0, -1.0, 1.0])
    >>> found.single_um, found.cumulative_um, found.neighbours_um
    (2.0, 2.0, 2.0)
    """
    readings = np.array(measured_um, dtype=np.float64)
    fewest = 3 if closed else 2
    if readings.ndim != 1 or len(readings) < fewest:
        raise Refused.one(
            "pitches are compared with each other: there are too few",
            value=f"{readings.size}",
            allowed=f"{fewest} or more" + (" around a circle" if closed else " along the axis"),
        )
    if not np.isfinite(readings).all():
        raise Refused.one(f"pitch {int(np.flatnonzero(~np.isfinite(readings))[0]) + 1} is no number")
    deviations = readings - readings.mean() if closed else readings
    index = np.concatenate([[0.0], np.cumsum(deviations)])
    steps = np.diff(np.append(deviations, deviations[:1]) if closed else deviations)
    deviations.flags.writeable = index.flags.writeable = False
    return PitchDeviations(
        single_um=float(deviations[np.abs(deviations).argmax()]),
        cumulative_um=float(np.ptp(index)),
        neighbours_um=float(np.abs(steps).max()),
        deviations_um=deviations,
        index_um=index,
        closed=closed,
        n=len(deviations),
    )
