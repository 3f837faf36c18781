"""How every page looks: calm, large, the same colours as the pictures."""

from base64 import b64encode
from functools import cache
from html import escape
from importlib.resources import files
from typing import Any

import streamlit as st

from spc.drawing.theme import theme

__all__ = ["mark", "picture", "safe", "theme_name", "wear_look"]


def theme_name() -> str:
    """Return "light" or "dark", as the person's browser shows the page."""
    return "dark" if st.context.theme.type == "dark" else "light"


def wear_look(name: str) -> None:
    """Bring the colours and sizes of the pages in."""
    colours = theme(name)
    words = ("ground", "plate", "ink", "quiet", "faint", "size", "watch", "adjust", "hold")
    variables = "".join(f"--spc-{word}: {getattr(colours, word)};" for word in words)
    st.html(f"<style>:root {{{variables}}}\n{_sheet()}</style>")


def picture(spec: dict[str, Any], key: str) -> None:
    """Show a picture of the drawing room as it was drawn, in the width of the page."""
    st.vega_lite_chart(spec, width="stretch", theme=None, key=key)


def mark(svg: str) -> str:
    """Return a small drawing of our own as an image; pages take no bare SVG."""
    return f'<img alt="" src="data:image/svg+xml;base64,{b64encode(svg.encode()).decode()}">'


def safe(text: object) -> str:
    """Make any text harmless inside a page's own HTML; every value that somebody typed goes through here."""
    return escape(str(text), quote=True)


@cache
def _sheet() -> str:
    return files("spc.pages").joinpath("pages.css").read_text(encoding="utf-8")
