"""The wear filter: one pure step for pieces made and one for a check gauged.

The state and its meaning stand in `belief`. Between checks, over Δ pieces and k = Δ/1000:

    wear  ← wear + k·rate            rate  ← rate + N(0, k·w²)
    shift ← φ·shift + N(0, (1−φ²)·s²), φ = exp(−Δ/L)

with w, s, L from the prior: an integrated random walk for growth beside a passing shift of a first-order
autoregression. Offset, gain and batch stay as they are until something breaks the run (see `breaks`). The
slide's approach is a known input that multiplies the gain, so a logged move teaches the gain and leaves
growth alone. Small systems in plain floats are faster here than array calls. After a value that is off by
many powers of ten rounding may leave a variance a hair below 0; it counts as 0.

References
----------
R. E. Kalman (1960), J. Basic Eng. 82, 35–45; the update is Joseph's symmetric form, Bucy & Joseph (1968),
*Filtering for Stochastic Processes*, ch. 16 (both from memory).
"""

import math
from dataclasses import dataclass, replace

from spc.errors import Refused
from spc.wear.belief import GAIN, RATE, SHIFT, SIZE, WEAR, WearBelief, WearPrior

__all__ = [
    "Forecast",
    "advance",
    "forecast_mean",
    "gain_of",
    "level_um",
    "observe",
]

_ROWS = range(SIZE)


@dataclass(frozen=True, slots=True)
class Forecast:
    """What a check's mean should be before it is seen: size minus target and its standard deviation, µm."""

    mean_um: float
    sd_um: float


def advance(belief: WearBelief, prior: WearPrior, age_pieces: int) -> WearBelief:
    """Let pieces be made: carry the belief on to the age of the next check.

    Parameters
    ----------
    belief : WearBelief
        As it stands after the last check.
    prior : WearPrior
        For how far rate and passing shift wander on the way.
    age_pieces : int
        Age of the set then; not below `belief.age_pieces` (a smaller one leaves the belief as it is).

    Returns
    -------
    WearBelief
        At that age.

    Notes
    -----
    Steps may be cut at will: to 500 and on to 1,000 pieces is the same as straight to 1,000.

    Examples
    --------
    >>> from spc.wear import WearPrior, fresh_belief
    >>> prior = WearPrior(10.0, 1.2, 0.5, 0.1, 0.8, 0.1, 2.0, 2500.0, 3.0)
    >>> advance(fresh_belief(prior), prior, 2000).mean
    (0.0, 2.4, 1.2, 0.8, 0.0, 0.0)
    """
    pieces = age_pieces - belief.age_pieces
    if pieces <= 0:
        return belief
    k = pieces / 1000.0
    phi = math.exp(-pieces / prior.wander_pieces)
    mean = list(belief.mean)
    mean[WEAR] += k * mean[RATE]
    mean[SHIFT] *= phi
    cov = list(belief.cov)
    for j in _ROWS:  # wear row, then column: F P Fᵀ with the one off-diagonal entry of F
        cov[SIZE * WEAR + j] += k * cov[SIZE * RATE + j]
    for i in _ROWS:
        cov[SIZE * i + WEAR] += k * cov[SIZE * i + RATE]
    for j in _ROWS:
        cov[SIZE * SHIFT + j] *= phi
        cov[SIZE * j + SHIFT] *= phi
    q = prior.rate_wander_um_per_1000**2
    cov[SIZE * RATE + RATE] += q * k
    cov[SIZE * WEAR + RATE] += q * k * k / 2
    cov[SIZE * RATE + WEAR] += q * k * k / 2
    cov[SIZE * WEAR + WEAR] += q * k * k * k / 3
    cov[SIZE * SHIFT + SHIFT] += (1.0 - phi * phi) * prior.wander_sd_um**2
    return replace(belief, mean=tuple(mean), cov=tuple(cov), age_pieces=age_pieces)


def forecast_mean(belief: WearBelief, approach_um: float, noise_var_um2: float) -> Forecast:
    """Say what the mean of a check should be, one step ahead.

    Parameters
    ----------
    belief : WearBelief
        Carried on to the age of the check.
    approach_um : float
        How much nearer the dies stand than at the slide zero of this mounting, µm.
    noise_var_um2 : float
        Variance of the check's mean around the true size, µm²: σ²/n, above 0.

    Returns
    -------
    Forecast
        Its mean and standard deviation, the noise of the check included.

    Raises
    ------
    Refused
        Where the approach is not a number or the noise is not above 0.
    """
    _expect(0.0, approach_um, noise_var_um2)
    row = _row(approach_um)
    mean = sum(row[i] * belief.mean[i] for i in _ROWS)
    spread = _times(belief.cov, row)
    variance = max(sum(row[i] * spread[i] for i in _ROWS), 0.0) + noise_var_um2
    return Forecast(mean, math.sqrt(variance))


def observe(belief: WearBelief, mean_um: float, approach_um: float, noise_var_um2: float) -> WearBelief:
    """Take a check's mean in.

    Parameters
    ----------
    belief : WearBelief
        Carried on to the age of the check.
    mean_um : float
        Mean of the check minus target, µm.
    approach_um, noise_var_um2 : float
        As for `forecast_mean`.

    Returns
    -------
    WearBelief
        With one check more.

    Raises
    ------
    Refused
        Where mean or approach is not a number or the noise is not above 0.

    Examples
    --------
    A set-up known to ±10 µm and a check known to ±1 µm: the check is believed, all but a hundredth.

    >>> from spc.wear import WearPrior, fresh_belief
    >>> prior = WearPrior(10.0, 1.2, 0.5, 0.1, 0.8, 0.1, 0.0, 2500.0, 0.0)
    >>> round(observe(fresh_belief(prior), 5.0, 0.0, 1.0).mean[0], 2)
    4.95
    """
    _expect(mean_um, approach_um, noise_var_um2)
    row = _row(approach_um)
    spread = _times(belief.cov, row)
    variance = max(sum(row[i] * spread[i] for i in _ROWS), 0.0) + noise_var_um2
    gain = [each / variance for each in spread]
    surprise = mean_um - sum(row[i] * belief.mean[i] for i in _ROWS)
    mean = tuple(belief.mean[i] + gain[i] * surprise for i in _ROWS)
    return replace(
        belief,
        mean=mean,
        cov=_joseph(belief.cov, row, gain, spread, noise_var_um2),
        checks=belief.checks + 1,
    )


def level_um(belief: WearBelief, approach_um: float) -> float:
    """Size minus target now, as believed: with wander and bar batch, without the noise of a check.

    Parameters
    ----------
    belief : WearBelief
        As it stands.
    approach_um : float
        How much nearer the dies stand than at the slide zero of this mounting, µm.

    Returns
    -------
    float
        µm.
    """
    return sum(each * value for each, value in zip(_row(approach_um), belief.mean, strict=True))


def gain_of(belief: WearBelief) -> float:
    """The slide gain as now believed: µm smaller per µm of approach."""
    return belief.mean[GAIN]


def _expect(mean_um: float, approach_um: float, noise_var_um2: float) -> None:
    """Refuse what no check can be: a lost number would spread through everything believed after it."""
    if not (math.isfinite(mean_um) and math.isfinite(approach_um)):
        got = f"mean {mean_um}, approach {approach_um}"
        raise Refused.one("a check's mean or the slide's approach is not a number", value=got, allowed="µm")
    if not 0.0 < noise_var_um2 < math.inf:
        raise Refused.one(
            "the variance of a check's mean is not above 0",
            value=str(noise_var_um2),
            allowed="above 0 µm²: σ of one piece, squared, over the number of pieces",
        )


def _row(approach_um: float) -> tuple[float, ...]:
    """How a reading depends on (offset, wear, rate, gain, shift, batch)."""
    return (1.0, 1.0, 0.0, -approach_um, 1.0, 1.0)


def _times(cov: tuple[float, ...], row: tuple[float, ...]) -> list[float]:
    return [sum(cov[SIZE * i + j] * row[j] for j in _ROWS) for i in _ROWS]


def _joseph(
    cov: tuple[float, ...],
    row: tuple[float, ...],
    gain: list[float],
    spread: list[float],
    noise: float,
) -> tuple[float, ...]:
    """(I − K h) P (I − K h)ᵀ + K r Kᵀ, made exactly symmetric."""
    left = [cov[SIZE * i + j] - gain[i] * spread[j] for i in _ROWS for j in _ROWS]
    fold = [sum(left[SIZE * i + j] * row[j] for j in _ROWS) for i in _ROWS]
    full = [left[SIZE * i + j] - fold[i] * gain[j] + noise * gain[i] * gain[j] for i in _ROWS for j in _ROWS]
    return tuple(0.5 * (full[SIZE * i + j] + full[SIZE * j + i]) for i in _ROWS for j in _ROWS)
