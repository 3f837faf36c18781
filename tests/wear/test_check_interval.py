"""How long until the next check: Taguchi's check values, and what must hold of any safe interval."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from spc.errors import Refused
from spc.wear import SizeAhead, cheapest_interval, safe_interval, share_ahead, shortened

# The example of Taguchi's handbook (2005), on-line feedback control, inputs from memory; results as worked out
# from the printed formulas in the process knowledge, section 3.6.
REJECT, CHECK, MOVE, HALF_TOLERANCE = 0.80, 1.50, 12.0, 15.0
ROOM, BETWEEN, WHILE_GAUGING = 5.0, 19_560.0, 50.0
QUIET = SizeAhead(0.0, 0.5, 1.0, 0.3, 1.0, 2.5, -18.0, 18.0, 6.0)


def late(pieces: float) -> float:
    """What a piece loses by a level that has wandered since the last check: Taguchi's third term."""
    wander = ROOM**2 / BETWEEN  # u = u₀ D²/D₀²: whatever room is left, the level wanders as it does
    return REJECT / HALF_TOLERANCE**2 * ((pieces + 1.0) / 2.0 + WHILE_GAUGING) * wander


def taguchi(pieces: float, room: float) -> float:
    """L = B/n + C/u + (A/Δ²)·[D²/3 + ((n+1)/2 + l)·D²/u], written out."""
    between = BETWEEN * (room / ROOM) ** 2
    return CHECK / pieces + MOVE / between + REJECT / HALF_TOLERANCE**2 * room**2 / 3.0 + late(pieces)


@pytest.mark.parametrize(("pieces", "room_um", "loss"), [(300.0, 5.0, 0.036154), (600.0, 2.0, 0.012668)])
def test_the_loss_is_taguchis(pieces, room_um, loss):
    assert taguchi(pieces, room_um) == pytest.approx(loss, abs=5e-7)


@pytest.mark.parametrize(("longest", "least"), [(3_000, 5), (2_000, 60), (900, 700)])
def test_taguchi_best_interval(longest, least):
    """n* = √(2 u₀ B/A)·Δ/D₀ = 812.50, in whole pieces."""
    assert cheapest_interval(late, CHECK, longest, least) == pytest.approx(812.5, abs=0.5)
    assert taguchi(812.5, 1.8967) == pytest.approx(0.012449, abs=5e-7)


def test_no_longer_than_the_plan_and_no_shorter_than_makes_sense():
    assert cheapest_interval(late, CHECK, 300, 5) == 300
    assert cheapest_interval(late, CHECK, 3_000, 1_000) == 1_000
    assert cheapest_interval(late, CHECK, 3, 20) == 3


def test_a_step_that_nobody_sees_coming_gives_the_form_in_closed_form():
    """Only steps, one in 20,000 pieces: loss A·(s₁ − s₀)·n/40,000, so n* = √(40,000 B/(A (s₁ − s₀)))."""
    still = SizeAhead(0.0, 0.0, 0.0, 0.0, 0.0, 2.5, -18.0, 18.0, 12.0)
    after = 2.0 * stats.norm.sf(18.0, scale=math.hypot(2.5, 12.0)) - 2.0 * stats.norm.sf(18.0, scale=2.5)
    best = math.sqrt(40_000.0 * 0.5 / (12.0 * after))
    found = cheapest_interval(lambda n: 12.0 * share_ahead(still, n), 0.5, 5_000, 5)
    assert 5 < best < 5_000
    assert found == pytest.approx(best, rel=0.02)  # 1 − exp(−n/20,000) is a little less than n/20,000


@given(st.floats(0.1, 100.0), st.floats(0.5, 100.0), st.integers(50, 2_000))
def test_nothing_tried_out_is_cheaper(scrap, check, longest):
    """A growing size under all of 2,000 intervals: within a hundredth of the least."""
    near = replace(QUIET, level_um=8.0, rate_um_per_1000=12.0)

    def cost(pieces):
        return check / pieces + scrap * share_ahead(near, pieces)

    found = cheapest_interval(lambda n: scrap * share_ahead(near, n), check, longest, 5)
    assert cost(found) <= 1.01 * min(map(cost, range(5, longest + 1)))


def test_dearer_scrap_is_met_sooner_and_a_dearer_check_later():
    near = replace(QUIET, level_um=8.0, rate_um_per_1000=12.0)
    found = [
        cheapest_interval(lambda n, scrap=scrap: scrap * share_ahead(near, n), check, 1_000, 5)
        for scrap, check in ((40.0, 2.0), (12.0, 2.0), (12.0, 6.0))
    ]
    assert found == sorted(found)
    assert len(set(found)) == 3


@pytest.mark.parametrize("check", [0.0, -1.0, math.inf])
def test_a_check_that_costs_nothing_is_refused(check):
    with pytest.raises(Refused, match="costs nothing"):
        cheapest_interval(late, check, 300, 5)


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
