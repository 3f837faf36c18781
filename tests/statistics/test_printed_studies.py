"""Gauge studies, short runs, acceptance limits and thermal length, digit by digit of what is printed."""

import csv
from math import sqrt

import pytest
from printed_digits import meets, printed
from published_groups import DYESTUFF, RAIL
from published_tables import REFERENCES

from spc.geometry import size_at_20
from spc.statistics import (
    GaugeReading,
    acceptance_limit,
    average_range_study,
    deviation_chart,
    gauge_study,
    guard_zone,
    modified_limits,
    single_appraiser_study,
    summarise_subgroups,
    trend_line,
    variance_components,
)
from spc.statistics.average_range_study import d2_star
from spc.statistics.constants import d2, d3

with (REFERENCES / "aiag_gauge_study.csv").open(newline="") as file:
    AIAG = [GaugeReading(row["appraiser"], row["part"], float(row["value"])) for row in csv.DictReader(file)]


def test_factors_of_one_range_and_many():
    # AIAG MSA, appendix C: d2* = sqrt(d2^2 + d3^2/g); K1 = 1/d2, K2 and K3 = 1/d2* of one range (computed)
    meets([d2_star(m) for m in (2, 3, 10)], "1.414214 1.911540 3.179045")
    meets([1 / d2(m) for m in (2, 3)], "0.886227 0.590818")
    meets([1 / d2_star(m) for m in (2, 3, 10)], "0.707107 0.523138 0.314560")
    for g in (1, 4, 30):
        assert d2_star(3, g) == pytest.approx(sqrt(d2(3) ** 2 + d3(3) ** 2 / g), rel=1e-12)


def test_average_and_range_in_the_digits_of_aiag():
    # AIAG MSA, 4th ed., figures III-B 15 and 16 (from memory), worked there from rounded figures and factors
    found = average_range_study(AIAG)
    means, ranges = ([value for _, value in each] for each in (found.appraiser_means, found.appraiser_ranges))
    meets(means, "0.1903 0.0683 -0.2543")
    meets(ranges, "0.184 0.513 0.328")
    meets((found.mean_range, found.part_range), "0.3417 3.511")
    # X-diff is the difference of the rounded means, 0.4446; unrounded 0.444667 ends in 0.4447
    assert printed("0.4446") == 0.1903 - -0.2543
    assert found.appraiser_difference == printed("0.444667")
    assert printed("0.8816") == 0.3417 * 2.58
    ev, pv = 0.3417 * 0.5908, 3.511 * 0.3146
    av = sqrt((0.4446 * 0.5231) ** 2 - ev**2 / 30)
    grr = sqrt(0.20188**2 + 0.22963**2)
    meets((ev, av, pv), "0.20188 0.22963 1.10456")
    # GRR 0.30575 and TV 1.14610 from the printed EV, AV and PV (0.305756 is cut, not rounded)
    assert grr == pytest.approx(0.30575, abs=1e-5)
    tv = sqrt(0.30575**2 + 1.10456**2)
    assert tv == printed("1.14610")
    meets((100 * 0.22963 / tv, 100 * 0.30575 / tv), "20.04 26.68")
    # 17.62 and 96.38 in print: 0.20188/1.14610 is 17.6145 and 1.10456/1.14610 is 96.3755. 17.62 is a slip of one
    meets((100 * 0.20188 / tv, 100 * 1.10456 / tv), "17.61 96.38")
    assert printed("5.094") == 1.41 * 1.10456 / 0.30575


def test_average_and_range_of_unrounded_inputs_with_the_factors_of_the_page():
    found = average_range_study(AIAG)
    meets([value for _, value in found.appraiser_means], "0.190333 0.068333 -0.254333")
    meets((found.mean_range, found.part_range), "0.341667 3.511111")
    ev, pv = found.mean_range * 0.5908, found.part_range * 0.3146
    av = sqrt((found.appraiser_difference * 0.5231) ** 2 - ev**2 / 30)
    grr = sqrt(ev**2 + av**2)
    tv = sqrt(grr**2 + pv**2)
    meets((ev, av, grr, pv, tv), "0.20186 0.22967 0.30577 1.10460 1.14613")
    meets([100 * each / tv for each in (ev, av, grr, pv)], "17.61 20.04 26.68 96.38")
    assert found.mean_range * 2.575 == printed("0.8798")


def test_mean_squares_and_chances_of_aiag():
    # computed = from memory
    kept = {line.source: line for line in gauge_study(AIAG, pool_above=1.0).anova}
    names = ("appraiser", "part", "interaction", "repeatability")
    meets([kept[name].ms for name in names], "1.583631 9.817993 0.019943 0.045982")
    meets([kept[name].f for name in names[:2]], "79.4060 492.291")
    assert kept["appraiser"].p == printed("1.17e-9")
    assert kept["part"].p == printed("1.2e-19")
    squares = kept["interaction"].ss + kept["repeatability"].ss
    freedom = kept["interaction"].df + kept["repeatability"].df
    assert freedom == 78
    assert squares / freedom == printed("0.039973")
    assert gauge_study(AIAG).component("repeatability").sigma ** 2 == printed("0.039973")
    # AIAG prints the shares of variance as 3.4, 4.4, 7.8, 92.2
    pooled = gauge_study(AIAG)
    shares = [
        pooled.component(name).percent_of_variance for name in ("repeatability", "appraiser", "grr", "part")
    ]
    meets(shares, "3.4 4.4 7.8 92.2")
    meets(shares, "3.394 4.368 7.762 92.238")


def test_single_appraiser_in_the_digits_of_the_book():
    # Montgomery, SQC, Table 8.6 (from memory): 22.3, 1.0, 0.887, 0.097, 3.17; the divisor there is 1.128
    pairs = "21,20 24,23 20,21 27,27 19,18 23,21 22,21 19,17 24,23 25,23 21,20 18,19 23,25 24,24 29,30 26,26 20,20"
    parts = [[float(value) for value in pair.split(",")] for pair in f"{pairs} 19,21 25,26 19,19".split()]
    found = single_appraiser_study(parts, 55.0)
    meets((found.mean, found.mean_range, found.sigma_total), "22.3 1.0 3.17")
    gauge = found.mean_range / 1.128
    meets((gauge, 6 * gauge / 55), "0.887 0.097")
    meets((gauge, found.sigma_total**2, found.sigma_total**2 - gauge**2), "0.88652 10.061538 9.2756")
    # 6 x 0.88652 / 55 = 0.096712 where the divisor is 1.128; exact d2 gives 0.096679
    meets((6 * gauge / 55, found.percent_of_tolerance / 100), "0.096712 0.096679")
    meets((found.upper, found.lower, found.range_upper), "24.18 20.42 3.267")


def test_random_batches_in_print():
    # Dyestuff: lme4 prints 42.00, 49.51, 1527.5; Rail: nlme prints 24.805, 4.0208, 66.5 (REML)
    dyes, rail = variance_components(DYESTUFF, "reml"), variance_components(RAIL, "reml")
    meets((dyes.between, dyes.within, dyes.mean), "42.00 49.51 1527.5")
    meets((rail.between, rail.within, rail.mean), "24.805 4.0208 66.5")


def test_short_run_of_the_course_notes_digit_by_digit():
    # after Montgomery, SQC, section 10.1 (opened): means, ranges and their means by part
    rows = (
        "7 9 10 11; 9 9 9 11; 7 10 11 8; 14 15 17 17; 14 16 16 16; 15 17 15 17; 17 17 16 16; 16 17 15 16; 1 2 2 3;"
        "3 2 2 3; 3 3 2 1; 2 2 1 3"
    )
    checks = [[float(each) for each in row.split()] for row in rows.split(";")]
    found = summarise_subgroups(checks)
    meets(found.means, "9.25 9.5 9.0 15.75 15.5 16.0 16.5 16.0 2.0 2.5 2.25 2.0")
    meets(found.ranges, "4 2 4 3 2 2 1 2 2 1 2 2")
    chart = deviation_chart(["A"] * 3 + ["B"] * 5 + ["C"] * 4, checks, {"A": 9.5, "B": 15.5, "C": 2.0})
    meets((chart.centre, chart.spread_centre), "0.1875 2.25")
    half = 0.729 * chart.spread_centre  # the rounded A2 and D4 of the notes
    meets((chart.centre + half, chart.centre - half, 2.282 * chart.spread_centre), "1.82775 -1.45275 5.1345")


def test_modified_and_acceptance_limits_of_the_process_notes():
    # Montgomery, SQC, exercise (opened): 40 +/- 8, sigma 2, n 5; answers 44.50 and 35.50 (from memory), recomputed
    three, two = (modified_limits(32.0, 48.0, 2.0, 5, 0.001, width=width) for width in (3.0, 2.0))
    meets((three.upper, three.lower), "44.50 35.50")
    meets((three.upper, three.lower, two.upper, two.lower), "44.503 35.497 43.608 36.392")
    # gamma 0.05, power 0.95: 43.239 and 36.761: the limit that lies z_beta sigma/sqrt n inside the rejectable mean
    z = 1.6448536269514722
    found = acceptance_limit(40.0, 48.0 - z * 2.0, 2.0, 0.05, 0.05, n=5)
    low = acceptance_limit(40.0, 32.0 + z * 2.0, 2.0, 0.05, 0.05, n=5)
    meets((found.from_rejectable, low.from_rejectable), "43.239 36.761")
    # n for delta 0.01, alpha 0.00135, gamma 0.05, beta 0.20: 31.78, so 32 (a textbook's rounding gives 31.43, 32 too)
    levels = (8.0 - 2.3263478740408408, 8.0 - z)
    planned = acceptance_limit(*levels, 1.0, 0.00135, 0.20)
    assert planned.exact_n == printed("31.78")
    assert planned.n == 32


@pytest.mark.parametrize(
    ("m", "factor"),
    [(5, "0.3162"), (8, "0.1543"), (12, "0.0836"), (16, "0.0542"), (24, "0.0295"), (40, "0.0137")],
)
def test_standard_error_of_a_slope_of_equally_spaced_checks(m, factor):
    # process notes 4.1 (own arithmetic): SE(b) = sx sqrt(12/(m(m^2-1))) a check
    line = trend_line(range(m), [float(each % 3) for each in range(m)])
    assert line.slope_error / line.residual_sd == printed(factor)
    assert line.slope_error / line.residual_sd == pytest.approx(sqrt(12 / (m * (m * m - 1))), rel=1e-12)


def test_when_a_drift_of_the_demo_is_sure():
    # process notes 4.1: 0.36 um/h with sx = 1.02: t = 2.3 after 8 checks, 6.5 after 16
    for m, t in ((8, "2.3"), (16, "6.5")):
        assert 0.36 / (1.02 * sqrt(12 / (m * (m * m - 1)))) == printed(t)


def test_guard_zones_in_print():
    # ISO 14253-1 (from memory); constructed example: 9.950 to 10.050, u 0.003; z 1.644854
    zone = guard_zone(None, 1.0, 1.0, level=0.95)
    assert 1.0 - zone.in_high == printed("1.644854")
    for coverage, ends in ((2.0, "9.956 10.044"), (1.65, "9.95495 10.04505")):
        found = guard_zone(9.950, 10.050, 0.003, coverage=coverage)
        meets((found.in_low, found.in_high), ends)
    found = guard_zone(9.950, 10.050, 0.003)
    meets((found.in_low, found.in_high), "9.954935 10.045065")


def test_growth_with_temperature():
    # ISO 1:2016 (opened) and L20 = L (1 - alpha (T - 20)); steel 11.5e-6 per kelvin (ISO 3650, from memory); computed
    grown = [
        1000.0 * size_at_20(length, part_c=20.0 + warmer, master_c=20.0).taken_off_mm
        for length, warmer in ((100.0, 5.0), (50.0, -3.0), (300.0, 1.0))
    ]
    meets(grown, "5.750 -1.725 3.450")
    # standard uncertainties: u(alpha) = 1e-6/sqrt 3 over 100 mm and 5 K, u(T) = 0.5 K over 100 mm
    base = size_at_20(100.0, part_c=25.0, master_c=20.0).size_mm
    other = size_at_20(100.0, part_c=25.0, master_c=20.0, part_per_k=12.5e-6).size_mm
    warmer = size_at_20(100.0, part_c=26.0, master_c=20.0).size_mm
    meets((1000.0 * (base - other) / sqrt(3), 1000.0 * (base - warmer) * 0.5), "0.28868 0.5750")
