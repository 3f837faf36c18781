"""Travel from a trace: exact cases in fractions (calculated), brute-force windows, and what must not matter."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import travel

STEPS = np.arange(0.0, 601.0, 100.0)


def test_L1() -> None:
    found = travel(STEPS, [0, 2, 5, 4, 8, 9, 14])
    assert found.slope_um_per_mm == pytest.approx(59 / 2800, abs=1e-12)
    assert found.intercept_um == pytest.approx(-9 / 28, abs=1e-12)
    assert found.mean_deviation_um == pytest.approx(177 / 14, abs=1e-12)
    assert found.variation_um == pytest.approx(103 / 28, abs=1e-12)
    assert found.variation_300_um == pytest.approx(103 / 28, abs=1e-12)
    assert (found.from_300_mm, found.to_300_mm) == (300.0, 600.0)
    assert (found.n, found.travel_mm, found.variation_2pi_um) == (7, 600.0, None)


def test_L2_a_bow() -> None:
    x = np.arange(0.0, 601.0, 25.0)
    found = travel(x, 0.01 * x + 6 * (1 - ((x - 300) / 300) ** 2))
    assert found.slope_um_per_mm == pytest.approx(0.01, abs=1e-12)
    for value in (found.mean_deviation_um, found.variation_um, found.variation_300_um):
        assert value == pytest.approx(6.0, abs=1e-12)
    assert found.from_300_mm == 0.0


def test_L3_the_line_soaks_up_part_of_a_step() -> None:
    x = np.arange(0.0, 901.0, 50.0)
    found = travel(x, -0.01 * x + 5.0 * (x > 400))
    assert found.slope_um_per_mm == pytest.approx(-2 / 950, abs=1e-12)
    assert found.mean_deviation_um == pytest.approx(-1.894737, abs=5e-7)
    assert found.variation_um == pytest.approx(4.605263, abs=5e-7)
    assert found.variation_300_um == pytest.approx(4.605263, abs=5e-7)
    assert (found.from_300_mm, found.to_300_mm) == (150.0, 450.0)


def test_L4_a_wobble_in_every_turn() -> None:
    x = np.arange(0.0, 600.1, 2.5)
    found = travel(x, 0.02 * x + 4 * np.sin(2 * np.pi * x / 10), lead_mm=10.0)
    assert found.slope_um_per_mm == pytest.approx(0.0198353966, abs=5e-11)
    assert found.mean_deviation_um == pytest.approx(11.901238, abs=5e-7)
    assert found.variation_um == pytest.approx(8.096293, abs=5e-7)
    assert found.variation_300_um == pytest.approx(8.048558, abs=5e-7)
    assert found.variation_2pi_um == pytest.approx(8.000823, abs=5e-7)


def test_L5_300_mm_hold_less_than_the_whole() -> None:
    found = travel(np.arange(0.0, 901.0, 100.0), [0, 1, 4, 6, 5, 3, 1, 0, 2, 5])
    assert found.slope_um_per_mm == pytest.approx(1 / 1100, abs=1e-12)
    assert found.intercept_um == pytest.approx(126 / 55, abs=1e-12)
    assert found.mean_deviation_um == pytest.approx(9 / 11, abs=1e-12)
    assert found.variation_um == pytest.approx(70 / 11, abs=1e-12)
    assert found.variation_300_um == pytest.approx(63 / 11, abs=1e-12)
    assert found.from_300_mm == 0.0


TRACES = st.lists(st.tuples(st.integers(1, 60), st.integers(-200, 200)), min_size=2, max_size=60).map(
    lambda pairs: (np.cumsum([step for step, _ in pairs]) * 2.5, np.array([e for _, e in pairs]) * 0.1)
)


def widest(x, values, width: float) -> float:
    """Every pair of readings no further apart than the window."""
    pairs = ((a, b) for a in range(len(x)) for b in range(a, len(x)) if x[b] - x[a] <= width + 1e-9)
    return max(abs(values[a] - values[b]) for a, b in pairs)


@given(TRACES)
def test_windows_by_brute_force(trace) -> None:
    x, e = trace
    found = travel(x, e, lead_mm=200.0)
    line = np.polyval(np.polyfit(x, e, 1), x)
    assert found.mean_deviation_um == pytest.approx(line[-1] - line[0], abs=1e-8)
    assert found.variation_um == pytest.approx(widest(x, e - line, math.inf), abs=1e-8)
    assert found.variation_300_um == pytest.approx(widest(x, e - line, 300.0), abs=1e-8)
    assert found.variation_2pi_um == pytest.approx(widest(x, e - line, 200.0), abs=1e-8)
    assert found.error_300_um == pytest.approx(widest(x, e, 300.0), abs=1e-8)
    if x[-1] - x[0] >= 300.0:
        counted = [np.sum((x > a) & (x <= a + 300.0)) for a in x if a + 300.0 <= x[-1]]
        assert found.least_readings_300 == min(counted)


@given(TRACES, st.floats(-0.5, 0.5), st.floats(-50, 50), st.floats(0.1, 10.0), st.floats(-1000, 1000))
def test_what_must_not_matter(trace, tilt, up, scale, along) -> None:
    x, e = trace
    plain, moved = travel(x, e), travel(x + along, scale * e + tilt * x + up)
    added = tilt * plain.travel_mm
    assert moved.mean_deviation_um == pytest.approx(scale * plain.mean_deviation_um + added, abs=1e-6)
    assert moved.variation_um == pytest.approx(scale * plain.variation_um, abs=1e-6)
    assert moved.variation_300_um == pytest.approx(scale * plain.variation_300_um, abs=1e-6)


@given(TRACES)
def test_a_narrower_window_never_shows_more(trace) -> None:
    found = travel(*trace, lead_mm=200.0)
    assert found.variation_2pi_um <= found.variation_300_um <= found.variation_um


def test_useful_travel_leaves_the_ends_out() -> None:
    x = np.arange(0.0, 101.0, 10.0)
    e = np.where((x == 0) | (x == 100), 50.0, 0.0)
    found = travel(x, e, useful_mm=(10.0, 90.0))
    assert (found.travel_mm, found.n, found.variation_um) == (80.0, 9, 0.0)
    with pytest.raises(Refused, match=r"fewer than two readings.*within 0 to 100 mm"):
        travel(x, e, useful_mm=(12.0, 19.0))


@pytest.mark.parametrize(
    ("x", "e", "lead", "says"),
    [
        ([0.0], [1.0], None, "two points or more"),
        ([0, 1, 2], [0, 1], None, "one value for each position"),
        ([0, 1, math.nan], [0, 1, 2], None, "point 3 of the trace is no number"),
        ([0, 1, 1], [0, 1, 2], None, "repeats after point 2"),
        ([0, 2, 1], [0, 1, 2], None, "goes back after point 2"),
        ([0, 301, 400], [0, 1, 2], None, r"gap wider than the 300 mm.*0 mm, then 301 mm"),
        ([0, 5, 20], [0, 1, 2], 10.0, r"gap wider than a turn.*5 mm, then 20 mm"),
        ([0, 5, 10], [0, 1, 2], -1.0, "moves on with every turn"),
    ],
)
def test_what_is_no_trace_is_refused(x, e, lead, says) -> None:
    with pytest.raises(Refused, match=says):
        travel(x, e, lead_mm=lead)


def test_decimal_steps_close_their_windows() -> None:
    """Positions typed in tenths miss 300 mm by rounding; the last reading belongs to the window all the same."""
    x = np.array([0.1 * step for step in range(3001)])
    e = np.zeros_like(x)
    e[0], e[-1] = 1.0, -1.0
    found = travel(x, e)
    assert found.variation_300_um == found.variation_um
