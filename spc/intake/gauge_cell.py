"""Cells of one characteristic in one unit: a number in the plan's unit, or a word of the plan."""

from dataclasses import dataclass, field
from decimal import Decimal

from spc.intake.nearest import listed, nearest
from spc.intake.number import AS_ALLOWED, ExactText, Fits, NumberStyle, plan_fits, read_between
from spc.intake.problem import Problem
from spc.intake.unit import converted, read_unit
from spc.shop.layouts import LENGTH_UNITS, UNITS
from spc.shop.plan import Characteristic

__all__ = ["GaugeCell", "gauge_cell"]

Value = tuple[Decimal | None, str]
"""A number and "", or None and the word of a visual look."""


@dataclass(slots=True)
class GaugeCell:
    """How to read the values of one characteristic in one unit; each text is worked out once."""

    characteristic: Characteristic
    name: str
    unit: str
    fits: Fits | None
    _read: dict[str, Value | Problem] = field(default_factory=dict)

    def read(self, text: str, style: NumberStyle | None) -> Value | Problem:
        """Return what a cell holds, or what is wrong with it."""
        known = self._read.get(text)
        if known is None:
            known = self._answer(text) if self.fits is None else self._number(text, style)
            if not isinstance(text, ExactText):  # equals the same text as typed, which may read otherwise
                self._read[text] = known
        return known

    def _number(self, text: str, style: NumberStyle | None) -> Value | Problem:
        value = read_between(text, style, self.fits)
        if isinstance(value, str):
            return Problem("value", text, value, AS_ALLOWED)
        in_plan = converted(value, self.unit, self.characteristic.unit)
        return value if in_plan is None else in_plan, ""

    def _answer(self, text: str) -> Value | Problem:
        answers = self.characteristic.answers
        small = text.strip().casefold()
        found = next((answer for answer in answers if answer.casefold() == small), None)
        if found is not None:
            return None, found
        reason = "this is none of the plan's answers" if small else "the answer is missing"
        return Problem("value", text, reason, listed(answers), nearest(text, answers))


def gauge_cell(characteristic: Characteristic, unit_text: str) -> GaugeCell | Problem:
    """Prepare to read a characteristic whose unit is given, or "" for the plan's."""
    if characteristic.is_visual:
        return GaugeCell(characteristic, characteristic.name, "", None)
    unit = read_unit(unit_text) if unit_text else characteristic.unit
    allowed = tuple(LENGTH_UNITS) if characteristic.unit in LENGTH_UNITS else (characteristic.unit,)
    if unit not in allowed:
        reason = (
            "nobody knows this unit" if unit is None else f"{characteristic.name} is in {characteristic.unit}"
        )
        return Problem("unit", unit_text, reason, listed(allowed), nearest(unit_text, UNITS))
    factor = converted(Decimal(1), unit, characteristic.unit) or Decimal(1)
    return GaugeCell(characteristic, characteristic.name, unit, plan_fits(characteristic, factor))
