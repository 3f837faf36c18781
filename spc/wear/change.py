"""What changed: the last checks against every story that could tell them, each with its weight."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made
from spc.wear.belief import WearPrior

__all__ = ["KEPT_LEVELS", "Level", "Story", "Tale", "remembered", "weigh_stories"]

KEPT_LEVELS = 24
"""Checks that are kept for looking back."""

_ROUNDING = 1e-12
"""Added to a covariance of order one, so that numbers of absurd sizes leave it invertible."""

Array = NDArray[np.float64]


@quickly_made
@dataclass(frozen=True, slots=True)
class Level:
    """One check as it is kept for looking back.

    Attributes
    ----------
    age_pieces : int
    level_um : float
        Mean minus target with the slide moves taken out.
    noise_var_um2 : float
        Of that mean around the true size.
    rate_um_per_1000, rate_sd_um_per_1000 : float
        Growth as believed before this check.
    batch : int
        Number of the bar batch, counted up.
    news : str
        Kind of what was logged since the check before: "batch", "gauge_zero", "setting" or "".
    news_um : float
        How far that can move a reading where it is known (a gauge by what it was off), µm; else 0.
    news_says : str
        What it was and when, for a sentence.
    cold : float
        Share of the effect of a cold start that was left, 0 to 1.
    approach_um : float
        How much nearer the dies stood than at the first slide zero of the set.
    told : tuple of 3 floats
        What has been told to begin at this check, as variances: a step, µm²; a slope, (µm per 1,000 pieces)²; a cold
        start of more than the usual, µm².
    """

    age_pieces: int
    level_um: float
    noise_var_um2: float
    rate_um_per_1000: float
    rate_sd_um_per_1000: float
    batch: int = 0
    news: str = ""
    news_um: float = 0.0
    news_says: str = ""
    cold: float = 0.0
    approach_um: float = 0.0
    told: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Story:
    """One story: what it is called, how likely beforehand, and at which check it begins (the last is −1).

    `spread_um` is the standard deviation of its height; a slope's height is µm per 1,000 pieces. A story that
    cools begins as the machine does and dies away with it.
    """

    cause: str
    place: int
    chance: float
    spread_um: float
    is_slope: bool = False
    cools: bool = False


@dataclass(frozen=True, slots=True)
class Tale:
    """A cause, weighed.

    Attributes
    ----------
    cause : str
        "" stands for nothing at all.
    weight : float
        0 to 1; over all causes 1.
    place : int
        Check of the window at which it most likely began.
    amount_um : float
        By how much the level moved, or moves in 1,000 pieces for a slope.
    """

    cause: str
    weight: float
    place: int
    amount_um: float


def weigh_stories(levels: Sequence[Level], prior: WearPrior, stories: Sequence[Story]) -> tuple[Tale, ...]:
    """Weigh stories by how well the last checks fit them.

    Parameters
    ----------
    levels : sequence of Level
        At least two, oldest first, of one mounting.
    prior : WearPrior
        For wander and batches.
    stories : sequence of Story

    Returns
    -------
    tuple of Tale
        One a cause, the weightiest first; "" (nothing happened) among them.

    Notes
    -----
    Without a story the levels are a line with unknown beginning and the growth believed at the first of them,
    a passing shift, bar batches, and noise: jointly normal with a known covariance. What has been told of an earlier
    check is part of it, or it would be told again of every surprise that follows (`remembered`), and so is a gauge or
    setting logged before the last check. A story adds one known shape (a step from a check on, a ramp, an excursion
    that cools off) of unknown normal height with the given spread. For S the covariance, r the residuals, u the shape
    and A² the variance of the height,

        2 ln(Bayes factor) = (u'S⁻¹r)²·A²/(1 + A²·u'S⁻¹u) − ln(1 + A²·u'S⁻¹u),
        height = A²·u'S⁻¹r/(1 + A²·u'S⁻¹u).

    S is written out in the room's docstring. A cause weighs the sum of chance × Bayes factor over the checks it may
    have begun at, nothing at all 1; its place and amount are those of its likeliest beginning.

    References
    ----------
    R. E. Kass & A. E. Raftery (1995), J. Am. Stat. Assoc. 90, 773–795, Bayes factors; A. S. Willsky & H. L. Jones
    (1976), IEEE Trans. Autom. Control 21, 108–112, jumps looked for in a filter's surprises (both from memory).
    """
    residual, inverse = _plain(levels, prior)
    fitted = inverse @ residual
    found: dict[str, list[tuple[float, int, float]]] = {"": [(0.0, 0, 0.0)]}
    for story in stories:
        shape = _shape(levels, story)
        variance = story.spread_um**2
        sees, fits = float(shape @ inverse @ shape), float(shape @ fitted)
        gain = 1.0 + variance * sees
        log = 0.5 * (fits * fits * variance / gain - math.log(gain)) + math.log(story.chance)
        found.setdefault(story.cause, []).append((log, story.place, fits * variance / gain))
    top = max(log for each in found.values() for log, _, _ in each)
    sums = {cause: math.fsum(math.exp(log - top) for log, _, _ in each) for cause, each in found.items()}
    total = math.fsum(sums.values())
    tales = []
    for cause, each in found.items():
        _, place, amount = max(each)
        tales.append(Tale(cause, sums[cause] / total, place, amount))
    return tuple(sorted(tales, key=lambda tale: -tale.weight))


def remembered(levels: Sequence[Level], tale: Tale) -> tuple[Level, ...]:
    """Keep with the last checks what was told of them, so that it is no news any more.

    Parameters
    ----------
    levels : sequence of Level
        As they were weighed.
    tale : Tale
        The story that was told; its amount is the standard deviation of what remains in doubt.

    Returns
    -------
    tuple of Level
        With the story at the check where it began; one check alone counts as that much less sure.
    """
    place, variance = tale.place % len(levels), tale.amount_um**2
    begun = levels[place]
    if tale.cause == "entry":
        begun = changed(begun, noise_var_um2=begun.noise_var_um2 + variance)
    else:
        kind = 1 if tale.cause in ("wear", "drift") else 2 if tale.cause == "warm_up" else 0
        told = tuple(each + variance * (i == kind) for i, each in enumerate(begun.told))
        begun = changed(begun, told=told)
    return (*levels[:place], begun, *levels[place + 1 :])


def _plain(levels: Sequence[Level], prior: WearPrior) -> tuple[Array, Array]:
    """Residuals from the line believed at the first level, and the inverse of their covariance."""
    ages = np.array([each.age_pieces for each in levels], dtype=float)
    k = (ages - ages.min()) / 1000.0  # a counter set back may put the youngest inside the window
    rate, rate_sd = levels[0].rate_um_per_1000, levels[0].rate_sd_um_per_1000
    residual = np.array([each.level_um for each in levels]) - rate * k
    apart = np.abs(ages[:, None] - ages[None, :])
    early = np.minimum(k[:, None], k[None, :])
    late = np.maximum(k[:, None], k[None, :])
    cov = prior.wander_sd_um**2 * np.exp(-apart / prior.wander_pieces)
    cov += rate_sd**2 * k[:, None] * k[None, :]
    cov += prior.rate_wander_um_per_1000**2 * early**2 * (3.0 * late - early) / 6.0
    batch = np.array([each.batch for each in levels])
    cov += prior.batch_sd_um**2 * (batch[:, None] == batch[None, :])
    cov += np.diag([each.noise_var_um2 for each in levels])
    cov += 1e4 * max(prior.wander_sd_um**2, 1.0)
    for shape, variance in _told_before(levels, prior):
        cov += variance * shape[:, None] * shape[None, :]
    scale = float(np.max(np.diag(cov)))
    return residual, np.linalg.inv(cov / scale + _ROUNDING * np.eye(len(ages))) / scale


def _told_before(levels: Sequence[Level], prior: WearPrior) -> Iterator[tuple[Array, float]]:
    """Shapes that are no news: told of an earlier check, or logged before the last one; each with its variance."""
    for place, level in enumerate(levels):
        step, slope, start = level.told
        if place < len(levels) - 1 and level.news == "gauge_zero":
            step += level.news_um**2
        if place < len(levels) - 1 and level.news == "setting":
            step += prior.batch_sd_um**2
        if step:
            yield _shape(levels, Story("", place, 1.0, 0.0)), step
        if slope:
            yield _shape(levels, Story("", place, 1.0, 0.0, is_slope=True)), slope
        if start:
            yield _shape(levels, Story("", place, 1.0, 0.0, cools=True)), start


def _shape(levels: Sequence[Level], story: Story) -> Array:
    """A step from its place on, a ramp from the check before it on, or what is left of this cold start."""
    place = story.place % len(levels)
    shape = np.zeros(len(levels))
    if story.is_slope:
        begin = levels[max(place - 1, 0)].age_pieces
        shape[place:] = [(each.age_pieces - begin) / 1000.0 for each in levels[place:]]
    elif story.cools:
        for i in range(place, len(levels)):
            if i > place and levels[i].cold > levels[i - 1].cold:
                break  # another start
            shape[i] = levels[i].cold
    else:
        shape[place:] = 1.0
    return shape
