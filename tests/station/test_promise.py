"""What a plan promises, and the chart that fits a wanted rate."""

import pytest
from review_cases import ring_station

from spc.errors import Refused
from spc.station.chart_choice import chart_choice


def test_the_rings_promise_what_their_limits_hold() -> None:
    (one,) = ring_station().promise("RING", "M1")
    assert (one.n, one.step_um, one.source) == (5, 5.0, "provisional limits")
    assert one.sigma_um == pytest.approx(9.9, abs=0.3)
    assert one.says.startswith("About one false alarm in 217 checks")  # limits and nine on one side
    assert "a step of 5 µm is found after" in one.says


def test_a_machine_without_checks_promises_nothing() -> None:
    (one,) = ring_station().promise("RING", "M9")
    assert one.sigma_um is None
    assert "Nothing can be promised yet" in one.says


def test_the_choice_meets_the_published_designs() -> None:
    # A step of one standard deviation of the mean: Hawkins 1993 (from memory) K 0.5 with H 4.77 for 370;
    # Montgomery & Runger: plain limits find it after 43.9 checks.
    choice = chart_choice(4, 10.0, 5.0, 370.4)
    judged, plain, ewma, cusum = choice.offers
    assert choice.shift_sigma == pytest.approx(1.0)
    assert plain.step.mean_points == pytest.approx(43.9, abs=0.05)
    assert cusum.constants == "K 0.50 σ, H 4.77 σ"
    assert ewma.in_control.mean_points == pytest.approx(370.4, abs=0.01)
    assert ewma.step.mean_points < cusum.step.mean_points < judged.step.mean_points
    assert "found by an EWMA after" in choice.says


def test_a_large_step_needs_nothing_else() -> None:
    assert "nothing else is needed" in chart_choice(5, 2.0, 20.0, 370).says


def test_a_step_too_small_says_how_many_pieces_would_do() -> None:
    with pytest.raises(Refused, match="about 25 pieces a check"):
        chart_choice(4, 20.0, 1.0, 370)
    with pytest.raises(Refused, match="20 to 10,000"):
        chart_choice(4, 20.0, 10.0, 5)
