"""What slide moves and worn flanks do to sizes; factors derived for this project, checked by contact.

The spline of 56 teeth is a trade figure: common practice, no source.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import (
    InvoluteTeeth,
    over_pin_change_mm,
    over_pins,
    over_wires,
    slide_changes,
    wear_over_pins,
    wear_over_wires,
)

SPLINE = InvoluteTeeth(1.25, 24, 30.0)


def by_kind(**words) -> dict[str, float]:
    return {change.kind: change.change_um for change in slide_changes(4.0, **words)}


def test_signs_deeper_makes_sizes_smaller_and_depth_and_crest_larger() -> None:
    assert by_kind(form="thread") == {
        "over_wire_diameter": -4.0,
        "diameter": -4.0,
        "crest_diameter": 4.0,
        "groove_depth": 2.0,
    }
    assert by_kind(form="spline", over_pin_gain=0.9)["over_pin_diameter"] == pytest.approx(-3.6)
    assert by_kind(form="worm", slides="two")["over_wire_diameter"] == -8.0


def test_one_profiled_die_against_a_plain_one_moves_a_size_over_balls_two_to_one() -> None:
    assert by_kind(form="groove", opposite_die="plain") == {
        "over_ball_diameter": -8.0,
        "diameter": -8.0,
        "crest_diameter": 0.0,
        "groove_depth": 4.0,
        "wall_thickness": -4.0,
    }
    crest = slide_changes(4.0, form="groove", opposite_die="plain")[2]
    assert crest.says == "the plain die carries the crests and keeps them where they are"


def test_trade_figure_under_a_slide_move() -> None:
    spline = InvoluteTeeth(0.79375, 56, 30.0)
    thickness = spline.thickness_mm()
    assert over_pin_change_mm(spline, thickness, 1.524, -0.02) == pytest.approx(0.01894446, abs=5e-9)
    assert over_pin_change_mm(spline, thickness, 1.524, 0.02) == pytest.approx(-0.01896502, abs=5e-9)


def test_a_groove_carried_inward_moves_the_wires_as_far() -> None:
    before, after = (over_wires(1.5, 60, size, 0.866).over_wire_mm for size in (9.026, 9.016))
    assert before - after == pytest.approx(0.010, abs=1e-12)


@pytest.mark.parametrize(("at_pin", "gain"), [(30, 4.00), (32, 3.77), (34, 3.58), (36, 3.40)])
def test_wear_over_pins_by_the_angle_at_the_pin(at_pin: float, gain: float) -> None:
    """2/sin of the angle at the pin; a pin is sought that has this angle."""
    low, high = 1.0, 5.0
    for _ in range(60):
        pin = (low + high) / 2
        try:
            angle = over_pins(SPLINE, SPLINE.half_pitch_mm, pin).pin_angle_deg
        except Refused:
            angle = 0.0
        low, high = (pin, high) if angle < at_pin else (low, pin)
    found = over_pins(SPLINE, SPLINE.half_pitch_mm, high)
    assert wear_over_pins(SPLINE, found, 1.0).change_um == pytest.approx(gain, abs=5e-3)


@pytest.mark.parametrize(("angle", "gain"), [(60.0, 4.00), (90.0, 2.83), (40.0, 5.85)])
def test_wear_over_wires_by_the_angle_of_the_flanks(angle: float, gain: float) -> None:
    assert wear_over_wires(angle, 1.0).change_um == pytest.approx(gain, abs=5e-3)


@given(st.integers(10, 60), st.sampled_from([20.0, 30.0, 37.5]), st.floats(-25.0, 25.0))
def test_wear_is_what_thicker_teeth_read_more(count, angle, helix) -> None:
    """Flanks that stand out by f along their normal thicken the tooth by 2 f / cos of the normal angle."""
    teeth = InvoluteTeeth(1.0, count, angle, helix)
    before, wear = over_pins(teeth, teeth.half_pitch_mm, 2.0), 1e-5
    thicker = teeth.half_pitch_mm + 2 * wear / math.cos(math.radians(angle))
    grown = over_pins(teeth, thicker, 2.0).over_pin_mm - before.over_pin_mm
    found = wear_over_pins(teeth, before, 1000 * wear)
    assert 1000 * grown == pytest.approx(found.change_um, rel=1e-4)
    assert found.hidden_per_slide == pytest.approx(before.slide_gain / found.per_wear)


def test_one_um_of_slide_hides_a_quarter_of_wear() -> None:
    """At an angle of 30° at the pin: gain 1, wear 4 times."""
    assert wear_over_wires(60.0, 1.0).hidden_per_slide == pytest.approx(0.25)


def test_unknown_words_and_negative_wear_are_refused() -> None:
    with pytest.raises(Refused, match=r"unknown form.*gear.*groove, spline, thread, worm"):
        slide_changes(1.0, form="gear")
    with pytest.raises(Refused, match="wear takes off"):
        wear_over_wires(60.0, -1.0)
    with pytest.raises(Refused, match="flanks stand at an angle"):
        wear_over_wires(0.0, 1.0)
