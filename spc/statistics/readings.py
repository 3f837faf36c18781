"""Single readings made ready for arithmetic, or refused with every reason at once."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from spc.errors import Refusal, Refused

__all__ = ["MOST_READING", "Floats", "frozen", "sound_readings"]

MOST_READING = 1e100
"""Beyond this no gauge reads, and squares leave the range of numbers."""
_LEAST_SPREAD = 1e-100

Floats = npt.NDArray[np.float64]


def sound_readings(
    readings: Sequence[float] | Floats,
    *,
    asks: str,
    least: int = 2,
    differ: bool = True,
    at_least: float | None = None,
    above: float | None = None,
) -> Floats:
    """Readings as a read-only array, for every method that takes single pieces.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        In one unit, in the order made.
    asks : str
        The asking method, for the refusal.
    least : int
        Fewest readings that it can use.
    differ : bool
        Whether readings that are all equal say nothing to it.
    at_least, above : float, optional
        Smallest value allowed, the number itself included or not.

    Returns
    -------
    ndarray of float, shape (n,)
        The same order; cannot be written to.

    Raises
    ------
    Refused
        Missing, infinite, too small, too few or equal readings, all together.

    Examples
    --------
    >>> sound_readings([1.0, 2.0], asks="a line").tolist()
    [1.0, 2.0]
    """
    values = [float(value) for value in readings]
    refusals = _unread(values) + _outside(values, asks, at_least, above)
    if len(values) < least:
        refusals.append(
            Refusal(f"too few readings for {asks}", value=str(len(values)), allowed=f"{least} or more")
        )
    elif differ and max(values) - min(values) <= _LEAST_SPREAD:
        refusals.append(
            Refusal(
                f"the readings are all equal, which {asks} cannot use",
                value=f"{values[0]:g}",
                allowed="readings that differ",
                do="Read the gauge to a finer step, or check that it moves freely",
            )
        )
    if refusals:
        raise Refused(refusals)
    return frozen(np.array(values, dtype=np.float64))


def frozen(values: Floats) -> Floats:
    """Return the array, closed to writing: records carry only such."""
    values.flags.writeable = False
    return values


def _unread(values: Sequence[float]) -> list[Refusal]:
    return [
        Refusal(
            "the reading is missing or not finite",
            value=f"{value:g}",
            column=f"piece {number}",
            do="Leave it out",
        )
        for number, value in enumerate(values, start=1)
        if not abs(value) <= MOST_READING
    ]


def _outside(
    values: Sequence[float], asks: str, at_least: float | None, above: float | None
) -> list[Refusal]:
    """Refuse values where none are allowed, in one paragraph however many there are."""
    if above is not None:
        wants, do = f"above {above:g}", "Read the gauge to a finer step, or take a model that can start there"
        out = [number for number, value in enumerate(values, start=1) if -MOST_READING <= value <= above]
    elif at_least is not None:
        wants, do = f"of {at_least:g} or more", "Check the sign and the setting of the gauge"
        out = [number for number, value in enumerate(values, start=1) if -MOST_READING <= value < at_least]
    else:
        return []
    if not out:
        return []
    where = (
        f"piece {out[0]}" if len(out) == 1 else f"{len(out)} of {len(values)} pieces, first piece {out[0]}"
    )
    least = min(values[number - 1] for number in out)
    return [Refusal(f"{asks} wants readings {wants}", value=f"{least:g}", column=where, do=do)]
