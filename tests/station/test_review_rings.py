"""The review of the published piston rings (Montgomery, Introduction to SQC, 2nd ed. 1991, pp. 206-213)."""

import math
from datetime import UTC, datetime
from statistics import fmean, stdev

import pytest
from review_cases import NOW, ring_station, rings
from scipy import stats

from spc.station import Review
from spc.statistics import HonestCapability


@pytest.fixture(scope="module")
def review() -> Review:
    return ring_station().review("RING", "M1")


def test_published_centre_mean_range_and_limits(review: Review) -> None:
    chart = review.characteristics[0].period_chart
    assert chart is not None
    assert chart.centre == pytest.approx(74.001, abs=0.0005)
    assert chart.spread_centre == pytest.approx(0.023, abs=0.0005)
    assert chart.upper == pytest.approx(74.014, abs=0.001)  # printed from rounded R-bar; exact 74.0146
    assert chart.lower == pytest.approx(73.988, abs=0.0005)
    assert chart.spread_upper == pytest.approx(0.049, abs=0.0005)


def test_every_ring_counts_and_none_is_outside(review: Review) -> None:
    one = review.characteristics[0]
    assert (one.subgroups, one.pieces, one.outside) == (25, 125, 0)
    assert (one.struck_out, one.suspect, one.other_checks) == (0, 0, ())
    assert dict(review.purposes) == {"hourly": 25}
    assert sum(count for _, count in review.verdicts) == 25


def test_capability_computed_again_another_way(review: Review) -> None:
    one = review.characteristics[0]
    assert one.capability is not None
    plain = one.capability.plain
    assert plain is not None
    groups = [[float(value) for value in group] for group in rings()]
    every = [value for group in groups for value in group]
    sigma = fmean(max(group) - min(group) for group in groups) / 2.326  # d2(5), ASTM STP 15D
    nearest = min(74.05 - fmean(every), fmean(every) - 73.95)
    assert plain.cpk.estimate == pytest.approx(nearest / (3 * sigma), abs=0.0005)
    assert plain.cp.estimate == pytest.approx(0.1 / (6 * sigma), abs=0.0005)  # type: ignore[union-attr]  # two limits
    ppk = nearest / (3 * stdev(every))
    assert plain.ppk.estimate == pytest.approx(ppk, rel=1e-9)
    half = 1.959964 * math.sqrt(1 / (9 * 125) + ppk**2 / (2 * 124))  # Bissell (1990)
    assert plain.ppk.low == pytest.approx(ppk - half, abs=1e-6)
    assert plain.n == 125


def test_honest_interval_knows_the_spread_between_checks(review: Review) -> None:
    one = review.characteristics[0]
    assert one.capability is not None
    plain, honest = one.capability.plain, one.capability.honest
    assert plain is not None
    assert isinstance(honest, HonestCapability)
    means = [fmean(float(value) for value in group) for group in rings()]
    error = max(stdev(means) / 5, plain.sigma_overall / math.sqrt(125))
    assert honest.standard_error == pytest.approx(error, rel=0.02)
    sigma, freedom = plain.sigma_within, 90.8  # 25 ranges of 5 (Patnaik)
    index = honest.cpk
    from_mean = stats.t.isf(0.025, 24) * error / (3 * sigma)
    half = math.sqrt(from_mean**2 + (1.959964 * index.estimate) ** 2 / (2 * freedom))
    assert index.low == pytest.approx(index.estimate - half, abs=0.005)


def test_demand_is_answered_by_the_lower_end(review: Review) -> None:
    wanted = review.characteristics[0].requirement
    assert wanted is not None
    assert (wanted.minimum, wanted.judged_on, wanted.answer) == (1.33, "Cpk", "shown")
    assert wanted.why == "the level is fixed and the checks stood still"
    assert wanted.low is not None
    assert wanted.low >= 1.33


def test_limits_in_force_are_the_provisional_ones_of_the_first_twenty(review: Review) -> None:
    limits = review.characteristics[0].limits
    groups = [[float(value) for value in group] for group in rings()][:20]
    sigma = fmean(max(group) - min(group) for group in groups) / 2.326
    centre = fmean(fmean(group) for group in groups)
    assert limits is not None
    assert (limits.standing, limits.subgroups, limits.n, limits.signed_by) == ("provisional", 20, 5, "")
    assert limits.centre == pytest.approx(centre, abs=1e-9)
    assert limits.upper == pytest.approx(centre + 3 * sigma / math.sqrt(5), abs=5e-6)


def test_signed_limits_name_the_person_and_do_not_reach_back() -> None:
    station = ring_station()
    station.sign_limits(
        "RING", "M1", "inside_diameter", by="M. Ober", at=datetime(2026, 3, 3, 12, tzinfo=UTC)
    )
    limits = station.review("RING", "M1").characteristics[0].limits
    assert limits is not None
    assert (limits.standing, limits.signed_by) == ("signed", "M. Ober")
    assert limits.signed_at == datetime(2026, 3, 3, 12, tzinfo=UTC)
    before = station.review("RING", "M1", to_time=datetime(2026, 3, 3, 11, tzinfo=UTC))
    earlier = before.characteristics[0].limits
    assert earlier is not None
    assert (earlier.standing, earlier.signed_by) == ("provisional", "")


def test_a_machine_without_dies_runs_from_its_first_check(review: Review) -> None:
    assert [review.duty.count(word) for word in ("in time", "late", "missed")] == [25, 0, 0]
    assert "No die set is logged" in review.duty.remark
    assert review.made_at == NOW
    assert [each.die_set for each in review.die_sets] == [None]


def test_too_few_pieces_say_why_and_leave_the_demand_open() -> None:
    few = ring_station().review("RING", "M1", to_time=datetime(2026, 3, 2, 10, tzinfo=UTC))
    one = few.characteristics[0]
    assert one.capability is None
    assert one.capability_remark == (
        "No index yet: 20 hourly pieces from 4 checks. It takes 25 pieces from 10 checks."
    )
    assert one.requirement is not None
    assert one.requirement.answer == "too few pieces to tell"
    assert one.limits is None
    assert "there are 4" in one.limits_remark
