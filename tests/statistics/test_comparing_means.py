"""Means and spreads compared: published examples, general-purpose libraries, properties."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_groups import ASSEMBLY, GEARS, PLANTS, SIRSTV, SLEEP, THREE_LEVELS
from scipy import stats
from statsmodels.stats.oneway import anova_oneway

from spc.errors import Refused
from spc.statistics.equal_spreads import bartlett_test, levene_test
from spc.statistics.one_way_anova import one_way_anova
from spc.statistics.pairwise_differences import games_howell, tukey
from spc.statistics.studentized_range_law import studentized_range_point
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.two_means import difference_from_summary, paired_difference, two_means
from spc.statistics.welch_anova import welch_anova

MAVRO = """18 17 18 19 18 17 15 14 15 15 17 18 18 19 19 21 20 16 14 13 13 15 15 16 15 14 13 14 15 14 15 16 15 16 19 20
20 21 22 23 24 25 27 26 26 26 27 26 25 24"""


def test_three_levels_of_the_handbook():
    # NIST 7.4.3: SS 27.897 / 17.452 / 45.349, MS 13.949 / 1.454, correction 779.041, F 9.59 (9.591107 computed)
    found = one_way_anova(THREE_LEVELS)
    between, within, total = found.lines
    assert (between.df, within.df, total.df) == (2, 12, 14)
    assert (between.ss, within.ss, total.ss) == pytest.approx((27.8973, 17.4520, 45.3493), abs=5.1e-5)
    assert (between.ms, within.ms) == pytest.approx((13.949, 1.454), abs=5.1e-4)
    assert found.correction == pytest.approx(779.041, abs=5.1e-4)
    assert (found.f, found.p) == (pytest.approx(9.591107, abs=5.1e-7), pytest.approx(0.0032482, abs=5.1e-8))


def test_sirstv_is_met_to_twelve_digits():
    # NIST StRD, certified
    found = one_way_anova(SIRSTV)
    between, within, _ = found.lines
    assert between.ss == pytest.approx(5.11462616000000e-02, rel=1e-12)
    assert between.ms == pytest.approx(1.27865654000000e-02, rel=1e-12)
    assert within.ss == pytest.approx(2.16636560000000e-01, rel=1e-12)
    assert within.ms == pytest.approx(1.08318280000000e-02, rel=1e-12)
    assert found.f == pytest.approx(1.18046237440255, rel=1e-12)
    assert found.r_squared == pytest.approx(1.90999039051129e-01, rel=1e-12)
    assert found.residual_sd == pytest.approx(1.04076068334656e-01, rel=1e-12)


def test_univariate_sets_of_nist_strd():
    # certified sd: Mavro 0.000429123454003053 (mean 2.001856), NumAcc1 1, NumAcc3 and NumAcc4 0.1. The last two
    # are not representable in binary: 9 and 8 digits are what any double arithmetic can reach (reference page).
    mavro = summarise_subgroups([[2 + int(k) / 10000 for k in MAVRO.split()]], least_subgroups=1)
    assert mavro.pieces == 50
    assert mavro.mean == pytest.approx(2.001856, rel=1e-15)
    assert mavro.overall_sd == pytest.approx(0.000429123454003053, rel=1e-12)
    assert summarise_subgroups([[10000001, 10000003, 10000002]], least_subgroups=1).overall_sd == 1.0
    for base, digits in ((1000000, 1e-9), (10000000, 1e-8)):
        values = [base + 0.2, *([base + 0.1, base + 0.3] * 500)]
        found = summarise_subgroups([values], least_subgroups=1)
        assert found.mean == pytest.approx(base + 0.2, rel=1e-15)
        assert found.overall_sd == pytest.approx(0.1, rel=digits)


def test_gear_batches():
    # NIST 1.3.5.4/7/10: batch SS 0.000729, residual 0.003174, F 2.2969 (p 0.022661), mean 0.9976400, Bartlett 20.785874
    # (computed ...873), Levene with medians 1.705910; its sixth digit is a slip (computed 1.705918)
    found = one_way_anova(GEARS)
    assert found.mean == pytest.approx(0.9976400, abs=5.1e-8)
    assert sqrt(found.lines[2].ss / 99) == pytest.approx(0.6278908e-2, abs=3.5e-9)
    assert (found.lines[0].ss, found.lines[1].ss) == pytest.approx((0.000729, 0.003174), abs=5.1e-7)
    assert (found.f, found.p) == (pytest.approx(2.296912, abs=5.1e-7), pytest.approx(0.022661, abs=5.1e-7))
    sds = [0.00435, 0.00522, 0.00398, 0.00385, 0.00758, 0.00989, 0.00788, 0.00363, 0.00414, 0.00533]
    assert found.sds == pytest.approx(sds, abs=5.1e-6)
    # chi-square of section 1.3.5.8: 0.3903044 printed, 0.390304 computed; print and sd carry single precision
    assert found.lines[2].ss / 0.1**2 == pytest.approx(0.390304, abs=5.1e-7)
    bartlett, levene, means = bartlett_test(GEARS), levene_test(GEARS), levene_test(GEARS, "mean")
    assert bartlett.statistic == pytest.approx(20.785874, abs=1.1e-6)
    assert bartlett.p == pytest.approx(0.0136359, abs=5.1e-8)
    assert levene.statistic == pytest.approx(1.705918, abs=5.1e-7)
    assert levene.statistic == pytest.approx(1.705910, abs=1e-5)
    assert levene.p == pytest.approx(0.0990830, abs=5.1e-8)
    assert means.statistic == pytest.approx(2.159460, abs=5.1e-7)


def test_assembly_times():
    # NIST 7.3.1: means 36.0909, 32.2222, t 2.269 on 15.5; pooled 2.135334, 0.046730 (computed)
    plain = one_way_anova(ASSEMBLY)
    assert plain.means == pytest.approx((36.0909, 32.2222), abs=5.1e-5)
    assert plain.sds == pytest.approx((4.9082, 2.5386), abs=5.1e-5)
    assert (plain.sds[0] / plain.sds[1]) ** 2 == pytest.approx(3.738245, abs=5.1e-7)
    welch, pooled = two_means(*ASSEMBLY), two_means(*ASSEMBLY, spread="equal")
    assert (welch.t, welch.df) == (pytest.approx(2.269373, abs=5.1e-7), pytest.approx(15.532514, abs=5.1e-7))
    assert welch.p == pytest.approx(0.037879, abs=5.1e-7)
    assert (pooled.t, pooled.p) == (pytest.approx(2.135334, abs=5.1e-7), pytest.approx(0.046730, abs=5.1e-7))
    assert plain.f == pytest.approx(pooled.t**2, rel=1e-12)
    assert welch_anova(ASSEMBLY).f == pytest.approx(welch.t**2, rel=1e-12)


def test_car_mileage_from_its_summary():
    # NIST 1.3.5.3 (from memory): pooled t -12.62059 (326 df), unequal -12.94627 (136.8750 df)
    cars = (249, 20.14458, 6.414700), (79, 30.48101, 6.107710)
    pooled, welch = difference_from_summary(*cars, spread="equal"), difference_from_summary(*cars)
    assert (pooled.t, pooled.df) == (pytest.approx(-12.62059, abs=5.1e-6), 326)
    assert (welch.t, welch.df) == (
        pytest.approx(-12.946268, abs=5.1e-7),
        pytest.approx(136.874990, abs=5.1e-7),
    )


def test_sleep():
    # R's sleep: Welch t -1.860813, df 17.776474, p 0.0793941; paired t -4.062128, p 0.00283289 (from memory, computed)
    welch, paired = two_means(*SLEEP), paired_difference(*SLEEP)
    assert (welch.t, welch.df) == (pytest.approx(-1.860813, abs=5.1e-7), pytest.approx(17.776474, abs=5.1e-7))
    assert welch.p == pytest.approx(0.0793941, abs=5.1e-8)
    assert (paired.t, paired.p) == (
        pytest.approx(-4.062128, abs=5.1e-7),
        pytest.approx(0.00283289, abs=5.1e-9),
    )


def test_plant_growth():
    # R's PlantGrowth: F 4.846088, p 0.0159100; Tukey trt2-trt1 0.865 (0.174 .. 1.556), p 0.012 (from memory)
    found = one_way_anova(PLANTS)
    assert (found.f, found.p) == (pytest.approx(4.846088, abs=5.1e-7), pytest.approx(0.0159100, abs=5.1e-8))
    pair = tukey(PLANTS)[2]
    assert (pair.first, pair.second, pair.shown) == (1, 2, True)
    assert (pair.difference, pair.low, pair.high) == pytest.approx((0.865, 0.174, 1.556), abs=5.1e-4)
    assert pair.p == pytest.approx(0.012, abs=5.1e-4)


@pytest.mark.parametrize("groups", [PLANTS, GEARS[:4], [[1.0, 2.0, 4.5], [2.0, 2.5, 3.1, 9.0], [0.1, 0.4]]])
def test_second_opinions(groups):
    # scipy and statsmodels as independent programs
    assert one_way_anova(groups).f == pytest.approx(stats.f_oneway(*groups).statistic, rel=1e-9)
    welch = anova_oneway(groups, use_var="unequal")
    assert (welch_anova(groups).f, welch_anova(groups).p) == pytest.approx(
        (welch.statistic, welch.pvalue), rel=1e-8
    )
    assert bartlett_test(groups).p == pytest.approx(stats.bartlett(*groups).pvalue, rel=1e-8)
    honest, own = stats.tukey_hsd(*groups), stats.tukey_hsd(*groups, equal_var=False)
    for found, other in ((tukey(groups), honest), (games_howell(groups), own)):
        interval = other.confidence_interval()
        for pair in found:
            assert pair.p == pytest.approx(other.pvalue[pair.second, pair.first], abs=1e-7)
            ends = interval.low[pair.second, pair.first], interval.high[pair.second, pair.first]
            assert (pair.low, pair.high) == pytest.approx(ends, rel=1e-6)


@pytest.mark.parametrize(("means", "df"), [(3, 1), (3, 2.5), (5, 25), (10, 90)])
def test_studentized_range(means, df):
    # scipy as an independent program; q(0.95; 3, 10) = 3.877, (5, 20) = 4.232 in printed tables (from memory)
    point = studentized_range_point(0.95, means, float(df))
    assert stats.studentized_range.sf(point, means, df) == pytest.approx(0.05, abs=1e-7)
    assert studentized_range_point(0.95, 3, 10.0) == pytest.approx(3.877, abs=5.1e-4)
    assert studentized_range_point(0.95, 5, 20.0) == pytest.approx(4.232, abs=5.1e-4)
    t = stats.t.isf(0.025, df)
    assert studentized_range_point(0.95, 2, float(df)) == pytest.approx(t * sqrt(2), rel=1e-9)


def test_intervals_of_all_pairs_hold_together():
    # 300 sets of four equal groups: no pair shown in 95 % of them, se 1.3 %
    rng = np.random.default_rng(1953)
    quiet = [not any(pair.shown for pair in tukey(rng.normal(size=(4, 5)))) for _ in range(300)]
    assert np.mean(quiet) == pytest.approx(0.95, abs=0.04)


@given(st.floats(-50, 50), st.floats(0.01, 100))
@settings(max_examples=10, deadline=None)
def test_shift_and_scale(shift, scale):
    moved = [[shift + scale * value for value in group] for group in PLANTS]
    assert one_way_anova(moved).f == pytest.approx(one_way_anova(PLANTS).f, rel=1e-7)
    assert levene_test(moved).p == pytest.approx(levene_test(PLANTS).p, rel=1e-7)
    assert two_means(*moved[:2]).low == pytest.approx(scale * two_means(*PLANTS[:2]).low, rel=1e-6)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: one_way_anova([[1.0, 2.0]]), "too few groups"),
        (lambda: one_way_anova([[1.0], [2.0]]), "no group shows any spread"),
        (lambda: one_way_anova([[1.0, 1.0], [2.0, 2.0]]), "no group shows any spread"),
        (lambda: one_way_anova([[1.0, float("inf")], []]), "not finite.*too few values"),
        (lambda: welch_anova([[1.0, 2.0], [3.0]]), "spread of its own"),
        (lambda: games_howell([[1.0, 2.0], [3.0, 3.0]]), "spread of its own"),
        (lambda: bartlett_test([[1.0, 2.0], [3.0, 3.0]]), "Levene"),
        (lambda: levene_test([[1.0], [3.0, 4.0]]), "too few values"),
        (lambda: two_means([1.0, 1.0], [2.0, 2.0]), "no spread"),
        (lambda: two_means([1.0, 1.5], [2.0, 2.0], level=0.0), "confidence"),
        (lambda: tukey(PLANTS, level=1.5), "confidence"),
        (lambda: paired_difference([1.0, 2.0], [1.0]), "as many"),
    ],
)
def test_what_cannot_be_compared_is_refused(wrong, says):
    with pytest.raises(Refused, match=says):
        wrong()


@pytest.mark.parametrize(
    ("first", "says"),
    [
        ((1, 10.0, 0.1), "two values or more"),
        ((20, float("nan"), 0.1), "not a mean and a spread"),
        ((20, 10.0, -0.1), "not a mean and a spread"),
        ((0, 10.0, float("inf")), "two values or more.*not a mean"),
    ],
)
def test_summaries_that_no_values_have_are_refused(first, says):
    with pytest.raises(Refused, match=says):
        difference_from_summary(first, (20, 10.0, 0.1))
