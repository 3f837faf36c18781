"""Beside the check: one button for everything that is done at a machine."""

import streamlit as st

from spc.pages.change_dies import change_dies
from spc.pages.event_dialogs import Here, open_anew
from spc.pages.move_slide import move_slide
from spc.pages.small_events import (
    bars_changed,
    machine_stopped,
    master_set,
    scrapped,
    setting_changed,
    something_else,
)
from spc.station import Station
from spc.station.views import OperatorView

__all__ = ["event_buttons"]

_BUTTONS = (
    ("Slide moved", move_slide),
    ("Dies changed", change_dies),
    ("New bar batch", bars_changed),
    ("Gauge set on its master", master_set),
    ("Machine stopped", machine_stopped),
    ("Scrapped", scrapped),
    ("Another setting", setting_changed),
    ("Something else", something_else),
)


def event_buttons(station: Station, view: OperatorView) -> None:
    """Offer the operator what can be logged; each opens a small dialog."""
    here = Here(station, view)
    pressed = None
    with st.sidebar:
        st.markdown(f"**Done at {view.machine.id}?** Log it:")
        for label, dialog in _BUTTONS:
            if st.button(label, key=f"open {label}", width="stretch", on_click=open_anew):
                pressed = dialog
    if pressed is not None:
        pressed(here)
