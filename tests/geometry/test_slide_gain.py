"""First guesses of what the slide does to a size; the spline figures are derived in this project."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import InvoluteTeeth, first_slide_gain, involute_gain, over_pins

SPLINE = InvoluteTeeth(module_mm=1.25, teeth=24, pressure_angle_deg=30.0)


@pytest.mark.parametrize(("at_pin", "gain"), [(30, 1.000), (32, 0.944), (34, 0.894), (36, 0.851)])
def test_gain_of_a_spline_by_the_angle_at_the_pin(at_pin: float, gain: float) -> None:
    assert involute_gain(SPLINE, at_pin) == pytest.approx(gain, abs=5e-4)


@given(st.integers(8, 80), st.sampled_from([20.0, 30.0, 37.5]), st.floats(-25.0, 25.0))
def test_gain_is_what_thinner_teeth_read_less(count: int, angle: float, helix: float) -> None:
    """Two dies that close by a step move each flank in by half of it: the tooth loses step · tan α."""
    teeth = InvoluteTeeth(1.0, count, angle, helix)
    before = over_pins(teeth, teeth.thickness_mm(), 2.0)
    step = 1e-5
    thinner = teeth.thickness_mm() - step * math.tan(math.radians(angle))
    after = over_pins(teeth, thinner, 2.0)
    assert (before.over_pin_mm - after.over_pin_mm) / step == pytest.approx(before.slide_gain, rel=1e-5)


@pytest.mark.parametrize(
    ("kind", "profiled", "plain"),
    [
        ("over_pin_diameter", 0.9, 1.8),
        ("over_wire_diameter", 1.0, 2.0),
        ("over_ball_diameter", 1.0, 2.0),
        ("diameter", 1.0, 2.0),
        ("crest_diameter", -1.0, 0.0),
        ("groove_depth", -0.5, -1.0),
        ("wall_thickness", 0.5, 1.0),
    ],
)
def test_first_guess_by_kind(kind: str, profiled: float, plain: float) -> None:
    assert first_slide_gain(kind).gain == profiled
    assert first_slide_gain(kind, opposite_die="plain").gain == plain
    assert first_slide_gain(kind, slides="two").gain == 2 * profiled


def test_the_geometry_of_the_teeth_replaces_the_usual_guess() -> None:
    found = over_pins(SPLINE, SPLINE.thickness_mm(), 2.5)
    guess = first_slide_gain("over_pin_diameter", slides="two", over_pin_gain=found.slide_gain)
    assert guess.gain == 2 * found.slide_gain
    assert guess.method == "sin(pressure angle) / sin(angle at the pin), twice for two opposed slides"


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            {"kind": "runout"},
            "unknown kind of characteristic.*runout.*crest_diameter, diameter, groove_depth",
        ),
        ({"kind": "diameter", "slides": "three"}, "unknown slides.*three.*one, two"),
        ({"kind": "diameter", "opposite_die": "flat"}, "unknown opposite die.*flat.*plain, profiled"),
    ],
)
def test_unknown_words_are_refused_with_the_known_ones(words: dict[str, str], sentence: str) -> None:
    with pytest.raises(Refused, match=sentence):
        first_slide_gain(words.pop("kind"), **words)
