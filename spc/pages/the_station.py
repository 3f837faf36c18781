"""The one station of the page server, shared by everybody who has a page open."""

import os

import streamlit as st

from spc.pages.clock import CLOCK_FROM, page_clock
from spc.settings import read_settings
from spc.station import Station, open_station

__all__ = ["is_demo", "the_station"]


def the_station() -> Station:
    """Return the station for any page.

    Raises
    ------
    Refused
        The record cannot be opened; it is tried anew at the next call.
    """
    return _opened(read_settings(os.environ).db, os.environ.get(CLOCK_FROM, ""))


@st.cache_resource(show_spinner=False)
def _opened(db: str, clock_from: str) -> Station:
    return open_station(db, now=page_clock({CLOCK_FROM: clock_from}))


def is_demo() -> bool:
    """Say whether what the pages show is invented."""
    return bool(os.environ.get(CLOCK_FROM, ""))
