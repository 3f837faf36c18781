"""The part of the review page that compares shifts, machines, die sets, bar batches or people, when asked."""

from typing import Final

import streamlit as st

from spc.pages.words import plain
from spc.shop import Characteristic
from spc.station import ComparedBy, Review, Station

__all__ = ["show_comparison"]

_CHOICES: Final[dict[str, ComparedBy]] = {
    "shifts": "shift",
    "machines": "machine",
    "die sets": "die_set",
    "bar batches": "batch",
    "people": "person",
}


def show_comparison(station: Station, found: Review, characteristic: Characteristic) -> None:
    """Say what differs between the groups that are picked; nothing is read before one is.

    Notes
    -----
    All shifts of the period are taken, also where the review is of one; machines are compared over all of them.
    """
    st.header("Compare")
    picked = st.segmented_control(
        "Compare", list(_CHOICES), key="review compare", label_visibility="collapsed"
    )
    if picked is None:
        st.caption("Pick what to compare: the hourly checks of this period, all shifts of it.")
        return
    by = _CHOICES[picked]
    machine = None if by == "machine" else found.machine
    compared = station.compare(
        found.plan.part, machine, characteristic.name, by, found.from_time, found.to_time
    )
    st.write(f"{plain(characteristic.name)}: {compared.says}")
    if compared.remark:
        more = ""
        if compared.left_out:
            more = f" Left out: {compared.left_out:,} checks of too few shifts or of unknown {picked}."
        st.caption(f"Sizes as they were gauged. {compared.remark}{more}")
