"""Forecasts of pieces left beside what came, and beside two plain rules, at quarters of die sets' lives."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spc.shop import Verdict
from tests.benchmarks.fleet import Story
from tests.benchmarks.floor import Drawing
from tests.benchmarks.truth import SetTruth

LEVELS = np.array([0.05, 0.25, 0.50, 0.75, 0.95])
STAGES = (0.25, 0.50, 0.75, 0.90)
FEWEST_CHECKS = 4
MOST_PIECES = 1_000_000.0

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Asked:
    """A set at a stage of its life: the checks seen by then, lives of worn sets, and how many sets had come off."""

    truth: SetTruth
    stage: float
    seen: list[Verdict]
    lives: list[int]
    finished: int


@dataclass(frozen=True, slots=True)
class Told:
    """One forecast: at which stage, after how many worn and all finished sets, what came, and what was said."""

    stage: float
    ended_before: int
    finished_before: int
    left: float
    quantiles: tuple[float, ...]
    by_usual_life: float
    by_line: float
    limited_by: str


@dataclass(frozen=True, slots=True)
class Score:
    """What many forecasts at one stage come to; ratios are to the better plain rule."""

    n: int
    coverage: float
    pinball: float
    error: float
    width: float


def forecasts_of(story: Story) -> list[Told]:
    """Every forecast at a stage, of sets that were still on at that age."""
    return [_told(story.drawing, each) for each in asked(story)]


def asked(story: Story) -> list[Asked]:
    """Every moment at which a forecast is asked for, with what had been seen by then."""
    rows = []
    ended = sorted((each.times[-1], each.removed_age) for each in story.book.sets if each.removed == "worn")
    for each in story.book.sets:
        for stage in STAGES:
            seen = [v for v in story.verdicts[each.die_set] if (v.age or 0) <= stage * each.end_age]
            if len(seen) < FEWEST_CHECKS or each.removed_age < stage * each.end_age:
                continue
            lives = [age for at, age in ended if at < seen[-1].time]
            off = sum(other.times[-1] < seen[-1].time for other in story.book.sets)
            rows.append(Asked(each, stage, seen, lives, off))
    return rows


def _told(drawing: Drawing, when: Asked) -> Told:
    last = when.seen[-1]
    age, life = last.age or 0, last.die_life
    assert life is not None
    left = life.pieces_left
    usual = max(float(np.mean(when.lives)) - age, 0.0) if when.lives else float("nan")
    quantiles = (left.p05, left.p25, left.p50, left.p75, left.p95)
    return Told(
        when.stage,
        len(when.lives),
        when.finished,
        when.truth.end_age - age,
        tuple(float(each) for each in quantiles),
        usual,
        by_line(drawing, when.seen),
        when.truth.limited_by,
    )


def by_line(drawing: Drawing, seen: list[Verdict]) -> float:
    """Pieces left by a straight line through the sizes, slide moves taken out with the plan's gain."""
    ages = np.array([each.age or 0 for each in seen], dtype=float)
    sizes = np.array([each.subgroup("over_pin").mean for each in seen]) - float(drawing.target_mm)
    moved = np.array([each.die_life.correction_used_mm or 0.0 for each in seen if each.die_life])
    slope, start = np.polyfit(ages, 1000.0 * (sizes + drawing.plan_gain * moved), 1)
    if slope <= 1e-9:
        return MOST_PIECES
    end = drawing.plan_gain * drawing.travel_um
    return float(np.clip((end - start - slope * ages[-1]) / slope, 0.0, MOST_PIECES))


def score(rows: list[Told]) -> Score:
    """Put forecasts at one stage together; all came after at least one ended set."""
    left = np.array([each.left for each in rows])
    said = np.array([each.quantiles for each in rows])
    plain = [np.array([getattr(each, of) for each in rows]) for of in ("by_usual_life", "by_line")]
    holds = (said[:, 0] <= left) & (left <= said[:, 4])
    lost = min(pinball(np.repeat(each[:, None], 5, axis=1), left).mean() for each in plain)
    missed = min(float(np.median(np.abs(each - left))) for each in plain)
    return Score(
        n=len(rows),
        coverage=float(holds.mean()),
        pinball=float(pinball(said, left).mean() / lost),
        error=float(np.median(np.abs(said[:, 2] - left)) / missed),
        width=float(np.median((said[:, 4] - said[:, 0]) / np.maximum(left, 1.0))),
    )


def pinball(quantiles: Array, came: Array) -> Array:
    """Mean quantile loss of each row over the five levels (Koenker & Bassett 1978, from memory)."""
    off = came[:, None] - quantiles
    return np.asarray(np.maximum(LEVELS * off, (LEVELS - 1.0) * off).mean(axis=1))
