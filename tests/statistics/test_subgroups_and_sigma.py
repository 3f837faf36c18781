"""Summaries of subgroups, their refusals, and sigma within them."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import columns, subgroups

from spc.errors import Refused
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.within_sigma import (
    effective_freedom,
    moving_ranges,
    sigma_from_mean_range,
    sigma_from_mean_sd,
    sigma_from_moving_range,
    sigma_pooled,
)

RINGS = subgroups("piston_rings")


def test_piston_rings_have_the_published_sums():
    # Montgomery, SQC, Table 6.3: sums of means, ranges and standard deviations.
    summaries = summarise_subgroups(RINGS)
    # the book adds the rounded means and deviations of its table
    assert sum(round(mean, 3) for mean in summaries.means) == pytest.approx(1850.028, abs=5.1e-4)
    assert sum(summaries.ranges) == pytest.approx(0.581, abs=5e-4)
    assert sum(round(sd, 4) for sd in summaries.sds) == pytest.approx(0.2351, abs=5.1e-5)


def test_piston_rings_sigma_three_ways():
    # computed with numpy beside the published data
    summaries = summarise_subgroups(RINGS)
    assert sigma_from_mean_range(summaries).sigma == pytest.approx(0.0099917, abs=5e-8)
    assert sigma_from_mean_sd(summaries).sigma == pytest.approx(0.0099996, abs=5e-8)
    assert sigma_pooled(summaries).sigma == pytest.approx(0.0100258, abs=5e-8)
    assert summaries.overall_sd == pytest.approx(0.0101989, abs=5e-8)


def test_gear_diameters_meet_the_handbook():
    # NIST e-Handbook 1.3.5.8: mean 0.9976400, sd 0.6278908E-02; 1.3.5.4: residual SS 0.003174 with 90 df.
    summaries = summarise_subgroups(subgroups("nist_gear_diameters"))
    pooled = sigma_pooled(summaries)
    assert summaries.mean == pytest.approx(0.9976400, abs=5e-8)
    assert summaries.overall_sd == pytest.approx(0.006278908, abs=5e-9)  # single precision there
    assert pooled.freedom == 90
    assert pooled.sigma**2 * 90 == pytest.approx(0.003174, abs=5e-7)
    printed = [0.00435, 0.00522, 0.00398, 0.00385, 0.00758, 0.00989, 0.00788, 0.00363, 0.00414, 0.00533]
    assert summaries.sds == pytest.approx(printed, abs=5.1e-6)


@pytest.mark.parametrize(
    ("n", "freedom"),
    [(2, 1.0), (3, 2.0), (4, 2.9), (5, 3.8), (6, 4.7), (7, 5.5), (8, 6.3), (9, 7.0), (10, 7.7)],
)
def test_freedom_of_one_range_meets_the_printed_table(n, freedom):
    # degrees of freedom of a single range, Duncan, Quality Control and Industrial Statistics (from memory)
    one = sigma_from_mean_range(summarise_subgroups([list(range(n))], least_subgroups=1))
    assert one.freedom == pytest.approx(freedom, abs=0.051)


def test_freedom_of_one_standard_deviation_is_its_own():
    one = sigma_from_mean_sd(summarise_subgroups([[1.0, 2.0, 4.0, 4.5]], least_subgroups=1))
    assert one.freedom == pytest.approx(3.0, abs=1e-9)


def test_freedom_of_moving_ranges_meets_simulation():
    draws = np.random.default_rng(20).standard_normal((40_000, 25))
    means = np.abs(np.diff(draws, axis=1)).mean(axis=1)
    simulated = effective_freedom(means.var() / means.mean() ** 2)
    assert sigma_from_moving_range(list(range(25))).freedom == pytest.approx(simulated, rel=0.03)


def test_unequal_subgroups_give_an_unbiased_sigma():
    rng = np.random.default_rng(4)
    estimates = []
    for _ in range(2000):
        groups = [list(rng.standard_normal(n)) for n in (2, 5, 3, 8)]
        summaries = summarise_subgroups(groups)
        estimates.append((sigma_from_mean_range(summaries).sigma, sigma_from_mean_sd(summaries).sigma))
    assert np.mean(estimates, axis=0) == pytest.approx([1.0, 1.0], abs=0.02)


def test_subgroups_of_one_piece_are_passed_over_by_ranges():
    with_single = summarise_subgroups([[1.0, 2.0], [9.0], [1.0, 3.0]])
    without = summarise_subgroups([[1.0, 2.0], [1.0, 3.0]])
    assert sigma_from_mean_range(with_single).sigma == sigma_from_mean_range(without).sigma


def test_numbers_keep_their_digits_far_from_zero():
    # NIST StRD NumAcc3 (from memory): 1001 readings around 1000000.2, sd 0.1 exactly
    readings = [1000000.2] + [1000000.1, 1000000.3] * 500
    summaries = summarise_subgroups([readings], least_subgroups=1)
    assert summaries.means[0] == pytest.approx(1000000.2, abs=1e-9)
    assert summaries.sds[0] == pytest.approx(0.1, abs=1e-9)


def test_every_bad_reading_is_refused_at_once():
    with pytest.raises(Refused) as caught:
        summarise_subgroups([[1.0, math.nan], [], [math.inf, 2.0]])
    assert [refusal.column for refusal in caught.value.refusals] == [
        "subgroup 1, piece 2",
        "subgroup 2",
        "subgroup 3, piece 1",
    ]


def test_one_subgroup_is_too_few():
    with pytest.raises(Refused, match="too few subgroups"):
        summarise_subgroups([[1.0, 2.0]])


def test_equal_readings_show_no_spread():
    equal = summarise_subgroups([[31.25] * 5] * 4)
    for estimate in (sigma_from_mean_range, sigma_from_mean_sd, sigma_pooled):
        with pytest.raises(Refused, match="all equal"):
            estimate(equal)
    with pytest.raises(Refused, match="all equal"):
        sigma_from_moving_range([31.25] * 5)


def test_single_pieces_have_no_spread_within():
    with pytest.raises(Refused, match="single piece"):
        sigma_from_mean_range(summarise_subgroups([[1.0], [2.0]]))


def test_median_moving_range_divides_by_its_own_constant():
    # viscosity, Montgomery SQC (from memory): median moving range 0.4200
    readings = [
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
    assert sorted(moving_ranges(readings))[6:8] == pytest.approx([0.42, 0.42], abs=1e-9)
    assert sigma_from_moving_range(readings, "median").sigma == pytest.approx(0.42 / 0.95387255, abs=1e-8)
    with pytest.raises(Refused, match="mean or median"):
        sigma_from_moving_range(readings, "mode")


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.lists(st.integers(-500, 500), min_size=2, max_size=6), min_size=2, max_size=8),
    st.integers(-4000, 4000),
)
def test_sigma_is_blind_to_shift_and_follows_scale(groups, shift):
    if all(len(set(group)) == 1 for group in groups):
        return
    plain = summarise_subgroups(groups)
    moved = summarise_subgroups([[4.0 * (value + shift) for value in group] for group in groups])
    for estimate in (sigma_from_mean_range, sigma_from_mean_sd, sigma_pooled):
        assert estimate(moved).sigma == pytest.approx(4.0 * estimate(plain).sigma, rel=1e-9)


def test_reference_columns_are_complete():
    assert len(columns("thirty_individuals")["x"]) == 30
    assert (len(RINGS), len(RINGS[0])) == (25, 5)
