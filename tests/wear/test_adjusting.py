"""The filter and the advice against the known laws of adjusting: set-up, bounded adjustment, a standing offset."""

import numpy as np
import pytest

from spc.wear import (
    SlideSize,
    WearBelief,
    WearPrior,
    advance,
    advise,
    forecast_mean,
    fresh_belief,
    level_um,
    observe,
)


def plain_prior(**changes: float) -> WearPrior:
    nothing = dict.fromkeys(WearPrior.__dataclass_fields__, 0.0)
    return WearPrior(**{**nothing, "gain": 1.0, "wander_pieces": 1000.0, **changes})


def test_a_set_up_is_answered_by_the_harmonic_rule() -> None:
    # Grubbs (1954), process.md 3.4 and section 10 item 2: with a set-up known to ±τ the answer to piece t is
    # 1/(t + σ²/τ²), and the mean square of the setting error after it, for an offset of 3σ and τ = 3σ, is
    # 0.9, 0.4737, 0.3214, 0.2432, 0.1957 (σ = 1). The first two moments follow from the filter's own numbers.
    belief, prior = fresh_belief(plain_prior(offset_sd_um=3.0)), plain_prior(offset_sd_um=3.0)
    for piece, square in enumerate([0.9, 0.4737, 0.3214, 0.2432, 0.1957], start=1):
        before = level_um(belief, 0.0)
        belief = advance(observe(belief, before + 1.0, 0.0, 1.0), prior, 0)
        assert level_um(belief, 0.0) - before == pytest.approx(1.0 / (piece + 1.0 / 9.0), abs=1e-9)
        assert forecast_mean(belief, 0.0, 1e-12).sd_um ** 2 == pytest.approx(square, abs=5e-5)


def test_without_knowledge_of_the_set_up_each_piece_counts_the_same() -> None:
    # Grubbs' example, process.md 3.4: readings 5.0, −1.2, 0.9, 0.6 are answered by −5.0, +0.6, −0.3, −0.15.
    belief, approach = fresh_belief(plain_prior(offset_sd_um=1e6)), 0.0
    moves = []
    for reading in (5.0, -1.2, 0.9, 0.6):
        belief = observe(belief, reading, approach, 1.0)
        moves.append(level_um(belief, approach))
        approach += moves[-1]
    assert moves == pytest.approx([5.0, -0.6, 0.3, 0.15], abs=1e-5)


def held(belief: WearBelief, approach: float, tolerance: float, growth: float = 0.0) -> SlideSize:
    half = tolerance / 2.0
    return SlideSize(
        "size", level_um(belief, approach), 0.0, growth, 1.0, tolerance / 30.0, -half, half, tolerance
    )


@pytest.mark.parametrize(
    ("lam", "limit", "interval", "increase"),
    # Box & Luceño (1997) as in process.md 3.5 and section 10 item 4: mean checks between moves to 5 %, increase of
    # the standard deviation over the innovations' to 1 point; the column of own simulation there.
    [(0.2, 1.0, 31.4, 9.3), (0.3, 1.0, 15.6, 9.8), (0.4, 1.5, 19.1, 20.8), (0.4, 0.5, 3.6, 2.5)],
)
def test_bounded_adjustment_moves_as_rarely_as_printed(
    lam: float, limit: float, interval: float, increase: float
) -> None:
    # An IMA(0,1,1) with innovations of sd 1 is a random walk of sd λ in noise of sd √(1−λ); its best forecast is an
    # EWMA with weight λ. The advice takes the forecast and a deadband of 15 % of the tolerance.
    dice, tolerance, checks = np.random.default_rng(3), limit / 0.15, 30_000
    forecast = approach = 0.0
    moves, errors, level = 0, [], 0.0
    noise = dice.standard_normal((checks, 2)) * (lam, (1.0 - lam) ** 0.5)
    for drift, scatter in noise:
        reading = level + scatter - approach
        errors.append(reading)
        forecast += lam * (reading - forecast)
        level += drift
        size = SlideSize("size", forecast, 0.0, 0.0, 1.0, 1e-6, -tolerance / 2, tolerance / 2, tolerance)
        advice = advise([size], 1e-3, None)
        if advice is not None:
            moves, approach, forecast = (
                moves + 1,
                approach + advice.approach_um,
                forecast - advice.approach_um,
            )
    assert checks / moves == pytest.approx(interval, rel=0.05)
    assert 100.0 * (np.std(errors) - 1.0) == pytest.approx(increase, abs=1.0)


@pytest.mark.parametrize(("gain", "offset"), [(0.5, 0.5), (1.0, 0.25)])
def test_answers_to_readings_lag_behind_a_drift(gain: float, offset: float) -> None:
    # process.md 3.7 and section 10 item 8: under a drift d an answer of G times the reading leaves d/G standing
    # (d = 0.25: 0.5 at G = 0.5, 0.25 at G = 1).
    standing = 0.0
    for _ in range(200):
        standing += 0.25 - gain * standing
    assert standing == pytest.approx(offset, abs=1e-9)


def test_the_advice_meets_a_drift_beforehand() -> None:
    # From −D/2 up to D the mean is D/4, whatever the drift, and the mean square D²/4, where a slide set to target
    # each time leaves D/2 and D²/3 (own calculus). D is 15 % of the tolerance, here 3 µm.
    prior = plain_prior(offset_sd_um=10.0, rate_sd_um_per_1000=1.0)
    belief, approach, middles = fresh_belief(prior), 0.0, []
    for check in range(1, 800):
        belief = advance(belief, prior, 1000 * check)
        belief = observe(belief, 0.1 * check - approach, approach, 0.01)
        advice = advise([held(belief, approach, 20.0, growth=0.1)], 1e-3, None)
        approach += 0.0 if advice is None else advice.approach_um
        middles.append(0.1 * (check + 0.5) - approach)
    whole = middles[200:650]  # ten ways of 45 checks
    assert np.mean(whole) == pytest.approx(0.75, abs=0.1)
    assert np.mean(np.square(whole)) == pytest.approx(9.0 / 4.0, abs=0.1)
