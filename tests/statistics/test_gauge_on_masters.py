"""Bias, linearity, stability and guarded decisions against published examples."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from spc.errors import Refused
from spc.statistics.gauge_linearity import gauge_linearity
from spc.statistics.gauge_stability import gauge_stability
from spc.statistics.guard_band import conformance_chance, guard_zone, guarded_decision
from spc.statistics.master_repeats import master_repeats
from spc.statistics.trend_line import trend_line

WAFERS = [50.0, 48, 44, 56, 61, 52, 53, 55, 67, 51]
LINEARITY = {
    2.0: "2.7 2.5 2.4 2.5 2.7 2.3 2.5 2.5 2.4 2.4 2.6 2.4",
    4.0: "5.1 3.9 4.2 5.0 3.8 3.9 3.9 3.9 3.9 4.0 4.1 3.8",
    6.0: "5.8 5.7 5.9 5.9 6.0 6.1 6.0 6.1 6.4 6.3 6.0 6.1",
    8.0: "7.6 7.7 7.8 7.7 7.8 7.8 7.8 7.7 7.8 7.5 7.6 7.7",
    10.0: "9.1 9.3 9.5 9.3 9.4 9.5 9.5 9.5 9.6 9.2 9.3 9.4",
}
NORRIS = """0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5; 668.5 666.3; 998.5 996.3;
449.1 448.6; 778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5; 668.8 666.9; 339.3 338.0; 448.9 447.5; 10.8 11.6;
557.7 556.0;
228.3 228.1; 998.0 995.8; 888.8 887.6; 119.6 120.2; 0.3 0.3; 0.6 0.3; 557.6 556.8; 339.3 339.1; 888.0 887.2;
998.5 999.0; 778.9 779.0; 10.2 11.1; 117.6 118.3; 228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5"""


def test_bias_is_the_one_sample_test():
    # NIST e-Handbook 7.2.2 (from memory and computed): mean 53.7, s 6.566751, t 1.781768, p 0.108473
    found = master_repeats(WAFERS, 50.0)
    assert (found.mean, found.sigma) == (pytest.approx(53.7), pytest.approx(6.566751, abs=5.1e-7))
    assert (found.t, found.p) == (pytest.approx(1.781768, abs=5.1e-7), pytest.approx(0.108473, abs=5.1e-7))
    assert found.bias_low == pytest.approx(3.7 - 2.262 * 6.567 / sqrt(10), abs=0.002)
    assert 9 * found.sigma**2 / 100 == pytest.approx(3.8810, abs=5.1e-4)
    assert found.sigma_high**2 / found.sigma_low**2 == pytest.approx(19.0228 / 2.7004, rel=1e-4)
    assert found.says.startswith("No bias is shown")


def test_bias_of_the_aiag_example():
    # AIAG MSA 4th ed., bias by independent samples (from memory): mean 6.0067, and with sigma from the range 0.22514
    # t 0.12, interval -0.1185 to 0.1319. With s (0.21202) the interval is a little narrower.
    found = master_repeats([5.8, 5.7, 5.9, 5.9, 6.0, 6.1, 6.0, 6.1, 6.4, 6.3, 6.0, 6.1, 6.2, 5.6, 6.0], 6.0)
    assert found.bias == pytest.approx(0.0067, abs=5.1e-5)
    assert found.sigma == pytest.approx(0.2120, abs=5.1e-5)
    assert (found.bias_low, found.bias_high) == (
        pytest.approx(-0.1185, abs=0.01),
        pytest.approx(0.1319, abs=0.01),
    )


def test_cg_and_cgk_by_hand():
    # common practice, no source: Cg = 0.2 T / 6 s, Cgk = (0.1 T - |bias|) / 3 s
    found = master_repeats(WAFERS, 50.0, 300.0)
    assert found.cg == pytest.approx(60 / (6 * 6.566751))
    assert found.cgk == pytest.approx((30 - 3.7) / (3 * 6.566751))
    narrow = master_repeats(WAFERS, 50.0, 300.0, share=0.15, spread=4.0)
    assert narrow.cg == pytest.approx(45 / (4 * 6.566751))
    assert "reads 3.7 high" in master_repeats([53.6, 53.7, 53.8], 50.0).says


def test_linearity_of_the_aiag_example():
    # AIAG MSA 4th ed., table III-B 4 (from memory, reproduces the print): biases 0.491667, 0.125, 0.025, -0.291667,
    # -0.616667; slope -0.131667, intercept 0.736667, s 0.23954, t of slope -12.043, of intercept 10.158, R² 0.714
    sizes = [size for size, text in LINEARITY.items() for _ in text.split()]
    values = [float(value) for text in LINEARITY.values() for value in text.split()]
    found = gauge_linearity(sizes, values)
    assert [bias for _, bias in found.biases] == pytest.approx(
        [0.491667, 0.125, 0.025, -0.291667, -0.616667], abs=5.1e-7
    )
    line = found.line
    assert line.slope == pytest.approx(-0.131667, abs=5.1e-7)
    assert line.intercept == pytest.approx(0.736667, abs=5.1e-7)
    assert line.residual_sd == pytest.approx(0.23954, abs=5.1e-6)
    assert line.t == pytest.approx(-12.043, abs=5.1e-4)
    assert line.intercept_t == pytest.approx(10.158, abs=5.1e-4)
    assert line.r_squared == pytest.approx(0.714, abs=5.1e-4)
    assert not found.linear
    assert found.says.startswith("Bias goes from +0.473 at 2 to -0.58 at 10: more than chance")


def test_line_of_norris():
    # NIST StRD Norris, certified to 15 digits
    y, x = zip(*((float(a), float(b)) for a, b in (pair.split() for pair in NORRIS.split(";"))), strict=True)
    line = trend_line(x, y)
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-12)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.intercept_error == pytest.approx(0.232818234301152, rel=1e-12)
    assert line.slope_error == pytest.approx(0.429796848199937e-03, rel=1e-12)
    assert line.residual_sd == pytest.approx(0.884796396144373, rel=1e-12)
    assert line.r_squared == pytest.approx(0.999993745883712, rel=1e-14)
    assert line.t**2 == pytest.approx(5436385.54079785, rel=1e-11)


def test_stability_finds_a_drift_and_an_odd_day():
    rng = np.random.default_rng(7)
    still = 10.0 + 0.001 * rng.normal(size=(20, 3))
    steady = gauge_stability(still, 10.0)
    assert (steady.df_within, steady.df_between) == (40, 19)  # e-Handbook 2.4.3.1: K(J-1) and K-1
    assert steady.sigma_within == pytest.approx(sqrt(np.mean(np.var(still, axis=1, ddof=1))))
    assert steady.sigma_between == pytest.approx(np.std(still.mean(axis=1), ddof=1))
    assert steady.says.startswith("The gauge held its zero over 20 occasions")
    drifting = still + 0.0005 * np.arange(20)[:, None]
    assert gauge_stability(drifting, 10.0).says.startswith("The gauge drifted by +0.0")
    odd = still.copy()
    odd[9] += 0.02
    assert "1 of 20 occasions stands out" in gauge_stability(odd, 10.0).says


def test_guard_zones_of_the_standards():
    # ISO 14253-1 to 2013, U = 2 u = 0.006: 9.956 .. 10.044; 2017: 9.954935 .. 10.045065 with 1.644854 u (computed)
    old = guard_zone(9.950, 10.050, 0.003, coverage=2.0)
    assert (old.in_low, old.in_high, old.out_below, old.out_above) == pytest.approx(
        (9.956, 10.044, 9.944, 10.056)
    )
    new = guard_zone(9.950, 10.050, 0.003)
    assert (new.in_low, new.in_high) == pytest.approx((9.954935, 10.045065), abs=5.1e-7)
    rounded = guard_zone(9.950, 10.050, 0.003, coverage=1.65)
    assert (rounded.in_low, rounded.in_high) == pytest.approx((9.95495, 10.04505), abs=1e-9)


def test_chance_of_conformance_of_jcgm_106():
    # JCGM 106:2012, flat prior: 0.908789 at 10.046, 0.5 at the limit (computed)
    assert conformance_chance(10.046, 9.950, 10.050, 0.003) == pytest.approx(0.908789, abs=5.1e-7)
    assert conformance_chance(10.050, 9.950, 10.050, 0.003) == pytest.approx(0.5, abs=1e-12)
    assert conformance_chance(10.15, 9.950, 10.050, 0.003) < 1e-200
    assert conformance_chance(9.9, 9.950, 10.050, 0.003) == pytest.approx(norm.sf(50 / 3), rel=1e-9)


@pytest.mark.parametrize(
    ("value", "decision"),
    [
        (10.0, "in"),
        (10.045, "in"),
        (10.0455, "cannot be told"),
        (10.0549, "cannot be told"),
        (10.0551, "out"),
        (9.9, "out"),
    ],
)
def test_three_answers(value, decision):
    found = guarded_decision(value, 9.950, 10.050, 0.003)
    assert found.decision == decision
    assert f"{value:g}" in found.says


@given(st.floats(0.001, 0.03))
def test_the_zone_holds_its_level_for_any_uncertainty(u):
    zone = guard_zone(9.950, 10.050, u)
    chance = norm.cdf(10.050, zone.out_above, u) - norm.cdf(9.950, zone.out_above, u)
    assert chance == pytest.approx(0.05, abs=1e-9)
    if zone.in_high is None:
        assert conformance_chance(10.0, 9.950, 10.050, u) < 0.95
    else:
        assert conformance_chance(zone.in_high, 9.950, 10.050, u) == pytest.approx(0.95, abs=1e-9)
        assert zone.in_low + zone.in_high == pytest.approx(20.0)


def test_one_limit_and_hopeless_gauges():
    zone = guard_zone(None, 0.050, 0.003)
    assert (zone.in_low, zone.in_high) == (-np.inf, pytest.approx(0.050 - 1.644854 * 0.003, abs=1e-8))
    assert zone.out_below == -np.inf
    assert guard_zone(0.0, 0.01, 0.006).in_high is None
    assert guard_zone(0.0, 0.01, 0.006, coverage=2.0).in_high is None
    assert guarded_decision(0.005, 0.0, 0.01, 0.006).decision == "cannot be told"


def test_what_cannot_be_judged_is_refused():
    for wrong, says in [
        (lambda: master_repeats([1.0], 1.0), "too few"),
        (lambda: master_repeats([1.0, float("nan")], 1.0), "not finite"),
        (lambda: master_repeats([1.0, 1.0], 1.0, 0.1), "same reading"),
        (lambda: master_repeats([1.0, 2.0], 1.0, -0.1), "tolerance"),
        (lambda: master_repeats([1.0, 2.0], 1.0, level=2.0), "confidence"),
        (lambda: gauge_linearity([1.0, 1.0, 1.0], [1.0, 1.1, 1.2]), "differ"),
        (lambda: gauge_linearity([1.0], [1.0, 2.0]), "pairs"),
        (lambda: trend_line([1.0, 2.0, float("inf")], [1.0, 2.0, 3.0]), "not finite"),
        (lambda: gauge_stability([[1.0], [2.0]], 1.0), "too few"),
        (lambda: gauge_stability([[1.0], [2.0, 3.0], [1.0]], 1.0), "equally many"),
        (lambda: guarded_decision(float("nan"), 0.0, 1.0, 0.1), "missing"),
        (lambda: guard_zone(None, None, 0.1), "limit"),
        (lambda: guard_zone(1.0, 0.0, 0.1), "not below"),
        (lambda: guard_zone(0.0, 1.0, 0.0), "uncertainty"),
        (lambda: guard_zone(0.0, 1.0, 0.1, level=0.4), "level"),
    ]:
        with pytest.raises(Refused, match=says):
            wrong()
