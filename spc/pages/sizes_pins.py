"""The sizes page, over pins: a spline or gear, its pins, and what lies behind the reading."""

import streamlit as st

from spc.drawing.tooth import tooth_drawing
from spc.errors import Refused
from spc.geometry import (
    InvoluteTeeth,
    OverPins,
    over_pins,
    thickness_from_over_pins,
    thickness_uncertainty,
)
from spc.pages.look import theme_name
from spc.pages.sizes_fields import Asked, choice, tell_cannot
from spc.pages.sizes_look import drawn, halves
from spc.pages.sizes_slide import asked_move, move_facts
from spc.pages.tell import strip, told

__all__ = ["pins_part"]

_READING, _THICKNESS = "size over pins", "tooth thickness"
_BALLS = (
    "Balls",
    "With an odd count of helical teeth this is the size over two balls in one plane across the axis; straight pins "
    "shift along the axis and read more.",
)


def pins_part() -> None:
    """Ask for teeth and pins, draw them and tell sizes and sensitivities."""
    fields, answer = halves()
    asked = Asked("pins")
    with answer:
        try:
            _answer(fields, asked)
        except Refused as refused:
            tell_cannot(refused)


def _answer(fields: "st.delta_generator.DeltaGenerator", asked: Asked) -> None:
    left, right = fields.columns(2)
    numbers = (
        asked.number(left, "Module, mm", "1.25"),
        asked.count(right, "Teeth", "22"),
        asked.number(left, "Pressure angle, °", "30"),
        asked.number(right, "Helix angle, °", "0"),
    )
    known = choice(fields, "Known is the", [_THICKNESS, _READING], "pins known", buttons=True)
    left, right = fields.columns(2)
    if known == _READING:
        size = asked.number(left, "Over pins, mm", "31.150")
        pin = asked.number(right, "Pins, mm", "2.4")
        sure = (
            asked.number(left, "Reading sure to ±, µm", "2"),
            asked.number(right, "Pins sure to ±, µm", "0.5"),
        )
    else:
        size = asked.number(left, "Tooth thickness, mm", "1.930")
        pin, sure = asked.number(right, "Pins, mm", "2.4"), None
    more = fields.expander("Tip, root and form diameter, where the drawing gives them")
    diameters = [asked.number_or_none(more, f"{name} diameter, mm") for name in ("Tip", "Root", "Form")]
    move = asked_move(fields, asked)
    asked.sure()
    teeth = InvoluteTeeth(*numbers, *diameters)
    found = (thickness_from_over_pins if known == _READING else over_pins)(teeth, size, pin)
    drawn(tooth_drawing(teeth, found, theme_name()), "the teeth with their pins")
    _tell(teeth, found, sure, move)


def _tell(
    teeth: InvoluteTeeth, found: OverPins, sure: tuple[float, float] | None, move: tuple[float, str, str]
) -> None:
    change, slide = move_facts(move, "spline", found.slide_gain)
    thickness = "normal, at the reference diameter"
    facts = list(_facts(teeth, found))
    if sure is not None:
        off = thickness_uncertainty(teeth, found, reading_um=sure[0], pin_um=sure[1])
        thickness = f"± {off.total_um:.1f} µm"
        facts.insert(
            0,
            (
                "Sure to",
                f"± {off.total_um:.1f} µm of thickness: {off.from_reading_um:.1f} from the reading and "
                f"{off.from_pin_um:.1f} from the pins, both alike, added in squares.",
            ),
        )
    strip(
        [
            ("Over the pins", f"{found.over_pin_mm:.4f} mm", f"two pins of {found.pin_mm:g} mm"),
            ("Tooth thickness", f"{found.tooth_thickness_mm:.4f} mm", thickness),
            change,
        ]
    )
    told([*facts, *slide])


def _facts(teeth: InvoluteTeeth, found: OverPins) -> tuple[tuple[str, str], ...]:
    off = found.contact_diameter_mm - teeth.reference_diameter_mm
    odd_helical = teeth.teeth % 2 == 1 and teeth.helix_angle_deg != 0.0
    side = "outside" if off > 0 else "inside"
    best = (
        "None: the middle of this flank lies below the base circle."
        if found.best_pin_mm is None
        else f"{found.best_pin_mm:.3f} mm touches in the middle of the flank."
    )
    return (
        *((_BALLS,) if odd_helical else ()),
        (
            "Contact",
            f"The pin touches on ⌀ {found.contact_diameter_mm:.3f} mm, {abs(off):.3f} mm {side} the reference "
            f"circle of {teeth.reference_diameter_mm:.3f} mm; the base circle is {teeth.base_diameter_mm:.3f} mm.",
        ),
        ("Best pin", best),
        (
            "Change factor",
            f"{found.change_factor:.3f}: a tooth 1 µm thicker reads {found.change_factor:.2f} µm more over the "
            f"pins, and 1 µm over the pins is {1 / found.change_factor:.2f} µm of thickness.",
        ),
    )
