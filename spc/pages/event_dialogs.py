"""The frame of every small dialog that logs what was done: when, by whom, log it, or say why not."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

import streamlit as st

from spc.errors import Refused
from spc.pages.plant_time import typed_moment
from spc.pages.tell import tell_refused
from spc.pages.verdict_block import held_words
from spc.station import Station
from spc.station.views import OperatorView

__all__ = ["Events", "Here", "field", "foot", "open_anew"]

Events = list[dict[str, Any]]
"""Events in the order in which they are logged; without time, machine, part and operator, which are added."""

_PREFIX: Final = "event "


@dataclass(frozen=True, slots=True)
class Here:
    """Where a dialog logs: the station, and what stands on the machine."""

    station: Station
    view: OperatorView


def open_anew() -> None:
    """Forget an earlier refusal, and hold the moment in which the dialog is opened."""
    for name in ("refused", "logged"):
        st.session_state.pop(_PREFIX + name, None)
    st.session_state.pop(_PREFIX + "moment", None)


def field(name: str) -> str:
    """Return what stands in a field of the open dialog."""
    return str(st.session_state.get(_PREFIX + name) or "").strip()


def foot(here: Here, collect: Callable[[], tuple[Events, str]], when: str = "When?") -> None:
    """End a dialog: when, who, the button, and what was refused.

    Parameters
    ----------
    collect : callable
        Returns the events to log and the sentence that says it was done; may refuse.
    when : str
        How it asks for the time; empty is now.
    """
    if st.session_state.pop(_PREFIX + "logged", False):
        st.rerun()
    st.session_state.setdefault(_PREFIX + "by", st.session_state.get("operator", ""))
    left, right = st.columns(2)
    left.text_input(when, key=_PREFIX + "time", placeholder="now, or 06:40")
    right.text_input("Who?", key=_PREFIX + "by", placeholder="your name or sign")
    refused = st.session_state.get(_PREFIX + "refused")
    if refused is not None:
        tell_refused(refused)
    st.button(
        "Log it", key=_PREFIX + "log", type="primary", width="stretch", on_click=_log, args=(here, collect)
    )


def _log(here: Here, collect: Callable[[], tuple[Events, str]]) -> None:
    """Log everything of the dialog; the same dialog pressed again logs nothing twice."""
    by = field("by")
    st.session_state["operator"] = by or st.session_state.get("operator", "")
    try:
        events, says = collect()
        moment = st.session_state.setdefault(_PREFIX + "moment", here.station.now())
        time = typed_moment(field("time"), moment, here.view.plan.zone)
        told = [says]
        for event in events:
            logged = here.station.log(_whole(here, event, time), by=by or None)
            if logged.held is not None:
                told.append(f"Hold back {held_words(logged.held)}.")
    except Refused as refused:
        st.session_state[_PREFIX + "refused"] = refused
        return
    st.session_state.pop(_PREFIX + "refused", None)
    st.session_state[_PREFIX + "logged"] = True
    st.session_state["told"] = " ".join(told)


def _whole(here: Here, event: Mapping[str, Any], time: str) -> dict[str, Any]:
    where = {"time": time, "machine": here.view.machine.id, "part": here.view.plan.part}
    return {**where, "operator": field("by"), **event}
