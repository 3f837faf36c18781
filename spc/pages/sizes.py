"""Sizes by hand: what a gauge value on a rolled part means, with a drawing of what is measured."""

from typing import Final

import streamlit as st

from spc.pages.sizes_fields import choice
from spc.pages.sizes_groove import groove_part
from spc.pages.sizes_pins import pins_part
from spc.pages.sizes_profile import profile_part
from spc.pages.sizes_travel import travel_part
from spc.pages.sizes_wires import wires_part

__all__ = ["sizes_page"]

_PARTS: Final = {
    "Over pins": pins_part,
    "Over wires": wires_part,
    "Travel of a screw": travel_part,
    "Groove of changing lead": groove_part,
    "Straightness": profile_part,
}


def sizes_page() -> None:
    """Let somebody work out a size from a reading, or a reading from a size; nothing is kept."""
    st.title("Sizes")
    st.write(
        "From what a gauge shows to the size, and back. Invented parts stand here at first; nothing is kept."
    )
    kind = choice(st.container(), "What is gauged", list(_PARTS), "kind", buttons=True)
    _PARTS[kind]()
