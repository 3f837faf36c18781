"""Target indices, proving runs and the answer to a requirement."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_tables import subgroups

from spc.errors import Refused
from spc.statistics.index_intervals import Estimate, location_interval, spread_interval
from spc.statistics.indices import target_index
from spc.statistics.machine_performance import machine_performance
from spc.statistics.requirement import few_pieces, pieces_needed, requirement
from spc.statistics.target_capability import target_location_index, target_location_interval


def test_published_target_indices():
    # NIST e-Handbook 6.1.6 data (Cpm, Cpmk computed); Montgomery's two processes (from memory, reproduces the print)
    assert target_index(16, 8, 20, 14, 2) == pytest.approx(0.707107, abs=5.1e-7)
    assert target_location_index(16, 8, 20, 14, 2) == pytest.approx(0.471405, abs=5.1e-7)
    assert target_location_index(50, 35, 65, 50, 5) == pytest.approx(1.0)
    assert target_index(57.5, 35, 65, 50, 2.5) == pytest.approx(0.632456, abs=5.1e-7)
    assert target_location_index(57.5, 35, 65, 50, 2.5) == pytest.approx(0.316228, abs=5.1e-7)
    assert target_location_index(57.5, None, 65, 50, 2.5) == pytest.approx(0.316228, abs=5.1e-7)


def test_cpmk_interval_covers():
    random, hits = np.random.default_rng(4), 0
    truth = target_location_index(0.5, -4, 4, 0, 1)
    for trial in range(300):
        x = random.normal(0.5, 1.0, 50)
        found = target_location_interval(x.mean(), x.std(ddof=1), 50, -4, 4, 0, seed=trial, draws=400)
        hits += found.low <= truth <= found.high
    assert hits / 300 == pytest.approx(0.95, abs=0.045)


@given(st.floats(-3, 3), st.floats(0.1, 5), st.sampled_from([0.25, 4.0]), st.floats(-50, 50))
def test_cpmk_has_no_unit_and_stays_below(mean, sigma, scale, shift):
    plain = target_location_index(mean, -4, 4, 0, sigma)
    moved = target_location_index(
        scale * mean + shift, shift - 4 * scale, shift + 4 * scale, shift, scale * sigma
    )
    assert moved == pytest.approx(plain, abs=1e-9)
    assert plain <= target_index(mean, -4, 4, 0, sigma) + 1e-12


def test_proving_run_of_the_piston_rings():
    # Pm of a normal run is the tolerance over 6 s; tolerance 74.000 +/- 0.05. s of all 125 is 0.01019888 in exact
    # decimal arithmetic; a reference computation quotes 0.0101990, a slip in the last digit
    run = [value for row in subgroups("piston_rings") for value in row]
    found = machine_performance(run, 73.95, 74.05)
    assert found.sd == pytest.approx(0.01019888, abs=5e-9)
    assert found.pm.estimate == pytest.approx(0.1 / (6 * 0.01019888), rel=1e-6)
    assert found.pmk == location_interval(found.pmk.estimate, 125)
    assert found.warning == ""
    assert machine_performance(run[:60], 73.95, 74.05).warning.startswith("60 pieces: 100")
    assert "too few" in machine_performance(run[:20], 73.95, 74.05).warning


def test_proving_run_of_a_magnitude_reads_quantiles():
    run = np.abs(np.random.default_rng(1).normal(0, 1, 100))
    found = machine_performance(run, 0.0, 6.0, model="half_normal", natural_zero=True, seed=1)
    sigma = float(np.sqrt(np.mean(run**2)))
    assert found.pmk.estimate == pytest.approx(
        (6 - 0.67448975 * sigma) / ((3.20513318 - 0.67448975) * sigma), rel=1e-7
    )
    assert found.pm is None


@pytest.mark.parametrize(
    ("n", "low", "high", "one_sided"),
    [
        # Cp = 1.33 and Cpk = 1.33 (Bissell), computed
        (20, (0.9106, 1.7489), (0.8826, 1.7774), 0.9545),
        (25, (0.9560, 1.7033), (0.9317, 1.7283), 0.9957),
        (30, (0.9894, 1.6700), (0.9675, 1.6925), 1.0258),
        (50, (1.0673, 1.5922), (1.0509, 1.6091), 1.0958),
        (100, (1.1449, 1.5148), (1.1336, 1.5264), 1.1651),
        (125, (1.1646, 1.4952), (1.1545, 1.5055), 1.1827),
        (200, (1.1994, 1.4605), (1.1914, 1.4686), 1.2137),
    ],
)
def test_lower_ends_behind_the_answer(n, low, high, one_sided):
    cp, cpk = spread_interval(1.33, n), location_interval(1.33, n)
    assert (cp.low, cp.high) == pytest.approx(low, abs=5.1e-5)
    assert (cpk.low, cpk.high) == pytest.approx(high, abs=5.1e-5)
    assert location_interval(1.33, n, confidence=0.90).low == pytest.approx(one_sided, abs=5.1e-5)


def test_three_answers():
    assert requirement(location_interval(1.80, 125), 1.33).answer == "shown"
    too_few = requirement(location_interval(1.45, 40), 1.33)
    assert too_few.answer == "too few pieces to tell"
    assert str(too_few.pieces_needed) in too_few.says
    below = requirement(location_interval(1.20, 400), 1.33)
    assert below.answer == "not shown"
    assert below.pieces_needed is None
    one_limit = Estimate(1.4, float("-inf"), 2.0, 5, 0.95, "given")
    assert requirement(one_limit, 1.33).answer == "too few pieces to tell"


@given(st.floats(0.5, 3.0), st.floats(0.01, 1.0), st.sampled_from([0.8, 0.9, 0.95]))
def test_pieces_needed_is_the_first_number_that_shows(required, more, confidence):
    n = pieces_needed(required + more, required, confidence)
    assert location_interval(required + more, n, confidence=confidence).low >= required - 1e-9
    if n > 2:
        assert location_interval(required + more, n - 1, confidence=confidence).low < required


def test_exactly_at_the_requirement_is_seldom_shown():
    # coverage: 95 % two-sided leaves 2.5 % wrong "shown"
    draws = np.random.default_rng(7).standard_normal((3000, 60))
    means, sds = draws.mean(axis=1), draws.std(axis=1, ddof=1)
    indices = (4.0 - np.abs(means)) / (3 * sds)
    shown = [requirement(location_interval(float(c), 60), 4 / 3).answer == "shown" for c in indices]
    assert np.mean(shown) < 0.035


def test_few_pieces_are_told_plainly():
    assert "125 pieces" in few_pieces(40)
    assert "8 checks" in few_pieces(150, checks=8)
    assert few_pieces(125, checks=25) == ""


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: target_location_index(1, None, None, 1, 1), "limit"),
        (lambda: target_location_index(1, 0, 2, 3, 1), "outside the limits"),
        (lambda: target_location_interval(1, 1, 1, 0, 2, 1, seed=1), "too few"),
        (lambda: requirement(location_interval(1.3, 30), 0.0), "not above 0"),
        (lambda: requirement(Estimate(float("nan"), 0, 1, 5, 0.95, ""), 1.0), "no number"),
        (lambda: machine_performance([1.0, 2.0]), "limit"),
    ],
)
def test_impossible_questions_are_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
