"""Go back in the record: the pictures up to a day, and any check with its whole verdict as it was judged."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Final

import streamlit as st

from spc.drawing.theme import verdict_look
from spc.pages.verdict_block import show_verdict
from spc.pages.words import clock_words
from spc.shop.moment import to_local, to_utc
from spc.station import Station
from spc.station.views import CharacteristicHistory, CheckPoint, OperatorView

__all__ = ["asked_until", "check_name", "seen_again"]

_DATE: Final = "YYYY-MM-DD"


def asked_until(view: OperatorView, now: datetime) -> datetime | None:
    """Ask up to which day to look.

    Returns
    -------
    datetime or None
        The end of the chosen day in the plant; None for now.
    """
    zone = view.plan.zone
    day: date | None = st.date_input(
        "Up to the end of (empty: now)",
        value=None,
        max_value=to_local(now, zone).date(),
        format=_DATE,
        key=f"until {view.machine.id} {view.plan.part}",
        width=260,
    )
    if day is None:
        return None
    return to_utc(datetime(day.year, day.month, day.day) + timedelta(days=1), zone)  # noqa: DTZ001  # plant time


def seen_again(station: Station, view: OperatorView, histories: tuple[CharacteristicHistory, ...]) -> None:
    """Show a check of those drawn once more, with everything that was said of it."""
    points = _points(histories)
    check_id = st.selectbox(
        "See a check again, with all that was said",
        list(points),
        index=None,
        placeholder="choose one",
        format_func=lambda each: _name(points, each, view.plan.zone),
        key=f"again {view.machine.id} {view.plan.part}",
    )
    verdict = station.verdict(check_id)
    if verdict is None:
        return
    rows = station.die_board()
    here = (view.machine.id, view.plan.part)
    finished = next((row.finished_sets for row in rows if (row.machine, row.part) == here), 0)
    show_verdict(verdict, view.plan, finished, station.now(), station.answer_to(check_id))


def check_name(point: CheckPoint, zone: str) -> str:
    """Call a check by its time and counter."""
    counter = "" if point.counter is None else f", counter {point.counter:,}"
    return f"{clock_words(point.time, zone)}{counter}"


def _points(histories: tuple[CharacteristicHistory, ...]) -> dict[int, CheckPoint]:
    """Checks that stand, newest first."""
    found: dict[int, CheckPoint] = {}
    for history in histories:
        for point in history.points:
            if not point.struck_out:
                found.setdefault(point.check_id, point)
    newest = sorted(found.values(), key=lambda point: (point.time, point.check_id), reverse=True)
    return {point.check_id: point for point in newest}


def _name(points: Mapping[int, CheckPoint], check_id: int, zone: str) -> str:
    point = points[check_id]
    return f"{check_name(point, zone)} · {verdict_look(point.verdict, 'light').words}"
