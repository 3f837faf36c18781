"""Unbiasing constants against computed tables, printed tables and a second derivation."""

from math import pi, sqrt

import mpmath
import numpy as np
import pytest
from published_tables import columns

from spc.errors import Refused
from spc.statistics.constants import c4, d2, d3, d4, median_sd, range_probability
from spc.statistics.factors import control_factors

TABLE = columns("control_chart_constants")

# Printed to 3 digits in ASTM MNL 7 and Montgomery, appendix VI (from memory), n = 2 .. 10;
# A2, A3, B3, B4 also in Pyzdek & Keller (2013), p. 414.
PRINTED = {
    "A2": "1.880 1.023 0.729 0.577 0.483 0.419 0.373 0.337 0.308",
    "A3": "2.659 1.954 1.628 1.427 1.287 1.182 1.099 1.032 0.975",
    "B3": "0 0 0 0 0.030 0.118 0.185 0.239 0.284",
    "B4": "3.267 2.568 2.266 2.089 1.970 1.882 1.815 1.761 1.716",
    "D3": "0 0 0 0 0 0.076 0.136 0.184 0.223",
    "D4": "3.267 2.574 2.282 2.114 2.004 1.924 1.864 1.816 1.777",
}


@pytest.mark.parametrize(("name", "digits"), [("d2", 10), ("d3", 9), ("c4", 10), ("d4", 8)])
def test_constants_meet_the_table_to_its_last_digit(name, digits):
    constant = {"d2": d2, "d3": d3, "c4": c4, "d4": d4}[name]
    for n, value in zip(TABLE["n"], TABLE[name], strict=True):
        assert constant(int(n)) == pytest.approx(value, abs=0.51 * 10**-digits), n


@pytest.mark.parametrize("name", ["A", "A2", "A3", "B3", "B4", "B5", "B6", "D1", "D2", "D3", "D4", "E2"])
def test_factors_meet_the_table_to_its_last_digit(name):
    for n, value in zip(TABLE["n"], TABLE[name], strict=True):
        assert getattr(control_factors(int(n)), name) == pytest.approx(value, abs=0.51e-6), n


@pytest.mark.parametrize("name", PRINTED)
def test_factors_meet_the_printed_tables(name):
    for n, value in enumerate(PRINTED[name].split(), start=2):
        slip = (name, n) == ("D4", 3)  # 2.574591, printed 2.574
        found = getattr(control_factors(n), name)
        assert found == pytest.approx(float(value), abs=6e-4 if slip else 5.1e-4), n


def test_two_pieces_have_closed_forms():
    assert d2(2) == pytest.approx(2 / sqrt(pi), abs=1e-13)
    assert d3(2) == pytest.approx(sqrt(2 - 4 / pi), abs=1e-12)
    assert c4(2) == pytest.approx(sqrt(2 / pi), abs=1e-14)
    assert median_sd(2) == pytest.approx(sqrt(0.5), abs=1e-12)
    assert median_sd(1) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("n", [3, 7, 40])
def test_mean_range_agrees_with_quadrature_in_many_digits(n):
    def inside(x):
        phi = mpmath.ncdf(x)
        return 1 - (1 - phi) ** n - phi**n

    assert d2(n) == pytest.approx(float(mpmath.quad(inside, [-12, -4, 0, 4, 12])), abs=1e-11)


def test_range_probability_has_the_mean_range_as_its_area():
    widths = np.linspace(0.0, 14.0, 7001)
    above = 1.0 - range_probability(widths, 6)
    assert np.trapezoid(above, widths) == pytest.approx(d2(6), abs=1e-6)


def test_median_factor_meets_the_printed_values():
    # A4 of the median chart: 1.187, 0.691, 0.509, 0.412 (computed by a Beta quadrature, printed in 3 digits);
    # 0.796 and 0.549 at n = 4 and 6 are printed (from memory).
    for n, printed in {3: 1.187241, 5: 0.690780, 7: 0.508895, 9: 0.411668}.items():
        assert pytest.approx(printed, abs=0.51e-6) == control_factors(n).A4
    for n, printed in {4: 0.796, 6: 0.549}.items():
        assert pytest.approx(printed, abs=0.51e-3) == control_factors(n).A4


def test_median_and_mean_sd_reach_their_large_sample_values():
    assert median_sd(1001) * sqrt(1001) == pytest.approx(sqrt(pi / 2), abs=1e-3)
    assert c4(100_001) == pytest.approx(1 - 1 / (4 * 100_000), abs=1e-9)


@pytest.mark.parametrize("n", [1, 0, -3])
def test_no_range_of_fewer_than_two_pieces(n):
    for constant in (d2, d3, d4, c4):
        with pytest.raises(Refused, match="at least 2 pieces"):
            constant(n)
