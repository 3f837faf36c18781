"""The wear filter: one pure step for pieces made and one for a check gauged.

The state and its meaning stand in `belief`. Between checks, over Δ pieces and k = Δ/1000:

    wear  ← wear + k·rate + u₁       rate  ← rate + u₂    Cov(u₁, u₂) = w²·[[k³/3, k²/2], [k²/2, k]]
    shift ← φ·shift + N(0, (1−φ²)·s²), φ = exp(−Δ/L)

with w, s, L from the prior: an integrated random walk for growth (its rate a Wiener process, so the noise within a
step ties wear to rate) beside a passing shift of a first-order autoregression. Offset, gain and batch stay as they
are until something breaks the run (see `breaks`). The slide's approach is a known input that multiplies the gain, so
a logged move teaches the gain and leaves growth alone. Six states in plain floats are several times as fast here as
array calls: the matrices are written out, with a for offset, b wear, c rate, d gain, e shift, f batch, so that `bc`
ties wear to rate. After a value that is off by many powers of ten rounding may leave a variance a hair below 0; it
counts as 0.

References
----------
R. E. Kalman (1960), J. Basic Eng. 82, 35–45; the update is Joseph's symmetric form, Bucy & Joseph (1968),
*Filtering for Stochastic Processes*, ch. 16 (both from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.quickly_made import quickly_made
from spc.wear.belief import GAIN, WearBelief, WearPrior

__all__ = [
    "Forecast",
    "advance",
    "forecast_mean",
    "gain_of",
    "level_um",
    "observe",
]


@quickly_made
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
    offset, wear, rate, gain, shift, batch = belief.mean
    (
        aa, ab, ac, ad, ae, af,
        _, bb, bc, bd, be, bf,
        _, _, cc, cd, ce, cf,
        _, _, _, dd, de, df,
        _, _, _, _, ee, ef,
        _, _, _, _, _, ff,
    ) = belief.cov  # fmt: skip
    q, slope = prior.rate_wander_um_per_1000**2, bc + k * cc
    upper = (
        aa, ab + k * ac, ac, ad, phi * ae, af,
        bb + k * (bc + slope) + q * k * k * k / 3, slope + q * k * k / 2,
        bd + k * cd, phi * (be + k * ce), bf + k * cf,
        cc + q * k, cd, phi * ce, cf,
        dd, phi * de, df,
        phi * phi * ee + (1.0 - phi * phi) * prior.wander_sd_um**2, phi * ef,
        ff,
    )  # fmt: skip
    mean = (offset, wear + k * rate, rate, gain, phi * shift, batch)
    return WearBelief(
        mean, _mirrored(upper), age_pieces, belief.first_offset_um, belief.first_offset_var, belief.checks
    )


def forecast_mean(belief: WearBelief, approach_um: float, noise_var_um2: float) -> Forecast:
    """Say what the mean of a check should be, one step ahead.

    Parameters
    ----------
    belief : WearBelief
        Carried on to the age of the check.
    approach_um : float
        How much nearer the dies stand than at the first slide zero of the set, µm.
    noise_var_um2 : float
        Variance of the check's mean around the true size, µm², above 0: σ²/n, what moves a check as a whole, and
        the doubt about a cold start.

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
    spread = _spread(belief.cov, approach_um)
    variance = max(_seen(spread, approach_um), 0.0) + noise_var_um2
    return Forecast(_seen(belief.mean, approach_um), math.sqrt(variance))


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
    spread = _spread(belief.cov, approach_um)
    variance = max(_seen(spread, approach_um), 0.0) + noise_var_um2
    gain = [each / variance for each in spread]
    surprise = mean_um - _seen(belief.mean, approach_um)
    mean = tuple([each + k * surprise for each, k in zip(belief.mean, gain, strict=True)])
    cov = _joseph(belief.cov, gain, spread, variance)
    return WearBelief(
        mean, cov, belief.age_pieces, belief.first_offset_um, belief.first_offset_var, belief.checks + 1
    )


def level_um(belief: WearBelief, approach_um: float) -> float:
    """Size minus target now, as believed: with wander and bar batch, without the noise of a check.

    Parameters
    ----------
    belief : WearBelief
        As it stands.
    approach_um : float
        As for `forecast_mean`.

    Returns
    -------
    float
        µm.
    """
    return _seen(belief.mean, approach_um)


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


def _seen(state: Sequence[float], approach_um: float) -> float:
    """h·x: how a reading depends on (offset, wear, rate, gain, shift, batch)."""
    offset, wear, _, gain, shift, batch = state
    return offset + wear - approach_um * gain + shift + batch


def _spread(cov: tuple[float, ...], approach_um: float) -> tuple[float, ...]:
    """P h: how each component hangs together with the reading."""
    (
        aa, ab, _, ad, ae, af,
        ba, bb, _, bd, be, bf,
        ca, cb, _, cd, ce, cf,
        da, db, _, dd, de, df,
        ea, eb, _, ed, ee, ef,
        fa, fb, _, fd, fe, ff,
    ) = cov  # fmt: skip
    return (
        aa + ab - approach_um * ad + ae + af,
        ba + bb - approach_um * bd + be + bf,
        ca + cb - approach_um * cd + ce + cf,
        da + db - approach_um * dd + de + df,
        ea + eb - approach_um * ed + ee + ef,
        fa + fb - approach_um * fd + fe + ff,
    )


def _joseph(
    cov: tuple[float, ...], gain: Sequence[float], spread: Sequence[float], variance: float
) -> tuple[float, ...]:
    """(I − K h) P (I − K h)ᵀ + K r Kᵀ = P − K sᵀ − (s − v K) Kᵀ with s = P h and v = h P h + r, above the diagonal.

    s − v K is 0 but for the rounding of K, which it takes back.
    """
    a, b, c, d, e, f = gain
    sa, sb, sc, sd, se, sf = spread
    ta, tb, tc, td, te, tf = [each - variance * k for each, k in zip(spread, gain, strict=True)]
    (
        aa, ab, ac, ad, ae, af,
        _, bb, bc, bd, be, bf,
        _, _, cc, cd, ce, cf,
        _, _, _, dd, de, df,
        _, _, _, _, ee, ef,
        _, _, _, _, _, ff,
    ) = cov  # fmt: skip
    upper = (
        aa - a * sa - ta * a, ab - a * sb - ta * b, ac - a * sc - ta * c,
        ad - a * sd - ta * d, ae - a * se - ta * e, af - a * sf - ta * f,
        bb - b * sb - tb * b, bc - b * sc - tb * c, bd - b * sd - tb * d,
        be - b * se - tb * e, bf - b * sf - tb * f,
        cc - c * sc - tc * c, cd - c * sd - tc * d, ce - c * se - tc * e, cf - c * sf - tc * f,
        dd - d * sd - td * d, de - d * se - td * e, df - d * sf - td * f,
        ee - e * se - te * e, ef - e * sf - te * f,
        ff - f * sf - tf * f,
    )  # fmt: skip
    return _mirrored(upper)


def _mirrored(upper: tuple[float, ...]) -> tuple[float, ...]:
    """Make the whole matrix, row by row, of what stands on and above its diagonal."""
    aa, ab, ac, ad, ae, af, bb, bc, bd, be, bf, cc, cd, ce, cf, dd, de, df, ee, ef, ff = upper
    return (
        aa, ab, ac, ad, ae, af,
        ab, bb, bc, bd, be, bf,
        ac, bc, cc, cd, ce, cf,
        ad, bd, cd, dd, de, df,
        ae, be, ce, de, ee, ef,
        af, bf, cf, df, ef, ff,
    )  # fmt: skip
