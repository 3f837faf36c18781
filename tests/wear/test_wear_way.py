"""The way to an end: against arithmetic, mirrored, and its doubt as a matrix product."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import PRIOR, Die, a_prior, after_checks, matrix

from spc.errors import Refused
from spc.wear import WearBelief, fresh_belief, open_rate, remount, size_way, travel_way
from spc.wear.belief import OFFSET, RATE, SIZE, WEAR


def known(reference: float, wear: float, rate: float, gain: float, age: int = 20_000) -> WearBelief:
    """A belief without doubt."""
    return WearBelief((reference, wear, rate, gain, 0.0, 0.0), (0.0,) * SIZE**2, age, None, 0.0, 50)


@pytest.fixture(scope="module")
def partly_known() -> WearBelief:
    return after_checks(Die(), PRIOR, list(range(400, 12_000, 400)), [4.0 * (i // 7) for i in range(29)])


@given(
    reference=st.floats(-10, 10),
    wear=st.floats(0, 30),
    rate=st.floats(0.1, 5),
    gain=st.floats(0.4, 2.1),
    travel=st.floats(50, 120),
)
@settings(max_examples=60, deadline=None)
def test_the_way_to_the_travel_is_arithmetic(
    reference: float, wear: float, rate: float, gain: float, travel: float
) -> None:
    way = travel_way(known(reference, wear, rate, gain), "over_pin", travel)
    assert way.done_um == wear
    assert way.left_um == pytest.approx(travel * gain - reference - wear)
    assert way.share == pytest.approx(wear / (travel * gain - reference))
    assert (way.rate_um_per_1000, way.left_sd_um, way.rate_sd_um_per_1000) == (rate, 0.0, 0.0)
    assert (way.characteristic, way.limit, way.age_pieces) == ("over_pin", "travel", 20_000)


def test_a_negative_gain_is_the_mirror_image() -> None:
    prior = a_prior(gain=-0.9, rate_um_per_1000=-1.2)
    deeper_is_larger = after_checks(Die(-3.0, -1.1, -0.9, 1.0), prior, [500, 900, 4000], [0.0, 0.0, 3.0])
    deeper_is_smaller = replace(deeper_is_larger, mean=tuple(-each for each in deeper_is_larger.mean))
    assert travel_way(deeper_is_larger, "groove", 60.0) == travel_way(deeper_is_smaller, "groove", 60.0)


@pytest.mark.parametrize(
    ("rate", "limit", "length", "left"),
    [(1.5, "upper", 39.0, 27.0), (-1.5, "lower", 26.0, 14.0)],
)
def test_a_size_goes_to_the_side_it_grows_to(rate: float, limit: str, length: float, left: float) -> None:
    # A new die gives 4 − 3 = 1; the limits lie at −25 and 40; wear has done 12 that way: 13 or −11 now.
    wear = 12.0 if rate > 0 else -12.0
    way = size_way(known(4.0, wear, rate, 0.0), "lead", -25.0, 40.0, 3.0)
    assert way is not None
    assert (way.limit, way.length_um, way.done_um, way.rate_um_per_1000) == (limit, length, 12.0, 1.5)
    assert way.left_um == pytest.approx(left)


def test_a_side_without_a_limit_has_no_way() -> None:
    assert size_way(known(0.0, 1.0, 1.0, 0.0), "lead", -5.0, None, 0.0) is None
    assert size_way(known(0.0, 1.0, -1.0, 0.0), "lead", None, 5.0, 0.0) is None


def test_its_doubt_is_row_times_covariance_times_row(partly_known: WearBelief) -> None:
    cov = matrix(partly_known)
    travel = np.array([1.0, 1.0, 0.0, -60.0, 0.0, 0.0])
    size = np.array([1.0, 1.0, 0.0, 0.0, 0.0, 0.0])
    upper = size_way(partly_known, "lead", -5.0, 40.0, 3.0)
    assert upper is not None
    way = travel_way(partly_known, "over_pin", 60.0)
    assert way.left_sd_um**2 == pytest.approx(travel @ cov @ travel)
    assert upper.left_sd_um**2 == pytest.approx(size @ cov @ size)
    assert way.rate_sd_um_per_1000**2 == pytest.approx(cov[RATE, RATE])


def test_its_doubt_agrees_with_brute_force(partly_known: WearBelief) -> None:
    dice = np.random.default_rng(6)
    draws = dice.multivariate_normal(partly_known.mean, matrix(partly_known), 40_000)
    rest = 60.0 * draws[:, 3] - draws[:, OFFSET] - draws[:, WEAR]
    way = travel_way(partly_known, "over_pin", 60.0)
    assert way.left_um == pytest.approx(rest.mean(), abs=4.0 * way.left_sd_um / 200.0)
    assert way.left_sd_um == pytest.approx(rest.std(), rel=4.0 / 80_000**0.5)  # sd of an sd: 1/sqrt(2n)


def test_after_a_remounting_the_travel_is_as_sure_as_before(partly_known: WearBelief) -> None:
    before = travel_way(partly_known, "over_pin", 60.0)
    after = travel_way(remount(partly_known, PRIOR), "over_pin", 60.0)
    assert after.length_um == pytest.approx(before.length_um)
    assert after.left_sd_um == pytest.approx(before.left_sd_um)


def test_after_a_remounting_a_size_is_as_unsure_as_its_set_up(partly_known: WearBelief) -> None:
    way = size_way(remount(partly_known, PRIOR), "lead", None, 40.0, 0.0)
    assert way is not None
    assert way.left_sd_um > PRIOR.offset_sd_um


def test_an_opened_rate_is_less_sure_and_nothing_else_moves(partly_known: WearBelief) -> None:
    opened = open_rate(partly_known, 0.25)
    difference = matrix(opened) - matrix(partly_known)
    assert opened.mean == partly_known.mean
    assert difference[RATE, RATE] == pytest.approx(0.25)
    assert np.count_nonzero(difference) == 1


def test_refuses_what_cannot_be() -> None:
    belief = fresh_belief(PRIOR)
    for travel in (0.0, -5.0, float("nan"), float("inf")):
        with pytest.raises(Refused, match="travel"):
            travel_way(belief, "over_pin", travel)
    with pytest.raises(Refused, match="not a number"):
        size_way(belief, "lead", None, float("nan"), 0.0)
