"""The models A1 to D are recognised in processes that were made so; the tests behind keep their promise."""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import subgroups

from spc.errors import Refused
from spc.statistics.capability import capability
from spc.statistics.detrended_capability import detrended_capability
from spc.statistics.normality import anderson_darling
from spc.statistics.rises_and_falls import rises_and_falls
from spc.statistics.shapes_untold import shapes_untold
from spc.statistics.spread_change import spread_change
from spc.statistics.time_model import time_model

CHECKS = 40
ORDER = np.arange(CHECKS)[:, None]


def pieces(random):
    return random.standard_normal((CHECKS, 5))


# what each model means: ISO 22514-2 from memory
PROCESSES = {
    "A1": pieces,
    "A2": lambda random: random.gamma(1.0, 1.0, (CHECKS, 5)),
    "B": lambda random: pieces(random) * np.where(ORDER % 4 == 0, 4.0, 1.0),
    "C1": lambda random: pieces(random) + 1.5 * random.standard_normal((CHECKS, 1)),
    "C2": lambda random: pieces(random) + 6.0 * (random.random((CHECKS, 1)) < 0.3),
    "C3": lambda random: pieces(random) + 0.15 * ORDER,
    "C4": lambda random: pieces(random) + 0.3 * ORDER + 1.5 * random.standard_normal((CHECKS, 1)),
    "D": lambda random: (pieces(random) + 0.15 * ORDER) * np.linspace(0.4, 2.5, CHECKS)[:, None],
}


@pytest.mark.parametrize("model", list(PROCESSES))
def test_each_model_is_recognised(model):
    found = [
        time_model(PROCESSES[model](np.random.default_rng(seed)).tolist(), seed=seed) for seed in range(15)
    ]
    assert sum(each.model == model for each in found) >= 12
    words = "capability" if model in ("A1", "A2") else "performance"
    assert all(each.words == words for each in found if each.model == model)
    assert all(each.reason.startswith(each.model) for each in found)


def test_cycles_and_wear_with_resets_are_systematic():
    random = np.random.default_rng(5)
    cycle = time_model((pieces(random) + 2.0 * np.sin(ORDER / 3.0)).tolist(), seed=1)
    assert cycle.model == "C3"
    assert "resemble" in cycle.reason
    saw = time_model((pieces(random) + 0.8 * (ORDER % 8)).tolist(), seed=1)
    assert saw.model == "C3"
    assert saw.honest_first
    assert "steps up" in saw.reason


def test_a_standing_process_keeps_the_textbook_interval_first():
    found = [time_model(pieces(np.random.default_rng(seed)).tolist(), seed=1) for seed in range(60)]
    assert np.mean([each.honest_first for each in found]) < 0.30  # three tests at 5 % each
    drift = time_model((pieces(np.random.default_rng(1)) + 0.05 * ORDER).tolist(), seed=1)
    assert drift.honest_first


def test_the_piston_rings_stand_still():
    # Montgomery, SQC, Table 6.3: published as in control
    found = time_model(subgroups("piston_rings"), seed=1)
    assert (found.model, found.words, found.location, found.spread) == (
        "A1",
        "capability",
        "constant",
        "constant",
    )
    assert found.total_normality.p == pytest.approx(0.892229, abs=5.1e-7)  # computed with a general library


def test_spread_change_keeps_its_chance_even_with_wide_tails():
    random = np.random.default_rng(7)
    normal = [
        spread_change(random.standard_normal((20, 5)).tolist(), seed=1, draws=199).p for _ in range(120)
    ]
    wide = [spread_change(random.standard_t(4, (20, 5)).tolist(), seed=1, draws=199).p for _ in range(120)]
    assert np.mean(np.array(normal) <= 0.05) < 0.11
    assert np.mean(np.array(wide) <= 0.01) < 0.08


def test_rises_vary_as_the_formula_says():
    # derivation: all 720 orders of six values; mean (n-1)/2 and variance (n+1)/12
    counts = [rises_and_falls(order).rises for order in permutations(range(6))]
    assert np.mean(counts) == pytest.approx(2.5)
    assert np.var(counts) == pytest.approx(7 / 12)
    flat = rises_and_falls([1, 1, 1, 2, 1, 1])
    assert (flat.rises, flat.falls, flat.p) == (1, 1, 1.0)


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 5), st.sampled_from([0.25, 4.0]), st.integers(-1000, 1000))
def test_the_model_has_no_unit(seed, scale, shift):
    checks = PROCESSES["C3"](np.random.default_rng(seed))
    plain = time_model(checks.tolist(), seed=1, draws=199, alpha=0.05)
    moved = time_model((scale * checks + shift).tolist(), seed=1, draws=199, alpha=0.05)
    assert (moved.model, moved.honest_first) == (plain.model, plain.honest_first)
    assert moved.trend.slope == pytest.approx(scale * plain.trend.slope, rel=1e-6)


def test_capability_with_the_trend_taken_out():
    random = np.random.default_rng(3)
    still = pieces(random)
    wearing = still + 0.2 * (ORDER - ORDER.mean())
    found = detrended_capability(wearing.tolist(), -6.0, 6.0)
    assert found.trend.slope == pytest.approx(0.2, abs=0.02)
    assert found.trend_share > 0.7
    without, worn = capability(still.tolist(), -6.0, 6.0), capability(wearing.tolist(), -6.0, 6.0)
    assert found.capability.pp.estimate == pytest.approx(without.pp.estimate, rel=0.02)
    assert worn.pp.estimate < 0.6 * found.capability.pp.estimate
    # a linear movement keeps ranges, so the spread within checks is the same to the last digit
    assert found.capability.sigma_within == pytest.approx(worn.sigma_within, rel=1e-9)
    by_pieces = detrended_capability(wearing.tolist(), -6.0, 6.0, at=(100 * ORDER[:, 0]).tolist())
    assert by_pieces.trend.slope == pytest.approx(found.trend.slope / 100)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: time_model([[1.0, 2.0]] * 5, seed=1), "too few subgroups"),
        (lambda: time_model([[1.0]] * 30, seed=1), "too few pieces"),
        (lambda: time_model([[1.0, 2.0]] * 9, seed=1, alpha=0.7), "alpha"),
        (lambda: time_model([[1.0, 1.0]] * 9, seed=1), "same mean"),
        (lambda: time_model([[1.0, 2.0]] * 9, seed=1), "same mean"),
        (lambda: time_model([[float(i), float(i)] for i in range(9)], seed=1), "all equal"),
        (lambda: spread_change([[1.0, 2.0]] * 9, seed=1, draws=3), "shuffles"),
        (lambda: detrended_capability([[1, 2]] * 4, 0, 3, at=[1, 2]), "place in time"),
        (lambda: detrended_capability([[1, 2]] * 4), "limit"),
    ],
)
def test_what_cannot_be_judged_is_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()


def test_few_folded_pieces_are_not_called_normal():
    random = np.random.default_rng(1)
    bent = np.abs(random.normal(0.01, 0.01, (10, 4))).tolist()
    plain = time_model(bent, seed=1)
    assert "pieces are normal" not in plain.reason
    assert "nothing here contradicts the normal shape" in plain.reason
    assert "with 40 pieces a half-normal or Rayleigh shape could not be told apart" in plain.reason
    known = time_model(bent, seed=1, kind="straightness")
    assert (known.model, known.near_zero, known.shapes_untold) == ("A2", True, ())
    assert "cannot go below 0" in known.reason
    # far above 0 a folded normal number is a normal one
    far = time_model((np.asarray(bent) + 1.0).tolist(), seed=1, kind="straightness")
    assert (far.model, far.near_zero) == ("A1", False)
    with pytest.raises(Refused, match="0 or more"):
        time_model((np.asarray(bent) - 0.01).tolist(), seed=1, kind="straightness")
    with pytest.raises(Refused, match="no such kind"):
        time_model(bent, seed=1, kind="roundness")


def test_shapes_are_named_as_long_as_the_test_misses_them():
    # independent simulation, against the table's critical value at 1 % (D'Agostino & Stephens 1.035)
    random = np.random.default_rng(4)
    for checks, told in ((10, False), (60, True)):
        found = 0
        for _ in range(100):
            pieces = np.abs(random.standard_normal((checks, 5)))
            off = ((pieces - pieces.mean(axis=1, keepdims=True)) * np.sqrt(1.25)).ravel()
            found += anderson_darling(off.tolist()).adjusted > 1.035
        assert (found >= 80) == told
        assert ("half_normal" not in shapes_untold([5] * checks, 0.01, seed=2)) == told
