"""What is believed of one characteristic on one die set: six numbers, how sure they are, and the age."""

from dataclasses import dataclass

from spc.shop.quickly_made import quickly_made

__all__ = [
    "BATCH",
    "GAIN",
    "OFFSET",
    "RATE",
    "SHIFT",
    "SIZE",
    "WEAR",
    "WearBelief",
    "WearPrior",
    "fresh_belief",
]

OFFSET, WEAR, RATE, GAIN, SHIFT, BATCH = range(6)
SIZE = 6


@quickly_made
@dataclass(frozen=True, slots=True)
class WearPrior:
    """What is assumed before the first check of a die set, in µm and pieces.

    Attributes
    ----------
    offset_sd_um : float
        How far from target a set-up may start.
    rate_um_per_1000, rate_sd_um_per_1000 : float
        Growth of the size per 1,000 pieces and its spread from set to set.
    rate_wander_um_per_1000 : float
        How far the growth rate itself wanders in 1,000 pieces (break-in, acceleration).
    gain, gain_sd : float
        µm smaller per µm that the dies approach.
    wander_sd_um, wander_pieces : float
        A slow excursion that comes back: its spread and its correlation length.
    batch_sd_um : float
        Spread of bar batches around their common mean; a batch keeps its place as long as it lasts.
    check_sd_um : float
        What moves the mean of a check beyond its pieces' own scatter: how a check is gauged.
    break_in_pieces : float
        Age B by which 1/e of the settling is left (see `breaks.settle`); 0 where nothing is known of it.
    """

    offset_sd_um: float
    rate_um_per_1000: float
    rate_sd_um_per_1000: float
    rate_wander_um_per_1000: float
    gain: float
    gain_sd: float
    wander_sd_um: float
    wander_pieces: float
    batch_sd_um: float
    check_sd_um: float = 0.0
    break_in_pieces: float = 0.0


@quickly_made
@dataclass(frozen=True, slots=True)
class WearBelief:
    """Mean and covariance of the state, after everything up to `age_pieces`.

    The state is (offset, wear, rate, gain, shift, batch): the size minus its target at the slide zero of
    this mounting with a new die; growth since its first check; growth per 1,000 pieces; µm smaller per µm of
    approach; a passing shift (slow wander); and what the present bar batch adds. A reading's mean is then

        y = offset + wear + shift + batch − gain · approach + noise.

    Attributes
    ----------
    mean : tuple of 6 floats
        µm; rate in µm per 1,000 pieces; gain without unit.
    cov : tuple of 36 floats
        Row by row, symmetric.
    age_pieces : int
        Age of the set at the last check taken in.
    first_offset_um : float or None
        Offset of the first mounting as it was believed when that mounting ended; None during it. Wear is
        counted from there, and from then on its variance holds that of the two together.
    first_offset_var : float
        How sure that offset was for itself, µm²; 0 during the first mounting.
    checks : int
        Checks taken in since the set was new.
    """

    mean: tuple[float, ...]
    cov: tuple[float, ...]
    age_pieces: int
    first_offset_um: float | None = None
    first_offset_var: float = 0.0
    checks: int = 0

    def var(self, i: int) -> float:
        """Variance of one component."""
        return self.cov[SIZE * i + i]

    @property
    def reference_um(self) -> float:
        """Size minus target with a new die at the reference setting, µm."""
        return self.mean[OFFSET] if self.first_offset_um is None else self.first_offset_um


def fresh_belief(prior: WearPrior, age_pieces: int = 0) -> WearBelief:
    """Begin with a new or reground die set: no wear yet, everything else as the prior has it.

    Parameters
    ----------
    prior : WearPrior
        From `prior_for`.
    age_pieces : int
        Age at the first check, 0 for a new or reground set.

    Returns
    -------
    WearBelief
        With no check taken in.

    Notes
    -----
    A set whose earlier life is unknown (`age_pieces` above 0 at its first check) has its wear so far
    counted into the offset; only growth from here on is wear.
    """
    variances = (
        prior.offset_sd_um**2,
        0.0,
        prior.rate_sd_um_per_1000**2,
        prior.gain_sd**2,
        prior.wander_sd_um**2,
        prior.batch_sd_um**2,
    )
    cov = [0.0] * (SIZE * SIZE)
    for i, variance in enumerate(variances):
        cov[SIZE * i + i] = variance
    return WearBelief((0.0, 0.0, prior.rate_um_per_1000, prior.gain, 0.0, 0.0), tuple(cov), age_pieces)
