"""Every digit of the printed factor tables, slips of the print named."""

from math import sqrt

import pytest
from printed_digits import meets, printed

from spc.statistics import c4, control_factors, d2, d3, d4, individuals_limits


@pytest.mark.parametrize(
    ("name", "n", "slip", "computed"),
    [
        # last digits carried wrong through the classical tables (ASTM MNL 7; Montgomery, appendix VI; from memory):
        # the computed column is right, each slip lies within 1e-3 of it
        ("D4", 3, 2.574, "2.574591"),
        ("D4", 18, 1.608, "1.608718"),
        ("D4", 19, 1.597, "1.596494"),
        ("D4", 22, 1.566, "1.565469"),
        ("D3", 19, 0.403, "0.403506"),
        ("D3", 22, 0.434, "0.434531"),
        ("D3", 24, 0.451, "0.451601"),
        ("d3", 19, 0.734, "0.733481"),
    ],
)
def test_slips_of_the_classical_tables(name, n, slip, computed):
    found = d3(n) if name == "d3" else getattr(control_factors(n), name)
    assert found == printed(computed)
    assert round(found, 3) != slip
    assert found == pytest.approx(slip, abs=1e-3)


@pytest.mark.parametrize(
    ("n", "constants", "factors"),
    [
        # a Springer text on quality control with R, appendix, Table A.1, p. 286 (opened): d2 d3 c4, A2 D4 B4
        (2, "1.1284 0.8525 0.7979", "1.8800 3.2665 3.2665"),
        (3, "1.6926 0.8884 0.8862", "1.0233 2.5746 2.5682"),
        (4, "2.0588 0.8798 0.9213", "0.7286 2.2821 2.2660"),
    ],
)
def test_four_digits_of_a_printed_table(n, constants, factors):
    meets((d2(n), d3(n), c4(n)), constants)
    found = control_factors(n)
    meets((found.A2, found.D4, found.B4), factors)


def test_closed_forms_of_two_pieces_in_the_digits_printed():
    # 2/sqrt(pi), sqrt(2-4/pi), sqrt(2/pi): exact
    meets((d2(2), d3(2), c4(2)), "1.1283791671 0.8525024664 0.7978845608")


def test_factors_of_single_values():
    # printed 2.660 = 3/1.128, 3.267, 0.954, 3.145 and 3.865. Two computed figures of the reference page slip: it has
    # 3.145077 and 3.864105, but the divisor for two pieces is sqrt 2 times the upper quartile 0.6744897502 of the
    # normal law, so 3.145074 and 3.864129 are right; the print's 3.865 lies a unit off its own third digit
    meets((control_factors(2).E2, control_factors(2).D4), "2.658681 3.266532")
    meets((3 / 1.128, control_factors(2).D4), "2.660 3.267")
    meets((d4(2), 3 / d4(2), (d2(2) + 3 * d3(2)) / d4(2)), "0.95387255 3.145074 3.864129")
    meets((d4(2), 3 / d4(2)), "0.954 3.145")
    assert d4(2) == pytest.approx(sqrt(2) * 0.6744897501960817, rel=1e-12)
    assert (d2(2) + 3 * d3(2)) / d4(2) == pytest.approx(3.865, abs=1e-3)


def test_limits_by_the_median_moving_range_use_these_factors():
    flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    limits = individuals_limits(flow, spread="median")
    median = 1.5  # of the moving ranges 2.0 2.3 1.4 3.5 3.4 1.4 0.2 1.2 1.5
    meets(((limits.upper - limits.centre) / median, limits.spread_upper / median), "3.145074 3.864129")


def test_median_chart_factor_in_print():
    # A4, computed and printed in 3 digits
    found = [control_factors(n).A4 for n in (3, 5, 7, 9)]
    meets(found, "1.187241 0.690780 0.508895 0.411668")
    meets(found, "1.187 0.691 0.509 0.412")


@pytest.mark.parametrize("n", range(2, 26))
def test_definitions_of_the_page(n):
    # A = 3/sqrt n, A2 = 3/(d2 sqrt n), A3 = 3/(c4 sqrt n), E2 = 3/d2; negative lower factors are 0
    found, tail = control_factors(n), 3 * sqrt(1 - c4(n) ** 2)
    wanted = (3 / sqrt(n), 3 / (d2(n) * sqrt(n)), 3 / (c4(n) * sqrt(n)), 3 / d2(n))
    assert pytest.approx(wanted, rel=1e-12) == (found.A, found.A2, found.A3, found.E2)
    assert pytest.approx((max(0, 1 - tail / c4(n)), max(0, c4(n) - tail)), rel=1e-9, abs=1e-12) == (
        found.B3,
        found.B5,
    )
    assert pytest.approx((1 + tail / c4(n), c4(n) + tail), rel=1e-12) == (found.B4, found.B6)
    assert pytest.approx((max(0, d2(n) - 3 * d3(n)), d2(n) + 3 * d3(n)), rel=1e-9, abs=1e-12) == (
        found.D1,
        found.D2,
    )
    assert pytest.approx((found.D1 / d2(n), found.D2 / d2(n)), rel=1e-12) == (found.D3, found.D4)
