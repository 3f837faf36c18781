"""Run lengths of EWMA and CUSUM against published tables, a finite chain, and simulated charts."""

from math import nan, sqrt

import numpy as np
import pytest
from published_tables import columns
from scipy.special import ndtr

from spc.errors import Refused
from spc.statistics import cusum_limits, ewma_limits
from spc.statistics.cusum_law import cusum_law
from spc.statistics.ewma_law import ewma_law
from spc.statistics.shewhart_law import shewhart_law

CUSUM = columns("run_lengths_cusum")
EWMA = columns("run_lengths_ewma")
DRIFT = columns("run_lengths_drift")


def test_cusum_meets_the_tables():
    # Lucas & Crosier 1982 / e-Handbook 6.3.2.3.1 (from memory), 3 digits; computed to 4 decimals.
    # Slip: at shift 3 the print says 2.19, exact 2.1945; the exact value rounds to the print.
    for shift, published, one, two in zip(*CUSUM.values(), strict=True):
        law = cusum_law(shift, decision=4.0)
        assert law.mean_points == pytest.approx(two, abs=5.1e-5)
        assert cusum_law(shift, decision=4.0, two_sided=False).mean_points == pytest.approx(one, abs=5.1e-5)
        if published == published:
            half = 0.5 if published > 100 else 0.05 if published > 10 else 0.005
            assert law.mean_points == pytest.approx(published, abs=1.01 * half)


def test_two_sides_add_as_rates():
    # 1/ARL = 1/ARL(high) + 1/ARL(low) (Kemp 1961, from memory), a shift of -d for the low side
    for shift in (0.0, 0.3, 1.0):
        sides = [cusum_law(sign * shift, decision=4.0, two_sided=False).mean_points for sign in (1, -1)]
        both = cusum_law(shift, decision=4.0).mean_points
        assert 1 / both == pytest.approx(sum(1 / side for side in sides), rel=1e-7)


def test_fast_initial_response():
    # Lucas & Crosier 1982, head start H/2, K 0.5, H 4, two-sided (from memory), then a chain of 400 states;
    # slip: at a shift of 3 the print has 1.32 where the equation gives 1.3254
    printed = {0: 149, 0.25: 62.7, 0.5: 20.1, 0.75: 8.97, 1: 5.29, 1.5: 2.86, 2: 2.01, 4: 1.07}
    for shift, value in printed.items():
        half = 0.5 if value > 100 else 0.05 if value > 10 else 0.0051
        assert cusum_law(shift, decision=4.0, head_start=0.5).mean_points == pytest.approx(value, abs=half)
    for shift in (0.0, 1.0):
        exact = cusum_law(shift, decision=4.0, two_sided=False, head_start=0.5).mean_points
        assert exact == pytest.approx(chain_of_sums(shift, 0.5, 4.0, 0.5), rel=2e-4)
    quick, plain = (cusum_law(1.5, decision=4.0, head_start=start).mean_points for start in (0.5, 0.0))
    assert quick < 0.7 * plain


def chain_of_sums(shift, slack, decision, head_start, states=400):
    """Brook & Evans, Biometrika 59 (1972): a finite chain; the sum stands in the middle of its cell."""
    width = 2.0 * decision / (2 * states - 1)
    places = width * np.arange(states)
    upper = places[None, :] + width / 2 - places[:, None] + slack - shift
    moves = ndtr(upper) - np.concatenate([np.zeros((states, 1)), ndtr(upper[:, :-1])], axis=1)
    waits = np.linalg.solve(np.eye(states) - moves, np.ones(states))
    return np.interp(head_start * decision, places, waits)


def test_ewma_meets_the_tables():
    designs = {"w25_2998": (0.25, 2.998), "w10_2814": (0.1, 2.814), "w10_2700": (0.1, 2.7)}
    designs |= {"w25_3000": (0.25, 3.0), "w20_3000": (0.2, 3.0), "w10_3000": (0.1, 3.0)}
    for heading, (weight, width) in designs.items():
        for shift, value in zip(EWMA["shift"], EWMA[heading], strict=True):
            law = ewma_law(shift, 0.0, weight, width, "constant")
            assert law.mean_points == pytest.approx(value, abs=5.1e-4), (heading, shift)


@pytest.mark.parametrize(
    ("printed", "weight", "width"), [("published_25", 0.25, 2.998), ("published_10", 0.1, 2.814)]
)
def test_ewma_meets_lucas_and_saccucci(printed, weight, width):
    # from memory; the page: a chain with finitely many states, allow 0.3 % beside the rounding of the print
    for shift, value in zip(EWMA["shift"], EWMA[printed], strict=True):
        rounding = 0.5 if value >= 100 else 0.05
        law = ewma_law(shift, 0.0, weight, width, "constant")
        assert law.mean_points == pytest.approx(value, abs=rounding + 0.003 * value)


def test_drift_meets_the_table():
    # the reference page: EWMA within 0.5 %, CUSUM within the error of 20,000 simulated runs (3 se and the rounding)
    for row in zip(*DRIFT.values(), strict=True):
        drift, _, *ewmas, cusum, se = row
        for value, (weight, width) in zip(ewmas, ((0.1, 2.703), (0.2, 2.86), (0.25, 2.898)), strict=True):
            assert ewma_law(0, drift, weight, width, "constant").mean_points == pytest.approx(
                value, abs=0.0051
            )
        law = cusum_law(0.0, drift, 0.5, 4.774)
        assert law.mean_points == pytest.approx(cusum, abs=3 * se + 0.005)


def fredholm(shift, weight, width):
    """L(z) = 1 + (1/weight) ∫ L(y) phi((y - (1-weight) z)/weight - shift) dy, solved at once (Crowder 1987)."""
    nodes, weights = np.polynomial.legendre.leggauss(120)
    half = width * sqrt(weight / (2 - weight))
    y, w = half * nodes, half * weights

    def row(z):
        u = (y - (1 - weight) * z) / weight - shift
        return w * np.exp(-u * u / 2) / sqrt(2 * np.pi) / weight

    lengths = np.linalg.solve(np.eye(120) - np.array([row(z) for z in y]), np.ones(120))
    return 1 + row(0.0) @ lengths


def test_summing_over_time_is_solving_the_integral_equation():
    for shift, weight, width in ((0.0, 0.05, 2.5), (0.7, 0.3, 3.0)):
        exact = fredholm(shift, weight, width)
        assert ewma_law(shift, 0.0, weight, width, "constant").mean_points == pytest.approx(exact, rel=1e-8)


def test_weight_one_is_the_plain_chart():
    for shift, drift in ((0.0, 0.0), (1.0, 0.0), (0.0, 0.1)):
        law, plain = ewma_law(shift, drift, 1.0, 3.0), shewhart_law(shift, drift)
        assert law.mean_points == pytest.approx(plain.mean_points, rel=1e-9)
        assert law.percentiles == plain.percentiles


def test_widening_limits_answer_sooner():
    for shift in (0.0, 0.5, 2.0):
        exact, constant = (
            ewma_law(shift, 0.0, 0.1, 2.7, limits).mean_points for limits in ("exact", "constant")
        )
        assert exact < constant


def test_laws_agree_with_charts_of_simulated_records():
    rng = np.random.default_rng(1954)
    smoothed, sums = [], []
    for _ in range(300):
        record = [[x] for x in rng.standard_normal(140) + 0.8]
        ewma = ewma_limits(record, target=0.0, sigma=1.0, weight=0.2, width=2.8)
        out = [not low <= z <= high for z, low, high in zip(ewma.points, ewma.lower, ewma.upper, strict=True)]
        cusum = cusum_limits(record, target=0.0, sigma=1.0, slack=0.4, decision=4.0)
        over = [max(pair) > cusum.upper for pair in zip(cusum.high, cusum.low, strict=True)]
        smoothed.append(1 + out.index(True))
        sums.append(1 + over.index(True))
    for lengths, law in ((smoothed, ewma_law(0.8, 0.0, 0.2, 2.8)), (sums, cusum_law(0.8, 0.0, 0.4, 4.0))):
        assert np.mean(lengths) == pytest.approx(law.mean_points, abs=4 * law.sd_points / sqrt(300))
        assert np.std(lengths) == pytest.approx(law.sd_points, rel=0.25)


@pytest.mark.parametrize(
    "wrong", [{"weight": 0.0}, {"width": nan}, {"head_start": 0.5}, {"shift_sigma": nan}]
)
def test_ewma_law_refuses(wrong):
    with pytest.raises(Refused):
        ewma_law(**wrong)


@pytest.mark.parametrize(
    "wrong", [{"slack": -1.0}, {"decision": 0.0}, {"head_start": 0.6}, {"drift_sigma": nan}]
)
def test_cusum_law_refuses(wrong):
    with pytest.raises(Refused):
        cusum_law(**wrong)
