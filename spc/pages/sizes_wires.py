"""The sizes page, over wires: a thread or a worm, its wires, and what lies behind the reading."""

from streamlit.delta_generator import DeltaGenerator

from spc.drawing.thread import section_of_thread, section_of_worm, thread_drawing
from spc.errors import Refused
from spc.geometry import (
    OverWires,
    Worm,
    WormOverWires,
    over_wires,
    pitch_diameter_over_wires,
    refuse_hidden_wires,
    worm_over_wires,
    worm_thickness_over_wires,
)
from spc.pages.look import theme_name
from spc.pages.sizes_fields import Asked, choice, tell_cannot
from spc.pages.sizes_look import drawn, halves
from spc.pages.sizes_slide import asked_move, move_facts
from spc.pages.tell import strip, told

__all__ = ["wires_part"]

_THREAD, _WORM = "thread", "worm"
_READING, _DIAMETER, _THICKNESS = "size over wires", "pitch diameter", "thickness"
_FLANKS = {"involute": "ZI", "straight along the axis": "ZA"}
_GOOD_UM = 0.5


def wires_part() -> None:
    """Ask for a thread or worm and its wires, draw them and tell sizes and what the lead adds."""
    fields, answer = halves()
    with answer:
        try:
            kind = choice(fields, "Form", [_THREAD, _WORM], "wires form", buttons=True)
            (_thread if kind == _THREAD else _worm)(fields)
        except Refused as refused:
            tell_cannot(refused)


def _thread(fields: DeltaGenerator) -> None:
    asked = Asked("thread")
    left, right = fields.columns(2)
    pitch = asked.number(left, "Pitch, mm", "1.75")
    angle = asked.number(right, "Angle between flanks, °", "60")
    starts = asked.count(left, "Starts", "1")
    wire = asked.number_or_none(right, "Wires, mm (empty: best)", "1.0")
    known = choice(fields, "Known is the", [_DIAMETER, _READING], "thread known", buttons=True)
    if known == _READING:
        size = asked.number(fields, "Over wires, mm", "16.285")
    else:
        size = asked.number(fields, "Pitch diameter, mm", "14.800")
    outside = asked.number_or_none(fields, "Outside diameter, mm (if known)")
    move = asked_move(fields, asked)
    asked.sure()
    found = (pitch_diameter_over_wires if known == _READING else over_wires)(pitch, angle, size, wire, starts)
    if outside is not None:
        refuse_hidden_wires(found, outside)
    section = section_of_thread(found, pitch, angle, starts)
    drawn(thread_drawing(section, theme_name()), "the thread with its wires")
    change, slide = move_facts(move, "thread")
    strip(
        [
            (
                "Over the wires",
                f"{found.over_wire_exact_mm:.4f} mm",
                f"three wires of {found.wire_mm:.4g} mm",
            ),
            ("Pitch diameter", f"{found.pitch_diameter_mm:.4f} mm", f"lead {starts * pitch:g} mm"),
            change,
        ]
    )
    told([*_thread_facts(found), *slide])


def _thread_facts(found: OverWires) -> list[tuple[str, str]]:
    corrected = found.over_wire_mm + found.lead_correction_mm
    off_um = 1000 * (corrected - found.over_wire_exact_mm)
    good = (
        f"good to {max(abs(off_um), 0.05):.1f} µm here"
        if abs(off_um) <= _GOOD_UM
        else f"off by {abs(off_um):.1f} µm here: at this lead angle only the exact size holds"
    )
    return [
        (
            "Best wire",
            f"{found.best_wire_mm:.4f} mm touches on the pitch diameter, where an error of the flank angle does "
            "least.",
        ),
        ("Lead angle", f"{found.lead_angle_deg:.2f}° on the pitch diameter."),
        (
            "Textbook",
            f"{found.over_wire_mm:.4f} mm without the lead, {corrected:.4f} mm with its correction of "
            f"{1000 * found.lead_correction_mm:.1f} µm; {good}.",
        ),
        ("Exact", "The wires at rest in a groove with straight axial flanks, lead and all. 1 µm of pitch "
         "diameter is about 1 µm over the wires."),
    ]  # fmt: skip


def _worm(fields: DeltaGenerator) -> None:
    asked = Asked("worm")
    left, right = fields.columns(2)
    module = asked.number(left, "Axial module, mm", "1.6")
    starts = asked.count(right, "Starts", "2")
    angle = asked.number(left, "Axial flank angle, °", "20")
    diameter = asked.number(right, "Reference diameter, mm", "20")
    flanks = choice(left, "Flanks", list(_FLANKS), "worm flanks")
    wire = asked.number_or_none(right, "Wires, mm (empty: best)", "2.7")
    known = choice(fields, "Known is the", [_THICKNESS, _READING], "worm known", buttons=True)
    size: float | None
    if known == _READING:
        size = asked.number(fields, "Over wires, mm", "24.080")
    else:
        size = asked.number_or_none(fields, "Thickness along the axis, mm (empty: half the pitch)", "2.500")
    move = asked_move(fields, asked)
    asked.sure()
    worm = Worm(module, starts, angle, diameter, _FLANKS[flanks])
    if known == _READING:
        found = worm_thickness_over_wires(worm, size or 0.0, wire)
    else:
        found = worm_over_wires(worm, size, wire)
    drawn(thread_drawing(section_of_worm(worm, found), theme_name()), "the worm with its wires")
    change, slide = move_facts(move, "worm")
    strip(
        [
            ("Over the wires", f"{found.over_wire_mm:.4f} mm", f"three wires of {found.wire_mm:.4g} mm"),
            ("Thickness along the axis", f"{found.axial_thickness_mm:.4f} mm", "at the reference diameter"),
            change,
        ]
    )
    told([*_worm_facts(worm, found), *slide])


def _worm_facts(worm: Worm, found: WormOverWires) -> list[tuple[str, str]]:
    missed = 1000 * (found.over_wire_mm - found.simple_mm)
    facts = [
        ("Lead", f"{worm.lead_mm:.4f} mm with {worm.starts} starts of {worm.axial_pitch_mm:.4f} mm pitch; lead "
         f"angle {worm.lead_angle_deg:.2f}°, normal module {worm.normal_module_mm:.4f} mm."),
        ("Best wire", f"{found.best_wire_mm:.4f} mm by the textbook."),
        ("Simple form", f"{found.simple_mm:.4f} mm without the lead: {abs(missed):.1f} µm too "
         f"{'low' if missed > 0 else 'high'} here."),
        ("Change factor", f"{found.change_factor:.2f}: a thread 1 µm thicker along the axis reads "
         f"{found.change_factor:.2f} µm more over the wires."),
    ]  # fmt: skip
    if found.contact_diameter_mm is not None:
        facts.insert(1, ("Contact", f"The wire touches on ⌀ {found.contact_diameter_mm:.3f} mm."))
    return facts
