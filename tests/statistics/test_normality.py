"""Anderson-Darling and the normal model against published values and a general library."""

import numpy as np
import pytest
from published_tables import columns, subgroups
from statsmodels.stats.diagnostic import normal_ad

from spc.errors import Refused
from spc.statistics import anderson_darling, fallout_ppm, normal_quantiles

VISCOSITY = [
    33.75,
    33.05,
    34.0,
    33.81,
    33.46,
    34.02,
    33.68,
    33.27,
    33.49,
    33.2,
    33.62,
    33.0,
    33.54,
    33.12,
    33.84,
]
WEIGHTS = [148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236]  # Shapiro & Wilk, Biometrika 52 (1965)


def flat(name):
    return [value for row in subgroups(name) for value in row]


@pytest.mark.parametrize(
    ("readings", "statistic", "adjusted", "p"),
    [
        # computed with a general library on published data
        (flat("nist_gear_diameters"), 1.457952, 1.469215, 0.000864),
        (VISCOSITY, 0.247412, 0.262256, 0.703858),
        (columns("thirty_individuals")["x"], 0.343510, 0.352957, 0.465557),
        (flat("piston_rings"), 0.193332, 0.194520, 0.892229),
        (WEIGHTS, 0.946772, 1.028930, 0.010454),
    ],
)
def test_statistic_and_p_on_published_data(readings, statistic, adjusted, p):
    test = anderson_darling(readings)
    assert test.statistic == pytest.approx(statistic, abs=5.1e-7)
    assert test.adjusted == pytest.approx(adjusted, abs=5.1e-7)
    assert test.p == pytest.approx(p, abs=5.1e-7)
    assert test.n == len(readings)


def test_agrees_with_a_general_library():
    readings = np.random.default_rng(3).gamma(4.0, size=60)
    statistic, p = normal_ad(readings)
    test = anderson_darling(list(readings))
    assert test.statistic == pytest.approx(statistic, rel=1e-9)
    assert test.p == pytest.approx(p, rel=1e-6)


def test_false_alarms_come_as_often_as_p_says():
    draws = np.random.default_rng(9).standard_normal((2000, 20))
    p = np.array([anderson_darling(list(row)).p for row in draws])
    assert np.mean(p < 0.05) == pytest.approx(0.05, abs=0.016)
    assert np.mean(p < 0.25) == pytest.approx(0.25, abs=0.03)


def test_is_blind_to_order_shift_and_scale():
    plain = anderson_darling(WEIGHTS)
    moved = anderson_darling([0.5 * value - 300 for value in reversed(WEIGHTS)])
    assert moved.statistic == pytest.approx(plain.statistic, rel=1e-10)


def test_few_and_extreme_readings():
    assert anderson_darling([1.0, 2.0, 4.0]).p is None
    assert anderson_darling([0.0] * 4000 + [1.0]).p < 1e-100


@pytest.mark.parametrize(
    ("readings", "says"),
    [([1.0, 2.0], "too few"), ([1.0, 2.0, float("nan")], "missing"), ([5.0] * 9, "all equal")],
)
def test_what_cannot_be_tested_is_refused(readings, says):
    with pytest.raises(Refused, match=says):
        anderson_darling(readings)


def test_quantiles_take_the_share_literally():
    quantiles = normal_quantiles(10.0, 2.0, n=50)
    assert quantiles.q99865 == pytest.approx(10 + 2 * 2.99997699, abs=2e-8)
    assert quantiles.q00135 == pytest.approx(10 - 2 * 2.99997699, abs=2e-8)
    assert (quantiles.q50, quantiles.n) == (10.0, 50)


@pytest.mark.parametrize(
    ("index", "ppm", "digit"),
    [(0.5, 66807.2, 0.05), (1.0, 1349.898, 5e-4), (1.33, 33.0366, 5e-5), (1.67, 0.27215, 5e-6)],
)
def test_fallout_beyond_one_limit(index, ppm, digit):
    # NIST e-Handbook 6.1.6: both limits at Cp 1.00 lose 0.27 % (from memory); one limit computed
    assert fallout_ppm(0.0, 1.0, None, 3 * index) == pytest.approx(ppm, abs=digit)
    assert fallout_ppm(0.0, 1.0, -3 * index, 3 * index) == pytest.approx(2 * ppm, abs=2 * digit)
