"""The hourly check: what is on the machine, values in, verdict out, and below it the pictures."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

import streamlit as st

from spc.pages.answer_verdict import offer_answer
from spc.pages.event_buttons import event_buttons
from spc.pages.hourly_history import hourly_history
from spc.pages.pick import pick_machine_and_part, plans_or_tell
from spc.pages.tell import strip, tell
from spc.pages.the_station import the_station
from spc.pages.type_check import type_check
from spc.pages.verdict_block import show_last_verdict, show_verdict
from spc.pages.words import clock_words, due_words
from spc.shop import Verdict
from spc.station import Station
from spc.station.views import OperatorView

__all__ = ["hourly_page"]

_FRESH: Final = timedelta(minutes=30)
"""So long a verdict stays large at the top; then it is the last check."""


def hourly_page() -> None:
    """Take an operator through one check."""
    station = the_station()
    plans = plans_or_tell(station)
    if not plans:
        return
    picked = pick_machine_and_part(station, plans)
    if picked is None:
        tell("Name the machine, then the check can be typed.")
        return
    machine, part = picked
    view = station.operator_view(part, machine)
    _stands(station, view)
    event_buttons(station, view)
    done = st.session_state.pop("told", "")
    if done:
        tell(done)
    _verdict(station, view)
    type_check(station, view)
    hourly_history(station, view)


def _stands(station: Station, view: OperatorView) -> None:
    """Say what is on the machine now."""
    now, zone = station.now(), view.plan.zone
    age = "" if view.age is None else f"{view.age:,} pieces old"
    counter = (
        "" if view.counter is None or view.counter == view.age else f", {view.counter:,} since it came on"
    )
    setting = (
        "not on record" if view.shown_setting_mm is None else f"{view.shown_setting_mm} mm".replace("-", "−")
    )
    sense = "smaller is deeper" if view.machine.display == "deeper_is_smaller" else "larger is deeper"
    due = _due(view, now)
    last = "" if view.last_check is None else f"last at {clock_words(view.last_check, zone, now)}"
    late = view.minutes_late > 0 and view.due is not None
    strip(
        [
            ("Next check", due_words(view.due, view.minutes_late), due or last or "none made yet"),
            ("Die set", view.die_set or "none logged", age + counter),
            ("Slide on the panel", setting, sense),
            ("Bar batch", view.batch or "not logged", ""),
        ],
        "Next check" if late else "",
    )


def _due(view: OperatorView, now: datetime) -> str:
    """Say when the next check is due; where it is asked for sooner than the plan has it, both times."""
    if view.due is None:
        return ""
    due = clock_words(view.due, view.plan.zone, now)
    if view.planned_due is None or view.planned_due == view.due:
        return f"due at {due}"
    return f"asked for at {due}, by plan {clock_words(view.planned_due, view.plan.zone, now)}"


def _verdict(station: Station, view: OperatorView) -> None:
    """Show the verdict just given large; an older one in a line."""
    saved: Verdict | None = st.session_state.get(f"saved {view.machine.id} {view.plan.part}")
    standing = None if saved is None else station.verdict(saved.check_id)  # None once it is struck out
    is_fresh = standing is not None and station.now() - st.session_state["saved at"] < _FRESH
    verdict = standing if is_fresh else view.last_verdict
    if verdict is None:
        return
    if view.die_set is None or verdict.die_set != view.die_set:
        verdict = replace(verdict, die_life=None)  # it spoke of a set that is no longer on
    if _is_moved(verdict, view):
        tell("The slide move is made: gauge two pieces, as a check after a slide move.")
        if verdict.verdict == "correct":
            return  # nothing else was asked for
        is_fresh = False
    answer = station.answer_to(verdict.check_id)
    if is_fresh:
        rows = station.die_board()
        finished = next((row.finished_sets for row in rows if _is_it(view, row.machine, row.part)), 0)
        show_verdict(verdict, view.plan, finished, station.now(), answer)
        if st.session_state.pop("to the top", False):
            st.html(_TO_THE_TOP, unsafe_allow_javascript=True)
    else:
        show_last_verdict(verdict, station.now(), answer)
    if len(view.unanswered) > 1:
        since = clock_words(view.unanswered[0], view.plan.zone, station.now())
        tell(f"Nobody has answered since {since}: {len(view.unanswered)} checks in a row ask for a stop.")
    offer_answer(station, verdict, answer)


_TO_THE_TOP: Final = """<script>
const up = () => document.querySelector('[data-testid="stMain"]')?.scrollTo(0, 0);
for (const wait of [0, 250, 700]) setTimeout(up, wait);
</script>"""


def _is_moved(verdict: Verdict, view: OperatorView) -> bool:
    """Whether the move that the verdict asked for has been logged."""
    correction = verdict.correction
    return correction is not None and correction.to_mm == view.setting_mm and verdict.die_set == view.die_set


def _is_it(view: OperatorView, machine: str, part: str) -> bool:
    return (machine, part) == (view.machine.id, view.plan.part)
