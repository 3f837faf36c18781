"""What to assume of a die set before its first check: from the drawing, and from sets that ended before."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from spc.wear.belief import WearPrior

__all__ = ["FinishedSet", "SlideRole", "prior_for"]


@dataclass(frozen=True, slots=True)
class FinishedSet:
    """One die set of the part whose life ended or was cut short.

    Attributes
    ----------
    die_set : str
    age_pieces : int
        Age when it came off.
    ended : bool
        Whether it came off because its life was over (`worn`, `chipped`); else its life is only known
        to be longer than `age_pieces`.
    reason : str
        The removal's word.
    rates : tuple of (characteristic, µm per 1,000 pieces)
        Mean growth over its life, as believed at the end.
    gains : tuple of (characteristic, µm per µm)
    """

    die_set: str
    age_pieces: int
    ended: bool
    reason: str
    rates: tuple[tuple[str, float], ...] = ()
    gains: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class SlideRole:
    """What the plan says of a characteristic, as far as the model needs it.

    Attributes
    ----------
    tolerance_um : float
        Width of the tolerance; for a one-sided one, the distance from aim to limit twice.
    gain : float or None
        First guess of µm smaller per µm of approach; None where the slide does not set it.
    """

    name: str
    tolerance_um: float
    gain: float | None


def prior_for(role: SlideRole, finished: Sequence[FinishedSet]) -> WearPrior:
    """Set the prior of one characteristic.

    Notes
    -----
    Without finished sets growth is any of 0 to about a tenth of the tolerance in 1,000 pieces: the span
    from die sets of a few thousand pieces to those of a hundred thousand. Each finished set narrows it; the
    spread between sets is estimated with two sets' worth of the wide guess mixed in, so that one or two sets
    never look certain.
    """
    tolerance = role.tolerance_um
    wide = tolerance / 20.0
    guess = tolerance / 20.0 if role.gain is not None and role.gain > 0 else 0.0
    if role.gain is not None and role.gain < 0:
        guess = -guess
    rate, rate_sd = _pooled([dict(each.rates) for each in finished], role.name, guess, wide)
    gain = role.gain if role.gain is not None else 0.0
    gain, gain_sd = _pooled([dict(each.gains) for each in finished], role.name, gain, 0.2 * abs(gain))
    return WearPrior(
        offset_sd_um=max(tolerance, 20.0),
        rate_um_per_1000=rate,
        rate_sd_um_per_1000=rate_sd,
        rate_wander_um_per_1000=0.12 * max(abs(rate), rate_sd / 3.0),
        gain=gain,
        gain_sd=gain_sd if role.gain is not None else 0.0,
        wander_sd_um=0.05 * tolerance,
        wander_pieces=2500.0,
        batch_sd_um=0.07 * tolerance,
    )


def _pooled(tables: Sequence[dict[str, float]], name: str, guess: float, wide: float) -> tuple[float, float]:
    """Mix what finished sets taught with the wide guess, the guess counting as two sets in the spread."""
    known = [table[name] for table in tables if name in table]
    if not known:
        return guess, wide
    centre = statistics.fmean(known)
    spread = sum((value - centre) ** 2 for value in known) + 2.0 * wide**2
    between = spread / (len(known) + 1.0)
    return centre, math.sqrt(between * (1.0 + 1.0 / len(known)))
