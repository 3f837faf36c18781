"""Log the smaller things done at a machine, each in a dialog of one or two fields."""

from collections.abc import Callable
from typing import Any

import streamlit as st

from spc.pages.event_dialogs import Events, Here, field, foot
from spc.pages.words import plain

__all__ = ["bars_changed", "machine_stopped", "master_set", "scrapped", "setting_changed", "something_else"]

_SETTINGS = {
    "dwell_s": "dwell, s",
    "tilt_deg": "tilt, °",
    "blade_mm": "blade height, mm",
    "phase_deg": "phase of the dies, °",
    "speed_rpm": "speed, 1/min",
    "coolant_l_min": "coolant, l/min",
}
_ELSE = {
    "held": "pieces held back",
    "released": "pieces released by a qualified person",
    "order": "another order",
    "note": "a note",
}


@st.dialog("New bar batch", width="medium")
def bars_changed(here: Here) -> None:
    """Ask which batch, at its first piece."""
    st.text_input("Bar batch", key="event value", placeholder="such as B-119")
    st.text_input("Counter at its first piece", key="event counter", placeholder="may be left empty")
    foot(here, _simple("blank_batch", lambda: f"Logged: bar batch {field('value')}."))


@st.dialog("Gauge set on its master", width="medium")
def master_set(here: Here) -> None:
    """Ask what the gauge showed on the master before it was set."""
    names = [each.name for each in here.view.plan.gauged]
    st.selectbox("Gauge of", names, key="event note", format_func=plain)
    st.text_input("It showed, before setting, above (+) or below (−) the master (µm)", key="event value")
    st.caption("0 if nothing had to be set.")

    def says() -> str:
        return f"Logged: gauge of {plain(field('note')).lower()} set on its master, it was {field('value')} µm off."

    foot(here, _simple("gauge_mastered", says, note="note"))


@st.dialog("Machine stopped", width="medium")
def machine_stopped(here: Here) -> None:
    """Ask how long; the time until the next check stands still meanwhile."""
    st.text_input("For how many minutes?", key="event value")
    st.text_input("Why?", key="event note", placeholder="may be left empty")
    says = _simple("machine_stopped", lambda: f"Logged: stopped for {field('value')} min.", note="note")

    def of_every_part() -> tuple[Events, str]:
        events, told = says()
        return [{**each, "part": ""} for each in events], told

    foot(here, of_every_part, "Since when?")


@st.dialog("Scrapped", width="medium")
def scrapped(here: Here) -> None:
    """Ask how many pieces."""
    st.text_input("How many pieces?", key="event value")
    st.text_input("Why?", key="event note", placeholder="such as first pieces after the die change")
    foot(here, _simple("scrapped", lambda: f"Logged: {field('value')} pieces scrapped.", note="note"))


@st.dialog("Another setting", width="medium")
def setting_changed(here: Here) -> None:
    """Ask which setting, and what it is now."""
    st.selectbox(
        "Which setting?", list(_SETTINGS), key="event note", format_func=lambda name: _SETTINGS.get(name, name),
        accept_new_options=True, help="One that is not in the list can be typed.",
    )  # fmt: skip
    st.text_input("Now set to", key="event value")

    def says() -> str:
        return f"Logged: {_SETTINGS.get(field('note'), field('note'))}: {field('value')}."

    foot(here, _simple("setting", says, note="note"))


@st.dialog("Something else", width="medium")
def something_else(here: Here) -> None:
    """Ask what, in words or pieces."""
    st.selectbox("What?", list(_ELSE), key="event kind", format_func=lambda name: _ELSE[name])
    st.text_input("How many pieces, or which", key="event value")
    st.text_input("In words", key="event note")

    def collect() -> tuple[Events, str]:
        event: dict[str, Any] = {"event": field("kind"), "value": field("value"), "note": field("note")}
        return [event], f"Logged: {_ELSE[field('kind')]}, {field('value') or field('note')}."

    foot(here, collect)


def _simple(event: str, says: Callable[[], str], note: str = "") -> Callable[[], tuple[Events, str]]:
    def collect() -> tuple[Events, str]:
        found: dict[str, Any] = {"event": event, "value": field("value"), "counter": field("counter")}
        if note:
            found["note"] = field(note)
        return [found], says()

    return collect
