"""Where the model reduces to a known chart (no wear, no slide, no bars), the watch has that chart's run lengths."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from spc.statistics import cusum_law, shewhart_law, xbar_r_limits
from spc.wear import MEAN_LIMIT, Watch, WearPrior, forecast_mean, fresh_belief, observe, watch_mean

SLACK, DECISION = 0.5, 8.0
RINGS = Path(__file__).parents[1] / "references" / "piston_rings.csv"
DRIFTS = Path(__file__).parents[1] / "references" / "run_lengths_drift.csv"
PLAIN = WearPrior(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2500.0, 0.0)
"""A process that stands: nothing is unknown but the noise of a check."""


def table(column: str) -> dict[float, float]:
    """Mean run lengths under a drift (process notes 4.2, own exact recursions and simulation)."""
    with DRIFTS.open(encoding="utf-8") as lines:
        return {float(row["drift"]): float(row[column]) for row in csv.DictReader(lines)}


def run_length(dice: np.random.Generator, drift: float, *, of_single: bool) -> int:
    """Checks of a row until the watch rings; with one of its two parts, so that it stands alone."""
    watch, sigma = Watch(), 2.0
    belief = fresh_belief(PLAIN)
    for check in range(1, 200_000):
        mean = float(dice.normal(drift * check * sigma, sigma))
        ahead = forecast_mean(belief, 0.0, sigma**2)
        surprise = (mean - ahead.mean_um) / ahead.sd_um
        if not of_single:  # cut where a single one would ring and restart the sums
            surprise = max(-MEAN_LIMIT, min(MEAN_LIMIT, surprise))
        belief = observe(belief, mean, 0.0, sigma**2)
        watch, found = watch_mean(watch, surprise)
        if found is not None and found.single is of_single:
            return check
        if of_single:
            watch = Watch()
    raise AssertionError


def test_the_model_expects_the_target_and_the_noise_of_a_check_where_nothing_else_is() -> None:
    belief = observe(fresh_belief(PLAIN), 7.0, 0.0, 4.0)
    ahead = forecast_mean(belief, 0.0, 4.0)
    assert (ahead.mean_um, ahead.sd_um) == pytest.approx((0.0, 2.0))


@pytest.mark.parametrize("drift", [0.05, 0.1, 0.2, 0.5])
def test_its_single_limit_is_a_shewhart_chart_of_that_width(drift: float) -> None:
    dice = np.random.default_rng(41)
    runs = [run_length(dice, drift, of_single=True) for _ in range(700)]
    law = shewhart_law(0.0, drift, MEAN_LIMIT).mean_points
    assert np.mean(runs) == pytest.approx(law, abs=4.0 * float(np.std(runs)) / math.sqrt(len(runs)))


@pytest.mark.parametrize("drift", [0.02, 0.05, 0.1])
def test_its_memory_is_a_cusum_of_that_slack_and_decision(drift: float) -> None:
    # cut at the single limit the sums rise a little slower than the law's: at these drifts less than a twentieth
    dice = np.random.default_rng(43)
    runs = [run_length(dice, drift, of_single=False) for _ in range(400)]
    law = cusum_law(0.0, drift, SLACK, DECISION).mean_points
    error = 4.0 * float(np.std(runs)) / math.sqrt(len(runs))
    assert law - error < np.mean(runs) < 1.05 * law + error


@pytest.mark.parametrize("drift", [0.01, 0.05, 0.1, 0.5])
def test_the_laws_it_is_held_against_give_the_table_of_the_references(drift: float) -> None:
    # 3 sigma: exact to the printed digits; CUSUM k 0.5, h 4.774: simulated, four of its printed standard errors
    assert shewhart_law(0.0, drift, 3.0).mean_points == pytest.approx(table("shewhart")[drift], abs=0.005)
    cusum, error = table("cusum")[drift], table("cusum_se")[drift]
    assert cusum_law(0.0, drift, 0.5, 4.774).mean_points == pytest.approx(cusum, abs=4.0 * error)


def test_the_piston_rings_have_the_limits_of_the_book() -> None:
    """Montgomery, *Introduction to Statistical Quality Control*, 2nd ed. 1991: 73.988 to 74.014 around 74.001.

    He works with rounded figures; unrounded the upper one is 74.0146. What 25 checks leave open of the centre the
    forecast counts besides, 1/25 of its variance: it is taken out here.
    """
    with RINGS.open(encoding="utf-8") as lines:
        rings = [[float(each) for each in row] for row in list(csv.reader(lines))[1:]]
    means = [1000.0 * (sum(row) / 5 - 74.0) for row in rings]
    sigma = 1000.0 * sum(max(row) - min(row) for row in rings) / len(rings) / 2.326  # d2 of five, same book
    belief = fresh_belief(WearPrior(200.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2500.0, 0.0))
    for mean in means:
        belief = observe(belief, mean, 0.0, sigma**2 / 5)
    ahead = forecast_mean(belief, 0.0, sigma**2 / 5)
    sd_um = ahead.sd_um / math.sqrt(1.0 + 1.0 / len(rings))
    low, centre, high = (74.0 + (ahead.mean_um + way * sd_um) / 1000.0 for way in (-3.0, 0.0, 3.0))
    assert (low, centre, high) == pytest.approx((73.9878, 74.0012, 74.0146), abs=0.00005)
    assert not any(abs(mean - ahead.mean_um) > 3.0 * sd_um for mean in means)


def test_limits_around_the_forecast_are_those_of_a_plain_chart_where_nothing_moves() -> None:
    # known centre and sigma: grand mean ± 3 sigma/sqrt(n) by ranges against the model's ± 3 sd around its forecast,
    # two estimates of one thing; the ranges of 400 checks of five give sigma within 1.3 % (d3/d2/20), three of those
    dice, sigma, n = np.random.default_rng(47), 2.0, 5
    checks = dice.normal(0.0, sigma, (400, n))
    chart = xbar_r_limits(checks.tolist())
    belief = fresh_belief(WearPrior(20.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2500.0, 0.0))
    for mean in checks.mean(axis=1).tolist():
        belief = observe(belief, mean, 0.0, sigma**2 / n)
    ahead = forecast_mean(belief, 0.0, sigma**2 / n)
    assert ahead.mean_um == pytest.approx(float(chart.centre), abs=1e-3)
    upper = np.atleast_1d(chart.upper)[0]
    assert ahead.mean_um + 3.0 * ahead.sd_um == pytest.approx(upper, abs=0.04 * 3.0 * sigma / math.sqrt(n))
    mine = np.abs(checks.mean(axis=1) - ahead.mean_um) > 3.0 * ahead.sd_um
    plain = np.abs(checks.mean(axis=1) - float(chart.centre)) > upper - float(chart.centre)
    assert np.sum(mine != plain) <= 1
