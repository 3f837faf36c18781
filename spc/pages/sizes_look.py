"""For the sizes page: fields at the left, drawing and answer at the right."""

from base64 import b64encode

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from spc.pages.look import safe

__all__ = ["drawn", "halves"]


def halves() -> tuple[DeltaGenerator, DeltaGenerator]:
    """Return the places for fields and for the answer."""
    left, right = st.columns([5, 8], gap="large")
    return left, right


def drawn(svg: str, says: str) -> None:
    """Show a drawing of the drawing room in the width that is there; pages take no bare SVG."""
    data = b64encode(svg.encode()).decode()
    st.html(
        f'<figure class="spc-drawing"><img alt="Drawing: {safe(says)}" src="data:image/svg+xml;base64,{data}">'
        "</figure>"
    )
