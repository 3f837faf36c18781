"""Bow from run-out: a round section shows twice its eccentricity (a public glossary, read); bounds by sampling."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import bow_from_run_out, bow_from_turn, bow_of_radius

TURN = np.arange(0.0, 360.0, 1.0)
RADIANS = np.radians(TURN)


def test_half_the_run_out() -> None:
    found = bow_from_run_out(30.0)
    assert (found.bow_um, found.least_um, found.most_um) == (15.0, 15.0, 15.0)


def test_out_of_round_opens_bounds() -> None:
    found = bow_from_run_out(30.0, 4.0)
    assert (found.bow_um, found.least_um, found.most_um) == (15.0, 13.0, 17.0)
    assert bow_from_run_out(3.0, 8.0).least_um == 0.0


SHAPES = st.lists(st.tuples(st.integers(2, 7), st.floats(0.0, 3.0), st.floats(0.0, 360.0)), max_size=4)


@given(st.floats(0.0, 30.0), st.floats(0.0, 360.0), SHAPES)
def test_the_true_bow_lies_between_the_bounds(bow, direction, shapes) -> None:
    """A section off its centre by the bow, with lobes: its movement over a turn is sampled."""
    lobes = sum(
        (size * np.cos(n * RADIANS - np.radians(at)) for n, size, at in shapes), np.zeros_like(RADIANS)
    )
    reading = bow * np.cos(RADIANS - np.radians(direction)) + lobes
    found = bow_from_run_out(float(np.ptp(reading)), float(np.ptp(lobes)))
    sampling = 0.05  # one degree apart, up to seven lobes
    assert found.least_um - sampling <= bow <= found.most_um + sampling


@given(st.floats(0.5, 30.0), st.floats(0.0, 360.0), SHAPES, st.floats(-5.0, 5.0))
def test_a_turn_keeps_bow_and_out_of_round_apart(bow, direction, shapes, zero) -> None:
    lobes = sum(
        (size * np.cos(n * RADIANS - np.radians(at)) for n, size, at in shapes), np.zeros_like(RADIANS)
    )
    found = bow_from_turn(TURN, zero + bow * np.cos(RADIANS - np.radians(direction)) + lobes)
    assert found.bow_um == pytest.approx(bow, abs=1e-9)
    assert found.out_of_round_um == pytest.approx(np.ptp(lobes), abs=1e-8)
    assert np.cos(np.radians(found.direction_deg - direction)) == pytest.approx(1.0, abs=1e-9)


@given(st.floats(1.0, 1000.0), st.floats(1.0, 1e6))
def test_bow_of_a_bent_axis(length, slimness) -> None:
    """A circle of radius R over L: near L²/(8 R)."""
    radius = 10 * length * slimness
    assert bow_of_radius(length, radius) == pytest.approx(1000 * length**2 / (8 * radius), rel=1e-3)


def test_half_a_circle_bows_by_its_radius() -> None:
    assert bow_of_radius(20.0, 10.0) == pytest.approx(10_000.0)


def test_what_is_no_run_out_is_refused() -> None:
    with pytest.raises(Refused) as caught:
        bow_from_run_out(-1.0, -2.0)
    assert [refusal.column for refusal in caught.value.refusals] == ["run-out", "out-of-round"]
    with pytest.raises(Refused, match="five readings or more"):
        bow_from_turn([0, 90, 180, 270], [1, 2, 3, 4])
    with pytest.raises(Refused, match="don't go round"):
        bow_from_turn([0, 10, 20, 30, 40], [1, 2, 3, 4, 5])
    with pytest.raises(Refused, match="no number"):
        bow_from_turn([0, 72, 144, 216, np.nan], [1, 2, 3, 4, 5])
    with pytest.raises(Refused, match="no circle of this radius"):
        bow_of_radius(30.0, 10.0)
