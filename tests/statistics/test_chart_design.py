"""Chart constants for a wanted false-alarm rate, and what a plan promises."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.errors import Refused
from spc.statistics.chart_design import design_cusum, design_ewma
from spc.statistics.cusum_law import cusum_law
from spc.statistics.ewma_law import ewma_law
from spc.statistics.plan_promise import plan_promise, promise_in_words
from spc.statistics.rule_sets import RULE_SETS

HAWKINS = {
    0.25: (8.01, 370.33),
    0.5: (4.77, 368.56),
    0.75: (3.34, 370.57),
    1.0: (2.52, 372.82),
    1.25: (1.99, 373.54),
    1.5: (1.61, 376.34),
}


def test_hawkins_designs():
    # Hawkins 1993; Montgomery Table 9.4 (from memory), ARL0 370: H to two decimals; ARL of the rounded H computed
    for slack, (decision, arl0) in HAWKINS.items():
        assert cusum_law(0.0, 0.0, slack, decision).mean_points == pytest.approx(arl0, abs=0.0051)
    for slack in (0.25, 0.5, 0.75, 1.0, 1.25):
        assert design_cusum(370, slack).decision == pytest.approx(HAWKINS[slack][0], abs=0.0051)
    # Slip of the print: at K = 1.5 exactly 370 wants H = 1.604, printed 1.61; at 0.5 it is 4.774, cut to 4.77
    assert design_cusum(370, 1.5).decision == pytest.approx(1.604, abs=0.0006)
    assert design_cusum(370, 0.5).decision == pytest.approx(4.774, abs=0.0006)


def test_lucas_and_saccucci_designs():
    # Technometrics 32 (1990), ARL0 500 (from memory): weight 0.25 with 2.998, 0.10 with 2.814
    for weight, width in ((0.25, 2.998), (0.10, 2.814)):
        assert design_ewma(500, weight, limits="constant").width == pytest.approx(width, abs=0.0006)


@given(st.floats(50, 1500), st.floats(0.05, 1.0))
@settings(max_examples=5, deadline=None)
def test_designs_keep_their_promise(arl0, weight):
    ewma = design_ewma(arl0, weight)
    assert ewma_law(0.0, 0.0, ewma.weight, ewma.width).mean_points == pytest.approx(arl0, rel=1e-6)
    cusum = design_cusum(arl0, 0.5, head_start=0.5)
    assert cusum.in_control.mean_points == pytest.approx(arl0, rel=1e-6)


def test_the_soonest_weight_beats_its_neighbours():
    best = design_ewma(370, shift_sigma=1.0, limits="constant")
    wait = ewma_law(1.0, 0.0, best.weight, best.width, "constant").mean_points
    for weight in (best.weight / 1.5, best.weight * 1.5):
        other = design_ewma(370, weight, limits="constant")
        assert wait < ewma_law(1.0, 0.0, weight, other.width, "constant").mean_points
    assert 0.1 < best.weight < 0.2  # Crowder 1989 gives about 0.14 for 1 sigma at 370 (from memory)


def test_a_plan_promises_in_one_sentence():
    promise = plan_promise(5, 5.59, 5.0, drift_um_per_check=0.25, rules=RULE_SETS["house"])
    assert promise.in_control.mean_points == pytest.approx(216.696, abs=5.1e-4)
    assert promise.step.shift_sigma == pytest.approx(2.0, abs=1e-3)
    assert promise.says == (
        "About one false alarm in 217 checks; a step of 5 µm is found after 5.1 checks on average "
        "(95 of 100 within 9); a drift of 0.25 µm per check after 15 checks (95 of 100 within 23)."
    )


def test_a_promise_of_memory_charts_is_said_alike():
    quiet, step = cusum_law(decision=4.0), cusum_law(1.0, decision=4.0)
    assert promise_in_words(quiet, step, -3.0, level=0.5) == (
        "About one false alarm in 168 checks; a step of 3 µm is found after 8.4 checks on average (50 of 100 within 7)."
    )


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: design_ewma(370),
        lambda: design_ewma(370, 0.1, shift_sigma=1.0),
        lambda: design_ewma(5, 0.2),
        lambda: design_ewma(370, 0.001),
        lambda: design_ewma(370, shift_sigma=9.0),
        lambda: design_cusum(370, 5.0),
        lambda: design_cusum(float("nan")),
        lambda: plan_promise(0, 1.0),
        lambda: plan_promise(5, 0.0),
        lambda: plan_promise(5, 1.0, 0.0),
        lambda: plan_promise(5, 1.0, 1.0, level=0.9),
    ],
)
def test_what_cannot_be_promised_is_refused(wrong):
    with pytest.raises(Refused):
        wrong()
