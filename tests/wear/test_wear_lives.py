"""What earlier die sets say of this one's life."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.stats import norm
from wear_cases import a_prior

from spc.wear import Crossing, FinishedSet, WearBelief, forecast_life, travel_crossing
from spc.wear.lives import life_weights, lognormal_life

LOGS = st.lists(st.floats(8, 12), min_size=1, max_size=8)


@given(LOGS, LOGS)
@settings(max_examples=40, deadline=None)
def test_agrees_with_maximising_the_likelihood_directly(worn: list[float], cut: list[float]) -> None:
    def against(at: np.ndarray) -> float:
        centre, spread = at[0], math.exp(at[1])
        fit = norm.logpdf(worn, centre, spread).sum() + norm.logsf(cut, centre, spread).sum()
        return -float(fit - 0.25 / (2.0 * spread**2))

    best = minimize(
        against, [np.mean(worn), -0.5], method="Nelder-Mead", options={"xatol": 1e-7, "fatol": 1e-12}
    )
    centre, spread = lognormal_life(worn, cut)
    assert against(np.array([centre, math.log(spread)])) <= best.fun + 1e-4
    if len(cut) <= 2 * len(worn):
        assert (centre, spread) == pytest.approx((best.x[0], math.exp(best.x[1])), rel=2e-3)


@given(LOGS, LOGS)
@settings(max_examples=60, deadline=None)
def test_lives_cut_short_never_shorten(worn: list[float], cut: list[float]) -> None:
    assert lognormal_life(worn, cut)[0] >= np.mean(worn) - 1e-9


def test_alike_lives_are_alike_but_never_certain() -> None:
    spreads = [lognormal_life([10.0] * m, [])[1] for m in (1, 2, 5, 20)]
    assert spreads == pytest.approx([0.5 / m**0.5 for m in (1, 2, 5, 20)])


def open_forecast(finished: list[FinishedSet], age: int = 5_000) -> tuple[int, ...]:
    """A die whose growth is hardly known: earlier lives decide."""
    cov = np.diag([4.0, 0.0, 0.5, 0.01, 0.0, 0.0])
    belief = WearBelief((0.0, 5.0, 1.0, 0.8, 0.0, 0.0), tuple(cov.ravel()), age, None, 0.0, 5)
    ends = travel_crossing(belief, a_prior(rate_wander_um_per_1000=0.1), "over_pin", 60.0)
    forecast = forecast_life([ends], finished, age)
    assert forecast is not None
    assert forecast.finished_sets == len(finished)
    return forecast.pieces


def worn(*ages: int) -> list[FinishedSet]:
    return [FinishedSet(f"D-{i}", age, True, "worn") for i, age in enumerate(ages)]


def test_more_finished_sets_narrow_the_forecast() -> None:
    widths = []
    for count in (0, 1, 3, 9):
        pieces = open_forecast(
            worn(*(48_000, 52_000, 50_000)[: min(count, 3)], *[50_000] * max(count - 3, 0))
        )
        widths.append(pieces[4] / pieces[0])
    assert widths == sorted(widths, reverse=True)
    assert widths[0] > 1.8 * widths[-1]


@pytest.mark.parametrize("age", [8_000, 30_000, 45_000, 90_000, 160_000])
@pytest.mark.parametrize("reason", ["planned", "other", "chipped"])
def test_a_removal_before_the_end_lengthens(age: int, reason: str) -> None:
    sets = worn(40_000, 50_000, 60_000)
    cut = FinishedSet("D-9", age, reason == "chipped", reason)
    before, after = open_forecast(sets), open_forecast([*sets, cut])
    assert after[2] >= before[2]
    if age >= 45_000:
        assert after[2] > before[2]
    if age in (45_000, 90_000):
        assert after[2] >= open_forecast([*sets, *worn(age)])[2]  # had it worn out then, life were shorter


def test_without_a_worn_set_a_long_planned_life_lengthens() -> None:
    none = open_forecast([])
    assert open_forecast([FinishedSet("D-1", 150_000, False, "planned")])[2] > none[2]
    assert open_forecast([FinishedSet("D-1", 1_500, False, "planned")])[2] == none[2]


def test_near_the_end_the_crossing_alone_speaks() -> None:
    # 500 ± 300 pieces to go at an age of 54,000, lives of 50,000 and 58,000: over a few hundred pieces a density
    # over lives that wide is flat, so it must not move the forecast.
    grid = np.geomspace(1.0, 1e6, 480)
    near = Crossing("over_pin", "travel", norm.cdf((grid - 500.0) / 300.0))
    forecast = forecast_life([near], worn(50_000, 58_000), 54_000)
    assert forecast is not None
    expected = [norm.ppf(level) * 300.0 + 500.0 for level in (0.25, 0.5, 0.75, 0.95)]
    assert forecast.pieces[1:] == pytest.approx(expected, rel=0.04)


def test_a_set_older_than_all_before_still_has_a_forecast() -> None:
    pieces = open_forecast(worn(*[10_000] * 300), age=600_000)
    assert 0 <= pieces[0] <= pieces[4] <= 1_000_000


def test_weights_are_those_of_a_lognormal_life() -> None:
    lives = np.array([20_000.0, 40_000.0, 80_000.0])
    weights = life_weights(worn(40_000), lives, np.array([True, True, True]))
    spread = 0.5 * math.sqrt(2.0)  # one life: its own spread of 0.5, and where its centre lies
    expected = norm.pdf(np.log(lives / 40_000.0) / spread) / norm.pdf(0.0)
    assert weights == pytest.approx(expected)


def test_ages_of_nothing_teach_nothing() -> None:
    assert open_forecast([FinishedSet("D-1", 0, True, "worn")]) == open_forecast([])
