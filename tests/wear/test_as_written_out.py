"""The wear room, call by call, against its docstring written out with full matrices."""

import math
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import matrix
from written_out import Check, Guess, OnDieSet, OnMachine, ahead, take_in

from spc.wear import (
    PieceSpread,
    SlideRole,
    WarmUp,
    WearBelief,
    WearPrior,
    advance,
    change_batch,
    forecast_mean,
    fresh_belief,
    fresh_warm_up,
    learn_spread,
    learn_warm_up,
    observe,
    open_rate,
    open_shift,
    prior_for,
    remount,
    settle,
    sigma_um,
    still_cold,
)

KINDS = ("plain", "plain", "bars", "mount", "cold", "step", "wear")
EVENTS = st.lists(
    st.tuples(
        st.sampled_from(KINDS),
        st.integers(0, 3000),
        st.floats(-30.0, 30.0),
        st.floats(-15.0, 15.0),
        st.integers(1, 6),
    ),
    min_size=1,
    max_size=25,
)


@pytest.mark.parametrize(("tolerance", "gain"), [(36.0, 0.8), (14.0, 0.5), (100.0, -1.2), (28.0, None)])
def test_the_first_guess_is_as_written(tolerance: float, gain: float | None) -> None:
    guess, prior = Guess(tolerance, gain or 0.0), prior_for(SlideRole("size", tolerance, gain), [])
    sds = (
        prior.offset_sd_um,
        0.0,
        prior.rate_sd_um_per_1000,
        prior.gain_sd,
        prior.wander_sd_um,
        prior.batch_sd_um,
    )
    assert sds == pytest.approx(np.sqrt(guess.variances), rel=1e-12)
    assert (prior.rate_um_per_1000, prior.gain) == (guess.rate, guess.gain)
    assert prior.rate_wander_um_per_1000 == pytest.approx(guess.w, rel=1e-12)
    assert prior.check_sd_um**2 == pytest.approx(guess.check_var, rel=1e-12)
    assert (prior.wander_pieces, prior.break_in_pieces) == (pytest.approx(2500.0), pytest.approx(800.0))


@dataclass
class Believed:
    """What the package's own calls believe of one size."""

    prior: WearPrior
    gain: float
    belief: WearBelief
    warm_up: WarmUp
    spread: PieceSpread

    def take_in(self, check: Check, told: str, slope: float) -> tuple[float, float]:
        """One check; the surprise and its variance come back."""
        belief, mean = self.belief, float(check.values.mean())
        belief = advance(settle(belief, self.prior, belief.age_pieces, check.age), self.prior, check.age)
        cold, approach = still_cold(check.since_start), check.approach
        noise = sigma_um(self.spread) ** 2 / len(check.values) + self.prior.check_sd_um**2
        noise += cold**2 * self.warm_up.doubt_um2
        level = mean - cold * self.warm_up.height_um
        forecast = forecast_mean(belief, approach, noise)
        off, var = level - forecast.mean_um, forecast.sd_um**2
        if told:
            belief = open_shift(belief, off**2)
            belief = open_rate(belief, slope**2) if told == "wear" else belief
        else:
            self.warm_up = learn_warm_up(self.warm_up, cold, off, var)
        self.belief = observe(belief, level, approach, noise)
        self.spread = learn_spread(self.spread, tuple(check.values), mean + self.gain * approach)
        return off, var


@given(st.sampled_from([(36.0, 0.8), (100.0, -1.2), (28.0, None)]), EVENTS)
@settings(max_examples=60)
def test_every_history_is_believed_as_written(
    size: tuple[float, float | None], events: list[tuple[str, int, float, float, int]]
) -> None:
    tolerance, gain = size
    prior, guess = prior_for(SlideRole("size", tolerance, gain), []), Guess(tolerance, gain or 0.0)
    dies, machine = OnDieSet(guess), OnMachine(guess)
    begun = settle(fresh_belief(prior), prior, 0, math.inf)
    package = Believed(prior, guess.gain, begun, fresh_warm_up(tolerance), PieceSpread(tolerance / 12.0))
    dies.begin(0)
    dice, age = np.random.default_rng(len(events)), 0
    for kind, pieces, approach, off, n in events:
        age += pieces
        if kind == "bars":
            package.belief = change_batch(package.belief, prior)
            dies.change_bars()
        if kind == "mount" and package.belief.checks:
            package.belief = remount(package.belief, prior)
            dies.mount_again()
        check = Check(age, off + 2.0 * dice.standard_normal(n), approach, pieces if kind == "cold" else None)
        told = kind if kind in ("step", "wear") else ""
        said = ahead(dies, machine, check)
        take_in(dies, machine, check, said, told, off / 10.0)
        machine.learn_pieces(check.values, approach)
        assert package.take_in(check, told, off / 10.0) == pytest.approx(
            (said.off, said.var), rel=1e-9, abs=1e-9
        )
    assert package.belief.mean == pytest.approx(dies.x, abs=1e-9)
    assert matrix(package.belief) == pytest.approx(dies.p, abs=1e-9)
    learned = (package.warm_up.height_um, package.warm_up.variance_um2)
    assert learned == pytest.approx((machine.start, machine.start_var), abs=1e-9)
