"""Gauge studies against the published example, a second program and simulated gauges."""

import csv
from math import sqrt

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import REFERENCES
from statsmodels.formula.api import ols

from spc.errors import Refused
from spc.statistics.average_range_study import average_range_study, d2_star
from spc.statistics.gauge_layout import GaugeReading
from spc.statistics.gauge_study import gauge_study
from spc.statistics.mean_square_intervals import MeanSquare, mean_square_interval
from spc.statistics.single_appraiser_study import single_appraiser_study

with (REFERENCES / "aiag_gauge_study.csv").open(newline="") as file:
    ROWS = list(csv.DictReader(file))
AIAG = [GaugeReading(row["appraiser"], row["part"], float(row["value"])) for row in ROWS]
PAIRS = "21,20 24,23 20,21 27,27 19,18 23,21 22,21 19,17 24,23 25,23 21,20 18,19 23,25 24,24 29,30 26,26 20,20 19,21"
PAIRS = [[float(value) for value in pair.split(",")] for pair in f"{PAIRS} 25,26 19,19".split()]


def sigmas(study):
    return {each.name: each.sigma for each in study.components}


def readings(values):
    """From an array of parts x appraisers x trials."""
    return [
        GaugeReading(f"A{a}", f"P{p}", float(value))
        for (p, a, _), value in np.ndenumerate(np.asarray(values))
    ]


def test_anova_of_the_aiag_example():
    # AIAG MSA 4th ed. (from memory, equal to the computed); with the interaction pooled F 245.614, 39.6172
    study = gauge_study(AIAG)
    lines = {line.source: line for line in study.anova}
    for source, df, ss in [
        ("part", 9, 88.361934),
        ("appraiser", 2, 3.167262),
        ("interaction", 18, 0.358982),
        ("repeatability", 60, 2.758933),
        ("total", 89, 94.647112),
    ]:
        assert (lines[source].df, lines[source].ss) == (df, pytest.approx(ss, abs=5.1e-7))
    assert lines["part"].f == pytest.approx(245.614, abs=5.1e-4)
    assert lines["appraiser"].f == pytest.approx(39.6172, abs=5.1e-5)
    assert lines["interaction"].f == pytest.approx(0.4337, abs=5.1e-5)
    assert lines["interaction"].p == pytest.approx(0.97411, abs=5.1e-6)
    equipment = lines["repeatability"].ms
    assert lines["appraiser"].ms / equipment == pytest.approx(34.440, abs=5.1e-4)
    assert lines["part"].ms / equipment == pytest.approx(213.517, abs=5.1e-4)
    assert study.interaction_pooled


def test_components_of_the_aiag_example():
    study = gauge_study(AIAG, 4.0)
    for name, variance, sigma, percent in [
        ("repeatability", 0.039973, 0.199933, 18.422),
        ("appraiser", 0.051455, 0.226838, 20.901),
        ("reproducibility", 0.051455, 0.226838, 20.901),
        ("grr", 0.091429, 0.302372, 27.861),
        ("part", 1.086447, 1.042327, 96.041),
        ("total", 1.177875, 1.085300, 100.0),
    ]:
        found = study.component(name)
        assert found.sigma**2 == pytest.approx(variance, abs=5.1e-7)
        assert found.sigma == pytest.approx(sigma, abs=5.1e-7)
        assert found.percent_of_total == pytest.approx(percent, abs=5.1e-4)
        assert found.percent_of_tolerance == pytest.approx(600 * sigma / 4.0, abs=1e-3)
        assert found.low <= found.sigma <= found.high
    # of variance 3.394, 4.368, 7.762, 92.238 (AIAG prints 3.4, 4.4, 7.8, 92.2)
    for name, share in {"repeatability": 3.394, "appraiser": 4.368, "grr": 7.762, "part": 92.238}.items():
        assert study.component(name).percent_of_variance == pytest.approx(share, abs=5.1e-4)
    assert study.ndc_exact == pytest.approx(4.8750, abs=5.1e-5)
    assert study.ndc_exact * 1.41 / sqrt(2) == pytest.approx(4.8605, abs=5.1e-5)
    assert study.ndc == 4


def test_interaction_kept():
    # computed in a second program: negative interaction set to 0; F against the interaction 492.291, 79.4060
    study = gauge_study(AIAG, pool_above=1.0)
    wanted = {
        "repeatability": 0.214435,
        "appraiser": 0.228304,
        "grr": 0.313217,
        "part": 1.043395,
        "total": 1.089393,
    }
    for name, sigma in wanted.items():
        assert sigmas(study)[name] == pytest.approx(sigma, abs=5.1e-7)
    assert study.component("grr").percent_of_total == pytest.approx(28.752, abs=5.1e-4)
    assert study.ndc_exact == pytest.approx(4.7110, abs=5.1e-5)
    lines = {line.source: line for line in study.anova}
    assert lines["part"].f == pytest.approx(492.291, abs=5.1e-4)
    assert lines["appraiser"].f == pytest.approx(79.4060, abs=5.1e-5)
    assert lines["appraiser"].p == pytest.approx(1.17e-9, abs=5.1e-12)
    assert not study.interaction_pooled


def test_anova_agrees_with_a_general_linear_model():
    rng = np.random.default_rng(31)
    values = rng.normal(size=(6, 1, 1)) + 0.5 * rng.normal(size=(6, 4, 1)) + 0.2 * rng.normal(size=(6, 4, 3))
    rows = readings(values)
    data = {
        "y": [row.value for row in rows],
        "a": [row.appraiser for row in rows],
        "p": [row.part for row in rows],
    }
    table = sm.stats.anova_lm(ols("y ~ C(p) * C(a)", pd.DataFrame(data)).fit())
    lines = {line.source: line for line in gauge_study(rows).anova}
    names = {"part": "C(p)", "appraiser": "C(a)", "interaction": "C(p):C(a)", "repeatability": "Residual"}
    for source, name in names.items():
        assert lines[source].ss == pytest.approx(table.loc[name, "sum_sq"], rel=1e-9)
        assert lines[source].df == table.loc[name, "df"]


def test_average_and_range_of_the_aiag_example():
    # AIAG prints (from memory): means 0.1903 0.0683 -0.2543, ranges 0.184 0.513 0.328, EV 0.20188, AV 0.22963,
    # GRR 0.30575, PV 1.10456, TV 1.14610, ndc 5.094; its K1 0.5908, K2 0.5231, K3 0.3146 are rounded, so PV with
    # the exact K3 0.314560 is 1.10445 and GRR 0.30578. The print follows from its own factors.
    study = average_range_study(AIAG)
    assert [mean for _, mean in study.appraiser_means] == pytest.approx(
        [0.190333, 0.068333, -0.254333], abs=5.1e-7
    )
    assert [mean for _, mean in study.appraiser_ranges] == pytest.approx([0.184, 0.513, 0.328], abs=1e-9)
    assert study.mean_range == pytest.approx(0.341667, abs=5.1e-7)
    assert study.appraiser_difference == pytest.approx(0.444667, abs=5.1e-7)
    assert study.part_range == pytest.approx(3.511111, abs=5.1e-7)
    assert study.mean_range * 2.575 == pytest.approx(0.8798, abs=5.1e-5)
    assert study.range_limit == pytest.approx(0.8797, abs=5.1e-5)
    assert (study.k1, study.k2, study.k3) == (
        pytest.approx(0.590818, abs=5.1e-7),
        pytest.approx(0.523138, abs=5.1e-7),
        pytest.approx(0.314560, abs=5.1e-7),
    )
    ev = study.mean_range * 0.5908
    av = sqrt((study.appraiser_difference * 0.5231) ** 2 - ev**2 / 30)
    pv = study.part_range * 0.3146
    assert (ev, av, pv) == (
        pytest.approx(0.20186, abs=5.1e-6),
        pytest.approx(0.22967, abs=5.1e-6),
        pytest.approx(1.10460, abs=5.1e-6),
    )
    assert sqrt(ev**2 + av**2) == pytest.approx(0.30577, abs=5.1e-6)
    assert 1.41 * pv / sqrt(ev**2 + av**2) == pytest.approx(5.0937, abs=5.1e-5)
    named = {"repeatability": 17.61, "reproducibility": 20.04, "grr": 26.68}
    for name, percent in named.items():
        assert study.percent_of_total[name] == pytest.approx(percent, abs=0.0051)
    assert study.percent_of_total["part"] == pytest.approx(96.38, abs=0.0057)  # exact K3: 96.3745
    assert study.part == pytest.approx(1.10456, abs=2e-4)
    assert study.total == pytest.approx(1.14610, abs=2e-4)
    assert study.ndc == 5


def test_factors_of_ranges():
    # K1(2) 0.886227, K1(3) 0.590818, K2(2) 0.707107, K2(3) 0.523138, K3(10) 0.314560: computed
    assert d2_star(2) == pytest.approx(1.414214, abs=5.1e-7)
    assert 1 / d2_star(2) == pytest.approx(0.707107, abs=5.1e-7)
    # by simulation: root mean square of the mean of 4 ranges of 3
    ranges = np.ptp(np.random.default_rng(3).normal(size=(40000, 4, 3)), axis=2).mean(axis=1)
    assert d2_star(3, 4) == pytest.approx(sqrt(np.mean(ranges**2)), rel=0.006)


def test_single_appraiser_of_montgomery():
    # SQC, Table 8.6 (from memory): x-bar 22.3, R-bar 1.0, sigma 0.887, P/T 0.097, s 3.17. The print divides by
    # 1.128; exact d2 gives 0.88623, which rounds to 0.886.
    study = single_appraiser_study(PAIRS, 55.0)
    assert (study.mean, study.mean_range) == (pytest.approx(22.3), pytest.approx(1.0))
    assert study.sigma_gauge == pytest.approx(0.887, abs=0.001)
    assert study.mean_range / 1.128 == pytest.approx(0.88652, abs=5.1e-6)
    assert study.percent_of_tolerance == pytest.approx(9.7, abs=0.051)
    assert study.sigma_total == pytest.approx(3.171993, abs=5.1e-7)
    assert study.sigma_total**2 - (1 / 1.128) ** 2 == pytest.approx(9.2756, abs=5.1e-5)
    assert study.sigma_part**2 == pytest.approx(9.2756, abs=6e-4)
    assert (study.lower, study.upper) == (pytest.approx(20.42, abs=0.0051), pytest.approx(24.18, abs=0.0051))
    assert study.range_upper == pytest.approx(3.267, abs=5.1e-4)
    assert study.parts_told_apart == 10  # the text says most are outside; by these data it is half
    assert study.unsteady_parts == ()


def test_one_appraiser_by_analysis_of_variance():
    study = gauge_study(readings([[pair] for pair in PAIRS]), 55.0)
    assert [line.source for line in study.anova] == ["part", "repeatability", "total"]
    pooled = sqrt(np.mean([np.var(pair, ddof=1) for pair in PAIRS]))
    assert sigmas(study)["repeatability"] == sigmas(study)["grr"] == pytest.approx(pooled)
    assert study.component("reproducibility") is None


def test_interval_of_one_mean_square_is_chi_square():
    # e-Handbook 7.2.3 form: 9 s² / chi-square, 95 %: quantiles 19.0228 and 2.7004
    found = mean_square_interval([MeanSquare(1.0, 43.12, 9)])
    assert (found.low, found.high) == (
        pytest.approx(9 * 43.12 / 19.0228, rel=1e-4),
        pytest.approx(9 * 43.12 / 2.7004, rel=1e-4),
    )


def test_intervals_cover_what_they_should():
    # simulated mean squares of a 10 x 3 x 3 study with known components; 95 % intervals, 2000 studies, se 0.5 %
    part, person, cross, error = 1.0, 0.1, 0.05, 0.04
    rng = np.random.default_rng(2003)
    truths = {"grr": person + cross + error, "part": part, "reproducibility": person + cross}
    hits = dict.fromkeys(truths, 0)
    expected = [error + 3 * cross + 9 * part, error + 3 * cross + 30 * person, error + 3 * cross, error]
    dfs = [9, 2, 18, 60]
    for _ in range(2000):
        p, a, x, e = (
            MeanSquare(1.0, mean * rng.chisquare(df) / df, df) for mean, df in zip(expected, dfs, strict=True)
        )

        def times(factor, term):
            return MeanSquare(factor, term.ms, term.df)

        terms = {
            "grr": [times(1 / 30, a), times(1 / 3 - 1 / 30, x), times(2 / 3, e)],
            "part": [times(1 / 9, p), times(-1 / 9, x)],
            "reproducibility": [times(1 / 30, a), times(1 / 3 - 1 / 30, x), times(-1 / 3, e)],
        }
        for name, truth in truths.items():
            found = mean_square_interval(terms[name])
            hits[name] += found.low <= truth <= found.high
    for name, count in hits.items():
        assert 0.93 <= count / 2000 <= 0.985, name


@given(st.floats(-100, 100), st.floats(0.01, 50), st.randoms(use_true_random=False))
@settings(max_examples=15, deadline=None)
def test_shift_scale_and_order_change_nothing_else(shift, scale, dice):
    plain = gauge_study(AIAG)
    moved = [GaugeReading(row.appraiser, row.part, shift + scale * row.value) for row in AIAG]
    dice.shuffle(moved)
    study = gauge_study(moved)
    for name, sigma in sigmas(plain).items():
        assert sigmas(study)[name] == pytest.approx(scale * sigma, rel=1e-8, abs=1e-9)
    assert study.ndc_exact == pytest.approx(plain.ndc_exact, rel=1e-8)


def test_what_is_no_study_is_refused():
    for wrong, says in [
        ([], "appraisers"),
        (AIAG[:-1], "part 10, appraiser C"),
        (AIAG[:3], "too few parts"),
        ([GaugeReading("A", "1", 1.0), GaugeReading("A", "2", 2.0)], "too few trials"),
        ([*AIAG[:-1], GaugeReading("C", "10", float("nan"))], "not finite"),
        ([GaugeReading(row.appraiser, row.part, 5.0) for row in AIAG], "all readings are equal"),
        ([GaugeReading(row.appraiser, row.part, float(row.part)) for row in AIAG], "every repeat"),
    ]:
        with pytest.raises(Refused, match=says):
            gauge_study(wrong)
    with pytest.raises(Refused, match="tolerance"):
        gauge_study(AIAG, 0.0)
    with pytest.raises(Refused, match="equally often"):
        single_appraiser_study([[1.0, 2.0], [1.0, 2.0, 3.0]])
    with pytest.raises(Refused, match="appraisers"):
        average_range_study(readings(np.arange(12.0).reshape(4, 1, 3)))
    with pytest.raises(Refused, match="confidence"):
        mean_square_interval([MeanSquare(1.0, 1.0, 3)], level=1.0)
