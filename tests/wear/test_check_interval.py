"""How long until the next check: Taguchi's check values, and what must hold of any safe interval."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from spc.errors import Refused
from spc.wear import (
    CheckCosts,
    SizeAhead,
    best_check,
    loss_per_piece,
    safe_interval,
    share_ahead,
    shortened,
)

# The example of Taguchi's handbook (2005), on-line feedback control, inputs from memory; results as worked out
# from the printed formula in the process knowledge, section 3.6.
COSTS = CheckCosts(
    reject=0.80, check=1.50, move=12.0, half_tolerance_um=15.0, room_um=5.0, pieces_between_moves=19_560.0,
    pieces_while_gauging=50.0,
)  # fmt: skip
QUIET = SizeAhead(0.0, 0.5, 1.0, 0.3, 1.0, 2.5, -18.0, 18.0, 6.0)


def test_taguchi_best_interval_and_room():
    best = best_check(COSTS)
    assert best.pieces == pytest.approx(812.50, abs=0.005)
    assert best.room_um == pytest.approx(1.8967, abs=5e-5)
    assert best.loss == pytest.approx(0.012449, abs=5e-7)


@pytest.mark.parametrize(("pieces", "room_um", "loss"), [(300.0, 5.0, 0.036154), (600.0, 2.0, 0.012668)])
def test_taguchi_loss(pieces, room_um, loss):
    assert loss_per_piece(COSTS, pieces, room_um) == pytest.approx(loss, abs=5e-7)


def test_the_best_room_is_where_the_loss_of_moving_and_of_leaving_balance():
    """D* leaves out the pieces made until a check tells, as the handbook does: a minimum of C/u + A D²/(3 Δ²)."""
    best = best_check(COSTS)

    def part(room):
        between = COSTS.pieces_between_moves * (room / COSTS.room_um) ** 2
        return COSTS.move / between + COSTS.reject * room**2 / (3 * COSTS.half_tolerance_um**2)

    assert part(best.room_um) < min(part(0.98 * best.room_um), part(1.02 * best.room_um))


@pytest.mark.parametrize(
    "name", ["reject", "check", "move", "half_tolerance_um", "room_um", "pieces_between_moves"]
)
def test_costs_of_nothing_are_refused(name):
    with pytest.raises(Refused):
        best_check(replace(COSTS, **{name: 0.0}))


def test_share_is_the_mean_over_the_interval():
    """By quadrature over the interval; a step at a uniform moment, once in 20,000 pieces."""
    size, pieces = replace(QUIET, level_um=6.0, rate_um_per_1000=20.0), 400.0

    def outside(at, step=0.0):
        k = at / 1000
        sd = math.sqrt(2.5**2 + 0.5**2 + (0.3 * k) ** 2 + k + step**2)
        law = stats.norm(6.0 + 20.0 * k, sd)
        return law.sf(18.0) + law.cdf(-18.0)

    plain = integrate.quad(outside, 0, pieces)[0] / pieces
    chance = 1 - math.exp(-pieces / 20_000)
    # after a step at a uniform moment t the pieces from t to the end are made at the new level
    after = integrate.quad(lambda at: at * (outside(at, 6.0) - outside(at)), 0, pieces)[0] / pieces**2
    assert share_ahead(size, pieces) == pytest.approx(plain + chance * after, rel=0.2)


def test_a_quiet_capable_die_keeps_the_interval_of_the_plan():
    assert safe_interval([QUIET], 300, 5, 0.01) == (300, -1)


def test_a_size_near_its_limit_is_checked_sooner():
    near = replace(QUIET, level_um=11.8, rate_um_per_1000=6.0)
    pieces, place = safe_interval([QUIET, near], 300, 5, 0.01)
    assert 5 < pieces < 300
    assert place == 1
    assert share_ahead(near, pieces) <= 0.01 < share_ahead(near, pieces + 5)


def test_nothing_is_shorter_than_makes_sense():
    lost = replace(QUIET, level_um=17.0)
    assert safe_interval([lost], 300, 20, 0.01) == (20, 0)
    assert safe_interval([lost], 3, 20, 0.01)[0] == 3


sizes = st.builds(
    SizeAhead,
    level_um=st.floats(-15, 15),
    level_sd_um=st.floats(0, 5),
    rate_um_per_1000=st.floats(0, 20),
    rate_sd_um_per_1000=st.floats(0, 5),
    wander_um2_per_1000=st.floats(0, 5),
    sigma_um=st.floats(0.2, 6),
    low_um=st.one_of(st.none(), st.just(-18.0)),
    high_um=st.one_of(st.none(), st.just(18.0)),
    step_um=st.just(6.0),
)


@given(sizes, st.integers(1, 2000), st.integers(1, 50))
def test_between_what_makes_sense_and_what_the_plan_allows(size, longest, least):
    pieces, place = safe_interval([size], longest, least, 0.01)
    assert min(least, longest) <= pieces <= longest
    assert (place == -1) == (pieces == longest and share_ahead(size, longest) <= 0.01)


@given(sizes, st.floats(1, 2000))
def test_a_share_is_a_share(size, pieces):
    assert 0.0 <= share_ahead(size, pieces) <= 1.0


@given(st.integers(1, 10_000), st.floats(0.1, 100))
def test_shortened_is_never_longer(pieces, times):
    assert 0 <= shortened(pieces, times) <= pieces
