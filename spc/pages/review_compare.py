"""The part of the review page that compares shifts, machines, dies, settings, gauges, bar batches or people."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from spc.pages.words import plain
from spc.shop import Characteristic
from spc.station import ComparedBy, Comparison, Review, Station
from spc.station.compare_words import setting_words

__all__ = ["show_comparison"]

_CHOICES: Final[dict[ComparedBy, str]] = {
    "shift": "shifts",
    "machine": "machines",
    "die_set": "die sets",
    "regrind": "new or reground",
    "die_design": "die designs",
    "batch": "bar batches",
    "gauge": "gauges",
    "person": "people",
}


def show_comparison(station: Station, found: Review, characteristic: Characteristic) -> None:
    """Say how much of the shifts and machines is more than noise, and what differs between groups that are picked.

    Notes
    -----
    All shifts of the period are taken, also where the review is of one; machines, dies and designs are compared over
    all machines of the part.
    """
    st.header("Compare")
    known = found.compared
    if known is not None and known.says:
        st.write(f"Shifts and machines, every size: {known.says}")
    asked = [*_CHOICES] if known is None else list(known.can_be_asked)
    named = _named(asked)
    picked = st.segmented_control("Compare", list(named), key="review compare", label_visibility="collapsed")
    if picked is None:
        st.caption("Pick what to compare: the hourly checks of this period, all shifts of it.")
        return
    by = named[picked]
    machine = None if by in ("machine", "regrind", "die_design") else found.machine
    _tell(
        station.compare(found.plan.part, machine, characteristic.name, by, found.from_time, found.to_time),
        picked,
    )


def _named(asked: Sequence[ComparedBy]) -> dict[str, ComparedBy]:
    """Return what can be picked; two settings of one name are told apart by their unit."""
    named: dict[str, ComparedBy] = {}
    for by in asked:
        word, unit = (_CHOICES[by], "") if by in _CHOICES else setting_words(by)
        named[f"{word}, {unit}" if word in named else word] = by
    return named


def _tell(compared: Comparison, picked: str) -> None:
    st.write(f"{plain(compared.characteristic.name)}: {compared.says}")
    more = ""
    if compared.found is not None and compared.left_out:
        more = f"Left out: {compared.left_out:,} checks of too few shifts or of unknown {picked}."
    small = " ".join(each for each in (compared.basis, compared.remark, more) if each)
    if small:
        st.caption(small)
