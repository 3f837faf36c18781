"""Teeth with pins and threads with wires: what is drawn lies where the geometry says."""

import math
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from spc.drawing.sketch import Sketch, View, nearest_point
from spc.drawing.theme import THEMES
from spc.drawing.thread import flank_line, section_of_thread, section_of_worm, thread_drawing, touching_mm
from spc.drawing.tooth import outline, pin_centres, tooth_drawing, tooth_shape, touching_points
from spc.geometry import InvoluteTeeth, Worm, best_pin_mm, over_pins, over_wires, worm_over_wires

SPUR = (
    (InvoluteTeeth(1.25, 22, 30.0), 1.93, 2.4),
    (InvoluteTeeth(1.0, 21, 30.0), math.pi / 2, 1.92),
    (InvoluteTeeth(2.0, 7, 20.0), 3.3, 3.6),
    (InvoluteTeeth(0.5, 90, 45.0), 0.75, 1.0),
)
BOTH = pytest.mark.parametrize("name", list(THEMES))


@pytest.mark.parametrize(("teeth", "thickness", "pin"), SPUR)
def test_pins_touch_the_drawn_flanks(teeth: InvoluteTeeth, thickness: float, pin: float) -> None:
    found = over_pins(teeth, thickness, pin)
    shape = tooth_shape(teeth, found, steps=400)
    around = outline(teeth, shape, math.pi / 2, 2, 2)
    radius = math.dist((0, 0), pin_centres(teeth, found)[0])
    gap = math.dist(nearest_point((0.0, radius), around), (0.0, radius))
    assert gap == pytest.approx(pin / 2, abs=2e-4)  # the outline is a chain of chords
    for point in touching_points(teeth, shape, radius):
        assert math.dist(point, (0.0, radius)) == pytest.approx(pin / 2, abs=2e-4)
        assert 2 * math.dist(point, (0.0, 0.0)) == pytest.approx(found.contact_diameter_mm, abs=0.02)


@pytest.mark.parametrize(("teeth", "thickness", "pin"), SPUR)
def test_the_size_over_the_drawn_pins_is_the_reading(
    teeth: InvoluteTeeth, thickness: float, pin: float
) -> None:
    found = over_pins(teeth, thickness, pin)
    upper, lower = pin_centres(teeth, found)
    assert math.dist(upper, lower) + pin == pytest.approx(found.over_pin_mm, abs=1e-9)
    spaces = teeth.teeth // 2
    turned = math.atan2(upper[1], upper[0]) - math.atan2(lower[1], lower[0])
    assert turned == pytest.approx(spaces * 2 * math.pi / teeth.teeth, abs=1e-12)  # both lie in spaces


@pytest.mark.parametrize(("teeth", "thickness", "pin"), SPUR)
def test_the_drawn_tooth_is_as_thick_as_entered(teeth: InvoluteTeeth, thickness: float, pin: float) -> None:
    shape = tooth_shape(teeth, over_pins(teeth, thickness, pin), steps=400)
    reference = teeth.reference_diameter_mm / 2
    (low, wide), (high, narrow) = next(
        pair for pair in pairwise(shape.flank) if pair[0][0] <= reference <= pair[1][0]
    )
    half = wide + (narrow - wide) * (reference - low) / (high - low)
    assert 2 * half * reference == pytest.approx(thickness, abs=1e-4)


def test_given_diameters_are_drawn_and_usual_ones_said() -> None:
    given = InvoluteTeeth(1.25, 22, 30.0, tip_diameter_mm=28.5, root_diameter_mm=25.4)
    found = over_pins(given, 1.93, 2.4)
    shape = tooth_shape(given, found)
    assert (shape.tip_mm, shape.root_mm, shape.is_assumed) == (14.25, 12.7, False)
    assert "drawn as usual" not in tooth_drawing(given, found, "light")
    plain = InvoluteTeeth(1.25, 22, 30.0)
    assert "drawn as usual" in tooth_drawing(plain, over_pins(plain, 1.93, 2.4), "light")


def test_a_pointed_tooth_ends_where_its_flanks_meet() -> None:
    teeth = InvoluteTeeth(2.0, 12, 30.0, tip_diameter_mm=34.0, root_diameter_mm=20.0)
    found = over_pins(teeth, 2.6, best_pin_mm(teeth, 2.6) * 1.6)
    shape = tooth_shape(teeth, found)
    assert shape.tip_mm < 17.0
    assert shape.flank[-1][1] == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    ("pitch", "angle", "diameter", "wire"),
    [(1.75, 60.0, 14.8, 1.0), (2.0, 55.0, 24.0, None), (3.0, 30.0, 30.0, 1.6)],
)
def test_wires_touch_the_drawn_flanks(
    pitch: float, angle: float, diameter: float, wire: float | None
) -> None:
    found = over_wires(pitch, angle, diameter, wire)
    section = section_of_thread(found, pitch, angle)
    assert 2 * section.centre_mm + section.wire_mm == pytest.approx(found.over_wire_exact_mm)
    for along, radius in touching_mm(section):
        gap = math.dist((along, radius), (0.0, section.centre_mm)) - section.wire_mm / 2
        assert abs(gap) < found.lead_correction_mm + 1e-6  # the section leaves out the slant of the wire
        half_groove = pitch / 4 + (radius - diameter / 2) * math.tan(math.radians(angle / 2))
        assert abs(along) == pytest.approx(half_groove, abs=1e-9)


def test_the_best_wire_touches_on_the_pitch_diameter() -> None:
    section = section_of_thread(over_wires(0.5, 60.0, 40.0), 0.5, 60.0)
    assert touching_mm(section)[1][1] == pytest.approx(20.0, abs=1e-3)


@pytest.mark.parametrize("flanks", ["ZI", "ZA"])
def test_a_drawn_worm_is_as_thick_as_entered(flanks: str) -> None:
    worm = Worm(1.6, 2, 20.0, 20.0, flanks)
    section = section_of_worm(worm, worm_over_wires(worm, 2.5, 2.7))
    on_reference = nearest_point((worm.axial_pitch_mm / 2 - 1.25, 10.0), flank_line(section))
    assert on_reference == pytest.approx((worm.axial_pitch_mm / 2 - 1.25, 10.0), abs=2e-3)


def test_involute_flanks_of_a_steep_worm_are_curved() -> None:
    """Their axial section is convex; straight axial flanks are straight: three points tell."""
    bends = {}
    for flanks in ("ZI", "ZA"):
        worm = Worm(2.25, 3, 20.0, 24.0, flanks)
        ridge = section_of_worm(worm, worm_over_wires(worm)).ridge
        bends[flanks] = ridge[6][1] - (ridge[0][1] + ridge[12][1]) / 2
    assert bends["ZA"] == pytest.approx(0.0, abs=1e-12)
    assert bends["ZI"] > 0.01


@BOTH
def test_drawings_are_sound_svg_in_the_colours_of_the_house(name: str) -> None:
    teeth, worm = SPUR[0][0], Worm(1.6, 2, 20.0, 20.0)
    drawings = (
        tooth_drawing(teeth, over_pins(teeth, 1.93, 2.4), name),
        thread_drawing(section_of_worm(worm, worm_over_wires(worm)), name),
        thread_drawing(section_of_thread(over_wires(1.75, 60.0, 14.8), 1.75, 60.0), name),
    )
    for svg in drawings:
        assert ElementTree.fromstring(svg).get("role") == "img"
        assert THEMES[name].size in svg
        assert THEMES[name].ground in svg


def test_a_view_keeps_one_scale_and_counts_upwards() -> None:
    view = View(10.0, 20.0, 100.0, 60.0, (5.0, 2.0), 4.0)
    assert view.px((5.0, 2.0)) == (60.0, 50.0)
    assert view.px((6.0, 3.0)) == (64.0, 46.0)


def test_words_cannot_break_a_sketch() -> None:
    sketch = Sketch(10, 10, THEMES["light"], "<b>&")
    sketch.words(0, 0, "<script>")
    assert "<script>" not in sketch.svg()
    ElementTree.fromstring(sketch.svg())
