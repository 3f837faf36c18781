"""What to assume of a die set before its first check: from the drawing, and from sets that ended before."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.changed import changed
from spc.wear.belief import WearPrior
from spc.wear.finished import FinishedSet
from spc.wear.gain import expected_gain
from spc.wear.noises import Noises, noises_from

__all__ = ["SlideRole", "on_machine", "prior_for"]

_CENTRE_SETS, _SPREAD_SETS = 0.5, 2.0
"""How many finished sets the guess counts as, for the centre and for the spread between sets."""
_LIFE_PIECES = 20_000.0
"""First guess of how long sets last; counts as `_CENTRE_SETS` (common practice, no source)."""
_RATE_WANDERS, _WANDER_LASTS = 0.27, 0.125
"""Over a whole life the rate wanders by so much of itself; a slow excursion lasts for so much of a life."""
_BREAK_IN = 0.04
"""Share of a life in which new dies settle: 2 to 5 % of it, at two to three times the steady rate."""
_CHECK, _WANDER, _BATCH = 0.01, 0.035, 0.06
"""Shares of the tolerance: first guess of what moves a level from check to check, slowly, and with the bars."""


@dataclass(frozen=True, slots=True)
class SlideRole:
    """What the plan says of a characteristic, as far as the model needs it.

    Attributes
    ----------
    tolerance_um : float
        Width of the tolerance; for a one-sided one, the distance from aim to limit twice.
    gain : float or None
        First guess of µm smaller per µm of approach; None where the slide does not set it.
    gain_sd : float or None
        How far the guess may be off, standard deviation; None: a fifth of it.
    """

    name: str
    tolerance_um: float
    gain: float | None
    gain_sd: float | None = None


def prior_for(role: SlideRole, finished: Sequence[FinishedSet], machine: str = "") -> WearPrior:
    """Say what to assume of one characteristic before its first check.

    Parameters
    ----------
    role : SlideRole
        What the plan says of it.
    finished : sequence of FinishedSet
        Sets of the same part that came off before now, in any order.
    machine : str
        Where the set stands: its own sets tell more of the gain.

    Returns
    -------
    WearPrior
        In µm and pieces.

    Raises
    ------
    Refused
        Where the tolerance is not above 0 or the gain is not a number: a mistake in the plan.

    Notes
    -----
    Without finished sets growth is any of 0 to about a tenth of the tolerance in 1,000 pieces: the span
    from die sets of a few thousand pieces to those of a hundred thousand; the gain is the plan's, within a
    fifth of it unless the guess says how far it may be off. Each finished set narrows both: the guess counts
    as half a set for the centre and as two for the spread between sets, so that one or two sets never look
    certain: for m rates of mean x̄ and g = T/20 with the sign of the gain, κ = m + ½, ν = m + 2,

        centre = (g/2 + m·x̄)/κ,   spread² = (1 + 1/κ)·[2·(T/20)²/3 + Σ(x − x̄)² + (½·m/κ)·(x̄ − g)²]/ν.

    What moves the level besides wear is learned from how the checks of finished sets differ (see
    `noises`), the gain from what their slide moves said (see `gain`).

    The clock of a die is its life: the rate wanders by about a quarter of itself over the middle life of finished
    sets, and slow excursions last for an eighth of it, so that dies of 5,000 pieces and of 150,000 are judged
    alike. For a life of 20,000 that is 0.06 of the rate in 1,000 pieces: on simulated fleets with break-in and
    late acceleration a nominal 90 % forecast then held in 95 to 100 % of lives; twice as much made it a third to
    a half wider, half as much held in 88 to 100 %.

    References
    ----------
    A. Gelman et al., *Bayesian Data Analysis*, 3rd ed., section 3.3, normal data with a conjugate prior
    (from memory).

    Examples
    --------
    >>> sets = [FinishedSet(f"D-{i}", 40_000, True, "worn", "R1", (("over_pin", 1.1),)) for i in range(6)]
    >>> new, known = (prior_for(SlideRole("over_pin", 36.0, 0.8), each) for each in ([], sets))
    >>> new.rate_um_per_1000, round(known.rate_um_per_1000, 2)
    (1.8, 1.15)
    >>> known.rate_sd_um_per_1000 < new.rate_sd_um_per_1000
    True
    """
    _expect(role)
    tolerance = role.tolerance_um
    wide = tolerance / 20.0
    guess = math.copysign(wide, role.gain) if role.gain else 0.0
    rate, rate_sd = _pooled([dict(each.rates) for each in finished], role.name, guess, wide)
    gain, gain_sd = _gain(role, finished, machine)
    moves = [moves for each in finished for name, moves in each.moves if name == role.name]
    life = _middle_life(finished)
    shares = Noises(*((share * tolerance) ** 2 for share in (_CHECK, _WANDER, _BATCH)))
    noises = noises_from(moves, shares)
    return WearPrior(
        offset_sd_um=max(tolerance, 20.0),
        rate_um_per_1000=rate,
        rate_sd_um_per_1000=rate_sd,
        rate_wander_um_per_1000=_RATE_WANDERS * math.sqrt(1000.0 / life) * max(abs(rate), rate_sd / 3.0),
        gain=gain,
        gain_sd=gain_sd,
        wander_sd_um=math.sqrt(noises.wander),
        wander_pieces=_WANDER_LASTS * life,
        batch_sd_um=math.sqrt(noises.batch),
        check_sd_um=math.sqrt(noises.between_checks),
        break_in_pieces=_BREAK_IN * life,
    )


def on_machine(prior: WearPrior, role: SlideRole, finished: Sequence[FinishedSet], machine: str) -> WearPrior:
    """Say what `prior_for` says of a machine, from what it said of another one or of none, in less time.

    Of all that is assumed only the gain, which sets on the machine itself tell more of, is another there.
    """
    gain, gain_sd = _gain(role, finished, machine)
    return changed(prior, gain=gain, gain_sd=gain_sd)


def _gain(role: SlideRole, finished: Sequence[FinishedSet], machine: str) -> tuple[float, float]:
    guess = role.gain if role.gain is not None else 0.0
    guess_sd = 0.2 * abs(guess) if role.gain_sd is None else role.gain_sd
    facts = [fact for each in finished for fact in each.gains if fact.characteristic == role.name]
    return expected_gain(facts, machine, guess, guess_sd)


def _middle_life(finished: Sequence[FinishedSet]) -> float:
    """Geometric middle of the lives of sets that were worn out, the first guess among them."""
    logs = [math.log(each.age_pieces) for each in finished if each.reason == "worn" and each.age_pieces > 0]
    pulled = _CENTRE_SETS * math.log(_LIFE_PIECES) + math.fsum(logs)
    return math.exp(pulled / (_CENTRE_SETS + len(logs)))


def _expect(role: SlideRole) -> None:
    if not 0.0 < role.tolerance_um < math.inf:
        raise Refused.one(
            "the width of a tolerance is not above 0",
            value=str(role.tolerance_um),
            column=role.name,
            allowed="above 0 µm",
        )
    if role.gain is not None and not math.isfinite(role.gain):
        raise Refused.one("the slide gain is not a number", value=str(role.gain), column=role.name)


def _pooled(tables: Sequence[dict[str, float]], name: str, guess: float, wide: float) -> tuple[float, float]:
    """Centre and spread for the next set: the guess alone, or moved and narrowed by what sets taught."""
    known = [table[name] for table in tables if name in table]
    m = len(known)
    if m == 0:
        return guess, wide
    mean = statistics.fmean(known)
    centre = (_CENTRE_SETS * guess + m * mean) / (_CENTRE_SETS + m)
    squares = _SPREAD_SETS * wide**2 / (1.0 + 1.0 / _CENTRE_SETS)
    squares += sum((value - mean) ** 2 for value in known)
    squares += _CENTRE_SETS * m / (_CENTRE_SETS + m) * (mean - guess) ** 2
    between = squares / (_SPREAD_SETS + m)
    return centre, math.sqrt(between * (1.0 + 1.0 / (_CENTRE_SETS + m)))
