"""How forecasts of pieces left came true on earlier sets, stage by stage, and what follows for this one."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from spc.shop.quickly_made import quickly_made
from spc.wear.stages import STAGES, Opinions, PastWay, StagePoint, opinions
from spc.wear.way import Way

__all__ = ["LeftLaw", "PastWays", "left_law", "past_ways"]

_MIDDLE_LIFE, _LIFE_SD, _OWN_SD, _OWN_SETS = 20_000.0, 1.2, 0.4, 2.0
_DF = 4.0
"""Degrees of freedom that the guess of the scatter counts as."""
_TRUST = 0.3
"""How far the weights of the opinions, and their common bias, may lie from the guess."""
_LEAST_UNSURE = 0.1
"""Pieces; what is kept of a sure level is rounded, and might be 0."""
_SPEED_UP = 0.15
"""ln of how much sooner the end comes than drawn out straight, for wear grows faster late (process knowledge)."""

_NORMAL = NormalDist()
_SURE, _FAR = 8.0, 6.0
"""Standard deviations before the middle life within which, and beyond it from which, the normal law is drawn out."""

Three = tuple[float, float, float]


@quickly_made
@dataclass(frozen=True, slots=True)
class Moments:
    """How forecasts of earlier sets came true at one stage, as sums for a regression.

    Attributes
    ----------
    xx : tuple of 6 floats
        Sums of products of the predictors: on and below the diagonal, row by row.
    xy : tuple of 3 floats
        Sums with the outcome.
    yy : float
        Sum of squared outcomes.
    n : float
        Earlier sets seen at that stage.
    """

    xx: tuple[float, ...]
    xy: tuple[float, ...]
    yy: float
    n: float


@dataclass(frozen=True, slots=True)
class PastWays:
    """One characteristic on all earlier sets, laid out by stage.

    Attributes
    ----------
    middle_life, life_sd : float
        Middle of the lives in pieces; spread of their logarithms.
    lives : int
        How many there are.
    moments : tuple of Moments
        By stage.
    """

    middle_life: float
    life_sd: float
    lives: int
    moments: tuple[Moments, ...]


@quickly_made
@dataclass(frozen=True, slots=True)
class LeftLaw:
    """Law of the pieces left to one end: ln(pieces + unsure) is Student-t.

    Attributes
    ----------
    centre, scale, df : float
    unsure : float
        Pieces, above 0.
    """

    characteristic: str
    limit: str
    centre: float
    scale: float
    df: float
    unsure: float


def past_ways(ways: Sequence[PastWay]) -> PastWays:
    """Lay earlier sets out for the forecast.

    Parameters
    ----------
    ways : sequence of PastWay
        One characteristic on the sets of a part that came off before now; none is allowed.

    Returns
    -------
    PastWays

    Notes
    -----
    Of m lives: middle M = exp(mean of ln life), spread of the logarithms √((Σ(ln life − ln M)² + 2·0.4²)/(m + 1)); of
    none 20,000 pieces and 1.2, guesses. The sums of the regression (`left_law`) at a stage are over the sets whose
    end is known, each at the first point it was noted at that stage or beyond.
    """
    logs = [math.log(max(each.life_pieces, 1.0)) for each in ways]
    m = len(logs)
    middle = math.fsum(logs) / m if m else math.log(_MIDDLE_LIFE)
    squares = math.fsum((each - middle) ** 2 for each in logs)
    sd = math.sqrt((squares + _OWN_SETS * _OWN_SD**2) / (m + 1)) if m else _LIFE_SD
    life = math.exp(middle)
    return PastWays(life, sd, m, _by_stage(ways, life, sd))


def left_law(way: Way, past: PastWays) -> LeftLaw:
    """Say how many pieces are left to one end.

    Parameters
    ----------
    way : Way
        As it stands now.
    past : PastWays
        Of the same characteristic.

    Returns
    -------
    LeftLaw

    Notes
    -----
    Three opinions of the pieces left R, each plus q, the pieces that twice the doubt of the level amounts to:
    r₁ from the rate now, r₂ from the mean pace so far, r₃ from the lives of earlier sets. Then

        ln(R + q) = ln(r₂ + q) + b₀ + b₁·ln((r₁+q)/(r₂+q)) + b₃·ln((r₃+q)/(r₂+q)) + scatter.

    r₁, r₂ and q are those of `opinions`. With M and s_M the middle life and its spread, r₃ is what half of the sets
    that have come to this age still make, of lives whose logarithms are N(ln M, s_M²): M less the age for young dies,
    and never nothing, for half of all outlive M. No argument of a logarithm is below q/20. Before any set has ended
    the b's are weights by how sure each opinion is, with b₀ for the late rise of the rate: for δ as in `opinions`, the
    rate 0.001 at least, far = r₁/(r₁ + q) or 0, near = (δ/(left + 2δ))²,

        v₁ = (sd of rate/rate)² + 0.15²,     v₂ = (δ/max(done, δ))² + 0.3²,     v₁₂ = far²·v₁v₂/(v₁ + v₂) + near,
        v₃ = (s_M·M/(r₃ + q + M/20))² + 0.1,               τ² = 1.5/(1/v₁₂ + 1/v₃),
        g₃ = v₁₂/(v₁₂ + v₃),  g₁ = (1 − g₃)·v₂/(v₁ + v₂),  g₀ = −0.15·far·late·(1 − g₃),

    for the doubt of the level, near, is one and the same in r₁ and r₂: it tells nothing of which is better;
    late rising from 0 to 1 between 0.2 and 0.7 of the way. The guess is b ~ N(g, s²·W⁻¹) with W = τ²·diag(1/0.3²,
    1/0.3², 1/t²), t = 0.3, and s² about τ² on 4 degrees of freedom. With X, y of the sets before,

        b = (X'X + W)⁻¹(X'y + Wg),   f = 4 + n,   s² = (4τ² + y'y + g'Wg − b'(X'X + W)b)/f,

    and for this set's predictors x: ln(R + q) = ln(r₂ + q) + x'b + s·√(1 + x'(X'X + W)⁻¹x)·t_f. Every finished set
    was once at the same stage with opinions of its own, and it is known how many pieces it had left (the sums X'X,
    X'y, y'y and n are read between two stages where this set is between them): the regression on those moves the b's
    and learns the scatter, and its predictive law is Student's t. Before the first set has come off no life is known:
    t is then 0.3·g₃, so that opinion weighs no more than the guess gives it. So what is systematically wrong with the
    drawn-out lines (break-in, late acceleration, a filter that lags) is learned where it happens, and so is how far
    they scatter.

    References
    ----------
    A. Gelman et al., *Bayesian Data Analysis*, 3rd ed., ch. 14, the normal linear model with a conjugate prior
    (from memory).
    """
    said = opinions(way)
    by_life = _by_lives(past.middle_life, past.life_sd, way.age_pieces)
    x, base = _predictors(said, by_life)
    guess, scatter = _guess(way, said, by_life, past)
    taught = _moments_at(way, past)
    by_life_trust = max(_TRUST if past.lives else _TRUST * guess[2], 1e-3)
    weight = (scatter / _TRUST**2, scatter / _TRUST**2, scatter / by_life_trust**2)
    told = [w * g for w, g in zip(weight, guess, strict=True)]
    pulled = [xy + t for xy, t in zip(taught.xy, told, strict=True)]
    root = _root(taught.xx, weight)
    y, z = _solved(root, pulled), _solved(root, x)
    squares = _DF * scatter + taught.yy + _dot(guess, told) - _dot(y, y)
    df = _DF + taught.n
    scale = math.sqrt(max(squares, 1e-9) / df * (1.0 + _dot(z, z)))
    return LeftLaw(way.characteristic, way.limit, base + _dot(z, y), scale, df, said.unsure)


def _by_lives(middle: float, sd: float, age_pieces: float) -> float:
    """Pieces that half of the sets which have come to this age still make, of lives that are log-normal."""
    lasted = _NORMAL.cdf(min(math.log(middle / max(age_pieces, 1.0)) / sd, _SURE))
    beyond = max(math.log(max(age_pieces, 1.0) / middle), 0.0) / sd
    if beyond > _FAR:
        return age_pieces * math.expm1(sd * math.log(2.0) / beyond)
    return middle * math.exp(-sd * _NORMAL.inv_cdf(0.5 * lasted)) - age_pieces


def _root(xx: tuple[float, ...], weight: Three) -> tuple[float, ...]:
    """Cholesky's root L of xx + diag(weight), row by row: L Lᵀ b = p gives b, so xᵀb = (L⁻¹x)·(L⁻¹p)."""
    aa, ba, bb, ca, cb, cc = xx
    la = math.sqrt(aa + weight[0])
    lba, lca = ba / la, ca / la
    lb = math.sqrt(bb + weight[1] - lba * lba)
    lcb = (cb - lca * lba) / lb
    return la, lba, lb, lca, lcb, math.sqrt(cc + weight[2] - lca * lca - lcb * lcb)


def _solved(root: tuple[float, ...], p: Sequence[float]) -> Three:
    """L⁻¹p."""
    aa, ba, bb, ca, cb, cc = root
    first = p[0] / aa
    second = (p[1] - ba * first) / bb
    return first, second, (p[2] - ca * first - cb * second) / cc


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _guess(way: Way, said: Opinions, by_life: float, past: PastWays) -> tuple[Three, float]:
    """Weights of the opinions before any set has ended, and the variance of ln(R + q) around them."""
    rate = max(way.rate_um_per_1000, 1e-3)
    sd = max(way.left_sd_um, 0.3)
    far = max(said.by_rate, 0.0) / (max(said.by_rate, 0.0) + said.unsure)
    near = (sd / (max(way.left_um, 0.0) + 2.0 * sd)) ** 2
    v1 = (way.rate_sd_um_per_1000 / rate) ** 2 + 0.15**2
    v2 = (sd / max(way.done_um, sd)) ** 2 + 0.3**2
    drawn = far**2 * v1 * v2 / (v1 + v2) + near
    v3 = (
        past.life_sd * past.middle_life / (max(by_life, 0.0) + said.unsure + 0.05 * past.middle_life)
    ) ** 2 + 0.1
    w3 = drawn / (drawn + v3)
    w1 = (1.0 - w3) * v2 / (v1 + v2)
    late = min(max((way.share - 0.2) / 0.5, 0.0), 1.0)
    return (-_SPEED_UP * far * late * (1.0 - w3), w1, w3), 1.5 * w3 * v3


def _predictors(said: Opinions, by_life: float) -> tuple[Three, float]:
    q = said.unsure
    l1 = math.log(max(said.by_rate + q, 0.05 * q))
    l2 = math.log(max(said.by_pace + q, 0.05 * q))
    l3 = math.log(max(by_life, 0.0) + q)
    return (1.0, l1 - l2, l3 - l2), l2


def _moments_at(way: Way, past: PastWays) -> Moments:
    """What earlier sets showed at this very share of the way: the stages before and after it, by nearness."""
    place = min(max(way.share, 0.0), STAGES[-1]) / (STAGES[1] - STAGES[0])
    before = min(int(place), len(STAGES) - 2)
    nearer = min(place - before, 1.0)
    farther = 1.0 - nearer
    one, two = past.moments[before], past.moments[before + 1]
    return Moments(
        tuple([farther * a + nearer * b for a, b in zip(one.xx, two.xx, strict=True)]),
        tuple([farther * a + nearer * b for a, b in zip(one.xy, two.xy, strict=True)]),
        farther * one.yy + nearer * two.yy,
        farther * one.n + nearer * two.n,
    )


def _by_stage(ways: Sequence[PastWay], life: float, life_sd: float) -> tuple[Moments, ...]:
    """Sum up, stage by stage, every set whose end is known, at the first point it was noted there or beyond."""
    rows: list[list[tuple[float, ...]]] = [[] for _ in STAGES]
    for each in ways:
        first = 0
        for point in each.points if each.is_known else ():
            row = _products(each, point, _by_lives(life, life_sd, point.age_pieces))
            for of_stage in rows[first : point.stage + 1]:
                of_stage.append(row)
            first = point.stage + 1
    sums = [[sum(column) for column in zip(*of_stage, strict=True)] or [0.0] * 10 for of_stage in rows]
    return tuple(
        Moments(tuple(each[:6]), tuple(each[6:9]), each[9], len(of_stage))
        for each, of_stage in zip(sums, rows, strict=True)
    )


def _products(way: PastWay, point: StagePoint, by_life: float) -> tuple[float, ...]:
    """Products of predictors and outcome of one set at one point: six of x, three of x with y, one of y."""
    said = Opinions(point.by_rate, point.by_pace, max(point.unsure, _LEAST_UNSURE))
    (a, b, c), base = _predictors(said, by_life)
    y = math.log(max(way.life_pieces - point.age_pieces, 0.0) + said.unsure) - base
    return a * a, b * a, b * b, c * a, c * b, c * c, a * y, b * y, c * y, y * y
