"""EWMA and CUSUM against published worked examples."""

from math import sqrt

import numpy as np
import pytest
from published_tables import columns

from spc.errors import Refused
from spc.statistics import cusum_limits, ewma_limits, points_beyond, trend_line, xbar_r_limits

THIRTY = columns("thirty_individuals")
SINGLE = [[x] for x in THIRTY["x"]]
HANDBOOK = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
HANDBOOK += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
HANDBOOK_SMOOTHED = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
HANDBOOK_SMOOTHED += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]
HANDBOOK_COMPUTED = [50.6000, 49.5200, 50.5640, 50.1848, 50.1594, 49.2116, 49.7481, 49.8537, 50.2576, 50.3303]
HANDBOOK_COMPUTED += [
    50.1112,
    49.3578,
    49.5205,
    50.0543,
    49.3780,
    49.9246,
    50.7272,
    51.2291,
    51.9403,
    51.9882,
]
# Montgomery & Runger, Table 16-7: plain sums of x - 99, and the tabular form with K = 1 (computed)
PLAIN_SUMS = [
    3.0,
    -1.2,
    -1.9,
    -2.5,
    0.5,
    0.0,
    0.0,
    -1.3,
    -0.3,
    -1.2,
    1.1,
    0.8,
    2.9,
    2.3,
    0.3,
    -2.0,
    -0.7,
    1.7,
    -0.1,
    1.9,
]
CHEMICAL_HIGH = [2.0, 0, 0, 0, 2.0, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1.0]
CHEMICAL_LOW = [0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1.0, 2.3, 0, 0, 0.8, 0]


def test_ewma_of_the_thirty_readings():
    # Montgomery, SQC, Table 9.10: z1 9.945, z2 9.7495, limits 10.27/9.73 at first (from memory); rest computed
    chart = ewma_limits(SINGLE, target=10.0, sigma=1.0, weight=0.1, width=2.7)
    assert chart.points == pytest.approx(THIRTY["ewma"], abs=5.1e-6)
    assert chart.lower == pytest.approx(THIRTY["ewma_lower"], abs=5.1e-5)
    assert chart.upper == pytest.approx(THIRTY["ewma_upper"], abs=5.1e-5)
    assert [signal.index for signal in points_beyond(chart.points, chart.lower, chart.upper)] == [29, 30]


def test_ewma_of_the_handbook():
    # NIST e-Handbook 6.3.2.4: smoothed values (opened as quoted), four digits computed;
    # limits 52.5884 / 47.4115 in the long run
    chart = ewma_limits([[x] for x in HANDBOOK], target=50.0, sigma=2.0539, weight=0.3)
    assert chart.points == pytest.approx(HANDBOOK_SMOOTHED, abs=0.0051)
    assert chart.points == pytest.approx(HANDBOOK_COMPUTED, abs=5.1e-5)
    assert chart.upper[-1] == pytest.approx(52.588432, abs=2e-5)
    assert points_beyond(chart.points, chart.lower, chart.upper) == ()


def test_ewma_limits_are_the_spread_of_the_smoothed_value():
    weights = np.array([0.25 * 0.75**k for k in range(6)][::-1])
    sds = 2.0 / np.sqrt([5, 3, 5, 4, 5, 2])
    chart = ewma_limits(
        [list(np.arange(n, dtype=float)) for n in (5, 3, 5, 4, 5, 2)], target=0.0, sigma=2.0, weight=0.25
    )
    assert chart.upper[-1] == pytest.approx(3.0 * sqrt(np.sum((weights * sds) ** 2)), rel=1e-12)


def test_ewma_with_weight_one_is_the_plain_chart():
    groups = [[1.0, 2.0, 4.0], [2.0, 2.0, 3.0], [0.0, 3.0, 1.0]]
    plain = xbar_r_limits(groups)
    chart = ewma_limits(groups, weight=1.0)
    assert chart.points == pytest.approx(plain.points)
    assert chart.upper == pytest.approx([plain.upper] * 3)
    assert (chart.centre, chart.sigma_within) == (plain.centre, plain.sigma_within)


def test_cusum_of_the_thirty_readings():
    # Montgomery, SQC, Tables 9.1 and 9.2
    chart = cusum_limits(SINGLE, target=10.0, sigma=1.0)
    assert chart.high == pytest.approx(THIRTY["cusum_high"], abs=1e-9)
    assert chart.low == pytest.approx(THIRTY["cusum_low"], abs=1e-9)
    assert chart.high_run == tuple(THIRTY["high_run"])
    assert chart.low_run == tuple(THIRTY["low_run"])
    assert chart.upper == 5.0
    signals = [index for index, total in enumerate(chart.high, start=1) if total > chart.upper]
    assert signals == [29, 30]
    assert chart.new_mean(29) == pytest.approx(11.25, abs=0.0051)  # published (from memory)


def test_cusum_of_the_concentrations():
    # Montgomery & Runger, Tables 16-7 and 16-8: sigma 2, K = 1, H = 10, no signal
    readings = 99.0 + np.diff(PLAIN_SUMS, prepend=0.0)
    chart = cusum_limits([[x] for x in readings], target=99.0, sigma=2.0)
    assert chart.high == pytest.approx(CHEMICAL_HIGH, abs=1e-9)
    assert chart.low == pytest.approx(CHEMICAL_LOW, abs=1e-9)
    assert np.cumsum(np.array(chart.points) - 99.0) == pytest.approx(PLAIN_SUMS, abs=1e-9)
    assert chart.upper == 10.0
    assert max(chart.high + chart.low) < chart.upper
    assert chart.new_mean(2) == pytest.approx(99 - 1 - 3.2)
    assert chart.new_mean(9) is None


def test_when_the_shift_began():
    # Montgomery, SQC, Table 9.2: C+ = 5.28 at 29 with N+ = 7, so the shift lies between 22 and 23
    chart = cusum_limits(SINGLE, target=10.0, sigma=1.0)
    assert (chart.shift_after(29), chart.shift_after(14), chart.shift_after(15)) == (22, 13, None)
    down = cusum_limits([[20.0 - x] for x in THIRTY["x"]], target=10.0, sigma=1.0)
    assert (down.shift_after(29), down.new_mean(29)) == (22, pytest.approx(8.75, abs=0.0051))


def test_head_start_by_hand():
    # sums start at H/2 = 2: 2 + 0.9 - 0.5 = 2.4, 2.4 + 1.1 - 0.5 = 3.0; below 2 - 0.9 - 0.5 = 0.6, then 0
    chart = cusum_limits([[10.9], [11.1]], target=10.0, sigma=1.0, decision=4.0, head_start=0.5)
    assert chart.high == pytest.approx((2.4, 3.0))
    assert chart.low == pytest.approx((0.6, 0.0))
    assert chart.new_mean(2) == pytest.approx(11.0)  # the mean of the two, as the start is no reading
    assert chart.shift_after(2) == 0
    with pytest.raises(Refused, match="head start"):
        cusum_limits([[1.0]], target=1.0, sigma=1.0, head_start=0.9)


def test_residuals_of_a_trend_are_charted_as_single_values():
    # the line of the first 25 checks goes on; what is left of a step of 3 sigma behind it is found, the trend is not
    rng = np.random.default_rng(11)
    number = np.arange(40.0)
    record = 0.3 * number + rng.normal(size=40) + 3.0 * (number >= 25)
    line = trend_line(number[:25], record[:25])
    residuals = record - line.intercept - line.slope * number
    smoothed = ewma_limits([[value] for value in residuals], target=0.0, sigma=line.residual_sd, weight=0.2)
    out = points_beyond(smoothed.points, smoothed.lower, smoothed.upper)
    assert 26 <= out[0].index <= 31
    sums = cusum_limits([[value] for value in residuals], target=0.0, sigma=line.residual_sd)
    assert 23 <= sums.shift_after(32) <= 26


def test_subgroup_means_are_charted_in_their_own_spread():
    groups = [[value - 1.0, value + 1.0] for value in THIRTY["x"]]
    pairs = cusum_limits(groups, target=10.0, sigma=2.0**0.5)
    assert pairs.high == pytest.approx(THIRTY["cusum_high"], abs=1e-9)
    smoothed = ewma_limits(groups, target=10.0, sigma=2.0**0.5, weight=0.1, width=2.7)
    assert smoothed.upper == pytest.approx(THIRTY["ewma_upper"], abs=5.1e-5)


def test_cusum_counts_in_the_spread_of_the_plotted_mean():
    chart = cusum_limits([[4.0] * 4, [6.0] * 4], target=4.0, sigma=2.0, slack=0.5, decision=4.0)
    assert (chart.sigma_point, chart.upper) == (1.0, 4.0)
    assert chart.high == (0.0, 1.5)


def test_cusum_sides_mirror():
    chart = cusum_limits(SINGLE, target=10.0, sigma=1.0)
    mirrored = cusum_limits([[20.0 - x] for x in THIRTY["x"]], target=10.0, sigma=1.0)
    assert mirrored.low == pytest.approx(chart.high, abs=1e-9)


def test_sigma_of_single_pieces_is_the_moving_range():
    chart = ewma_limits(SINGLE)
    assert chart.method == "MR-bar/d2, starts at the mean"
    assert cusum_limits([[1.0, 2.0], [2.0, 4.0]], target=2.0).method == "R-bar/d2, starts at the target"


@pytest.mark.parametrize(
    ("keywords", "says"),
    [
        ({"weight": 0.0}, "weight"),
        ({"weight": 1.2}, "weight"),
        ({"width": 0.0}, "width"),
        ({"sigma": 0.0}, "sigma"),
    ],
)
def test_ewma_refuses_what_it_cannot_draw(keywords, says):
    with pytest.raises(Refused, match=says):
        ewma_limits(SINGLE, **keywords)


def test_cusum_refuses_what_it_cannot_add():
    for keywords in ({"slack": -0.1}, {"decision": 0.0}, {"target": float("nan")}):
        with pytest.raises(Refused):
            cusum_limits(SINGLE, **keywords)
    with pytest.raises(Refused, match="one size only"):
        cusum_limits([[1.0, 2.0], [1.0, 2.0, 3.0]])
