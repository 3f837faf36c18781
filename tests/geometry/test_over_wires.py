"""Threads over wires against published values, and against a wire pressed numerically into the groove.

Sources: US Army Ordnance course OD1645, pages 127 and 128 (W1 read; W2 its inputs read); F. D. Jones,
"Turning and Boring" (W3, read); a public page on three-wire measuring (W4, read); constants of the textbook
formula: a sheet of thread measuring formulas and a public page on 30° trapezoidal threads (read).
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar

from spc.errors import Refused
from spc.geometry import best_wire_mm, over_wires, pitch_diameter_over_wires, resting_radius_mm

INCH_60 = 0.649519  # depth from major to pitch diameter of a 60° thread, in pitches, as the books print it


@pytest.mark.parametrize(
    ("angle", "best", "wire_factor", "pitch_factor"),
    [
        (60.0, 0.57735, 3.00000, 0.866025),
        (55.0, 0.56369, 3.16568, 0.960491),
        (29.0, 0.51645, 4.99393, 1.933357),
        (30.0, 0.51764, 4.86370, 1.866025),
        (40.0, 0.53209, 3.92380, 1.373739),
    ],
)
def test_constants_of_the_textbook(
    angle: float, best: float, wire_factor: float, pitch_factor: float
) -> None:
    assert best_wire_mm(1.0, angle) == pytest.approx(best, abs=5e-6)
    thin, thick = (over_wires(1.0, angle, 20.0, wire).over_wire_mm for wire in (0.5, 0.6))
    assert (thick - thin) / 0.1 == pytest.approx(wire_factor, abs=5e-6)
    assert 20.0 + 0.5 * (thick - thin) / 0.1 - thin == pytest.approx(pitch_factor, abs=5e-7)


def test_W1_best_wire_of_8_threads_an_inch() -> None:
    assert best_wire_mm(1 / 8, 60) == pytest.approx(0.072, abs=5e-4)


@pytest.mark.parametrize(
    ("major", "threads", "wire", "printed", "half_digit"),
    [(0.5, 12, 0.04811, 0.518038, 5e-6), (1.5, 6, 0.140, 1.6674, 5e-5), (7 / 16, 14, 0.045, 0.464, 5e-4)],
    ids=["W2 (inputs read, answer calculated)", "W3", "W4"],
)
def test_W2_W3_W4_inch_threads(  # W2 was worked out with the book's short 1.5155 for 1.515544
    major: float, threads: int, wire: float, printed: float, half_digit: float
) -> None:
    thread = over_wires(1 / threads, 60, major - INCH_60 / threads, wire)
    assert thread.over_wire_mm == pytest.approx(printed, abs=half_digit)


def test_W5_M10_with_its_lead() -> None:
    """Pitch diameter read on a public page; the rest calculated in 30 digits."""
    thread = over_wires(1.5, 60, 9.026, wire_mm=0.866025)
    assert thread.best_wire_mm == pytest.approx(0.866025, abs=5e-7)
    assert thread.over_wire_mm == pytest.approx(10.325037, abs=6e-7)
    assert thread.lead_correction_mm == pytest.approx(0.001818, abs=5e-7)
    assert thread.over_wire_mm + thread.lead_correction_mm == pytest.approx(10.326854, abs=2e-6)
    assert thread.lead_angle_deg == pytest.approx(3.02806, abs=5e-6)


LEADS = [
    (1.5, 60, 9.026, 0.866, 1, 3.02806, 10.324962, 10.326779, 10.326695),
    (2.5, 60, 18.376, 1.443, 1, 2.47965, 20.539936, 20.541966, 20.541888),
    (3.5, 60, 27.727, 2.021, 1, 2.30094, 30.758911, 30.761358, 30.761271),
    (4.0, 30, 18.0, 2.071, 1, 4.04611, 20.608628, 20.627305, 20.626705),
    (4.0, 30, 18.0, 2.071, 2, 8.05226, 20.608628, 20.683338, 20.680264),
    (0.2, 29, 0.9, 0.10329, 1, 4.04611, 1.029152, 1.030119, 1.030089),
]


@pytest.mark.parametrize(
    ("pitch", "angle", "diameter", "wire", "starts", "lead_angle", "simple", "corrected", "contact"), LEADS
)
def test_lead_by_correction_and_by_contact(
    pitch, angle, diameter, wire, starts, lead_angle, simple, corrected, contact
) -> None:
    thread = over_wires(pitch, angle, diameter, wire, starts)
    assert thread.lead_angle_deg == pytest.approx(lead_angle, abs=5e-6)
    assert thread.over_wire_mm == pytest.approx(simple, abs=6e-7)
    assert thread.over_wire_mm + thread.lead_correction_mm == pytest.approx(corrected, abs=6e-7)
    assert thread.over_wire_exact_mm == pytest.approx(contact, abs=6e-7)


def pressed_in(pitch: float, angle: float, diameter: float, wire: float, starts: int) -> float:
    """Size over wires by search alone: the highest flank point lifts the wire, and the wire tilts to sink."""
    lead_per_rad, slope = starts * pitch / (2 * math.pi), math.tan(math.radians(angle / 2))

    def lifted(point, tilt: float) -> float:
        radius, turn = point
        height = lead_per_rad * turn + pitch / 4 + (radius - diameter / 2) * slope
        aside = height * math.cos(tilt) - radius * math.sin(turn) * math.sin(tilt)
        room = (wire / 2) ** 2 - aside**2
        return radius * math.cos(turn) + math.sqrt(room) if room > 0 else -abs(aside)

    def resting(tilt: float) -> float:
        exact = {"xatol": 1e-11, "fatol": 1e-14, "maxiter": 4000}
        starts_at = ([diameter / 2 + share * pitch / 8, -0.02] for share in (-1, 0, 1))
        found = (
            minimize(lambda p: -lifted(p, tilt), at, method="Nelder-Mead", options=exact) for at in starts_at
        )
        return -min(one.fun for one in found)

    lead_angle = math.atan(2 * lead_per_rad / diameter)
    near = (lead_angle - 0.2, lead_angle + 0.05)
    best = minimize_scalar(resting, bounds=near, method="bounded", options={"xatol": 1e-6})
    return 2 * best.fun + wire


@pytest.mark.parametrize(
    "case", [*LEADS[::3], (2.0, 55, 14.0, 1.3, 4), (2.0, 30, 6.0, 1.04, 6), (1.9 * math.pi, 32, 17.2, 3.1, 3)]
)
def test_a_wire_pressed_in_by_search_rests_where_the_contact_says(case) -> None:
    """The last case is a trade figure: three starts, module 1.9 (common practice, no source)."""
    pitch, angle, diameter, wire, starts = case[:5]
    exact = over_wires(pitch, angle, diameter, wire, starts).over_wire_exact_mm
    assert exact == pytest.approx(pressed_in(pitch, angle, diameter, wire, starts), abs=1e-8)


def test_worm_of_three_starts_where_the_correction_is_useless() -> None:
    """Common practice, no source: module 1.9, 16°, straight axial flanks, over wires of 3.1 mm."""
    worm = over_wires(1.9 * math.pi, 32, 17.2, 3.1, starts=3)
    assert worm.lead_angle_deg == pytest.approx(18.33495629, abs=5e-9)
    assert worm.over_wire_mm == pytest.approx(21.138428, abs=5e-7)
    assert worm.over_wire_mm + worm.lead_correction_mm == pytest.approx(21.709077, abs=5e-7)
    assert worm.over_wire_exact_mm == pytest.approx(21.6417, abs=5e-4)


THREADS = {
    "pitch_mm": st.floats(0.3, 6.0),
    "included_angle_deg": st.sampled_from([29.0, 30.0, 40.0, 55.0, 60.0]),
    "wires": st.floats(0.9, 1.3),
    "starts": st.integers(1, 3),
    "thick": st.floats(5.0, 20.0),
}


@given(**THREADS)
def test_there_and_back(pitch_mm, included_angle_deg, wires, starts, thick) -> None:
    wire, diameter = wires * best_wire_mm(pitch_mm, included_angle_deg), thick * pitch_mm
    thread = over_wires(pitch_mm, included_angle_deg, diameter, wire, starts)
    shape = (pitch_mm, included_angle_deg)
    exact = pitch_diameter_over_wires(*shape, thread.over_wire_exact_mm, wire, starts)
    simple = pitch_diameter_over_wires(*shape, thread.over_wire_mm, wire, starts, textbook=True)
    assert exact.pitch_diameter_mm == pytest.approx(diameter, rel=1e-9)
    assert simple.pitch_diameter_mm == pytest.approx(diameter, rel=1e-12)


@given(**THREADS)
def test_the_lead_lifts_the_wire_and_thicker_threads_read_larger(
    pitch_mm, included_angle_deg, wires, starts, thick
) -> None:
    wire, diameter = wires * best_wire_mm(pitch_mm, included_angle_deg), thick * pitch_mm
    thread = over_wires(pitch_mm, included_angle_deg, diameter, wire, starts)
    thicker = over_wires(pitch_mm, included_angle_deg, diameter * 1.001, wire, starts)
    assert thread.over_wire_mm < thread.over_wire_exact_mm < thicker.over_wire_exact_mm


def test_what_is_no_thread_is_said_at_once() -> None:
    with pytest.raises(Refused) as caught:
        over_wires(0.0, 200.0, -1.0, 0.8, starts=0)
    assert [refusal.column for refusal in caught.value.refusals] == [
        "pitch",
        "angle",
        "pitch diameter",
        "starts",
    ]


def test_wires_that_touch_no_flank_are_refused() -> None:
    with pytest.raises(Refused, match=r"ride on the crests.*below 1\.732 mm"):
        over_wires(1.5, 60, 9.026, wire_mm=1.8)
    with pytest.raises(Refused, match="leaves no pitch diameter"):
        pitch_diameter_over_wires(1.5, 60, over_wire_mm=1.0, wire_mm=0.866)


def test_a_lead_too_steep_for_a_thread_is_refused() -> None:
    with pytest.raises(Refused, match=r"measure them over pins.*46\.7°"):
        over_wires(2.0, 30, 6.0, starts=10)


def test_a_wire_that_finds_no_place_is_refused() -> None:
    with pytest.raises(Refused, match="finds no place in this groove"):
        resting_radius_mm(1.0, math.radians(30), 2.0, 20.0, 1.0)
