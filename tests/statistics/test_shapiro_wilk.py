"""Shapiro-Wilk and the probability plot against published values."""

from math import asin, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed_digits import printed
from published_series import CHEMICAL, VISCOSITY, WEIGHTS
from published_tables import columns, subgroups
from scipy.stats import beta

from spc.errors import Refused
from spc.statistics.normality import anderson_darling
from spc.statistics.probability_plot import median_ranks, probability_plot
from spc.statistics.shapiro_wilk import shapiro_wilk


def flat(name):
    return [value for row in subgroups(name) for value in row]


@pytest.mark.parametrize(
    ("readings", "w", "p"),
    [
        # computed with a general library on published data; W = 0.79, p under 0.01 for the weights is printed
        (WEIGHTS, 0.788815, "0.00670381"),
        (flat("nist_gear_diameters"), 0.962243, "0.00582975"),
        (VISCOSITY, 0.949776, "0.520932"),
        (CHEMICAL, 0.950719, "0.378135"),
        (columns("thirty_individuals")["x"], 0.966377, "0.445358"),
        (flat("piston_rings"), 0.993202, "0.809273"),
    ],
)
def test_w_and_p_on_published_data(readings, w, p):
    test = shapiro_wilk(readings)
    assert test.statistic == pytest.approx(w, abs=5.1e-7)
    assert test.p == printed(p)
    assert test.n == len(readings)


def test_anderson_darling_of_the_chemical_data():
    # computed with a general library
    test = anderson_darling(CHEMICAL)
    assert (test.statistic, test.adjusted, test.p) == pytest.approx(
        (0.398356, 0.415535, 0.333317), abs=5.1e-7
    )


@pytest.mark.parametrize(
    ("a_star", "p"), [(0.63123, 0.10), (0.75319, 0.05), (0.87525, 0.025), (1.03676, 0.01)]
)
def test_p_pieces_agree_with_the_table_of_percentage_points(a_star, p):
    # D'Agostino & Stephens 1986: Table 4.9 (pieces) against Table 4.7 (points), from memory
    from spc.statistics.normality import chance_of

    assert chance_of(a_star) == pytest.approx(p, rel=2e-4)


def test_w_of_three_is_the_exact_ratio():
    # derivation: for n = 3 the weights are 1/sqrt 2 and p = 6/pi (asin sqrt W - asin sqrt 0.75)
    x = [1.0, 2.0, 4.5]
    w = (x[2] - x[0]) ** 2 / 2.0 / sum((v - np.mean(x)) ** 2 for v in x)
    test = shapiro_wilk(x)
    assert test.statistic == pytest.approx(w, rel=1e-9)
    assert test.p == pytest.approx(6.0 / pi * (asin(sqrt(w)) - asin(sqrt(0.75))), rel=1e-6)


def test_w_by_the_printed_weights():
    # Shapiro & Wilk 1965, Table 5, n = 11 (from memory)
    a = np.array([0.5601, 0.3315, 0.2260, 0.1429, 0.0695])
    x = np.array(WEIGHTS, dtype=float)
    w = float(a @ (x[::-1][:5] - x[:5])) ** 2 / float(np.sum((x - x.mean()) ** 2))
    assert shapiro_wilk(WEIGHTS).statistic == pytest.approx(w, abs=1e-3)


def test_false_alarms_come_as_often_as_p_says():
    draws = np.random.default_rng(9).standard_normal((1500, 20))
    p = np.array([shapiro_wilk(row).p for row in draws])
    assert np.mean(p < 0.05) == pytest.approx(0.05, abs=0.018)


@given(st.lists(st.integers(-99, 99), min_size=5, max_size=30).filter(lambda v: len(set(v)) > 2))
def test_both_are_blind_to_order_shift_and_scale(values):
    moved = [0.5 * value - 3000 for value in reversed(values)]
    assert shapiro_wilk(moved).statistic == pytest.approx(shapiro_wilk(values).statistic, abs=1e-6)
    assert probability_plot(moved).correlation == pytest.approx(
        probability_plot(values).correlation, abs=1e-9
    )


def test_median_ranks_are_medians_of_order_statistics():
    # derivation: the i-th of n uniform values has a beta(i, n+1-i) distribution
    n = 12
    exact = beta.ppf(0.5, np.arange(1, n + 1), np.arange(n, 0, -1))
    assert median_ranks(n) == pytest.approx(exact, abs=4e-4)
    assert median_ranks(n)[[0, -1]] == pytest.approx(exact[[0, -1]], abs=1e-12)


def test_plot_is_straight_for_normal_quantiles():
    scores = probability_plot(list(range(25))).scores
    plot = probability_plot(5.0 + 2.0 * scores)
    assert plot.correlation == pytest.approx(1.0, abs=1e-12)
    assert plot.mean == pytest.approx(5.0)
    with pytest.raises(ValueError, match="read-only"):
        plot.scores[0] = 1.0


@pytest.mark.parametrize(
    ("readings", "says"),
    [([1.0, 2.0], "too few"), ([1.0] * 8, "all equal"), (list(range(5001)), "too many")],
)
def test_what_cannot_be_tested_is_refused(readings, says):
    with pytest.raises(Refused, match=says):
        shapiro_wilk(readings)
