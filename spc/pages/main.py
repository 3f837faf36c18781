"""The list of pages, and the frame around each of them."""

import streamlit as st

from spc.drawing.theme import verdict_look
from spc.errors import Refused
from spc.pages.die_board import die_board_page
from spc.pages.hourly import hourly_page
from spc.pages.look import theme_name, wear_look
from spc.pages.plan_limits import plan_page
from spc.pages.review import review_page
from spc.pages.sizes import sizes_page
from spc.pages.take_file import take_file_page
from spc.pages.tell import local_law, tell_refused
from spc.pages.the_station import is_demo

__all__ = ["main"]

DEMO_WORDS = (
    "Demo data, invented: people, parts, machines and numbers. Nothing here is kept after the station ends."
)


def main() -> None:
    """Show the page that was asked for, to whoever opened it."""
    st.set_page_config(page_title="Rolled parts station", page_icon=_icon(), layout="wide")
    pages = [
        st.Page(hourly_page, title="Hourly check", default=True),
        st.Page(review_page, title="Review", url_path="review"),
        st.Page(die_board_page, title="Die board", url_path="board"),
        st.Page(take_file_page, title="Take a file in", url_path="file"),
        st.Page(plan_page, title="Plan and limits", url_path="plan"),
        st.Page(sizes_page, title="Sizes", url_path="sizes"),
    ]
    chosen = st.navigation(pages, position="sidebar")
    wear_look(theme_name())
    if is_demo():
        st.html(f'<p class="spc-demo">{DEMO_WORDS}</p>')
    try:
        chosen.run()
    except Refused as refused:
        tell_refused(refused)
    local_law()


def _icon() -> str:
    """Draw the page's icon here: any named icon of the page server would be fetched from outside."""
    return verdict_look("run", "light").svg(64)
