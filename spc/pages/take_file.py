"""Take a file in: drop it, see which rows can be taken and which not, then save."""

from typing import Final

import streamlit as st

from spc.errors import Refused
from spc.intake import HistoryRead, read_events, read_history
from spc.intake.readings_file import ReadingsRead
from spc.pages.pick import plans_or_tell
from spc.pages.tell import strip, table, tell, tell_refused
from spc.pages.the_station import the_station
from spc.pages.words import PURPOSE_WORDS, clock_words
from spc.shop import Plan
from spc.station import FilesTaken, Station

__all__ = ["take_file_page"]

_FORMS: Final = ["csv", "xlsx", "txt", "tsv"]
_SHOWN: Final = 200
_MARKED_SHOWN: Final = 5


def take_file_page() -> None:
    """Let somebody bring the gauge values of a file, or the events of one, into the record."""
    st.title("Take a file in")
    station = the_station()
    plans = plans_or_tell(station)
    if not plans:
        return
    taken: FilesTaken | None = st.session_state.pop("file taken", None)
    if taken is not None:
        tell(_taken_words(taken))
        if taken.marked:
            tell(_marked_words(taken.marked))
    st.write(
        "CSV or XLSX: gauge values in the columns time, machine, part, characteristic, piece, value (or x1 … xn), "
        "or events in the columns time, machine, part, event, value. First it is only read; nothing is saved yet."
    )
    round_ = st.session_state.setdefault("file round", 1)
    left, right = st.columns(2)
    readings = left.file_uploader("Gauge values", type=_FORMS, key=f"readings file {round_}")
    events = right.file_uploader("Events at the machines", type=_FORMS, key=f"events file {round_}")
    if readings is None and events is None:
        return
    try:
        found = _read(
            station,
            plans,
            None if readings is None else (readings.name, readings.getvalue()),
            None if events is None else (events.name, events.getvalue()),
        )
    except Refused as refused:
        tell_refused(refused, "This file cannot be read. Nothing was saved.")
        return
    _show(found, plans)
    if found.checks or found.events:
        says = "Save what can be taken" if found.refusals else "Save all of it"
        if st.button(says, type="primary", on_click=_save, args=(station, found)):
            stopped = st.session_state.pop("file refused", None)
            if stopped is not None:
                tell_refused(stopped)


def _read(
    station: Station,
    plans: tuple[Plan, ...],
    readings: tuple[str, bytes] | None,
    events: tuple[str, bytes] | None,
) -> HistoryRead:
    logged = None if events is None else read_events(events, plans)
    if readings is None:
        return HistoryRead(ReadingsRead("", (), 0, 0, ()), logged)
    changed = logged.events if logged else ()
    machines = {each.machine for each in changed if each.event == "die_set_mounted"}
    return read_history(plans, readings, events, mounted=station.first_mounted(machines))


def _show(found: HistoryRead, plans: tuple[Plan, ...]) -> None:
    left_out = found.rows - found.accepted_rows
    strip(
        [
            ("Rows that can be taken", f"{found.accepted_rows:,}", f"of {found.rows:,}"),
            ("Rows refused", f"{left_out:,}", "listed below" if found.refusals else "none"),
            ("Checks", f"{len(found.checks):,}", ""),
            ("Events", f"{len(found.events):,}", ""),
        ]
    )
    if found.refusals:
        st.header("Not taken")
        rows = [
            [
                each.file,
                "" if each.row is None else str(each.row),
                each.column,
                each.value,
                each.reason,
                each.allowed,
            ]
            for each in found.refusals[:_SHOWN]
        ]
        table(["File", "Row", "Column", "Came", "Why not", "Allowed"], rows)
    zones = {plan.part: plan.zone for plan in plans}
    if found.checks:
        st.header("Can be taken")
        rows = [
            [
                clock_words(check.time, zones[check.part]), check.machine, check.part,
                "" if check.counter is None else f"{check.counter:,}",
                PURPOSE_WORDS.get(check.purpose, check.purpose),
                ", ".join(each.text for each in check.readings),
            ]
            for check in found.checks[:_SHOWN]
        ]  # fmt: skip
        table(["Made at", "Machine", "Part", "Counter", "For", "Values as they came"], rows)
        if len(found.checks) > _SHOWN:
            st.caption(f"{len(found.checks) - _SHOWN:,} more are not shown here; they are saved too.")


def _save(station: Station, found: HistoryRead) -> None:
    try:
        st.session_state["file taken"] = station.take_history(
            (), found, by=st.session_state.get("operator", "")
        )
    except Refused as refused:
        st.session_state["file refused"] = refused
        return
    st.session_state["file round"] += 1


def _taken_words(taken: FilesTaken) -> str:
    says = f"Saved: {taken.taken:,} new values and events; {taken.checks:,} checks judged."
    if taken.already:
        says += f" {taken.already:,} were in already."
    if taken.refusals:
        says += f" {len(taken.refusals):,} were not taken."
    return says


def _marked_words(marked: tuple[str, ...]) -> str:
    checks = "1 check was" if len(marked) == 1 else f"{len(marked):,} checks were"
    shown = " ".join(marked[:_MARKED_SHOWN])
    more = f" … and {len(marked) - _MARKED_SHOWN:,} more." if len(marked) > _MARKED_SHOWN else ""
    return f"{checks} saved as written but marked: hard to believe, so left out of the model. {shown}{more}"
