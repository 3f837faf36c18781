"""The sizes page, travel: a measured trace with its lines, and the grade that it reaches."""

from collections.abc import Sequence

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from spc.drawing.trace import trace_picture
from spc.errors import Refused
from spc.geometry import Travel, TravelGrade, travel, travel_grade
from spc.pages.look import picture, theme_name
from spc.pages.sizes_examples import screw_trace
from spc.pages.sizes_fields import Asked, choice, table_field, tell_cannot
from spc.pages.sizes_look import halves
from spc.pages.tell import strip, table, told

__all__ = ["floats", "tell_travel", "travel_part"]

STANDARDS = {"JIS B 1192": "jis", "ISO 3408-3": "iso"}
_TRACE = ("position_mm", "deviation_um")


def travel_part() -> None:
    """Ask for a trace, draw it with its lines and tell its figures and grade."""
    fields, answer = halves()
    with answer:
        try:
            _answer(fields)
        except Refused as refused:
            tell_cannot(refused)


def _answer(fields: DeltaGenerator) -> None:
    asked = Asked("travel")
    left, right = fields.columns(2)
    standard = choice(left, "Judged by", list(STANDARDS), "travel standard")
    lead = asked.number_or_none(right, "Lead, mm (if any)", "5")
    read = table_field(
        fields,
        "Position, mm, and deviation, µm: measured less specified travel",
        _TRACE,
        screw_trace(),
        key="travel",
        height_px=300,
    )
    asked.sure()
    position, deviation = floats(read.number("position_mm")), floats(read.number("deviation_um"))
    found = travel(position, deviation, lead_mm=lead)
    turns = None if lead is None else [x / lead for x in position]
    picture(trace_picture(position, deviation, found, theme_name(), turns=turns), "sizes trace")
    tell_travel(found, travel_grade(found, STANDARDS[standard], lead_mm=lead), standard)


def tell_travel(found: Travel, judged: TravelGrade, standard: str) -> None:
    """Tell the figures of a trace, the grade it reaches and what prevents the next one."""
    turn = found.variation_2pi_um
    strip(
        [
            ("Grade", judged.grade or "none", f"by {standard}"),
            ("Mean deviation", _signed(found.mean_deviation_um), f"over {found.travel_mm:g} mm"),
            ("Variation", f"{found.variation_um:.1f} µm", "about the mean line"),
        ]
    )
    strip(
        [
            ("V300", f"{found.variation_300_um:.1f} µm", f"{found.from_300_mm:g} to {found.to_300_mm:g} mm"),
            ("V2π", "–" if turn is None else f"{turn:.1f} µm", _turn_words(found)),
        ]
    )
    told(_grade_facts(judged))
    with st.expander(f"All grades of {standard}"):
        rows = [
            [
                one.grade,
                one.verdict,
                "; ".join(one.prevents),
                "some from memory" if one.tolerances.is_partly_remembered else "as read",
            ]
            for one in judged.grades
        ]
        table(["Grade", "", "Because", "Its tolerances"], rows)


def floats(numbers: Sequence[object]) -> list[float]:
    """Return a column as the arithmetic takes it."""
    return [float(str(each)) for each in numbers]


def _turn_words(found: Travel) -> str:
    return "no lead given" if found.from_2pi_mm is None else f"turn from {found.from_2pi_mm:g} mm"


def _grade_facts(judged: TravelGrade) -> list[tuple[str, str]]:
    facts = []
    if judged.next_grade is not None:
        last = "; ".join(judged.prevents) or "nothing known"
        facts.append((f"Keeps it from {judged.next_grade}", f"{last[:1].upper()}{last[1:]}."))
    facts += [("Note", f"{each[:1].upper()}{each[1:]}.") for each in judged.cautions]
    reached = next((one for one in judged.grades if one.grade == judged.grade), None)
    if reached is not None and reached.tolerances.is_partly_remembered:
        facts.append(("Note", "Some tolerances of this grade are from memory: check them in the standard."))
    return facts


def _signed(value_um: float) -> str:
    return f"{value_um:+.1f} µm".replace("-", "−")
