"""How soon a change can be found at all: ``python -m tests.benchmarks.detection_bound [--nature …] [--seeds …]``.

Two detectors that are told what the station has to learn: what the warm-up and every slide move do, the spread of a
piece, how far bars differ, how the wander comes and goes, and the size of the change that is sought. One is told
besides where the dies start, how they grow and what the hour of the day does; the other finds these from the checks
of the set, as the station must. Neither knows the present bars, the wander, or when something changes. Each rings by
chance once in 370 checks of the quiet histories, all of them spent on this one kind of change.

What a detector knows is taken off the means; the rest r is jointly normal with

    S_ij = σ_b²·[same bars] + c(i, j) + σ²/n·[i = j] (+ start, growth, break-in, day)

(Student's bars of the gamma shop with their variance). With S = LL', z = L⁻¹r is white, and a change of shape u from
check k on (a step, or four times the growth since) has the signature L⁻¹u in it. The Shiryaev-Roberts sum of
likelihood ratios over all k is very nearly the soonest of all (M. Pollak 1985, Ann. Stat. 13, 206-227, from memory).

The spread: a CUSUM of the exact likelihood ratio of the sum of squares within checks, none is sooner in the worst case
(G. V. Moustakides 1986, Ann. Stat. 14, 1379-1387, from memory); run lengths by a Markov chain (D. Brook & D. A. Evans
1972, Biometrika 59, 539-549, from memory).
"""

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtr

from tests.benchmarks.detection import AT_CHECKS, CHANGED_SET, GOALS, QUIET_SEEDS, SEEDS
from tests.benchmarks.fleet import NATURES, live, shop_arguments
from tests.benchmarks.floor import Drawing
from tests.benchmarks.gamma_shop import GammaMachine
from tests.benchmarks.rings import LOOKED_AFTER, mean_checks
from tests.benchmarks.truth import Change, CheckTruth, SetTruth, as_spread

Array = NDArray[np.float64]
BETWEEN_ALARMS = 370.0
_LAG, _LAGS = 100, 200
"""Pieces between the points at which the gamma shop's wander is known, and how many there are."""
_SETTLED = 0.045
"""Share of a life in which dies settle, about the middle of both shops."""


def chance_cov(nature: str, drawing: Drawing, made: Sequence[CheckTruth]) -> Array:
    """Covariance of wander, bars and pieces between the checks of a set, µm²."""
    grain = drawing.half_tolerance_um / 18.0
    if nature == "regime":  # an autoregression from check to check; bars even within ±4 µm of grain
        i = np.arange(len(made))
        cov = (0.45 * grain) ** 2 / (1 - 0.85**2) * 0.85 ** np.abs(i[:, None] - i[None, :])
        bars = (4.0 * grain) ** 2 / 3.0
    else:
        ages = np.array([each.age for each in made], dtype=float)
        cov = np.interp(np.abs(ages[:, None] - ages), _LAG * np.arange(_LAGS), _gamma_wander(), right=0.0)
        bars = 1.6**2 * 5.0 / 3.0  # 1.6 times Student's t with 5 degrees of freedom
    batch = np.array([each.batch for each in made])
    cov = cov + bars * (batch[:, None] == batch)
    return np.asarray(cov + np.diag([each.sigma_um**2 / drawing.pieces for each in made]))


@cache
def _gamma_wander() -> Array:
    """Autocovariance of a long course of the gamma shop's wander; a triangle keeps it a covariance."""
    machine = GammaMachine(np.random.default_rng(1), 1.0, "full")
    course = np.array([machine.wander_um(_LAG * i) for i in range(200_000)])
    course -= course.mean()
    found = [float(course[: course.size - k] @ course[k:]) / course.size for k in range(_LAGS)]
    return np.asarray(np.array(found) * np.linspace(1.0, 0.0, _LAGS))


def course_cov(nature: str, drawing: Drawing, made: Sequence[CheckTruth]) -> Array:
    """Covariance of start, growth and day around the middle pace, for one who must find them himself, µm²."""
    k = np.array([each.age for each in made]) / 1000.0
    rate, way = made[-1].grown_um / k[-1], drawing.travel_um * drawing.plan_gain
    life = way / rate
    early, late = np.minimum(k[:, None], k), np.maximum(k[:, None], k)
    settled = 1.0 - np.exp(-k / (_SETTLED * life))
    cov = 1e4 + (rate / 3.0) ** 2 * k[:, None] * k + (0.1 * way) ** 2 * settled[:, None] * settled
    cov += (0.27 * rate) ** 2 / life * early**2 * (3.0 * late - early) / 6.0
    if nature == "gamma":
        return np.asarray(cov + 0.25 * rate * early)  # a gamma process grows in grains of 0.1 to 0.4 µm
    turn, i = 2.0 * np.pi * drawing.interval_minutes / 1440.0, np.arange(len(made))
    amplitude = 1.5 * drawing.half_tolerance_um / 18.0  # even from 0 to this
    return np.asarray(cov + amplitude**2 / 6.0 * np.cos(turn * (i[:, None] - i)))


def ratios(kind: str, truth: SetTruth, nature: str, drawing: Drawing, *, is_told: bool) -> list[Array]:
    """At each check, log-likelihood ratios of a change from check 0, 1, … up to this one.

    A step may go either way: one row for each.
    """
    made = truth.made
    later = np.tri(len(made))  # row: check; column: where the change begins
    level, known = (np.array([getattr(each, of) for each in made]) for of in ("level_um", "known_um"))
    grown = np.array([each.grown_um for each in made])
    cov = chance_cov(nature, drawing, made)
    if not is_told:
        ages = np.array([each.age for each in made])
        known, cov = grown[-1] * ages / ages[-1], cov + course_cov(nature, drawing, made)
    if kind == "rate":
        before = np.array([0.0, *grown[:-1]])
        shape = (GOALS["rate"][0] - 1.0) * np.maximum(grown[:, None] - before, 0.0) * later
    else:
        shape = GOALS["step"][0] * as_spread(made[0].sigma_um) * later
    root = np.linalg.cholesky(cov)
    z, signature = np.linalg.solve(root, level - known), np.linalg.solve(root, shape)
    ways = np.array([[1.0]] if kind == "rate" else [[1.0], [-1.0]])
    logs = np.cumsum(ways[:, :, None] * (signature * z[:, None]) - signature**2 / 2.0, axis=1)
    return [logs[:, i, : i + 1] - np.log(len(ways)) for i in range(len(made))]


def rings(logs: Sequence[Array], limit: float) -> list[bool]:
    """Whether the sum of the ratios passes a limit at each check; a ring forgets what was before it."""
    rung: list[bool] = []
    since = 0
    for i, each in enumerate(logs):
        rung.append(float(np.exp(np.minimum(each[:, since:], 700.0)).sum()) > limit)
        since = i + 1 if rung[-1] else since
    return rung


def limit_of(quiet: Sequence[list[Array]]) -> float:
    """Limit at which the sums ring by chance once in 370 checks of quiet histories."""
    low, high = 0.0, 12.0
    for _ in range(14):
        middle = (low + high) / 2.0
        rung = sum(sum(rings(each, float(np.exp(middle)))) for each in quiet)
        too_often = rung * BETWEEN_ALARMS > sum(map(len, quiet))
        low, high = (middle, high) if too_often else (low, middle)
    return float(np.exp(high))


def found_by(
    nature: str, kind: str, quiet_seeds: Sequence[int], seeds: Sequence[int], *, is_told: bool
) -> list[tuple[int | None, int]]:
    """Checks until such a detector finds each change, and checks looked at, as in `rings.mean_checks`."""
    quiet = []
    for seed in quiet_seeds:
        shop = NATURES[nature](seed)
        for truth in live(shop, 4, 6).sets:
            young = sum(each.age < truth.end_age for each in truth.made)
            quiet.append(ratios(kind, truth, nature, shop.drawing, is_told=is_told)[:young])
    limit = limit_of(quiet)
    found: list[tuple[int | None, int]] = []
    for seed in seeds:
        for at in AT_CHECKS:
            shop = NATURES[nature](seed)
            change = Change(kind, at, GOALS[kind][0], CHANGED_SET)
            for truth in live(shop, 6, 3, [change]).sets:
                if truth.changed_at is not None:
                    logs = ratios(kind, truth, nature, shop.drawing, is_told=is_told)
                    rung = rings(logs, limit)[at : at + LOOKED_AFTER]
                    found.append((rung.index(True) + 1 if any(rung) else None, len(rung)))
    return found


def spread_run_lengths(pieces: int, between: float) -> float:
    """Mean checks until the CUSUM for twice the spread rings, begun in the middle of a quiet run.

    Parameters
    ----------
    pieces : int
        A check, 2 or more.
    between : float
        Mean checks between false alarms.
    """
    low, high = 1.0, 10.0
    for _ in range(30):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _run_length(pieces, middle)[0] < between else (low, middle)
    return _run_length(pieces, high)[1]


def _run_length(pieces: int, limit: float, cells: int = 400) -> tuple[float, float]:
    """Between false alarms, and after the spread has doubled, for a sum of ratios cut at a limit."""
    f, times = pieces - 1, GOALS["spread"][0]
    width = limit / (cells - 0.5)
    centres = width * np.arange(cells)
    edges = centres[None, :] + width / 2.0 - centres[:, None]

    def moves(sigma: float) -> Array:
        squares = np.maximum((edges + f * np.log(times)) * 2.0 / (1.0 - times**-2), 0.0) / sigma**2
        below = chdtr(f, squares)
        return np.asarray(np.diff(below, axis=1, prepend=0.0))

    quiet, grown = moves(1.0), moves(times)
    ones = np.ones(cells)
    between = np.linalg.solve(np.eye(cells) - quiet, ones)[0]
    stands = np.eye(cells)[0]
    for _ in range(200):  # where the sum stands in a run without alarm
        stands = stands @ quiet
        stands /= stands.sum()
    return float(between), float(stands @ np.linalg.solve(np.eye(cells) - grown, ones))


def main() -> None:
    """Print the bounds."""
    chosen = shop_arguments(__doc__, quiet_seeds=QUIET_SEEDS, seeds=SEEDS).parse_args()
    print("| shop | change | told the course | n | missed or gone | mean checks |\n|---|---|---|---|---|---|")
    for nature in chosen.nature:
        for kind in ("step", "rate"):
            for is_told in (True, False):
                found = found_by(nature, kind, chosen.quiet_seeds, chosen.seeds, is_told=is_told)
                missed = sum(delay is None for delay, _ in found)
                words = f"{nature} | {kind} | {'yes' if is_told else 'no'} | {len(found)} | {missed}"
                print(f"| {words} | {mean_checks(found):.1f} |", flush=True)
    print(
        "\n| pieces | checks until a doubled spread is found, once in 370 by chance | … once in 2,500 |\n|---|---|---|"
    )
    for pieces in (3, 4, 5):
        shares = (spread_run_lengths(pieces, between) for between in (BETWEEN_ALARMS, 2500.0))
        print("| " + " | ".join([str(pieces), *(f"{each:.1f}" for each in shares)]) + " |")


if __name__ == "__main__":
    main()
