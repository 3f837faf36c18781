"""Geometry that cannot be meant is refused with key, line and what is geometrically wrong."""

import pytest

from spc.errors import Refusal, Refused
from spc.intake import read_plan

OVER_PIN = """[part]
id = "G-1"
[[characteristic]]
name = "size"
kind = "over_pin_diameter"
unit = "mm"
set_by = "penetration"
[characteristic.spline]
module = 1.25
teeth = 22
pressure_angle_deg = 30
pin_mm = 2.4
tooth_thickness_lower_mm = 1.90
tooth_thickness_upper_mm = 1.93
"""
OVER_WIRE = """[part]
id = "G-2"
[[characteristic]]
name = "size"
kind = "over_wire_diameter"
unit = "mm"
[characteristic.thread]
pitch_mm = 1.5
major_diameter_mm = 10
wire_mm = 0.866
class = "6g"
"""
GROOVE = """[part]
id = "G-3"
[[characteristic]]
name = "size"
kind = "over_ball_diameter"
unit = "mm"
nominal = 33.5
[characteristic.groove]
ball_mm = 3.5
arc_radius_mm = 1.82
contact_angle_deg = 45
nominal_lead = [[0, 10.0], [100, 12.0]]
"""
WORM = """[part]
id = "G-4"
[[characteristic]]
name = "size"
kind = "over_wire_diameter"
unit = "mm"
[characteristic.worm]
module = 2.0
starts = 1
pressure_angle_deg = 20
reference_diameter_mm = 30
axial_thickness_mm = 3.1
"""


def refused(text: str) -> tuple[Refusal, ...]:
    with pytest.raises(Refused) as found:
        read_plan(text)
    return found.value.refusals


@pytest.mark.parametrize(
    ("plan", "old", "new", "column", "reason"),
    [
        (OVER_PIN, "pin_mm = 2.4", "pin = 2.4", "c.spline.pin", "no key 'pin'"),
        (OVER_PIN, "pin_mm = 2.4\n", "", "c.spline.pin_mm", "is missing"),
        (OVER_PIN, "pin_mm = 2.4", "pin_mm = 0.9\nroot_diameter_mm = 25.6", "c.spline.pin_mm", "stands on the root"),
        (OVER_PIN, "pin_mm = 2.4", "pin_mm = 0.1", "c.spline.pin_mm", "the pin falls through"),
        (
            OVER_PIN, "pin_mm = 2.4", "pin_mm = 2.1\nform_diameter_mm = 27.4",
            "c.spline.pin_mm", "below the active flank",
        ),
        (OVER_PIN, "pin_mm = 2.4", "pin_mm = 2.4\ntip_diameter_mm = 31", "c.spline.tip_diameter_mm", "pointed"),
        (OVER_PIN, "pin_mm = 2.4", "pin_mm = 2.4\nform_diameter_mm = 23", "c.spline.form_diameter_mm", "undercut"),
        (OVER_PIN, "pressure_angle_deg = 30\n", "", "c.spline.pressure_angle_deg", "needs its pressure angle"),
        (OVER_PIN, "pressure_angle_deg = 30", "pressure_angle_deg = 75", "c.spline.pressure_angle_deg", "no teeth"),
        (OVER_PIN, "module = 1.25", 'diametral_pitch = 21\nclass = "5"', "c.spline.diametral_pitch", "ANSI B92.1"),
        (OVER_PIN, "teeth = 22", f"teeth = {10**27}", "c.spline.tooth_thickness_lower_mm", "no rolled part"),
        (OVER_PIN, "teeth = 22", "teeth = 2", "c.spline.teeth", "no teeth"),
        (OVER_PIN, "1.93\n", "4.2\n", "c.spline.tooth_thickness_upper_mm", "thick on a pitch"),
        (OVER_PIN, "_lower_mm = 1.90", "_lower_mm = 1.95", "c.spline.tooth_thickness_lower_mm", "above the upper"),
        (OVER_PIN, 'unit = "mm"\n', 'unit = "mm"\nupper = 31.3\n', "c.upper", "the geometry gives"),
        (OVER_PIN, 'unit = "mm"', 'unit = "deg"', "c.unit", "is a length"),
        (OVER_PIN, "pin_mm = 2.4", 'pin_mm = 2.4\nclass = "8h"', "c.spline.class", "no such class"),
        (OVER_PIN, "pin_mm = 2.4", 'pin_mm = 2.4\nclass = "5h"', "c.spline.tooth_thickness_lower_mm", "class gives"),
        (OVER_PIN, "pin_mm = 2.4", 'pin_mm = 2.4\nfit = "h"', "c.spline.fit", "without a class"),
        (OVER_PIN, "module = 1.25", "module = 1.25\ndiametral_pitch = 20", "c.spline.diametral_pitch", "one thing"),
        (OVER_PIN, "[characteristic.spline]", "[characteristic.spline]\nhelix_deg = 95", "c.spline.helix_deg", "helix"),
        (OVER_WIRE, '"6g"', '"6k"', "c.thread.class", "no class of an external thread"),
        (OVER_WIRE, "pitch_mm = 1.5", "pitch_mm = 1.6", "c.thread.pitch_mm", "no thread of this pitch"),
        (OVER_WIRE, "wire_mm = 0.866", "wire_mm = 1.9", "c.thread.wire_mm", "ride on the crests"),
        (OVER_WIRE, "wire_mm = 0.866", "wire_mm = 0.70", "c.thread.wire_mm", "do not reach out"),
        (OVER_WIRE, "major_diameter_mm = 10\n", "", "c.thread.major_diameter_mm", "nominal diameter"),
        (OVER_WIRE, "over_wire_diameter", "over_pin_diameter", "c.kind", "a thread is not gauged over pins"),
        (OVER_WIRE, "over_wire_diameter", "runout", "c.thread.class", "says nothing of a runout"),
        (GROOVE, "ball_mm = 3.5", "ball_mm = 3.7", "c.groove.ball_mm", "ride on the edges"),
        (GROOVE, "[100, 12.0]", "[0, 12.0]", "c.groove.nominal_lead", "position repeats"),
        (GROOVE, "[100, 12.0]", "[100, -1.0]", "c.groove.nominal_lead", "moves on with every turn"),
        (GROOVE, "[100, 12.0]", "[100]", "c.groove.nominal_lead", "rows of position"),
        (GROOVE, "nominal = 33.5", "nominal = 6.5", "c.nominal", "no part between them"),
        (WORM, "starts = 1", "starts = 16", "c.worm.starts", "over pins, as helical teeth"),
        (WORM, "module = 2.0", 'module = 2.0\nprofile = "ZK"', "c.worm.profile", "does not know"),
        (WORM, "axial_thickness_mm = 3.1", "axial_thickness_mm = 7", "c.worm.axial_thickness_mm", "thick on a pitch"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_at_its_key(
    plan: str, old: str, new: str, column: str, reason: str
) -> None:
    assert old in plan
    text = plan.replace(old, new, 1)
    column = column.replace("c.", "characteristic.", 1)
    key = column.rpartition(".")[2]
    found = [each for each in refused(text) if each.column == column]
    assert found, [each.sentence() for each in refused(text)]
    assert reason in found[0].reason
    written = [row for row, line in enumerate(text.splitlines(), 1) if line.startswith(f"{key} ")]
    assert not written or found[0].row in written
    assert len(found) == 1


def test_a_pin_that_cannot_rest_is_refused_once_with_the_best_one() -> None:
    found = refused(OVER_PIN.replace("pin_mm = 2.4", "pin_mm = 0.45"))
    assert len(found) == 1
    assert "The best pin here is 2.3" in found[0].do


def test_a_reading_no_part_can_show_is_refused_at_the_number() -> None:
    text = OVER_PIN.replace("tooth_thickness_lower_mm = 1.90\ntooth_thickness_upper_mm = 1.93\n", "")
    text = text.replace('unit = "mm"\n', 'unit = "mm"\nnominal = 21.250\nlower = 21.24\nupper = 31.2\n')
    found = refused(text)
    assert {each.column for each in found} == {"characteristic.nominal", "characteristic.lower"}
    assert "inside the base circle" in found[0].reason


def test_two_geometries_are_one_too_many() -> None:
    found = refused(OVER_PIN + "[characteristic.thread]\npitch_mm = 1.5\n")
    assert "one geometry" in found[0].reason


def test_a_plain_die_carries_the_crests() -> None:
    text = OVER_WIRE.replace("over_wire_diameter", "crest_diameter")
    text = text.replace('unit = "mm"', 'unit = "mm"\nset_by = "penetration"').replace(
        "wire_mm = 0.866", 'opposite_die = "plain"'
    )
    assert "carries the crests" in refused(text)[0].reason
