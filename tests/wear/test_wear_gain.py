"""The slide gain across die sets: against least squares and against conditioning one joint normal law."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import PRIOR, Die, a_prior, after_checks

from spc.wear import GainFact, WearPrior, expected_gain, fresh_belief, gain_fact

SET_SD, MACHINE_SD = 0.02, 0.10
"""Shares of the gain (common practice, no source): the module's own statement."""


def only_gain(gain: float, gain_sd: float) -> WearPrior:
    """All else known: what is left is one slope through the origin."""
    return WearPrior(0.0, 0.0, 0.0, 0.0, gain, gain_sd, 0.0, 2500.0, 0.0)


APPROACHES = [0.0, 2.0, 5.0, 9.0, 14.0, 14.0]


@pytest.mark.parametrize(("guess", "guess_sd"), [(0.8, 0.16), (0.6, 0.3), (1.1, 0.5)])
def test_what_a_set_says_is_its_own_least_squares_whatever_the_prior(guess: float, guess_sd: float) -> None:
    die = Die(offset_um=0.0, rate_um_per_1000=0.0, gain=0.7, noise_sd_um=1.5, seed=4)
    same = Die(offset_um=0.0, rate_um_per_1000=0.0, gain=0.7, noise_sd_um=1.5, seed=4)
    prior = only_gain(guess, guess_sd)
    ages = [300 * i for i in range(1, 7)]
    belief = after_checks(die, prior, ages, APPROACHES)
    x = -np.array(APPROACHES)[:, None]
    y = np.array([same.mean_um(age, at) for age, at in zip(ages, APPROACHES, strict=True)])
    slope = np.linalg.lstsq(x, y, rcond=None)[0]
    fact = gain_fact(belief, prior, "over_pin", "R1")
    assert fact is not None
    assert (fact.characteristic, fact.machine) == ("over_pin", "R1")
    assert fact.gain == pytest.approx(slope[0], rel=1e-8)
    assert fact.variance == pytest.approx(1.5**2 / float(np.sum(x**2)), rel=1e-8)


def test_a_set_whose_slide_never_moved_says_nothing() -> None:
    prior = a_prior()
    belief = after_checks(Die(), prior, list(range(300, 9000, 300)), [0.0] * 29)
    assert gain_fact(belief, prior, "over_pin", "R1") is None
    assert gain_fact(fresh_belief(prior), prior, "over_pin", "R1") is None
    set_by_nothing = a_prior(gain=0.0, gain_sd=0.0)
    assert gain_fact(fresh_belief(set_by_nothing), set_by_nothing, "lead", "R1") is None


def spread_of_machines(facts: list[GainFact], guess: float) -> float:
    """A tenth of the gain, worth two machines, pooled with the moments of the machines' own means."""
    means, doubts = [], []
    for machine in {each.machine for each in facts}:
        here = [each for each in facts if each.machine == machine]
        weights = np.array([1.0 / (each.variance + (SET_SD * guess) ** 2) for each in here])
        means.append(float(np.average([each.gain for each in here], weights=weights)))
        doubts.append(1.0 / float(weights.sum()))
    free = len(means) - 1
    if free == 0:
        return MACHINE_SD * guess
    beyond = max(float(np.var(means, ddof=1)) - sum(doubts) / free, 0.0)
    return math.sqrt((2.0 * (MACHINE_SD * guess) ** 2 + free * beyond) / (2.0 + free))


def test_machines_far_apart_leave_the_next_one_unsure() -> None:
    alike, apart = (
        [GainFact("over_pin", f"R{i}", 0.8 + by * i, 1e-4) for i in range(-2, 3)] for by in (0.0, 0.2)
    )
    assert expected_gain(apart, "R9", 0.8, 0.16)[1] > 2.0 * expected_gain(alike, "R9", 0.8, 0.16)[1]


def conditioned(facts: list[GainFact], machine: str, guess: float, guess_sd: float) -> tuple[float, float]:
    """The same two-level model as one joint normal law of the next gain and the facts, conditioned."""
    set_sd, machine_sd = SET_SD * guess, spread_of_machines(facts, guess)
    places = [machine, *(each.machine for each in facts)]
    together = np.equal.outer(np.array(places), np.array(places))
    cov = guess_sd**2 + machine_sd**2 * together + set_sd**2 * np.eye(len(places))
    cov += np.diag([0.0, *(each.variance for each in facts)])
    weights = np.linalg.solve(cov[1:, 1:], cov[1:, 0])
    mean = guess + weights @ (np.array([each.gain for each in facts]) - guess)
    return float(mean), math.sqrt(cov[0, 0] - weights @ cov[1:, 0])


FACTS = st.lists(
    st.builds(
        GainFact,
        st.just("over_pin"),
        st.sampled_from(["R1", "R2", "R3"]),
        st.floats(0.4, 1.4),
        st.floats(1e-4, 0.05),
    ),
    min_size=1,
    max_size=9,
)


@given(FACTS, st.sampled_from(["R1", "R2", "R9"]), st.floats(0.5, 1.2), st.floats(0.05, 0.4))
@settings(max_examples=60, deadline=None)
def test_agrees_with_conditioning_the_joint_law(
    facts: list[GainFact], machine: str, guess: float, guess_sd: float
) -> None:
    expected = conditioned(facts, machine, guess, guess_sd)
    assert expected_gain(facts, machine, guess, guess_sd) == pytest.approx(expected, rel=1e-7)


def test_without_facts_it_is_the_guess() -> None:
    assert expected_gain([], "R1", 0.8, 0.16) == (0.8, 0.16)
    assert expected_gain([], "R1", 0.0, 0.0) == (0.0, 0.0)


def test_facts_narrow_down_to_what_sets_differ_by() -> None:
    spreads = [
        expected_gain([GainFact("over_pin", "R1", 0.7, 0.0025)] * count, "R1", 0.8, 0.16)[1]
        for count in (0, 1, 3, 10, 1000)
    ]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[-1] == pytest.approx(SET_SD * 0.8, rel=0.02)


def test_the_own_machine_counts_more_than_another() -> None:
    facts = [GainFact("over_pin", "R1", 0.6, 0.001), GainFact("over_pin", "R2", 1.0, 0.001)]
    here, there = (expected_gain(facts, machine, 0.8, 0.16)[0] for machine in ("R1", "R2"))
    assert here < 0.7
    assert there > 0.9
    assert expected_gain(facts, "R9", 0.8, 0.16)[0] == pytest.approx(0.8)
    assert expected_gain(facts, "R9", 0.8, 0.16)[1] > expected_gain(facts, "R1", 0.8, 0.16)[1]


def test_sets_that_taught_nothing_never_make_it_sure() -> None:
    prior, facts = PRIOR, []
    for seed in range(20):
        belief = after_checks(Die(seed=seed), prior, list(range(300, 6000, 300)), [0.0] * 19)
        fact = gain_fact(belief, prior, "over_pin", "R1")
        facts += [fact] if fact else []
    assert expected_gain(facts, "R1", prior.gain, prior.gain_sd) == (prior.gain, prior.gain_sd)
