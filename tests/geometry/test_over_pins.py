"""Sizes over pins against published values, half a unit of their last digit.

Sources: a public worked page on helical gears (P1, read); Machinery's Handbook, Van Keuren's table for pins
of 1.728/P at 20° (P2 to P10, from memory, reproduced in 30-digit arithmetic); the gear technical reference
of KHK (P11 to P13, from memory, reproduced). "Calculated" values come from a pin pressed numerically on the
flank.
"""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import InvoluteTeeth, best_pin_mm, over_pins, thickness_from_over_pins

VAN_KEUREN = {
    6: 8.3032,
    10: 12.3445,
    18: 20.3840,
    20: 22.3900,
    22: 24.3952,
    7: 9.1260,
    11: 13.2332,
    15: 17.2871,
    19: 21.3200,
}
CALCULATED_20 = {
    24: 26.39968,
    25: 27.35105,
    30: 32.4102,
    31: 33.37096,
    40: 42.42172,
    41: 43.39201,
    50: 52.42919,
    100: 102.4456,
    101: 103.4335,
}
CALCULATED_30 = {
    6: 8.866033,
    8: 10.89435,
    10: 12.91443,
    12: 14.9295,
    20: 22.96493,
    21: 23.9061416,
    30: 32.98615,
    50: 53.00541,
}
BEST_20 = {10: 1.7886, 20: 1.724449, 30: 1.705671, 100: 1.681358}
BEST_30 = {10: 2.012935, 20: 1.904055, 30: 1.872104, 56: 1.844148, 100: 1.830551}


def gear(teeth: int, pressure_angle_deg: float = 20.0) -> InvoluteTeeth:
    return InvoluteTeeth(module_mm=1.0, teeth=teeth, pressure_angle_deg=pressure_angle_deg)


def standard(teeth: InvoluteTeeth, pin_mm: float) -> float:
    return over_pins(teeth, teeth.thickness_mm(), pin_mm).over_pin_mm


def digits(value: float) -> float:
    """Half a unit of the last digit a number was printed with."""
    return 0.5 * 10.0 ** -len(str(value).partition(".")[2]) * 1.0001


def test_P1_worked_page_with_all_it_prints() -> None:
    teeth = gear(20)
    found = over_pins(teeth, teeth.thickness_mm(), pin_mm=1.7)
    assert found.over_pin_mm == pytest.approx(22.2941, abs=5e-5)
    assert found.pin_angle_deg == pytest.approx(24.1350, abs=5e-5)
    assert found.contact_diameter_mm == pytest.approx(19.9594, abs=5e-5)
    assert teeth.base_diameter_mm == pytest.approx(18.7939, abs=5e-5)


@pytest.mark.parametrize(("teeth", "over_pin"), VAN_KEUREN.items())
def test_P2_to_P10_table_of_1_728_over_P(teeth: int, over_pin: float) -> None:
    assert standard(gear(teeth), 1.728) == pytest.approx(over_pin, abs=5e-5)


@pytest.mark.parametrize(("teeth", "over_pin"), CALCULATED_20.items())
def test_more_teeth_at_20_degrees(teeth: int, over_pin: float) -> None:
    assert standard(gear(teeth), 1.728) == pytest.approx(over_pin, abs=digits(over_pin))


@pytest.mark.parametrize(("teeth", "over_pin"), CALCULATED_30.items())
def test_splines_at_30_degrees(teeth: int, over_pin: float) -> None:
    assert standard(gear(teeth, 30.0), 1.92) == pytest.approx(over_pin, abs=digits(over_pin))


def test_P11_helical_over_balls() -> None:
    teeth = InvoluteTeeth(module_mm=1.0, teeth=20, pressure_angle_deg=20.0, helix_angle_deg=15.0)
    thickness = teeth.thickness_mm(profile_shift=0.4)
    found = over_pins(teeth, thickness, pin_mm=2.0)
    assert thickness == pytest.approx(1.86197251, abs=5e-9)
    assert math.degrees(teeth.transverse_angle_rad) == pytest.approx(20.646896, abs=5e-7)
    assert found.pin_angle_deg == pytest.approx(30.8534, abs=5e-5)
    assert found.over_pin_mm == pytest.approx(24.5696, abs=5e-5)


def test_P12_P13_best_pin() -> None:
    """The source rounds its ideal pin of the spur case up in the last place."""
    helical = InvoluteTeeth(module_mm=1.0, teeth=20, pressure_angle_deg=20.0, helix_angle_deg=15.0)
    assert best_pin_mm(gear(20), gear(20).thickness_mm()) == pytest.approx(1.7245, abs=1e-4)
    assert best_pin_mm(helical, helical.thickness_mm(0.4)) == pytest.approx(1.9020, abs=5e-5)


@pytest.mark.parametrize(
    ("angle", "teeth", "pin"),
    [(20.0, *case) for case in BEST_20.items()] + [(30.0, *case) for case in BEST_30.items()],
)
def test_best_pin_touches_on_the_reference_diameter(angle: float, teeth: int, pin: float) -> None:
    spline = gear(teeth, angle)
    best = best_pin_mm(spline, spline.thickness_mm())
    assert best == pytest.approx(pin, abs=digits(pin))
    touching = over_pins(spline, spline.thickness_mm(), best).contact_diameter_mm
    assert touching == pytest.approx(spline.reference_diameter_mm, abs=1e-9)


def test_P5_P14_P15_change_factor_and_the_way_back() -> None:
    assert over_pins(gear(20), math.pi / 2, 1.728).change_factor == pytest.approx(2.2615, abs=5e-5)
    assert over_pins(gear(20, 30.0), math.pi / 2, 1.92).change_factor == pytest.approx(1.5247, abs=5e-5)
    odd = gear(21, 30.0)
    assert over_pins(odd, math.pi / 2, 1.92).change_factor == pytest.approx(1.5276254, abs=5e-8)
    assert thickness_from_over_pins(odd, 23.900, 1.92).tooth_thickness_mm == pytest.approx(
        1.56677715, abs=5e-9
    )


def test_trade_figure_of_56_teeth() -> None:
    """Common practice, no source: 56 teeth, module 0.79375, 30°, over pins of 1.524 mm."""
    teeth = InvoluteTeeth(module_mm=0.79375, teeth=56, pressure_angle_deg=30.0)
    found = over_pins(teeth, teeth.thickness_mm(), 1.524)
    assert teeth.base_diameter_mm == pytest.approx(38.4948292, abs=5e-8)
    assert found.tooth_thickness_mm == pytest.approx(1.24681958, abs=5e-9)
    assert found.over_pin_mm == pytest.approx(46.8381747, abs=5e-8)
    assert found.pin_angle_deg == pytest.approx(31.8416226, abs=5e-8)
    assert found.contact_diameter_mm == pytest.approx(44.5290, abs=5e-5)
    assert found.change_factor == pytest.approx(1.641527, abs=5e-7)
    assert found.slide_gain == pytest.approx(0.947736, abs=5e-7)
    assert found.best_pin_mm == pytest.approx(1.46379276, abs=5e-9)
    for thickness, over_pin in {1.2268: 46.805281, 1.2218: 46.797056, 1.2168: 46.788827}.items():
        assert over_pins(teeth, thickness, 1.524).over_pin_mm == pytest.approx(over_pin, abs=5e-7)
    for over_pin, thickness in {46.800: 1.22358941, 46.750: 1.19324052}.items():
        found = thickness_from_over_pins(teeth, over_pin, 1.524)
        assert found.tooth_thickness_mm == pytest.approx(thickness, abs=5e-9)


TEETH = st.builds(
    InvoluteTeeth,
    module_mm=st.floats(0.2, 8.0),
    teeth=st.integers(6, 120),
    pressure_angle_deg=st.sampled_from([14.5, 20.0, 25.0, 30.0, 37.5, 45.0]),
    helix_angle_deg=st.floats(-35.0, 35.0),
)


@given(TEETH, st.floats(0.8, 1.1), st.floats(1.0, 1.15))
def test_there_and_back_and_the_change_factor_is_the_slope(
    teeth: InvoluteTeeth, thick: float, pins: float
) -> None:
    thickness = thick * teeth.half_pitch_mm
    pin = pins * best_pin_mm(teeth, teeth.half_pitch_mm)
    found = resting(teeth, thickness, pin)
    back = thickness_from_over_pins(teeth, found.over_pin_mm, pin)
    assert back.tooth_thickness_mm == pytest.approx(thickness, rel=1e-10)
    step = 1e-5 * teeth.module_mm
    rise = (
        resting(teeth, thickness + step, pin).over_pin_mm - resting(teeth, thickness - step, pin).over_pin_mm
    )
    assert rise / (2 * step) == pytest.approx(found.change_factor, rel=1e-5)


@given(TEETH, st.floats(0.8, 1.1))
def test_thicker_pins_stand_further_out(teeth: InvoluteTeeth, thick: float) -> None:
    pin = best_pin_mm(teeth, teeth.half_pitch_mm)
    sizes = [
        resting(teeth, thick * teeth.half_pitch_mm, pin * share).over_pin_mm for share in (1.0, 1.05, 1.1)
    ]
    assert sizes == sorted(sizes)


def resting(teeth: InvoluteTeeth, thickness_mm: float, pin_mm: float):
    """Size over pins, leaving out the thin teeth with few flanks on which such a pin finds no hold."""
    try:
        return over_pins(teeth, thickness_mm, pin_mm)
    except Refused:
        assume(False)


def test_trade_figure_under_a_slide_move() -> None:
    """Common practice, no source, as above: 10 µm deeper on each side."""
    teeth = InvoluteTeeth(module_mm=0.79375, teeth=56, pressure_angle_deg=30.0)
    middle = standard(teeth, 1.524)
    for radial, rise in {0.01: 0.01894446, -0.01: -0.01896502}.items():
        thickness = teeth.thickness_mm() + 2 * radial * math.tan(math.pi / 6)
        assert over_pins(teeth, thickness, 1.524).over_pin_mm - middle == pytest.approx(rise, abs=5e-9)


@pytest.mark.parametrize(
    ("thickness", "pin", "sentence"),
    [
        (math.pi / 2, 0.9, "falls through"),
        (math.pi / 2, 1.35, "stands on the root"),
        (math.pi / 2, 1.56, "doesn't reach out of the teeth"),
        (math.pi / 2, 4.5, "above the tip"),
        (math.pi / 2, 0.0, "a pin needs a diameter"),
        (math.pi / 2, math.nan, "a pin needs a diameter"),
        (0.0, 1.7, "the tooth would be 0.0000 mm thick"),
        (3.2, 1.7, "the tooth would be 3.2000 mm thick on a pitch of 3.1416 mm"),
    ],
)
def test_pins_that_cannot_rest_are_refused(thickness: float, pin: float, sentence: str) -> None:
    teeth = InvoluteTeeth(1.0, 20, 20.0, tip_diameter_mm=22.0, root_diameter_mm=18.3)
    with pytest.raises(Refused, match=sentence):
        over_pins(teeth, thickness, pin)


def test_a_pin_below_the_base_circle_is_refused() -> None:
    with pytest.raises(Refused, match="below the base circle"):
        over_pins(gear(20), math.pi / 2, 1.197)


def test_impossible_readings_are_refused() -> None:
    with pytest.raises(Refused, match=r"inside the base circle.*above 20\.494 mm"):
        thickness_from_over_pins(gear(20), 20.0, 1.7)
    with pytest.raises(Refused, match=r"mm thick on a pitch of .*26 mm over 1\.7 mm pins"):
        thickness_from_over_pins(gear(20), 26.0, 1.7)


def test_all_that_describes_no_tooth_is_said_at_once() -> None:
    with pytest.raises(Refused) as caught:
        InvoluteTeeth(0.0, 2, 80.0, 90.0, tip_diameter_mm=20.0, root_diameter_mm=21.0)
    columns = [refusal.column for refusal in caught.value.refusals]
    assert columns == ["module", "teeth", "pressure angle", "helix angle", "tip diameter"]
