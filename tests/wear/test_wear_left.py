"""Stages, and the law of the pieces left: against a Bayesian regression taken in set by set."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import lognorm

from spc.wear import CROSSING_LEVELS, PastWay, StagePoint, Way, forecast_life, note_stage, past_way, past_ways
from spc.wear.learned import _by_lives, left_law
from spc.wear.stages import STAGES, opinions

HALF = Way("over_pin", "travel", 50.0, 25.0, 0.8, 1.0, 0.15, 22_000)


def a_set(life: float, ahead: float, seed: int = 0) -> PastWay:
    """A set whose end came `ahead` times as soon as its rate promised, at every stage."""
    dice = np.random.default_rng(seed)
    points = []
    for stage, share in enumerate(STAGES):
        age = round(max(share, 0.01) * life)
        by_rate = (life - age) / ahead
        points.append(StagePoint(stage, age, by_rate, by_rate * float(dice.uniform(0.9, 1.2)), 900.0))
    return PastWay(life, True, tuple(points))


def three(by_rate: float, by_pace: float, by_life: float, q: float) -> tuple[np.ndarray, float]:
    """Predictors as the module's formula has them."""
    a, b, c = (math.log(max(each + q, 0.05 * q)) for each in (by_rate, by_pace, max(by_life, 0.0)))
    return np.array([1.0, a - b, c - b]), b


def by_lives(middle: float, sd: float, age: float) -> float:
    """Median of what is left of a log-normal life that has come to this age."""
    lives = lognorm(sd, scale=middle)
    return float(lives.isf(lives.sf(age) / 2.0)) - age


def weights_beforehand(way: Way, middle: float, life_sd: float, q: float) -> tuple[np.ndarray, float]:
    """The guess: the best linear weights of three opinions, two of which share a doubt.

    Aitken (1935), from memory: w = V⁻¹1/(1'V⁻¹1) with variance 1/(1'V⁻¹1); 0.15 more for the late rise of the rate.
    """
    rest = way.left_um / way.rate_um_per_1000 * 1000.0
    far, near = rest / (rest + q), (way.left_sd_um / (way.left_um + 2.0 * way.left_sd_um)) ** 2
    by_rate = ((way.rate_sd_um_per_1000 / way.rate_um_per_1000) ** 2 + 0.0225) * far**2
    by_pace = ((way.left_sd_um / max(way.done_um, way.left_sd_um)) ** 2 + 0.09) * far**2
    left = by_lives(middle, life_sd, way.age_pieces)
    by_life = (life_sd * middle / (left + q + 0.05 * middle)) ** 2 + 0.1
    doubt = np.diag([by_rate, by_pace, by_life]) + near * np.outer([1.0, 1.0, 0.0], [1.0, 1.0, 0.0])
    sure = np.linalg.inv(doubt) @ np.ones(3)
    shares = sure / sure.sum()
    late = min(max((way.share - 0.2) / 0.5, 0.0), 1.0)
    guess = np.array([-0.15 * far * late * (1.0 - shares[2]), shares[0], shares[2]])
    return guess, 1.5 / float(sure.sum())


YOUNG = Way("over_pin", "upper", 50.0, 1.1, 2.7, 0.7, 0.8, 1_000)
LATE = Way("over_pin", "travel", 50.0, 42.0, 0.6, 1.3, 0.1, 33_000)
OLD = Way("over_pin", "travel", 50.0, 25.0, 0.8, 0.5, 0.05, 56_000)
"""Half worn at an age that few sets reach."""


@pytest.mark.parametrize("count", [0, 1, 4, 12])
@pytest.mark.parametrize("way", [HALF, YOUNG, LATE, OLD])
def test_agrees_with_a_regression_taken_in_set_by_set(way: Way, count: int) -> None:
    # Normal-inverse-gamma, one set at a time by the recursive (Kalman) form: b | s² ~ N(m, s²V),
    # s² ~ InvGamma(a, c); the law of the next is Student's t with 2a degrees of freedom. Between two stages a set
    # counts at both, by their nearness: a likelihood taken to that power.
    sets = [a_set(40_000.0 + 900.0 * i, 0.9 + 0.03 * (i % 4), i) for i in range(count)]
    past = past_ways(sets)
    said = opinions(way)
    q = said.unsure
    m, scatter = weights_beforehand(way, past.middle_life, past.life_sd, q)
    trust = np.array(
        [0.3, 0.3, 0.3 if past.lives else max(0.3 * m[2], 1e-3)]
    )  # no life known: hardly that opinion
    v, a, c = np.diag(trust**2) / scatter, 2.0, 2.0 * scatter
    stage, beyond = divmod(way.share / 0.05, 1.0)
    for each in sets:
        for point, weight in zip(each.points[round(stage) :], (1.0 - beyond, beyond), strict=False):
            left = by_lives(past.middle_life, past.life_sd, point.age_pieces)
            x, base = three(point.by_rate, point.by_pace, left, point.unsure)
            y = math.log(each.life_pieces - point.age_pieces + point.unsure) - base
            spread = 1.0 + weight * x @ v @ x
            gain, wrong = weight * v @ x / spread, y - x @ m
            m, v = m + gain * wrong, v - np.outer(gain, v @ x)
            a, c = a + weight / 2.0, c + weight * wrong**2 / spread / 2.0
    left = by_lives(past.middle_life, past.life_sd, way.age_pieces)
    x, base = three(said.by_rate, said.by_pace, left, q)
    law = left_law(way, past)
    assert law.df == pytest.approx(2.0 * a)
    assert law.centre == pytest.approx(base + x @ m, rel=1e-8)
    assert law.scale == pytest.approx(math.sqrt(c / a * (1.0 + x @ v @ x)), rel=1e-6)
    assert (law.unsure, law.characteristic, law.limit) == (q, "over_pin", way.limit)


@pytest.mark.parametrize(
    ("way", "by_rate", "by_pace", "unsure"),
    [
        # By hand from the equations of `opinions`: 1,000·25/1; 25·22,000/25; 2,000·0.8/1·(1.6/26.6)²
        (HALF, 25_000.0, 22_000.0, 5.79),
        # done 1.1 < 2.7/2 = 1.35: 48.9·1,000/1.35; 2,000·2.7/0.7·(5.4/54.3)²
        (YOUNG, 69_857.1, 36_222.2, 76.29),
        # nothing grows yet, for all one can see: 0.3·0.8 in its place; the level surer than 0.3 µm counts as 0.3
        (replace(YOUNG, rate_um_per_1000=-0.2, left_sd_um=0.1), 203_750.0, 44_454.5, 0.37),
    ],
)
def test_opinions_by_hand(way: Way, by_rate: float, by_pace: float, unsure: float) -> None:
    said = opinions(way)
    assert (said.by_rate, said.by_pace) == (
        pytest.approx(by_rate, abs=0.05),
        pytest.approx(by_pace, abs=0.05),
    )
    assert said.unsure == pytest.approx(unsure, abs=0.005)


def test_sets_that_all_ended_alike_draw_it_to_the_truth_and_narrow_it() -> None:
    q = opinions(HALF).unsure
    truth, scales, wrong = math.log(0.7 * 25_000.0 + q), [], []
    for count in (0, 2, 8, 40):
        law = left_law(HALF, past_ways([a_set(42_000.0, 0.7, i) for i in range(count)]))
        scales.append(law.scale)
        wrong.append(abs(law.centre - truth))
    assert scales == sorted(scales, reverse=True)
    assert scales[0] > 4.0 * scales[-1]
    assert max(wrong[1:]) < 0.05 < wrong[0]


def test_a_set_that_outlives_the_others_is_not_at_its_end() -> None:
    # Half worn, and at the rate and pace so far 50,000 pieces from its end: that others ended at 40,000 is no end now.
    sets = [a_set(38_000.0 + 400.0 * i, 0.9 + 0.02 * (i % 5), i) for i in range(10)]
    said = [
        forecast_life([replace(OLD, age_pieces=age)], {"over_pin": past_ways(sets)})
        for age in (37_000, 39_000, 39_900, 41_000, 43_000)
    ]
    middles = [each.pieces[2] for each in said if each is not None]
    assert min(middles) > 8_000
    assert max(a / b for a, b in itertools.pairwise(middles)) < 1.3  # 1,000 pieces more change little


@given(st.floats(100, 1e6), st.floats(0.05, 1.5), st.floats(1, 2e6))
def test_what_is_left_of_a_life_never_falls_to_nothing(middle: float, sd: float, age: float) -> None:
    left = _by_lives(middle, sd, age)
    assert left > 0.0
    if lognorm(sd, scale=middle).sf(age) > 1e-8:
        assert left == pytest.approx(by_lives(middle, sd, age), rel=1e-3, abs=0.01)


def test_without_sets_it_is_wide() -> None:
    pieces = forecast_life([replace(HALF, done_um=3.0, age_pieces=2_000)], {"over_pin": past_ways([])})
    assert pieces is not None
    assert pieces.pieces[4] > 3 * pieces.pieces[0]
    assert pieces.finished_sets == 0


WAYS = st.builds(
    Way,
    st.just("over_pin"),
    st.just("travel"),
    st.floats(-5, 120),
    st.floats(-5, 130),
    st.floats(0, 12),
    st.floats(-1, 6),
    st.floats(0, 3),
    st.integers(0, 120_000),
)


@given(WAYS, st.integers(0, 6))
@settings(max_examples=80, deadline=None)
def test_pieces_left_are_ordered_and_finite_whatever_the_way(way: Way, count: int) -> None:
    past = {"over_pin": past_ways([a_set(30_000.0 + 4_000.0 * i, 0.9, i) for i in range(count)])}
    forecast = forecast_life([way], past)
    assert forecast is not None
    assert len(forecast.pieces) == len(CROSSING_LEVELS)
    assert list(forecast.pieces) == sorted(forecast.pieces)
    assert 0 <= forecast.pieces[0] <= forecast.pieces[-1] <= 1_000_000


def test_a_set_is_remembered_when_it_first_stands_at_a_stage() -> None:
    points: tuple[StagePoint, ...] = ()
    for done, age in ((-1.0, 100), (0.4, 400), (2.6, 2_000), (2.7, 2_300), (2.4, 2_600), (14.9, 14_000)):
        points = note_stage(points, replace(HALF, done_um=done, age_pieces=age))
    assert [(each.stage, each.age_pieces) for each in points] == [(0, 400), (1, 2_000), (5, 14_000)]
    assert points[-1].by_rate == pytest.approx(35_100.0)
    assert points[-1].by_pace == pytest.approx(14_000 / 14.9 * 35.1, abs=0.06)


def test_a_set_older_than_the_middle_life_and_sure_of_its_level_teaches_too() -> None:
    # What is kept of a very sure level is rounded to 0.0 pieces.
    sets = [a_set(life, 1.0) for life in (20_000.0, 20_000.0, 90_000.0)]
    sure = [replace(each, points=tuple(replace(p, unsure=0.0) for p in each.points)) for each in sets]
    law = left_law(HALF, past_ways(sure))
    assert math.isfinite(law.centre)
    assert 0.0 < law.scale < math.inf


@pytest.mark.parametrize(
    ("done", "ended_at", "life", "is_known"),
    [
        (48.0, 41_000.0, 41_000.0, True),  # it came
        (40.0, None, 32_000.0, True),  # 10 µm at 1 µm in 1,000 pieces more
        (25.0, None, 44_000.0, False),  # half the way: twice the age, and no forecast to learn from
        (1.0, None, 110_000.0, False),
    ],
)
def test_how_long_a_set_would_have_lasted(
    done: float, ended_at: float | None, life: float, is_known: bool
) -> None:
    closed = past_way(replace(HALF, done_um=done), (), ended_at)
    assert closed.life_pieces == pytest.approx(life)
    assert closed.is_known == is_known


def test_a_check_after_the_end_teaches_no_forecast() -> None:
    points = tuple(StagePoint(i, age, 900.0, 900.0, 200.0) for i, age in enumerate((30_000, 40_900, 41_100)))
    assert past_way(HALF, points, 41_000.0).points == points[:2]
    assert past_way(replace(HALF, done_um=40.0), points, None).points == points


def test_a_life_cut_short_counts_for_lives_and_not_for_forecasts() -> None:
    known = [a_set(42_000.0, 0.7, i) for i in range(3)]
    cut = replace(a_set(42_000.0, 3.0), is_known=False)
    one, other = past_ways(known), past_ways([*known, cut])
    assert (one.lives, other.lives) == (3, 4)
    assert [each.n for each in one.moments] == [each.n for each in other.moments]
