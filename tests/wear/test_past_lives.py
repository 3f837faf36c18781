"""Lives of finished sets: against greatest likelihood, a brute sum over both numbers, and its own promise."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2, norm

from spc.statistics import age_replacement, life_model
from spc.wear import FinishedSet, planned_age, set_lives, sudden_ends

PLANNED, UNPLANNED = 1_700.0, 6_000.0


def finished(*sets: tuple[int, str]) -> tuple[FinishedSet, ...]:
    return tuple(
        FinishedSet(f"D-{place}", age, reason in ("worn", "chipped"), reason)
        for place, (age, reason) in enumerate(sets)
    )


FEW = finished((21_000, "worn"), (14_500, "chipped"), (18_000, "planned"), (26_000, "worn"), (9_000, "other"))


def weibull_fleet(shape: float, scale: float, sets: int, seed: int) -> tuple[FinishedSet, ...]:
    """Lives of a Weibull law; every third set is taken off as planned at a random age if it lives so long."""
    random = np.random.default_rng(seed)
    told = []
    for place, life in enumerate(scale * random.weibull(shape, sets)):
        planned = scale * random.uniform(0.4, 1.0) if place % 3 == 2 else np.inf
        told.append((round(min(life, planned)) + 1, "worn" if life <= planned else "planned"))
    return finished(*told)


def test_many_ends_leave_nothing_to_the_guess() -> None:
    """Greatest likelihood of the same lives (its values are held to Lawless and lifelines elsewhere)."""
    fleet = weibull_fleet(2.2, 30_000, 600, seed=1)
    fit = dict(life_model([each.age_pieces for each in fleet], [each.ended for each in fleet]).parameters)
    lives = set_lives(fleet)
    assert lives is not None
    assert (lives.shape, lives.scale) == pytest.approx((fit["shape"], fit["scale"]), rel=0.01)
    assert not lives.is_guessed


def test_few_ends_lean_on_the_guess_and_say_so() -> None:
    one = set_lives(finished((20_000, "worn")))
    assert one is not None
    assert (one.sets, one.ends, one.is_guessed) == (1, 1, True)
    low, high = one.shape_90()
    # the guess itself: nine of ten between 1.5 and 5 (process notes 2.3: chipping 1.5 to 2.5, wear 3 to 5)
    assert (low, high) == pytest.approx((1.5, 5.0), rel=0.01)


def test_a_brute_sum_over_shape_and_scale() -> None:
    """Written differently: both numbers on a fine grid, the likelihood set by set, the ages sorted."""
    shapes, scales = np.exp(np.linspace(np.log(0.3), np.log(20.0), 221)), np.exp(np.linspace(8.5, 13.5, 900))
    middle, sd = np.log(7.5) / 2.0, np.log(5.0 / 1.5) / 2.0 / norm.ppf(0.95)
    height = norm.logpdf(np.log(shapes), middle, sd)[:, None] + np.zeros_like(scales)
    for each in FEW:
        aged = each.age_pieces / scales
        height -= aged ** shapes[:, None]
        if each.ended:
            height += np.log(shapes)[:, None] + shapes[:, None] * np.log(aged)
    weights = np.exp(height - height.max())
    best = [age_replacement(shape, 1.0, PLANNED, UNPLANNED).age or np.inf for shape in shapes]
    ages = np.array(best)[:, None] * scales
    order = np.argsort(ages, axis=None)
    reached = np.cumsum(weights.ravel()[order]) / weights.sum()
    low, high = (ages.ravel()[order][np.searchsorted(reached, level)] for level in (0.05, 0.95))
    found = planned_age(FEW, PLANNED, UNPLANNED)
    assert found is not None
    assert (found.low90, found.high90) == pytest.approx((low, high), rel=0.01)


def test_the_interval_keeps_its_promise() -> None:
    """Laws drawn from the guess, six sets each: the best age of the true law lies inside nine times of ten."""
    random, inside, fleets = np.random.default_rng(7), 0, 150
    sd = np.log(5.0 / 1.5) / 2.0 / norm.ppf(0.95)
    for seed in range(fleets):
        shape = float(np.exp(random.normal(np.log(7.5) / 2.0, sd)))
        true = age_replacement(shape, 30_000.0, PLANNED, UNPLANNED).age or np.inf
        found = planned_age(weibull_fleet(shape, 30_000.0, 6, seed), PLANNED, UNPLANNED)
        assert found is not None
        inside += (found.low90 or np.inf) <= true <= (found.high90 or np.inf)
    assert 0.84 <= inside / fleets <= 0.96  # 135 expected, ±2.4 standard deviations of the count


def test_sets_taken_off_as_planned_lived_longer() -> None:
    """A planned removal is no end: one more of them at a great age makes the dies last longer, not shorter."""
    before, after = set_lives(FEW), set_lives((*FEW, *finished((40_000, "planned"))))
    assert before is not None
    assert after is not None
    assert after.scale > 1.05 * before.scale
    assert after.ends == before.ends == 3


def test_before_the_first_end_nothing_is_said() -> None:
    some = finished((9_000, "planned"), (12_000, "other"))
    assert set_lives(some) is None
    assert planned_age(some, PLANNED, UNPLANNED) is None
    assert planned_age((), PLANNED, UNPLANNED) is None


def test_where_no_planned_change_pays() -> None:
    found = planned_age(FEW, 6_000.0, 1_700.0)
    assert found is not None
    assert (found.best.age, found.low90, found.high90) == (None, None, None)


@given(st.integers(2, 50))
def test_ages_scale_with_lives(times: int) -> None:
    longer = tuple(
        FinishedSet(each.die_set, times * each.age_pieces, each.ended, each.reason) for each in FEW
    )
    one, other = planned_age(FEW, PLANNED, UNPLANNED), planned_age(longer, PLANNED, UNPLANNED)
    assert one is not None
    assert other is not None
    assert other.best.age == pytest.approx(times * (one.best.age or 0.0), rel=1e-9)
    assert other.low90 == pytest.approx(times * (one.low90 or 0.0), rel=1e-5)


@pytest.mark.parametrize("chipped", [0, 1, 4])
def test_sudden_ends(chipped: int) -> None:
    """Jeffreys' limits of a Poisson rate are chi-squared points with 2k+1 degrees (from memory)."""
    sets = finished(*[(20_000, "chipped")] * chipped, (30_000, "worn"), (10_000, "planned"))
    found = sudden_ends(sets)
    assert found is not None
    pieces = 40_000 + 20_000 * chipped
    assert (found.chipped, found.sets, found.pieces) == (chipped, 2 + chipped, pieces)
    expected = [500.0 * chi2.ppf(level, 2 * chipped + 1) / pieces for level in (0.05, 0.95)]
    assert [found.low90, found.high90] == pytest.approx(expected)
    assert found.per_1000 == pytest.approx(1000.0 * (chipped + 0.5) / pieces)


def test_sudden_ends_before_any_set_came_off() -> None:
    assert sudden_ends(()) is None


def test_more_quiet_pieces_make_sudden_ends_rarer() -> None:
    rates = [sudden_ends(finished(*[(20_000, "worn")] * sets)) for sets in (1, 3, 9)]
    assert all(a is not None and b is not None and b.high90 < a.high90 for a, b in pairwise(rates))
