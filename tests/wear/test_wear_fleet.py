"""Forecasts over whole make-believe lives whose end is known: how often they hold, how near they come.

The fleet is this test's own and wears otherwise than the filter assumes: a break-in, a steady stretch, a late
acceleration, bar batches of exponential length. Only sets that ended before teach.
"""

import math
from dataclasses import dataclass, field

import numpy as np
import pytest

from spc.wear import (
    FinishedSet,
    SlideRole,
    SlideSize,
    StagePoint,
    WearBelief,
    advance,
    advise,
    change_batch,
    forecast_life,
    forecast_mean,
    fresh_belief,
    gain_fact,
    gain_of,
    level_um,
    note_stage,
    observe,
    past_way,
    past_ways,
    prior_for,
    travel_way,
)
from spc.wear.belief import RATE, WEAR

ROLE, TRAVEL_UM, PIECES, NOISE_UM2 = SlideRole("over_pin", 36.0, 0.8), 60.0, 300, 0.8
STAGES = (0.25, 0.5, 0.75, 0.9)


@dataclass
class TrueDie:
    """One die's truth, in thousands of pieces and µm."""

    seed: int
    dice: np.random.Generator = field(init=False)

    def __post_init__(self) -> None:
        self.dice = dice = np.random.default_rng(self.seed)
        self.gain = 0.8 * math.exp(dice.normal(0, 0.08))
        self.rate = 0.9 * math.exp(dice.normal(0, 0.3))
        self.first, self.settles = dice.uniform(1, 4), dice.uniform(1.5, 4)
        self.knee, self.quickens = dice.uniform(25, 60), dice.uniform(0, 0.02)
        self.offset = dice.normal(0, 5)
        self.bars, self.bars_end, self.wander = dice.normal(0, 2.5), 2 + dice.exponential(6), 0.0

    def wear_um(self, k: float) -> float:
        early = self.first * (1 - math.exp(-k / self.settles))
        return float(early + self.rate * k + self.quickens * max(k - self.knee, 0.0) ** 2)

    def end_pieces(self) -> int:
        need = TRAVEL_UM * self.gain - self.offset
        return next(age for age in range(PIECES, 400_000, PIECES) if self.wear_um(age / 1000) >= need)

    def new_bars(self, k: float) -> bool:
        if k <= self.bars_end:
            return False
        self.bars, self.bars_end = self.dice.normal(0, 2.5), k + 2 + self.dice.exponential(6)
        return True

    def mean_um(self, k: float, approach_um: float) -> float:
        self.wander = 0.89 * self.wander + self.dice.normal(0, 0.55)
        size = self.offset + self.wear_um(k) - self.gain * approach_um + self.bars + self.wander
        return float(size + self.dice.normal(0, NOISE_UM2**0.5))


def live(seed: int, finished: list[FinishedSet]) -> tuple[FinishedSet, list[tuple[float, ...]]]:
    """One life under advice: what it teaches, and at each stage (stage, pieces truly left, *forecast)."""
    die, prior = TrueDie(seed), prior_for(ROLE, finished)
    end, belief, approach, told = die.end_pieces(), fresh_belief(prior), 0.0, []
    points: tuple[StagePoint, ...] = ()
    due = list(STAGES)
    for age in range(PIECES, end, PIECES):
        belief = advance(belief, prior, age)
        if die.new_bars(age / 1000):
            belief = change_batch(belief, prior)
        belief = observe(belief, die.mean_um(age / 1000, approach), approach, NOISE_UM2)
        approach += moved(belief, approach)
        points = note_stage(points, travel_way(belief, "over_pin", TRAVEL_UM))
        if due and age >= due[0] * end:
            told.append((due.pop(0), end - age, *pieces_left(belief, finished)))
    rate = belief.mean[WEAR] / (belief.age_pieces / 1000)
    fact = gain_fact(belief, prior, "over_pin", "")
    way = past_way(travel_way(belief, "over_pin", TRAVEL_UM), points, float(end))
    taught = (("over_pin", rate),), (fact,) if fact else (), (), (("over_pin", way),)
    return FinishedSet(f"D-{seed}", end, True, "worn", "", *taught), told


def moved(belief: WearBelief, approach: float) -> float:
    level, level_sd = level_um(belief, approach), forecast_mean(belief, approach, 1e-9).sd_um
    growth = belief.mean[RATE] * PIECES / 1000
    size = SlideSize("over_pin", level, level_sd, growth, gain_of(belief), 2.0, -18.0, 18.0, 36.0)
    advice = advise([size], 1.0, 20.0)
    return 0.0 if advice is None else advice.approach_um


def pieces_left(belief: WearBelief, finished: list[FinishedSet]) -> tuple[int, ...]:
    past = {"over_pin": past_ways([way for each in finished for _, way in each.ways])}
    forecast = forecast_life([travel_way(belief, "over_pin", TRAVEL_UM)], past)
    assert forecast is not None
    return forecast.pieces


@pytest.mark.parametrize("earlier", [0, 6])
def test_nine_in_ten_forecasts_hold_and_come_nearer_than_the_usual_life(earlier: int) -> None:
    finished = [live(1000 + seed, [])[0] for seed in range(earlier)]
    told = np.array([row for seed in range(20) for row in live(seed, finished)[1]])
    stage, left, low, likely, high = told[:, [0, 1, 2, 4, 6]].T
    holds = (low <= left) & (left <= high)
    assert holds.mean() > 0.80  # 90 % nominal, less three standard errors of 80 forecasts, sqrt(0.09/80)
    lives = np.array([TrueDie(seed).end_pieces() for seed in range(1000, 1040)])
    usual = np.abs(np.maximum(np.median(lives) - left / (1 - stage) * stage, 0) - left)
    for at, share in ((0.5, 0.7), (0.75, 0.7)):
        here = stage == at
        assert np.median(np.abs(likely - left)[here]) < share * np.median(usual[here])
    assert np.median(np.abs(likely - left)[stage == 0.5] / left[stage == 0.5]) < 0.25
