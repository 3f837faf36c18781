"""Log a slide move, in numbers as they stand on the machine's own panel."""

from decimal import Decimal

import streamlit as st

from spc.errors import Refused
from spc.intake import read_decimal
from spc.pages.event_dialogs import Events, Here, field, foot
from spc.pages.tell import PANEL, caution

__all__ = ["move_slide", "panel_number"]


@st.dialog("Slide moved", width="medium")
def move_slide(here: Here) -> None:
    """Ask from where to where the slide went."""
    view = here.view
    caution(PANEL)
    shown = "" if view.shown_setting_mm is None else str(view.shown_setting_mm)
    sense = "smaller" if view.machine.display == "deeper_is_smaller" else "larger"
    st.session_state.setdefault("event from", shown)
    st.session_state.setdefault("event to", "")
    left, right = st.columns(2)
    left.text_input("From, as it stood on the panel (mm)", key="event from")
    right.text_input("To, as it stands now (mm)", key="event to", placeholder=shown)
    st.caption(f"On this machine a {sense} number is deeper. Smallest step {view.machine.slide_step_mm} mm.")
    foot(here, lambda: _moved(here))


def _moved(here: Here) -> tuple[Events, str]:
    machine, known = here.view.machine, here.view.setting_mm
    start = panel_number(field("from"), "from") if field("from") else None
    end = panel_number(field("to"), "to")
    events: Events = []
    if start is not None and machine.shown_setting_mm(start) != known:
        note = "found so on the panel"
        events.append({"event": "penetration", "value": machine.shown_setting_mm(start), "note": note})
    events.append({"event": "penetration", "value": machine.shown_setting_mm(end)})
    came = "" if start is None else f"{start} → "
    return events, f"Logged: slide {came}{end} mm on the panel."


def panel_number(text: str, column: str) -> Decimal:
    """Read a number from the panel, point or comma."""
    if not text:
        raise Refused.one("the number on the panel is missing", column=column, allowed="such as 12.348")
    return read_decimal(text, "comma" if "," in text and "." not in text else "point")
