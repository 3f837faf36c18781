"""What breaks the run of a die set: another bar batch, a step, a re-mounting; each opens what it makes unsure."""

import math

from spc.errors import Refused
from spc.shop.changed import changed
from spc.wear.belief import BATCH, OFFSET, RATE, SHIFT, SIZE, WEAR, WearBelief, WearPrior

__all__ = ["change_batch", "open_rate", "open_shift", "remount", "settle"]

_ROWS = range(SIZE)


def change_batch(belief: WearBelief, prior: WearPrior) -> WearBelief:
    """Begin a new bar batch: what the bars add is unknown again, the die is as it was.

    Parameters
    ----------
    belief : WearBelief
        Carried on to the first piece of the batch.
    prior : WearPrior
        For how far batches differ.

    Returns
    -------
    WearBelief
        With offset, wear, growth and gain kept.

    Notes
    -----
    Batches lie around a common mean, so many of them teach the offset. A batch's step lasts: were it part of
    the shift that comes back to 0, the growth would take up what is left of it.
    """
    return _reset(belief, BATCH, 0.0, prior.batch_sd_um**2)


def open_shift(belief: WearBelief, extra_var_um2: float) -> WearBelief:
    """Let the level move: a step nobody logged, a gauge re-set.

    Parameters
    ----------
    belief : WearBelief
        As it stands.
    extra_var_um2 : float
        Variance of the possible move, µm², 0 or more.

    Returns
    -------
    WearBelief
        With the level less sure by that much.

    Raises
    ------
    Refused
        Where the variance is negative or not a number.

    Notes
    -----
    Nobody knows yet whether the move stays: half of the variance goes to the offset of this mounting, half to
    the shift that passes, and the checks that follow sort them.
    """
    if not 0.0 <= extra_var_um2 < math.inf:
        raise Refused.one(
            "a variance is negative or not a number", value=str(extra_var_um2), allowed="0 or more"
        )
    cov = list(belief.cov)
    for i in (OFFSET, SHIFT):
        cov[SIZE * i + i] += extra_var_um2 / 2.0
    return changed(belief, cov=tuple(cov))


def open_rate(belief: WearBelief, extra_var: float) -> WearBelief:
    """Let the growth rate be another: the dies wear faster, or slower, than they did.

    Parameters
    ----------
    belief : WearBelief
        As it stands.
    extra_var : float
        Variance of the possible change, (µm per 1,000 pieces)², 0 or more; added to that of the rate.
    """
    cov = list(belief.cov)
    cov[SIZE * RATE + RATE] += extra_var
    return changed(belief, cov=tuple(cov))


def settle(belief: WearBelief, prior: WearPrior, since_pieces: float, age_pieces: float) -> WearBelief:
    """Let the growth of young dies be another at each check: they wear two to three times as fast at first.

    Parameters
    ----------
    belief : WearBelief
        As it stands.
    prior : WearPrior
        For the growth expected and how long dies take to settle.
    since_pieces, age_pieces : float
        Ages between which they settle; infinity for all that is still to come.

    Returns
    -------
    WearBelief
        With its rate less sure; as it was for dies that have settled.

    Notes
    -----
    Var(rate) grows by rate₀²·(e^(−a/B) − e^(−b/B)) between the ages a and b, with the prior's rate₀ and B; by nothing
    where the bracket is under 10⁻⁶. Over all of the break-in the rate may so change by once itself. Without this,
    size that does not fall as the slide goes in while young dies wear fast would be taken for a slide of little gain.
    """
    if prior.break_in_pieces <= 0.0:
        return belief
    still = math.exp(-max(since_pieces, 0) / prior.break_in_pieces) - math.exp(
        -age_pieces / prior.break_in_pieces
    )
    return open_rate(belief, prior.rate_um_per_1000**2 * still) if still > 1e-6 else belief


def remount(belief: WearBelief, prior: WearPrior) -> WearBelief:
    """Put a known set back on: its wear and rate stay, the slide zero is unknown again.

    Parameters
    ----------
    belief : WearBelief
        As it stood when the set came off.
    prior : WearPrior
        For how far a set-up may be off, and for the bars it meets now.

    Returns
    -------
    WearBelief
        With the reference of the first mounting kept in `first_offset_um`.

    Notes
    -----
    Offset and wear are known far better together than each for itself. From the first re-mounting on, the
    reference stands at the value believed then and wear is counted from there, so the uncertainty of
    their sum, and its ties to rate and gain, live on in the wear: P ← APA' with A = I + 1 at (wear, offset). Then
    offset ← N(offset, σ_o²), shift ← N(0, s²) and batch ← N(0, σ_b²), without ties to the rest. A mounting without a
    check taught no reference: the next one is then the first.
    """
    kept = belief
    if belief.first_offset_um is None and belief.checks > 0:
        kept = changed(
            belief,
            cov=_with_offset_in_wear(belief.cov),
            first_offset_um=belief.mean[OFFSET],
            first_offset_var=belief.var(OFFSET),
        )
    fresh = _reset(kept, OFFSET, kept.mean[OFFSET], prior.offset_sd_um**2)
    fresh = _reset(fresh, SHIFT, 0.0, prior.wander_sd_um**2)
    return change_batch(fresh, prior)


def _with_offset_in_wear(cov: tuple[float, ...]) -> tuple[float, ...]:
    """Covariance of (offset, offset + wear, rate, gain, shift, batch)."""
    summed = list(cov)
    for j in _ROWS:
        summed[SIZE * WEAR + j] += summed[SIZE * OFFSET + j]
    for i in _ROWS:
        summed[SIZE * i + WEAR] += summed[SIZE * i + OFFSET]
    return tuple(summed)


def _reset(belief: WearBelief, i: int, mean: float, variance: float) -> WearBelief:
    """Forget one component: new mean and variance, no correlation with the rest."""
    means = list(belief.mean)
    means[i] = mean
    cov = list(belief.cov)
    for j in _ROWS:
        cov[SIZE * i + j] = cov[SIZE * j + i] = 0.0
    cov[SIZE * i + i] = variance
    return changed(belief, mean=tuple(means), cov=tuple(cov))
