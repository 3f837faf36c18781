"""Capability of readings: estimates, which index exists, honest intervals, and refusals."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import subgroups

from spc.errors import Refused
from spc.statistics import capability, chart_signals, honest_capability, xbar_r_limits
from spc.statistics.index_intervals import location_interval, spread_interval

RINGS = subgroups("piston_rings")


def test_piston_rings_within_and_overall():
    # Montgomery, SQC: Cp = 0.10 / (6 x 0.0099) = 1.68 with sigma rounded (from memory); digits from the sigmas
    result = capability(RINGS, lower=73.95, upper=74.05)
    assert (result.n, result.subgroups, result.level) == (125, 25, 0.95)
    assert result.cp.estimate == pytest.approx(0.1 / (6 * 0.0099917), abs=1e-5)
    assert result.cp.estimate == pytest.approx(1.68, abs=0.015)
    assert result.pp.estimate == pytest.approx(0.1 / (6 * 0.0101989), abs=1e-5)
    assert result.cpk.estimate == pytest.approx((74.05 - 74.001176) / (3 * 0.0099917), abs=1e-4)
    assert result.ppk.estimate == pytest.approx((74.05 - 74.001176) / (3 * 0.0101989), abs=1e-4)
    assert result.target == pytest.approx(74.0)
    assert result.cpm.estimate == pytest.approx(0.1 / (6 * np.hypot(0.0101989, 0.001176)), abs=1e-5)
    assert all(index.n == 125 for index in (result.cp, result.cpk, result.pp, result.ppk, result.cpm))


def test_intervals_carry_the_freedom_of_their_sigma():
    by_range = capability(RINGS, 73.95, 74.05)
    pooled = capability(RINGS, 73.95, 74.05, sigma_from="pooled_s")
    assert by_range.pp == spread_interval(by_range.pp.estimate, 125)
    assert by_range.ppk == location_interval(by_range.ppk.estimate, 125)
    assert pooled.cp == spread_interval(pooled.cp.estimate, 125, freedom=100)
    assert (
        by_range.cp.high - by_range.cp.low
        > pooled.cp.high - pooled.cp.low
        > by_range.pp.high - by_range.pp.low
    )
    assert "R-bar/d2, 90.8 degrees" in by_range.method
    assert "pooled s, 100.0 degrees" in pooled.method


def test_one_limit_has_only_the_indices_that_exist():
    result = capability(RINGS, upper=74.05)
    assert (result.cp, result.pp, result.cpm, result.target) == (None, None, None, None)
    both = capability(RINGS, lower=73.0, upper=74.05)
    assert result.ppk.estimate == both.ppk.estimate
    assert result.ppk.method.startswith("noncentral t")
    assert result.ppk.low < result.ppk.estimate < result.ppk.high
    honest = honest_capability(RINGS, upper=74.05)
    assert (honest.cp, honest.pp) == (None, None)


def test_single_pieces_use_the_moving_range():
    # NIST e-Handbook 6.3.2.2 flow rate: MR-bar/d2 1.664137
    flow = [[49.6], [47.6], [49.9], [51.3], [47.8], [51.2], [52.6], [52.4], [53.6], [52.1]]
    result = capability(flow, lower=40.0, upper=60.0)
    assert result.sigma_within == pytest.approx(1.664137, abs=5e-7)
    assert result.method.startswith("sigma within checks MR-bar/d2")
    assert honest_capability(flow, 40.0, 60.0).effective_n == pytest.approx(10.0)


def test_warning_names_unsteady_checks_and_unseen_fallout():
    steady = capability(RINGS, 73.90, 74.10)
    assert steady.warning == "Expected outside: under 1 ppm, cannot be told from 125 pieces."
    moved = capability([*RINGS, [value + 0.05 for value in RINGS[0]]], 73.95, 74.05)
    assert moved.warning.startswith("1 of 26 checks lies outside the limits that all checks give together")
    assert capability(RINGS, 73.97, 74.03).warning == ""


def test_a_year_of_steady_checks_is_not_called_unsteady():
    checks = np.random.default_rng(12).normal(31.25, 0.004, (4000, 5)).tolist()
    result = capability(checks, 31.238, 31.262)
    limits = xbar_r_limits(checks)
    assert (
        len([signal for signal in chart_signals(limits) if signal.of == "location"]) > 3
    )  # as chance has it
    assert result.warning == ""


def test_honest_interval_covers_where_the_plain_one_does_not():
    # 20 checks of 5 whose mean wanders as much as the pieces spread: true Ppk = 5 / (3 sqrt 2)
    rng = np.random.default_rng(7)
    truth, honest, plain = 5 / (3 * np.sqrt(2)), 0, 0
    for _ in range(300):
        checks = (rng.standard_normal((20, 1)) + rng.standard_normal((20, 5))).tolist()
        by_checks = honest_capability(checks, None, 5.0).ppk
        by_pieces = location_interval(by_checks.estimate, 100)
        honest += by_checks.low <= truth <= by_checks.high
        plain += by_pieces.low <= truth <= by_pieces.high
    assert honest / 300 > 0.91
    assert plain / 300 < 0.88


def test_honest_interval_is_close_where_checks_do_not_wander():
    plain, honest = capability(RINGS, 73.95, 74.05), honest_capability(RINGS, 73.95, 74.05)
    assert honest.ppk.estimate == plain.ppk.estimate
    assert honest.ppk.high - honest.ppk.low == pytest.approx(plain.ppk.high - plain.ppk.low, rel=0.15)
    assert 90 < honest.effective_n <= 125
    assert "25 checks" in honest.method


def test_honest_error_is_the_spread_of_the_check_means():
    checks = [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0], [2.0, 3.0, 4.0], [7.0, 8.0, 9.0]]
    honest = honest_capability(checks, -20.0, 30.0)
    assert honest.standard_error == pytest.approx(np.std([2, 5, 3, 8], ddof=1) / 2)
    within, between = 1.0, 3 * np.var([2, 5, 3, 8], ddof=1)
    total = between / 3 + 2 / 3 * within
    assert honest.effective_n == pytest.approx(total / honest.standard_error**2)
    assert honest.freedom == pytest.approx(total**2 / ((between / 3) ** 2 / 3 + (2 / 3) ** 2 / 8))


@pytest.mark.parametrize(
    ("keywords", "says"),
    [
        ({}, "wants a tolerance limit"),
        ({"lower": 2.0, "upper": 1.0}, "not below the upper"),
        ({"lower": 1.0, "upper": 1.0}, "not below the upper"),
        ({"lower": float("nan"), "upper": 1.0}, "not finite"),
        ({"upper": float("inf")}, "not finite"),
        ({"lower": 1.0, "upper": 2.0, "target": 3.0}, "target lies outside"),
        ({"upper": 2.0, "sigma_from": "guess"}, "r_bar or pooled_s"),
        ({"upper": 2.0, "confidence": 1.0}, "confidence"),
    ],
)
def test_human_mistakes_are_refused(keywords, says):
    for answer in (capability, honest_capability):
        with pytest.raises(Refused, match=says):
            answer([[1.0, 1.1], [1.2, 1.4]], **keywords)


def test_readings_that_cannot_carry_an_index_are_refused():
    for readings, says in [
        ([[1.0, 1.0], [1.0, 1.0]], "all equal"),
        ([[1.0, 2.0]], "too few"),
        ([[1, float("nan")]], "not"),
    ]:
        with pytest.raises(Refused, match=says):
            capability(readings, upper=3.0)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.lists(st.integers(-90, 90), min_size=4, max_size=4, unique=True), min_size=3, max_size=8),
    st.integers(-500, 500),
)
def test_indices_are_blind_to_shift_and_scale(groups, shift):
    plain = capability(groups, -300, 300, 20)
    moved = capability(
        [[0.5 * (value + shift) for value in group] for group in groups],
        0.5 * (shift - 300),
        0.5 * (shift + 300),
        0.5 * (shift + 20),
    )
    for name in ("cp", "cpk", "pp", "ppk", "cpm"):
        before, after = getattr(plain, name), getattr(moved, name)
        assert (after.estimate, after.low, after.high) == pytest.approx(
            (before.estimate, before.low, before.high)
        )
        assert before.low < before.estimate < before.high
    assert plain.cpk.estimate <= plain.cp.estimate + 1e-12
    assert plain.cpm.estimate <= plain.pp.estimate + 1e-12
