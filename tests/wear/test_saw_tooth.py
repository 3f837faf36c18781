"""Where a size that grows is put when it is set back, against the calculus of the saw-tooth."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.wear import SlideSize, advise, saw_tooth_lead

AMOUNT = st.floats(0.0, 5.0)


def loss(pieces: float, drift: float, start: float) -> float:
    """Mean square of a drift over so many pieces, by summing it up at two thousand places."""
    places = (np.arange(2000) + 0.5) / 2000.0
    return float(np.mean((start + drift * pieces * places) ** 2))


def test_the_lead_is_the_start_of_least_cost() -> None:
    # process.md 3.2 and section 10 item 7: k = 1, d = 0.002 µm a piece, C = 100: N* = 531.33, cost 0.28231; a start
    # on target gives 334.72.
    counts = np.arange(100.0, 1000.0, 0.25)
    led = [100.0 / n + loss(n, 0.002, -saw_tooth_lead(0.002, 0.0, 0.0, 0.002 * n)) for n in counts]
    plain = [100.0 / n + loss(n, 0.002, 0.0) for n in counts]
    assert counts[int(np.argmin(led))] == pytest.approx(531.33, abs=0.25)
    assert min(led) == pytest.approx(0.28231, abs=5e-6)
    assert counts[int(np.argmin(plain))] == pytest.approx(334.72, abs=0.25)


@given(AMOUNT, AMOUNT, AMOUNT, st.floats(0.5, 10.0))
def test_the_lead_is_half_the_deadband_at_most(
    growth: float, doubt: float, wander: float, band: float
) -> None:
    lead = saw_tooth_lead(growth, doubt, wander, band)
    assert 0.0 <= lead <= band / 2.0 + 1e-9
    assert saw_tooth_lead(-growth, doubt, wander, band) == lead
    assert saw_tooth_lead(growth, doubt + 0.5, wander, band) <= lead
    assert saw_tooth_lead(growth, doubt, wander + 0.5, band) <= lead


def test_growth_nobody_is_sure_of_leads_nowhere() -> None:
    assert saw_tooth_lead(0.4, 0.0, 0.0, 4.0) == pytest.approx(2.0)
    assert saw_tooth_lead(0.4, 4.0, 0.0, 4.0) < 0.25
    assert saw_tooth_lead(0.0, 0.0, 1.0, 4.0) == 0.0


@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_the_advice_aims_to_the_side_that_growth_comes_from(sign: float) -> None:
    size = SlideSize("over_pin", 6.0 * sign, 0.5, 0.4 * sign, 1.0, 2.0, -18.0, 18.0, 36.0)
    advice = advise([size], 1.0, None)
    assert advice is not None
    # deadband 5.4 µm, so 2.7 µm before the target over the whole way, 2.5 µm in the middle of the first interval
    assert advice.approach_um == 9.0 * sign
    assert dict(advice.lands_um)["over_pin"] == pytest.approx(-3.0 * sign)
