"""Spread between and within checks against certified and published variance components."""

from math import log10

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_series import SIRSTV
from published_tables import subgroups
from scipy.stats import f_oneway

from spc.errors import Refused
from spc.statistics.between_checks import between_checks

# Davies & Goldsmith, Statistical Methods in Research and Production (1972), Table 6.1
# (from memory, reproduces the print)
_DYES = """
1545 1440 1440 1520 1580; 1540 1555 1490 1560 1495; 1595 1550 1605 1510 1560; 1445 1440 1595 1465 1545;
1595 1630 1515 1635 1625; 1520 1455 1450 1480 1445
"""
DYESTUFF = [[float(each) for each in batch.split()] for batch in _DYES.split(";")]
# Pinheiro & Bates, Mixed-Effects Models in S and S-PLUS (2000) (from memory, reproduces the print)
RAIL = [[55, 53, 54], [26, 37, 32], [78, 91, 85], [92, 100, 96], [49, 51, 50], [80, 85, 83]]
# NIST e-Handbook 7.4.3 (from memory, reproduces the print)
LEVELS = [[6.9, 5.4, 5.8, 4.6, 4.0], [8.3, 6.8, 7.8, 9.2, 6.5], [8.0, 10.5, 8.1, 6.9, 9.3]]


def digits(value, certified):
    return 16.0 if value == certified else -log10(abs(value / certified - 1.0))


def test_sirstv_to_twelve_digits():
    # NIST StRD, SiRstv, certified (opened)
    found = between_checks(SIRSTV)
    for value, certified in [
        (found.between_squares, 5.11462616000000e-02),
        (found.between_mean_square, 1.27865654000000e-02),
        (found.f, 1.18046237440255),
        (found.within_squares, 2.16636560000000e-01),
        (found.within_mean_square, 1.08318280000000e-02),
        (found.sigma_within, 1.04076068334656e-01),
        (found.between_squares / (found.between_squares + found.within_squares), 1.90999039051129e-01),
    ]:
        assert digits(value, certified) >= 12
    assert (found.between_freedom, found.within_freedom) == (4, 20)


def test_dyestuff_and_rail():
    dyes, rail = between_checks(DYESTUFF), between_checks(RAIL)
    assert (dyes.between_mean_square, dyes.within_mean_square) == pytest.approx((11271.5, 2451.25))
    assert dyes.f == pytest.approx(4.598266, abs=5.1e-7)
    assert (dyes.sigma_between, dyes.sigma_within) == pytest.approx((42.000595, 49.510100), abs=5.1e-7)
    assert (dyes.sigma_total, dyes.between_share) == pytest.approx((64.925342, 0.418487), abs=5.1e-7)
    assert dyes.mean == 1527.5
    assert rail.between_mean_square == pytest.approx(1862.1)
    assert (rail.within_mean_square, rail.f) == pytest.approx((16.166667, 115.181443), abs=5.1e-7)
    assert (rail.sigma_between, rail.sigma_within) == pytest.approx((24.805465, 4.020779), abs=5.1e-7)
    assert (rail.sigma_total, rail.between_share, rail.mean) == pytest.approx(
        (25.129222, 0.974399, 66.5), abs=5.1e-7
    )


def test_handbook_analyses_of_variance():
    # NIST e-Handbook 7.4.3 and GEAR.DAT (from memory, reproduce the print; more digits computed)
    levels, gear = between_checks(LEVELS), between_checks(subgroups("nist_gear_diameters"))
    assert (levels.between_squares, levels.within_squares) == pytest.approx((27.897, 17.452), abs=5.1e-4)
    assert (levels.f, levels.p) == pytest.approx((9.591107, 0.0032482), abs=5.1e-7)
    assert (gear.between_squares, gear.within_squares) == pytest.approx((0.000729, 0.003174), abs=5.1e-7)
    assert (gear.f, gear.p) == pytest.approx((2.296912, 0.022661), abs=5.1e-7)


def test_a_general_library_agrees_for_unequal_checks():
    random = np.random.default_rng(2)
    checks = [list(random.normal(level, 1.0, size)) for level, size in ((0, 3), (1, 5), (0.5, 4), (2, 2))]
    found, other = between_checks(checks), f_oneway(*checks)
    assert (found.f, found.p) == pytest.approx((other.statistic, other.pvalue), rel=1e-9)


def test_components_are_unbiased():
    random, variances = np.random.default_rng(3), []
    for _ in range(1500):
        sizes = [2, 3, 5, 5, 4, 1, 5, 3]
        checks = [list(random.normal(random.normal(0, 1.5), 1.0, size)) for size in sizes]
        found = between_checks(checks)
        variances.append((found.sigma_between**2, found.sigma_within**2))
    assert np.mean(variances, axis=0) == pytest.approx([2.25, 1.0], rel=0.05)


@given(st.integers(-(10**6), 10**6), st.sampled_from([0.25, 4.0]), st.permutations(range(6)))
def test_shift_scale_and_order(shift, scale, order):
    moved = between_checks([[scale * value + shift for value in RAIL[i][::-1]] for i in order])
    assert moved.sigma_between == pytest.approx(scale * 24.805465, rel=1e-6)
    assert moved.f == pytest.approx(115.181443, rel=1e-6)


@pytest.mark.parametrize(
    ("checks", "says"),
    [
        ([[1.0], [2.0]], "single piece"),
        ([[1.0, 2.0]], "too few subgroups"),
        ([[1.0, 1.0], [1.0, 1.0]], "all equal"),
        ([[1.0, float("nan")], []], "missing.*empty"),
    ],
)
def test_what_cannot_be_split_is_refused(checks, says):
    with pytest.raises(Refused, match=says):
        between_checks(checks)


def test_checks_without_spread_within_are_certain():
    found = between_checks([[1.0, 1.0], [2.0, 2.0]])
    assert (found.p, found.sigma_within, found.between_share) == (0.0, 0.0, 1.0)
