"""How warm part and setting master are: two quiet fields, where the plan brings readings to 20 °C."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any, Final

import streamlit as st

from spc.intake.celsius import CELSIUS_ALLOWED, read_celsius
from spc.pages.grid_marks import Warmth
from spc.pages.words import plain
from spc.shop import Plan, Reading
from spc.station.at_20 import at_20, grows_with_warmth

__all__ = ["PART", "MASTER", "ask_temperatures", "warmth_of"]

PART: Final = "part temperature"
MASTER: Final = "master temperature"
"""Names under which a draft keeps them."""


def ask_temperatures(plan: Plan, place: Callable[[str], str], kept: Mapping[str, Any]) -> dict[str, str]:
    """Ask for both temperatures; nothing is shown where no characteristic of the plan grows with warmth."""
    growing = [each for each in plan.gauged if grows_with_warmth(each)]
    if not growing:
        return {}
    for name in (PART, MASTER):
        st.session_state.setdefault(place(name), kept.get(name, ""))
    beside_parts = all(each.master_as_warm_as_part for each in growing)
    columns = st.columns([1, 1, 3], vertical_alignment="bottom")
    fields = {
        PART: columns[0].text_input("Part, °C", key=place(PART), placeholder="if known"),
        MASTER: columns[1].text_input(
            "Setting master, °C", key=place(MASTER), placeholder="as the part" if beside_parts else "if known"
        ),
    }
    columns[2].caption(_effect(plan, fields))
    return fields


def warmth_of(fields: Mapping[str, Any]) -> Warmth:
    """Return the temperatures that can be read, to mark values by; saving refuses the others."""
    return Warmth(*(_celsius(str(fields.get(name) or "")) for name in (PART, MASTER)))


def _celsius(text: str) -> Decimal | None:
    found = read_celsius(text.strip()) if text.strip() else None
    return None if isinstance(found, str) else found


def _effect(plan: Plan, fields: Mapping[str, str]) -> str:
    """Say what the temperatures will do to the sizes, before anything is typed into the grid."""
    for name, said in ((PART, "of the part"), (MASTER, "of the setting master")):
        text = fields[name].strip()
        found = read_celsius(text) if text else None
        if isinstance(found, str):
            return f"Temperature {said} {text}: {found}. Allowed: {CELSIUS_ALLOWED}."
    warmth = warmth_of(fields)
    if warmth == (None, None):
        return "With both temperatures the sizes are judged as at 20 °C; what was gauged is kept as typed."
    effects = []
    for each in plan.gauged:
        value = each.nominal or None if grows_with_warmth(each) else None
        sample = Reading(
            each.name, 1, "", value, temperature_c=warmth.part_c, master_temperature_c=warmth.master_c
        )
        warm = at_20(sample, each)
        if warm is not None:
            done = "taken off" if warm.taken_off_mm >= 0 else "added to"
            effects.append(f"{1000 * abs(warm.taken_off_mm):.1f} µm {done} {plain(each.name).lower()}")
    if effects:
        return f"About {', '.join(effects)}."
    return "One temperature alone corrects nothing: it is the difference of part and master that counts."
