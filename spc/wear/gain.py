"""The slide gain across die sets: what one set's moves said of it, and what to expect of the next set."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spc.wear.belief import GAIN, WearBelief, WearPrior

__all__ = ["GainFact", "expected_gain", "gain_fact"]

_FROM_SET_TO_SET, _FROM_MACHINE_TO_MACHINE = 0.02, 0.10
"""Shares of the gain by which sets on one machine, and machines, differ (common practice, no source)."""
_GUESS_MACHINES = 2.0
"""How many machines the guess of their spread counts as."""
_LEAST_TAUGHT = 0.3
"""Share of the prior's precision that moves must add before they count as having said anything."""


@dataclass(frozen=True, slots=True)
class GainFact:
    """What the slide moves of one set alone said of a gain, its prior taken out.

    Attributes
    ----------
    characteristic, machine : str
    gain : float
        µm smaller per µm of approach.
    variance : float
    """

    characteristic: str
    machine: str
    gain: float
    variance: float


def gain_fact(belief: WearBelief, prior: WearPrior, characteristic: str, machine: str) -> GainFact | None:
    """Take the prior out of a belief about the gain; None where moves said too little.

    Parameters
    ----------
    belief : WearBelief
        Of the set as it came off.
    prior : WearPrior
        That the set began with.
    characteristic, machine : str

    Returns
    -------
    GainFact or None
        None where moves added less than three tenths of the prior's precision.

    Notes
    -----
    Precisions of independent normal evidence add: what the moves added is the precision now less that of the
    prior, 1/v = 1/v_now − 1/v_prior, and said v·(gain_now/v_now − gain_prior/v_prior). Handing the belief itself on
    would count the prior again with every set, and let it grow surer of itself without a single move.

    Examples
    --------
    >>> from spc.wear import WearPrior, fresh_belief, observe
    >>> prior = WearPrior(10.0, 1.2, 0.5, 0.1, 0.8, 0.16, 2.0, 2500.0, 3.0)
    >>> gain_fact(fresh_belief(prior), prior, "over_pin", "R1") is None
    True
    """
    now, before = belief.var(GAIN), prior.gain_sd**2
    if before <= 0.0 or now <= 0.0:
        return None
    added = 1.0 / now - 1.0 / before
    if added < _LEAST_TAUGHT / before:
        return None
    return GainFact(
        characteristic, machine, (belief.mean[GAIN] / now - prior.gain / before) / added, 1.0 / added
    )


def expected_gain(
    facts: Sequence[GainFact], machine: str, guess: float, guess_sd: float
) -> tuple[float, float]:
    """Say what gain to expect on a machine, and how sure, before the next set has moved its slide.

    Parameters
    ----------
    facts : sequence of GainFact
        Of one characteristic.
    machine : str
        The one the set stands on.
    guess, guess_sd : float
        From the plan or the geometry.

    Returns
    -------
    tuple of float
        Mean and standard deviation.

    Notes
    -----
    Two levels, normal: machines scatter around the gain of the part by a tenth of it, or by what the machines
    themselves show, and sets on one machine by a fiftieth. The other machines and the guess tell of the part, the
    machine's own sets of the machine. Evidence is weighed by its precision: a machine's mean is that of its facts,
    each with variance v + (0.02·guess)²; the part's that of the guess and of the other machines, each with τ² more;
    this machine's that of the part, with τ² more, and of its own; the next set's variance is (0.02·guess)² above
    that. τ² is (0.1·guess)² counted as two machines, pooled with max(0, Σ((mean − middle)² − variance)/(M − 1)) of M
    machines.

    References
    ----------
    A. Gelman et al., *Bayesian Data Analysis*, 3rd ed., ch. 5, the hierarchical normal model (from memory).

    Examples
    --------
    >>> expected_gain([], "R1", 0.8, 0.16)
    (0.8, 0.16)
    """
    if not facts or guess_sd <= 0.0:
        return guess, guess_sd
    set_var = (_FROM_SET_TO_SET * guess) ** 2
    of_machine = {
        name: _weighed([(each.gain, each.variance + set_var) for each in facts if each.machine == name])
        for name in sorted({each.machine for each in facts})
    }
    machine_var = _between(list(of_machine.values()), (_FROM_MACHINE_TO_MACHINE * guess) ** 2)
    others = [(mean, var + machine_var) for name, (mean, var) in of_machine.items() if name != machine]
    mean, var = _weighed([(guess, guess_sd**2), *others])
    here = [(mean, var + machine_var)]
    if machine in of_machine:
        here.append(of_machine[machine])
    mean, var = _weighed(here)
    return mean, math.sqrt(var + set_var)


def _between(machines: Sequence[tuple[float, float]], guess_var: float) -> float:
    """Variance from machine to machine: the guess, pooled with how far they lie apart beyond their own doubt."""
    if len(machines) < 2:
        return guess_var
    middle = math.fsum(mean for mean, _ in machines) / len(machines)
    apart = math.fsum((mean - middle) ** 2 - var for mean, var in machines) / (len(machines) - 1)
    free = len(machines) - 1
    return (_GUESS_MACHINES * guess_var + free * max(apart, 0.0)) / (_GUESS_MACHINES + free)


def _weighed(facts: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Mean and variance of independent normal evidence about one number."""
    precision = math.fsum(1.0 / var for _, var in facts)
    return math.fsum(mean / var for mean, var in facts) / precision, 1.0 / precision
