"""EWMA constants for limits that widen, with and without a narrow start, against simulated charts.

The published figures of Lucas & Saccucci (1990) at hand have constant limits and no head start; those with widening
limits are checked by an independent simulation (fixed seed), four standard errors allowed.
"""

import numpy as np
import pytest

from spc.errors import Refused
from spc.statistics.chart_design import design_ewma
from spc.statistics.ewma import ewma_limits
from spc.statistics.ewma_law import ewma_law
from spc.statistics.narrow_start import narrow_start_factor

CHARTS = 20_000


def simulated(weight, width, shift, share, seed):
    """Mean run length and its standard error, from the definition: smoothed value against its own variance."""
    random = np.random.default_rng(seed)
    value, lengths = np.zeros(CHARTS), np.zeros(CHARTS)
    running = np.arange(CHARTS)
    variance, point = 0.0, 0
    while running.size:
        point += 1
        variance = weight**2 + (1.0 - weight) ** 2 * variance
        value = (1.0 - weight) * value + weight * (shift + random.standard_normal(running.size))
        # Steiner (1999), from memory: half the width at the first point is nearly the whole one at the 20th
        slow = (-2.0 / np.log10(1.0 - share) - 1.0) / 19.0 if share < 1.0 else 0.0
        factor = 1.0 - (1.0 - share) ** (1.0 + slow * (point - 1))
        out = np.abs(value) > width * np.sqrt(variance) * factor
        lengths[running[out]] = point
        running, value = running[~out], value[~out]
    return lengths.mean(), lengths.std() / np.sqrt(CHARTS)


@pytest.mark.parametrize("share", [1.0, 0.5])
@pytest.mark.parametrize(("weight", "arl0"), [(0.1, 100.0), (0.3, 60.0)])
def test_designed_constants_give_the_wanted_run_length(weight, arl0, share):
    design = design_ewma(arl0, weight, narrow_start=share)
    assert design.in_control.mean_points == pytest.approx(arl0, rel=1e-6)
    mean, error = simulated(weight, design.width, 0.0, share, seed=5)
    assert mean == pytest.approx(arl0, abs=4.0 * error)
    for shift in (0.5, 2.0):
        mean, error = simulated(weight, design.width, shift, share, seed=6)
        law = ewma_law(shift, 0.0, weight, design.width, narrow_start=share)
        assert law.mean_points == pytest.approx(mean, abs=4.0 * error)


def test_a_narrow_start_finds_a_wrong_start_sooner_at_the_same_false_alarms():
    plain, narrow = (design_ewma(370.0, 0.2, narrow_start=share) for share in (1.0, 0.5))
    assert narrow.width > plain.width
    waits = [
        ewma_law(1.0, 0.0, 0.2, each.width, narrow_start=each.narrow_start).mean_points
        for each in (plain, narrow)
    ]
    assert waits[1] < waits[0]


def test_the_weight_for_a_shift_is_that_of_the_long_run():
    drawn = design_ewma(370.0, shift_sigma=1.0)
    long_run = design_ewma(370.0, shift_sigma=1.0, limits="constant")
    assert drawn.weight == pytest.approx(long_run.weight, abs=1e-12)
    assert drawn.width > long_run.width
    # Crowder (1989), from memory: about 0.13 to 0.14 for a shift of one sigma at 370
    assert drawn.weight == pytest.approx(0.14, abs=0.01)


def test_the_chart_is_drawn_as_designed():
    plain = ewma_limits([[0.1]] * 30, target=0.0, sigma=1.0)
    narrow = ewma_limits([[0.1]] * 30, target=0.0, sigma=1.0, narrow_start=0.5)
    factors = [low / wide for low, wide in zip(narrow.upper, plain.upper, strict=True)]
    assert factors[0] == pytest.approx(0.5)
    assert factors[19] == pytest.approx(0.99)
    assert factors == sorted(factors)
    assert narrow.points == plain.points
    assert narrow_start_factor(1, 0.995) == 1.0


@pytest.mark.parametrize(
    ("wrong", "reason"),
    [
        (lambda: design_ewma(370.0, 0.2, limits="constant", narrow_start=0.5), "wants limits that widen"),
        (lambda: design_ewma(370.0, 0.2, narrow_start=0.0), "above 0.1 up to 1"),
        (lambda: design_ewma(370.0, 0.2, narrow_start=float("nan")), "above 0.1 up to 1"),
        (lambda: ewma_law(weight=0.2, head_start=0.5), "narrow start instead"),
        (lambda: ewma_limits([[1.0], [2.0]], narrow_start=2.0), "above 0.1 up to 1"),
    ],
)
def test_a_head_start_that_cannot_be(wrong, reason):
    with pytest.raises(Refused, match=reason):
        wrong()
