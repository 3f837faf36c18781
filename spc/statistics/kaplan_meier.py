"""Share still running over time, when some have not failed yet."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from spc.errors import Refused
from spc.statistics.readings import sound_readings

__all__ = ["KaplanMeier", "kaplan_meier"]


@dataclass(frozen=True, slots=True)
class KaplanMeier:
    """Steps of the surviving share.

    Attributes
    ----------
    times : tuple of float
        Lives at which something failed, shortest first.
    survival, errors : tuple of float
        Share that lives longer than each, and its standard deviation (Greenwood).
    at_risk, failed : tuple of int
        How many had come so far, and how many failed there.
    median : float or None
        First life at which half or fewer are left; None where the last step stays above.
    n, failures : int
        Lives, and how many of them ended in failure.
    method : str
        Whose estimate.
    """

    times: tuple[float, ...]
    survival: tuple[float, ...]
    errors: tuple[float, ...]
    at_risk: tuple[int, ...]
    failed: tuple[int, ...]
    median: float | None
    n: int
    failures: int
    method: str

    def at(self, time: float) -> float:
        """Share that lives longer than `time`."""
        return next(
            (left for life, left in zip(self.times[::-1], self.survival[::-1], strict=True) if life <= time),
            1.0,
        )


def kaplan_meier(lives: Sequence[float], failed: Sequence[bool]) -> KaplanMeier:
    """Surviving share of lives of which some are not over, for die sets still mounted.

    Parameters
    ----------
    lives : sequence of float, shape (n,)
        Pieces or hours reached, above 0.
    failed : sequence of bool, shape (n,)
        True where the life ended in failure, False where it goes on or was ended for another reason.

    Returns
    -------
    KaplanMeier
        A life that goes on at the very time of a failure counts as having come so far.

    Raises
    ------
    Refused
        Unequal lengths, no failure, a life that is not above 0.

    References
    ----------
    Kaplan & Meier, J. American Statistical Association 53 (1958); Greenwood 1926 (from memory).

    Examples
    --------
    >>> found = kaplan_meier([6, 6, 7, 9], [True, False, True, False])
    >>> [round(share, 3) for share in found.survival]
    [0.75, 0.375]
    """
    pairs = paired_lives(lives, failed)
    left, hazard = 1.0, 0.0
    rows: list[tuple[float, float, float, int, int]] = []
    for life in sorted({life for life, over in pairs if over}):
        came = sum(each >= life for each, _ in pairs)
        ended = sum(each == life and over for each, over in pairs)
        left *= 1.0 - ended / came
        hazard += ended / (came * (came - ended)) if came > ended else 0.0
        rows.append((life, left, left * sqrt(hazard), came, ended))
    times, survival, errors, at_risk, ended_at = zip(*rows, strict=True)
    return KaplanMeier(
        times=times,
        survival=survival,
        errors=errors,
        at_risk=at_risk,
        failed=ended_at,
        median=next((life for life, share, *_ in rows if share <= 0.5), None),
        n=len(pairs),
        failures=sum(ended_at),
        method="Kaplan-Meier, errors after Greenwood",
    )


def paired_lives(lives: Sequence[float], failed: Sequence[bool]) -> list[tuple[float, bool]]:
    """Lives with their ends, checked: equally many, above 0, at least one failure."""
    if len(lives) != len(failed):
        raise Refused.one(
            "every life wants to be told as failed or going on",
            value=f"{len(lives)} and {len(failed)}",
            allowed="one word a life",
        )
    values = sound_readings(lives, asks="a life", least=1, differ=False, above=0.0).tolist()
    ends = [bool(each) for each in failed]
    if not any(ends):
        raise Refused.one(
            "nothing has failed yet, so nothing can be said about lives",
            value=f"{len(ends)} lives that go on",
            allowed="at least one failure",
            do="Wait for the first one",
        )
    return list(zip(values, ends, strict=True))
