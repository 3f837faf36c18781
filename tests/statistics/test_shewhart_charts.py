"""Shewhart limits against published worked examples."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import subgroups

from spc.errors import Refused
from spc.statistics import (
    RULE_SETS,
    chart_signals,
    individuals_limits,
    limits_from_sigma,
    median_r_limits,
    standardised,
    xbar_r_limits,
    xbar_s_limits,
)

RINGS = subgroups("piston_rings")
FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_xbar_r_of_the_piston_rings():
    # Montgomery, SQC, chapter 6: 74.001, limits 74.014 / 73.988, R-bar 0.023, R up to 0.049.
    limits = xbar_r_limits(RINGS)
    assert (limits.chart, limits.n, limits.subgroups, limits.method) == ("xbar_r", 5, 25, "R-bar/d2")
    assert limits.centre == pytest.approx(74.001176, abs=5e-7)
    assert limits.upper == pytest.approx(74.0145855, abs=5e-6)  # computed with A2 rounded to 0.577
    assert limits.lower == pytest.approx(73.9877665, abs=5e-6)
    assert limits.upper == pytest.approx(74.001176 + 0.57681930 * 0.02324, abs=5e-8)  # A2 in 8 digits
    assert limits.spread_centre == pytest.approx(0.02324, abs=5e-8)
    assert limits.spread_upper == pytest.approx(0.049141, abs=2e-5)  # 0.049129 by D4 rounded to 2.114
    assert limits.spread_lower == 0.0
    assert chart_signals(limits, RULE_SETS["none"]) == ()  # published: in control


def test_xbar_s_of_the_piston_rings():
    # the same source: 74.014 / 73.988, s up to 0.0196
    limits = xbar_s_limits(RINGS)
    assert limits.upper == pytest.approx(74.014589, abs=4e-6)  # computed with A3 rounded to 1.427
    assert limits.lower == pytest.approx(73.987763, abs=4e-6)
    assert limits.upper == pytest.approx(74.001176 + 1.4272994 * 0.00939948, abs=5e-8)
    assert limits.spread_centre == pytest.approx(0.0093995, abs=5e-8)
    assert limits.spread_upper == pytest.approx(0.019636, abs=5.1e-7)
    assert limits.method == "s-bar/c4"


def test_known_parameters_of_the_tea_packing():
    # ISO 8258:1991 clause 12 (from memory): 102.5 / 98.7, R 3.3 up to 6.9; digits computed
    limits = limits_from_sigma(100.6, 1.4, 5)
    assert limits.upper == pytest.approx(102.4783, abs=5e-5)
    assert limits.lower == pytest.approx(98.7217, abs=5e-5)
    assert limits.spread_centre == pytest.approx(3.2563, abs=5e-5)
    assert limits.spread_upper == pytest.approx(6.8854, abs=5.1e-5)
    assert limits.subgroups == 0


def test_individuals_of_the_flow_rate():
    # NIST e-Handbook 6.3.2.2: 50.81, MR-bar 1.8778, limits 55.8041 / 45.8159 with 1.128 for d2
    limits = individuals_limits(FLOW)
    assert limits.centre == pytest.approx(50.81, abs=5e-5)
    assert limits.spread_centre == pytest.approx(1.8778, abs=5e-5)
    assert limits.sigma_within == pytest.approx(1.8777778 / 1.1283791671, abs=5.1e-7)
    rounding = 3 * limits.spread_centre * (1 / 1.128 - 1 / 1.1283791671)
    assert limits.upper == pytest.approx(55.8041 - rounding, abs=5.1e-5)
    assert limits.lower == pytest.approx(45.8159 + rounding, abs=5.1e-5)
    assert chart_signals(limits) == ()


def test_individuals_by_the_median_moving_range():
    # factors 3/(sqrt 2 q) and (d2 + 3 d3)/(sqrt 2 q), q = 0.67448975 the upper quartile (printed 3.145, 3.865, from
    # memory); median moving range 1.5 of the flow rate
    limits = individuals_limits(FLOW, spread="median")
    assert limits.spread_centre == pytest.approx(1.5, abs=1e-9)
    assert limits.upper - limits.centre == pytest.approx(3.145074 * 1.5, abs=1.5 * 5.1e-7)
    assert limits.spread_upper == pytest.approx(3.864129 * 1.5, abs=1.5 * 5.1e-7)


def test_median_chart_is_the_mean_of_medians_and_a4():
    limits = median_r_limits(RINGS)
    medians = [sorted(ring)[2] for ring in RINGS]
    assert limits.centre == pytest.approx(sum(medians) / 25, abs=1e-12)
    assert limits.upper == pytest.approx(limits.centre + 0.690780 * 0.02324, abs=1e-7)
    assert limits.points == tuple(medians)


def test_a_point_beyond_is_said_with_its_number():
    moved = [*RINGS, [value + 0.03 for value in RINGS[0]], [73.9, 74.0, 74.1, 74.0, 74.0]]
    limits = xbar_r_limits(moved)
    signals = [(signal.index, signal.of, signal.kind) for signal in chart_signals(limits)]
    assert signals == [(26, "location", "beyond_limits"), (27, "spread", "beyond_limits")]
    assert chart_signals(limits)[0].says.startswith("74.0402 is above the upper control limit 74.")


def test_a_point_on_the_limit_is_inside():
    limits = limits_from_sigma(10.0, 1.0, 1, chart="individuals")
    assert standardised((13.0, 7.0), limits.centre, limits.upper) == (3.0, -3.0)


def test_runs_are_found_on_the_location_chart():
    limits = individuals_limits([10.0, 12.0] * 3 + [11.2] * 9)
    found = chart_signals(limits, RULE_SETS["house"])
    assert [(signal.index, signal.rule) for signal in found] == [
        (14, "nine_on_one_side"),
        (15, "nine_on_one_side"),
    ]


def test_unequal_subgroups_have_a_limit_each():
    limits = xbar_r_limits([[1.0, 2.0], [1.0, 2.0, 3.0], [2.0, 2.5]])
    assert limits.n == (2, 3, 2)
    assert limits.upper[0] == limits.upper[2] > limits.upper[1] > limits.centre
    assert limits.spread_upper[1] > limits.spread_upper[0]


@pytest.mark.parametrize("limits_of", [xbar_r_limits, xbar_s_limits, median_r_limits])
def test_human_mistakes_are_refused(limits_of):
    with pytest.raises(Refused, match="too few pieces"):
        limits_of([[1.0], [2.0]])
    with pytest.raises(Refused, match="too few subgroups"):
        limits_of([[1.0, 2.0]])
    with pytest.raises(Refused, match="missing or not finite"):
        limits_of([[1.0, 2.0], [float("nan"), 1.0]])
    with pytest.raises(Refused, match="all equal"):
        limits_of([[1.0, 1.0], [1.0, 1.0]])


def test_bad_known_parameters_are_refused():
    for centre, sigma, n, chart in [(1, 0, 5, "xbar_r"), (1, 1, 1, "xbar_r"), (1, 1, 5, "individuals")]:
        with pytest.raises(Refused):
            limits_from_sigma(centre, sigma, n, chart)
    with pytest.raises(Refused, match="no such chart"):
        limits_from_sigma(1.0, 1.0, 5, "moving")
    with pytest.raises(Refused, match="not finite"):
        limits_from_sigma(float("nan"), 1.0, 5)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.lists(st.integers(-99, 99), min_size=3, max_size=3, unique=True), min_size=2, max_size=9),
    st.integers(-999, 999),
)
def test_limits_move_and_stretch_with_the_readings(groups, shift):
    for limits_of in (xbar_r_limits, xbar_s_limits, median_r_limits):
        plain = limits_of(groups)
        moved = limits_of([[2.0 * value + shift for value in group] for group in groups])
        assert moved.upper == pytest.approx(2.0 * plain.upper + shift, abs=1e-9)
        assert moved.lower == pytest.approx(2.0 * plain.lower + shift, abs=1e-9)
        assert moved.spread_upper == pytest.approx(2.0 * plain.spread_upper, abs=1e-9)
