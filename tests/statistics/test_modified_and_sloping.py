"""Modified, acceptance, short-run and trended charts against published and computed examples."""

from math import ceil

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from spc.errors import Refused
from spc.statistics.acceptance_limits import acceptance_limit
from spc.statistics.modified_limits import modified_limits
from spc.statistics.short_run import deviation_chart, standardised_chart
from spc.statistics.sloping_limits import sloping_limits


def test_modified_limits_of_the_book():
    # Montgomery, SQC, section 10.2.1: sigma 2.0, n 5, spec 40 +/- 8 (exercise text opened; answer 44.50, 35.50 from
    # memory; more digits computed)
    three = modified_limits(32.0, 48.0, 2.0, 5, 0.001)
    assert (three.upper, three.lower) == pytest.approx((44.502817, 35.497183), abs=5.1e-7)
    two = modified_limits(32.0, 48.0, 2.0, 5, 0.001, width=2.0)
    assert (two.upper, two.lower) == pytest.approx((43.608390, 36.391610), abs=5.1e-7)
    assert modified_limits(None, 48.0, 2.0, 5).lower is None


def test_mean_at_its_end_loses_the_allowed_share():
    found = modified_limits(None, 10.0, 1.0, 4, 0.01)
    assert norm.sf(10.0, found.most_mean, 1.0) == pytest.approx(0.01, rel=1e-12)
    # an alarm comes at three sigma of the mean beyond it
    assert (found.upper - found.most_mean) * 2 == pytest.approx(3.0)


@given(st.floats(0.1, 3.0), st.integers(1, 25), st.sampled_from([0.25, 4.0]), st.floats(-50, 50))
def test_modified_limits_follow_the_unit(sigma, n, scale, shift):
    plain = modified_limits(-20.0, 20.0, sigma, n)
    moved = modified_limits(shift - 20 * scale, shift + 20 * scale, scale * sigma, n)
    assert moved.upper == pytest.approx(scale * plain.upper + shift, abs=1e-9)
    assert plain.upper == pytest.approx(-plain.lower, abs=1e-12)


def test_acceptance_example():
    # computed, constructed: levels 0.010, 0.020, sigma 0.006, alpha 0.05, beta 0.10; formulas of ISO 7870-3 from memory
    found = acceptance_limit(0.010, 0.020, 0.006, 0.05, 0.10)
    assert found.exact_n == pytest.approx(3.08299, abs=5.1e-6)
    assert found.n == 4
    assert found.from_acceptable == pytest.approx(0.0149346, abs=5.1e-8)
    assert found.from_rejectable == pytest.approx(0.0161553, abs=5.1e-8)
    assert found.limit == pytest.approx(0.0156207, abs=5.1e-8)


@given(
    st.floats(0.5, 5.0), st.floats(0.2, 3.0), st.sampled_from([0.01, 0.05, 0.1]), st.sampled_from([0.05, 0.1])
)
def test_acceptance_limits_keep_both_risks_and_mirror(gap, sigma, alpha, beta):
    found = acceptance_limit(1.0, 1.0 + gap, sigma, alpha, beta)
    mirror = acceptance_limit(-1.0, -1.0 - gap, sigma, alpha, beta)
    assert found.alpha_kept <= alpha + 1e-9
    assert found.beta_kept <= beta + 1e-9
    assert found.n in (max(1, ceil(found.exact_n)), max(1, ceil(found.exact_n) - 1))
    assert mirror.limit == pytest.approx(-found.limit)
    assert (found.side, mirror.side) == ("upper", "lower")
    # derivation: the risk by simulation is that of the normal mean
    assert found.alpha_kept == pytest.approx(norm.sf(found.limit, 1.0, sigma / np.sqrt(found.n)), abs=1e-12)


# Course notes after Montgomery, SQC, section 10.1 (opened): three parts, n = 4
PARTS = ["A"] * 3 + ["B"] * 5 + ["C"] * 4
NOMINAL = {"A": 9.5, "B": 15.5, "C": 2.0}
_ROWS = """
7 9 10 11; 9 9 9 11; 7 10 11 8; 14 15 17 17; 14 16 16 16; 15 17 15 17; 17 17 16 16; 16 17 15 16;
1 2 2 3; 3 2 2 3; 3 3 2 1; 2 2 1 3
"""
CHECKS = [[float(each) for each in row.split()] for row in _ROWS.split(";")]


def test_short_run_of_the_course_notes():
    chart = standardised_chart(PARTS, CHECKS, NOMINAL)
    assert dict(chart.mean_ranges) == pytest.approx({"A": 3.33, "B": 2.0, "C": 1.75}, abs=0.0051)
    means = [-0.08, 0, -0.15, 0.13, 0, 0.25, 0.5, 0.25, 0, 0.29, 0.14, 0]
    spreads = [1.20, 0.60, 1.20, 1.50, 1, 1, 0.5, 1, 1.14, 0.57, 1.14, 1.14]
    assert list(chart.points) == pytest.approx(means, abs=0.0051)
    assert list(chart.spread_points) == pytest.approx(spreads, abs=0.0051)
    assert (chart.upper, chart.spread_lower, chart.spread_upper) == pytest.approx(
        (0.7286, 0.0, 2.2821), abs=5.1e-5
    )
    assert chart.beyond == chart.spread_beyond == ()


def test_unstandardised_short_run():
    chart = deviation_chart(PARTS, CHECKS, NOMINAL)
    assert chart.centre == pytest.approx(0.1875)
    assert chart.spread_centre == pytest.approx(2.25)
    # computed there with the printed factors 0.729 and 2.282: 1.82775, -1.45275, 5.1345
    assert (chart.upper, chart.lower) == pytest.approx((1.82775, -1.45275), abs=2.25 * 5e-4)
    assert chart.spread_upper == pytest.approx(5.1345, abs=2.25 * 5e-4)
    assert all(chart.lower <= point <= chart.upper for point in chart.points)


@given(st.sampled_from([0.25, 4.0]), st.floats(-50, 50))
def test_standardised_points_have_no_unit(scale, shift):
    plain = standardised_chart(PARTS, CHECKS, NOMINAL)
    moved = standardised_chart(
        PARTS,
        [[scale * value + shift for value in check] for check in CHECKS],
        {part: scale * value + shift for part, value in NOMINAL.items()},
    )
    assert moved.points == pytest.approx(plain.points, abs=1e-9)


def test_standardised_chart_reads_earlier_ranges_and_lists_what_lies_beyond():
    chart = standardised_chart(["A", "A"], [[1.0, 2.0], [9.0, 9.1]], {"A": 1.5}, {"A": 1.0})
    assert chart.points == pytest.approx((0.0, 7.55))
    assert chart.beyond == (2,)


# computed, constructed; numpy least squares
X_BAR = [20.006, 20.007, 20.009, 20.017, 20.020, 20.027, 20.026, 20.034, 20.035, 20.038, 20.045, 20.048]
R = [0.010, 0.012, 0.008, 0.011, 0.009, 0.013, 0.010, 0.009, 0.012, 0.008, 0.010, 0.011]
AT = list(range(1, 13))


def test_trended_chart():
    chart = sloping_limits(AT, X_BAR, R, 5, lower=19.980, upper=20.080)
    line = chart.line
    assert line.intercept == pytest.approx(20.000136364, abs=5.1e-10)
    assert line.slope == pytest.approx(0.0039790210, abs=5.1e-11)
    assert (line.residual_sd, line.slope_error) == pytest.approx((0.001947744, 0.000162879), abs=5.1e-10)
    assert line.t == pytest.approx(24.4294, abs=5.1e-5)
    assert line.freedom == 10
    # the reference computation quotes 0.005912395, which is A2 rounded to 0.576819; unrounded it ends in 8
    assert chart.half_width == pytest.approx(0.0059123982, abs=5.1e-11)
    assert chart.half_width == pytest.approx(0.005912395, abs=0.01025 * 5e-7)
    assert chart.sigma == pytest.approx(0.004406841, abs=5.1e-10)
    assert (chart.start_level, chart.stop_level) == pytest.approx((19.993221, 20.066779), abs=5.1e-7)
    assert chart.life == pytest.approx(18.4867, abs=5.1e-5)
    assert chart.beyond == ()
    assert "rises" in chart.says


def test_a_falling_trend_starts_above_and_lives_as_long():
    up = sloping_limits(AT, X_BAR, R, 5, lower=19.980, upper=20.080)
    down = sloping_limits(AT, [40.06 - x for x in X_BAR], R, 5, lower=19.980, upper=20.080)
    assert down.start_level == pytest.approx(up.stop_level)
    assert down.life == pytest.approx(up.life)
    flat = sloping_limits(AT, [20.0, 20.01] * 6, R, 5)
    assert "usual chart" in flat.says
    assert flat.life is None


def test_limits_hold_as_many_checks_as_they_should():
    # property: with a true straight trend about 0.27 % of check means lie beyond
    random, beyond = np.random.default_rng(3), 0
    for _ in range(40):
        pieces = 0.1 * np.arange(100)[:, None] + random.standard_normal((100, 5))
        chart = sloping_limits(range(100), pieces.mean(axis=1), np.ptp(pieces, axis=1), 5)
        beyond += len(chart.beyond)
    assert beyond / 4000 == pytest.approx(0.0027, abs=0.0025)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: modified_limits(0.0, 1.0, 1.0, 5), "no room"),
        (lambda: modified_limits(None, 1.0, 0.0, 0, 0.7), "sigma.*piece.*share"),
        (lambda: acceptance_limit(1.0, 1.0, 0.0, 0.9), "alpha.*sigma.*two different"),
        (lambda: standardised_chart(["A"], [[1, 2]] * 2, {"A": 1}), "one part a check"),
        (lambda: standardised_chart(["A", "B"], [[1, 2], [1, 2]], {"A": 1}), "no nominal"),
        (lambda: standardised_chart(["A", "A"], [[1, 1], [1, 1]], {"A": 1}), "not above 0"),
        (lambda: standardised_chart(["A", "A"], [[1, 2], [1, 2, 3]], {"A": 1}), "unequally many"),
        (lambda: sloping_limits(AT, X_BAR, [0.0] * 12, 5), "no spread"),
        (lambda: sloping_limits(AT, X_BAR, R, 1), "2"),
        (lambda: sloping_limits(AT, X_BAR, R, 5, lower=20.0, upper=20.02), "too narrow"),
        (lambda: sloping_limits(AT, X_BAR, R[:5], 5), "range for each"),
        (lambda: sloping_limits(AT, X_BAR, [-each for each in R], 5), "0 or more"),
    ],
)
def test_impossible_charts_are_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
