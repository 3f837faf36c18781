"""What is assumed of a die set before its first check."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.wear import FinishedSet, GainFact, LevelMoves, SlideRole, prior_for

ROLE = SlideRole("over_pin", 36.0, 0.8)


def sets(*rates: float, gain: float = 0.8) -> list[FinishedSet]:
    fact = GainFact("over_pin", "R1", gain, 0.0025)
    return [
        FinishedSet(f"D-{i}", 40_000, True, "worn", "R1", (("over_pin", rate),), (fact,))
        for i, rate in enumerate(rates)
    ]


def test_the_own_machine_and_the_moves_of_earlier_sets_are_heard() -> None:
    taught = sets(1.1, 1.1, 1.1, gain=0.6)
    here, there = prior_for(ROLE, taught, "R1"), prior_for(ROLE, taught, "R2")
    assert here.gain < there.gain < 0.8
    assert here.gain_sd < there.gain_sd < 0.16
    quiet = LevelMoves((20.0,) * 4, (45.0, 85.0, 150.0, 245.0), (400.0,) * 4, 20.0)
    moves = (("over_pin", quiet), ("lead", LevelMoves()))
    still = prior_for(ROLE, [FinishedSet("D-1", 40_000, True, "worn", moves=moves)])
    assert still.wander_sd_um < prior_for(ROLE, []).wander_sd_um


def test_without_sets_growth_is_from_nothing_to_a_tenth_of_the_tolerance() -> None:
    prior = prior_for(ROLE, [])
    assert prior.rate_um_per_1000 == prior.rate_sd_um_per_1000 == pytest.approx(36.0 / 20.0)
    assert (prior.gain, prior.gain_sd) == pytest.approx((0.8, 0.16))


@given(st.integers(1, 30))
def test_each_finished_set_narrows(count: int) -> None:
    fewer, more = prior_for(ROLE, sets(*[1.1] * (count - 1))), prior_for(ROLE, sets(*[1.1] * count))
    assert more.rate_sd_um_per_1000 < fewer.rate_sd_um_per_1000
    assert more.gain_sd < fewer.gain_sd
    assert abs(more.rate_um_per_1000 - 1.1) < abs(fewer.rate_um_per_1000 - 1.1)


def test_many_sets_leave_the_spread_between_them() -> None:
    rates = [1.0, 1.2] * 200
    prior = prior_for(ROLE, sets(*rates))
    assert prior.rate_um_per_1000 == pytest.approx(1.1, abs=0.01)
    assert prior.rate_sd_um_per_1000 == pytest.approx(0.1, abs=0.03)


def test_one_set_is_the_conjugate_answer_by_hand() -> None:
    # Normal data, normal-inverse-chi-square prior (Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.3;
    # from memory): k0 = 1/2, v0 = 2, mean 1.8, scale² = 1.8²/(1 + 2); one rate of 1.2.
    scale2 = (2 * 1.8**2 / 3 + 0.5 * 1 / 1.5 * 0.6**2) / 3
    prior = prior_for(ROLE, sets(1.2))
    assert prior.rate_um_per_1000 == pytest.approx((0.5 * 1.8 + 1.2) / 1.5)
    assert prior.rate_sd_um_per_1000 == pytest.approx(math.sqrt(scale2 * (1 + 1 / 1.5)))


def test_a_size_that_grows_with_depth_wears_the_other_way() -> None:
    deeper_is_larger = prior_for(SlideRole("groove", 36.0, -0.8), [])
    assert deeper_is_larger.rate_um_per_1000 == -prior_for(ROLE, []).rate_um_per_1000
    assert (deeper_is_larger.gain, deeper_is_larger.gain_sd) == pytest.approx((-0.8, 0.16))


def test_what_the_slide_does_not_set_has_no_gain() -> None:
    prior = prior_for(SlideRole("lead", 28.0, None), sets(1.0))
    assert (prior.gain, prior.gain_sd, prior.rate_um_per_1000) == (0.0, 0.0, 0.0)
    assert prior.rate_sd_um_per_1000 == pytest.approx(1.4)


@given(st.floats(20.0, 500.0), st.floats(0.1, 10.0))
def test_scales_with_the_tolerance(tolerance: float, factor: float) -> None:
    one = prior_for(SlideRole("a", tolerance, 0.8), [])
    other = prior_for(SlideRole("a", tolerance * factor, 0.8), [])
    for name in ("rate_um_per_1000", "rate_sd_um_per_1000", "rate_wander_um_per_1000", "wander_sd_um"):
        assert getattr(other, name) == pytest.approx(factor * getattr(one, name))
    assert other.gain_sd == one.gain_sd


@pytest.mark.parametrize("tolerance", [0.0, -3.0, float("nan"), float("inf")])
def test_refuses_a_tolerance_without_width(tolerance: float) -> None:
    with pytest.raises(Refused, match="tolerance"):
        prior_for(SlideRole("over_pin", tolerance, 0.8), [])


def test_refuses_a_gain_that_is_no_number() -> None:
    with pytest.raises(Refused, match="gain"):
        prior_for(SlideRole("over_pin", 36.0, float("nan")), [])
