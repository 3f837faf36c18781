"""The worked charts of the books, digit by digit.

Where a book works with factors of three digits, the check puts the same rounded factor to our own centre and spread, so
that the print is met at half a unit of its last digit and not within a slack.
"""

from math import sqrt

import numpy as np
import pytest
from printed_digits import meets, printed
from published_series import CHEMICAL, VISCOSITY
from published_tables import subgroups

from spc.statistics import (
    cusum_limits,
    ewma_limits,
    individuals_limits,
    limits_from_sigma,
    sample_moments,
    summarise_subgroups,
    xbar_r_limits,
    xbar_s_limits,
)
from spc.statistics.within_sigma import moving_ranges, sigma_pooled

RINGS = subgroups("piston_rings")
FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
MOISTURE = [2.9, 3.2, 3.6, 4.3, 3.8, 3.5, 3.0, 3.1, 3.6, 3.5]


def with_three_digits(limits, d2=1.128, d4=3.267):
    """Upper, lower and range limit as the books have them: divisor 1.128, factor 3.267."""
    half = 3.0 * limits.spread_centre / d2
    return limits.centre + half, limits.centre - half, d4 * limits.spread_centre


@pytest.mark.parametrize(
    ("readings", "centre_and_range", "limits", "sigma", "sd_and_median"),
    [
        # NIST e-Handbook 6.3.2.2 (from memory, reproduces the print): 50.81, 1.8778, 55.8041, 45.8159; the reference
        # page's sigma 1.664140 is a slip: 1.8777778/1.1283791671 = 1.664137
        (FLOW, "50.81 1.8777778", "55.8041 45.8159 6.1347", "1.664137", "2.033852 1.5"),
        # Montgomery, SQC, 2nd to 5th edition (from memory, reproduces the print): 33.52, 0.48, 34.80, 32.24, 1.57
        (VISCOSITY, "33.523333 0.480714", "34.8018 32.2448 1.5705", "0.426022", "0.335552 0.4200"),
        # Montgomery & Runger 2003, Table 16-3 (opened): 99.1, 2.59, 105.99, 92.21
        (CHEMICAL, "99.095000 2.589474", "105.9819 92.2081 8.4598", "2.294861", "1.976034 2.6000"),
        # ISO 8258:1991 / ISO 7870-2:2013 (from memory, reproduces the print): 3.45, 0.38, 4.46, 2.44, 1.24
        (MOISTURE, "3.450000 0.377778", "4.4547 2.4453 1.2342", "0.334797", "0.419656 0.4000"),
    ],
    ids=["flow", "viscosity", "chemical", "moisture"],
)
def test_individuals_digit_by_digit(readings, centre_and_range, limits, sigma, sd_and_median):
    found = individuals_limits(readings)
    meets((found.centre, found.spread_centre), centre_and_range)
    meets(with_three_digits(found), limits)
    assert found.sigma_within == printed(sigma)
    meets((sample_moments(readings).sd, np.median(moving_ranges(readings))), sd_and_median)


def test_individuals_in_the_digits_of_the_books():
    flow, viscosity = individuals_limits(FLOW), individuals_limits(VISCOSITY)
    meets((flow.centre, flow.spread_centre, *with_three_digits(flow)[:2]), "50.81 1.8778 55.8041 45.8159")
    meets((viscosity.centre, viscosity.spread_centre), "33.52 0.48")
    meets(with_three_digits(viscosity), "34.80 32.24 1.57")
    chemical = individuals_limits(CHEMICAL)
    meets((chemical.centre, chemical.spread_centre), "99.1 2.59")
    # the print works on from 99.1 and 2.59, rounded: 105.99 and 92.21, where unrounded readings give 105.98 and 92.21
    meets((99.1 + 3 * 2.59 / 1.128, 99.1 - 3 * 2.59 / 1.128), "105.99 92.21")
    moisture = individuals_limits(MOISTURE)
    meets((moisture.centre, moisture.spread_centre), "3.45 0.38")
    # likewise from 0.38 with the factors 2.660 and 3.267
    meets((3.45 + 2.66 * 0.38, 3.45 - 2.66 * 0.38, 3.267 * 0.38), "4.46 2.44 1.24")


def test_piston_rings_digit_by_digit():
    # Montgomery, SQC, Table 6.3 (rows 1-22 opened, 23-25 from memory)
    found = summarise_subgroups(RINGS)
    first = "74.010 74.001 74.008 74.003 74.003 73.996 74.000 73.997 74.004 73.998 73.994 74.001 73.998 73.990 74.006"
    meets(found.means[:16], f"{first} 73.997")
    # the book's sums add what its table prints, rounded: 1850.028, 0.581, 0.2351
    meets((sum(found.ranges), sum(round(sd, 4) for sd in found.sds)), "0.581 0.2351")
    assert sum(round(mean, 3) for mean in found.means) == pytest.approx(1850.028, abs=5.1e-4)
    by_range, by_sd = xbar_r_limits(RINGS), xbar_s_limits(RINGS)
    meets((by_range.centre, by_range.spread_centre, by_sd.spread_centre), "74.001176 0.0232400 0.0093995")
    meets((by_range.centre, by_range.spread_centre, by_sd.spread_centre), "74.001 0.023 0.0094")
    meets((by_range.sigma_within, by_sd.sigma_within), "0.0099917 0.0099996")
    # the page's pooled 0.0100262 and overall 0.0101990 slip: exact decimals give 0.01002577 and 0.01019888
    meets((sigma_pooled(found).sigma, found.overall_sd), "0.01002577 0.01019888")


def test_limits_of_the_piston_rings_with_the_factors_of_the_book():
    found = xbar_r_limits(RINGS), xbar_s_limits(RINGS)
    centre, r_bar, s_bar = found[0].centre, found[0].spread_centre, found[1].spread_centre
    # A2 0.577, D4 2.114, A3 1.427, B4 2.089: the digits that the reference page computes are those of the rounded
    # factors. Its 74.014586 slips by one: 74.001176 + 0.577 x 0.02324 = 74.01458548
    meets((centre + 0.577 * r_bar, centre - 0.577 * r_bar, 2.114 * r_bar), "74.014585 73.987767 0.049129")
    meets((centre + 1.427 * s_bar, centre - 1.427 * s_bar, 2.089 * s_bar), "74.014589 73.987763 0.019636")
    # in print 74.014 and 73.988 both ways, from 74.001, 0.023 and 0.0094 (unrounded they end in 74.015); 0.049; 0.0196
    meets((74.001 + 0.577 * 0.023, 74.001 - 0.577 * 0.023), "74.014 73.988")
    meets((74.001 + 1.427 * 0.0094, 74.001 - 1.427 * 0.0094), "74.014 73.988")
    meets((found[0].spread_upper, found[1].spread_upper), "0.049 0.0196")
    assert found[0].lower == printed("73.988") == found[1].lower


def test_tea_packing_in_print():
    # ISO 8258:1991 clause 12 (from memory): 102.5, 98.7, 3.3, 6.9, A 1.342; more digits computed
    found = limits_from_sigma(100.6, 1.4, 5)
    ends = (found.upper, found.lower, found.spread_centre, found.spread_upper)
    meets(ends, "102.5 98.7 3.3 6.9")
    meets(ends, "102.4783 98.7217 3.2563 6.8854")
    assert (found.upper - 100.6) / 1.4 == printed("1.342")
    assert found.spread_lower == 0.0


def test_limits_of_the_handbook_s_smoothed_chart():
    # NIST e-Handbook 6.3.2.4: 52.5884 and 47.4115. The lower one comes from sqrt(0.3/1.7) rounded to 0.4201, the upper
    # one does not (that would be 52.5885); unrounded 52.588432 and 47.411568, the limits of an endless record
    chart = ewma_limits([[50.0]] * 60, target=50.0, sigma=2.0539, weight=0.3)
    meets((chart.upper[-1], chart.lower[-1]), "52.588432 47.411568")
    assert chart.upper[-1] == printed("52.5884")
    assert printed("47.4115") == 50 - 3 * 2.0539 * 0.4201
    assert sqrt(0.3 / 1.7) == printed("0.4201")


def test_thirty_readings_in_print():
    # Montgomery, SQC, Tables 9.2 and 9.10 (from memory): C+ 5.28 and 5.30; z 9.945, 9.7495; limits 10.27/9.73,
    # 10.36/9.64, 10.62/9.38. The text speaks of a signal at 28 in some printings: 10.5731 is inside 10.6186 there,
    # 29 is the first outside (10.6468 over 10.6187)
    from published_tables import columns

    single = [[x] for x in columns("thirty_individuals")["x"]]
    sums = cusum_limits(single, target=10.0, sigma=1.0)
    meets(sums.high[28:], "5.28 5.30")
    assert sums.high_run[28] == 7
    assert 10 + 0.5 + sums.high[28] / 7 == printed("11.25")
    smoothed = ewma_limits(single, target=10.0, sigma=1.0, weight=0.1, width=2.7)
    meets(smoothed.points[:2], "9.945 9.7495")
    meets(smoothed.upper[:2] + smoothed.lower[:2], "10.27 10.36 9.73 9.64")
    meets((smoothed.upper[-1], smoothed.lower[-1]), "10.62 9.38")
    meets(smoothed.points[27:29] + smoothed.upper[28:29], "10.5731 10.6468 10.6187")
