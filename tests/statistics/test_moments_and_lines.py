"""Mean, spread, shape, straight line and lag-1 correlation against certified and published values."""

from fractions import Fraction
from math import log10, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_series import CHEMICAL, MAVRO, NORRIS, NUMACC1, NUMACC3, NUMACC4, VISCOSITY
from published_tables import columns, subgroups

from spc.errors import Refused
from spc.statistics.autocorrelation import lag1_autocorrelation
from spc.statistics.constants import d2
from spc.statistics.moments import sample_moments
from spc.statistics.trend_line import trend_line


def digits(value, certified):
    """Correct digits: minus the decimal logarithm of the relative error."""
    return 16.0 if value == certified else -log10(abs(value / certified - 1.0))


@pytest.mark.parametrize(
    ("readings", "mean", "sd", "r1", "wanted"),
    [
        # NIST StRD certified values (from memory); NumAcc3 and NumAcc4 cannot be written exactly in binary
        (MAVRO, 2.001856, 0.000429123454003053, 0.937989183438248, 12),
        (NUMACC1, 10000002.0, 1.0, -0.5, 12),
        (NUMACC3, 1000000.2, 0.1, -0.999, 9),
        (NUMACC4, 10000000.2, 0.1, -0.999, 8),
    ],
    ids=["Mavro", "NumAcc1", "NumAcc3", "NumAcc4"],
)
def test_certified_digits(readings, mean, sd, r1, wanted):
    moments = sample_moments(readings)
    assert digits(moments.mean, mean) >= 14
    assert digits(moments.sd, sd) >= wanted
    assert digits(lag1_autocorrelation(readings).r, r1) >= wanted


def test_line_of_norris_to_twelve_digits():
    # NIST StRD, Norris, certified to 15 digits (opened)
    y, x = zip(*NORRIS, strict=True)
    line = trend_line(x, y)
    for value, certified in [
        (line.intercept, -0.262323073774029),
        (line.intercept_error, 0.232818234301152),
        (line.slope, 1.00211681802045),
        (line.slope_error, 0.429796848199937e-03),
        (line.residual_sd, 0.884796396144373),
        (line.r_squared, 0.999993745883712),
        (line.regression_squares, 4255954.13232369),
        (line.residual_squares, 26.6173985294224),
        (line.f, 5436385.54079785),
    ]:
        assert digits(value, certified) >= 12
    assert (line.n, line.freedom) == (36, 34)


@pytest.mark.parametrize(
    ("readings", "skewness", "kurtosis"),
    [
        # computed with a general library on published data
        ([x for row in subgroups("nist_gear_diameters") for x in row], -0.10696, 1.41444),
        (VISCOSITY, -0.12292, -1.19295),
        (CHEMICAL, -0.17253, -0.68336),
        (columns("thirty_individuals")["x"], -0.29128, -0.68823),
        ([x for row in subgroups("piston_rings") for x in row], -0.11300, 0.31702),
    ],
)
def test_shape_of_published_data(readings, skewness, kurtosis):
    moments = sample_moments(readings)
    assert moments.skewness == pytest.approx(skewness, abs=5e-6)
    assert moments.excess_kurtosis == pytest.approx(kurtosis, abs=5e-6)


def test_moments_agree_with_exact_fractions():
    exact = [Fraction(value) for value in MAVRO]
    mean = sum(exact) / len(exact)
    variance = sum((value - mean) ** 2 for value in exact) / (len(exact) - 1)
    assert sample_moments(MAVRO).sd == pytest.approx(sqrt(variance), rel=1e-13)


@given(
    st.lists(st.integers(-500, 500), min_size=4, max_size=30).filter(lambda v: len(set(v)) > 1),
    st.integers(-(10**6), 10**6),
    st.sampled_from([0.25, 0.5, 2.0, 8.0]),
)
def test_moments_follow_shift_and_scale_and_ignore_order(values, shift, scale):
    plain, moved = sample_moments(values), sample_moments([scale * v + shift for v in reversed(values)])
    assert moved.mean == pytest.approx(scale * plain.mean + shift, rel=1e-12, abs=1e-9)
    assert moved.sd == pytest.approx(scale * plain.sd, rel=1e-8)
    assert moved.skewness == pytest.approx(plain.skewness, abs=1e-6)


@given(
    st.lists(st.integers(-500, 500), min_size=3, max_size=30),
    st.sampled_from([0.5, 2.0, 4.0]),
    st.integers(-1000, 1000),
)
def test_line_follows_shift_and_scale(values, scale, shift):
    x = list(range(len(values)))
    plain = trend_line(x, values)
    moved = trend_line([scale * each + shift for each in x], [2.0 * each - 7.0 for each in values])
    assert moved.slope == pytest.approx(2.0 * plain.slope / scale, abs=1e-7)
    assert plain.slope_low <= plain.slope <= plain.slope_high
    assert np.polyfit(x, values, 1)[0] == pytest.approx(plain.slope, abs=1e-7)


def test_line_without_residual_is_certain():
    line = trend_line([0, 1, 2, 3], [1, 3, 5, 7])
    assert (line.slope, line.intercept, line.residual_sd, line.p) == (2.0, 1.0, 0.0, 0.0)
    assert line.at(10) == 21.0
    assert trend_line([0, 1, 2], [5, 5, 5]).p == 1.0


def test_moving_range_limits_shrink_as_said():
    # derivation: simulation of a first-order series; the mean moving range is d2 sigma sqrt(1 - r)
    random = np.random.default_rng(4)
    series = np.empty(200_000)
    series[0] = 0.0
    noise = random.standard_normal(series.size)
    for i in range(1, series.size):
        series[i] = 0.6 * series[i - 1] + noise[i]
    found = lag1_autocorrelation(series)
    sigma = np.mean(np.abs(np.diff(series))) / d2(2)
    assert found.reach == pytest.approx(sigma / np.std(series), rel=0.01)
    beyond = np.mean(np.abs(series - series.mean()) > 3 * sigma)
    assert found.false_alarms == pytest.approx(beyond, rel=0.08)


def test_related_neighbours_are_told():
    found = lag1_autocorrelation(MAVRO)
    assert found.related
    assert "0.7 sigma instead of 3" in found.says  # 3 sqrt(1 - 0.938)
    assert "swing" in lag1_autocorrelation([1.0, 3.0] * 20).says
    assert not lag1_autocorrelation(CHEMICAL).related


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: sample_moments([1.0]), "too few"),
        (lambda: sample_moments([2.0, 2.0]), "all equal"),
        (lambda: sample_moments([2.0, float("nan"), float("inf")]), "piece 2.*piece 3"),
        (lambda: trend_line([1, 2], [1, 2]), "too few"),
        (lambda: trend_line([1, 2, 3], [1, 2]), "as many"),
        (lambda: trend_line([1, 1, 1], [1, 2, 3]), "all equal"),
        (lambda: lag1_autocorrelation([1, 2, 3], confidence=1.0), "confidence"),
    ],
)
def test_what_cannot_be_computed_is_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
