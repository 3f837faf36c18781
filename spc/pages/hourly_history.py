"""Below the verdict: the pictures of one characteristic, and the last checks, which can be struck out."""

from dataclasses import replace
from typing import TypeVar

import streamlit as st

from spc.drawing.hourly import hourly_picture
from spc.pages.behind_size import behind_size
from spc.pages.look import picture, theme_name
from spc.pages.look_back import asked_until
from spc.pages.past_checks import past_checks
from spc.pages.words import plain
from spc.station import Station
from spc.station.views import CharacteristicHistory, CheckPoint, FloorEvent, OperatorView, SettingPoint

__all__ = ["hourly_history"]


def hourly_history(station: Station, view: OperatorView) -> None:
    """Show what came before."""
    st.header("How it ran")
    until = asked_until(view, station.now())
    histories = station.histories(view.plan.part, view.machine.id, to_time=until)
    if not any(history.points for history in histories):
        st.write("No check of this part on this machine " + ("yet." if until is None else "until then."))
        return
    _pictures(tuple(each for each in histories if each.points))
    past_checks(station, view, histories)


@st.fragment
def _pictures(histories: tuple[CharacteristicHistory, ...]) -> None:
    named = {plain(each.characteristic.name): each for each in histories}
    with st.container(horizontal=True, vertical_alignment="bottom", gap="large"):
        name = st.segmented_control(
            "Show", list(named), default=next(iter(named)), required=True, key="shown size"
        )
        spans = {"last 24 checks": 24, "last 60": 60, "last 120": 120}
        span = st.segmented_control(
            "How far back", list(spans), default="last 60", required=True, key="shown span"
        )
    history = named.get(str(name), next(iter(named.values())))
    picture(hourly_picture(_newest(history, spans.get(str(span), 60)), theme_name()), "hourly picture")
    behind_size(history)


def _newest(history: CharacteristicHistory, checks: int) -> CharacteristicHistory:
    """The last so many checks, with what was done since the first of them; the axis counts from that one."""
    points = history.points[-checks:]
    start = points[0].axis_pieces
    before = [each for each in history.settings if each.axis_pieces <= start][-1:]
    settings = (*before, *(each for each in history.settings if each.axis_pieces > start))
    events = (each for each in history.events if each.axis_pieces >= start)
    return replace(
        history,
        points=tuple(_from(start, each) for each in points),
        settings=tuple(_from(start, each) for each in settings),
        events=tuple(_from(start, each) for each in events),
    )


_Placed = TypeVar("_Placed", CheckPoint, SettingPoint, FloorEvent)


def _from(start: float, placed: _Placed) -> _Placed:
    return replace(placed, axis_pieces=placed.axis_pieces - start)
