"""Typing one check: the grid, the look, counter, purpose, time and name; kept as a draft until it is saved."""

import uuid
from collections.abc import Mapping
from typing import Any, Final

import streamlit as st

from spc.errors import Refusal, Refused
from spc.intake import can_deviate, size_from_master
from spc.pages.drafts import Draft, drop_draft, read_draft, save_draft
from spc.pages.entry import GridLayout, GridState, entry_grid
from spc.pages.grid_marks import marks_of
from spc.pages.grid_of_plan import Typed, grid_layout, judge_of, left_out, typed_values
from spc.pages.grid_places import place_of
from spc.pages.held_traces import note_of, with_traces
from spc.pages.look_answers import ask_look, look_values
from spc.pages.plant_time import typed_moment
from spc.pages.tell import GAUGING, caution, tell_refused
from spc.pages.temperature_fields import MASTER, PART, ask_temperatures, warmth_of
from spc.pages.trace_upload import TRACES, TraceTray, ask_trace
from spc.pages.words import PURPOSE_WORDS, unit_words
from spc.station import Station
from spc.station.views import OperatorView

__all__ = ["FROM_MASTER", "SIZES", "draft_key", "type_check"]

GRID: Final = "readings"
SIZES: Final = "sizes"
FROM_MASTER: Final = "µm from its master"
"""How the gauge shows what is typed: the words of the choice, kept with a draft."""
_TOUCHED: Final = ("counter", "time", "all ok", "seen", PART, MASTER)
"""Fields that make a draft worth keeping."""
_STILL_OPEN: Final = "still open"
Fields = dict[str, Any]


def draft_key(machine: str, part: str) -> str:
    """Key of the draft of one part on one machine."""
    return f"check|{machine}|{part}"


@st.fragment
def type_check(station: Station, view: OperatorView) -> None:
    """Take the values of one check in; only this piece of the page runs while values are typed."""
    plan, key = view.plan, draft_key(view.machine.id, view.plan.part)
    draft = _draft(station, key)

    def place(name: str) -> str:
        return f"{draft.token} {name}"

    fields = _ask_fields(view, place, draft) | ask_temperatures(plan, place, draft.fields)
    deviations = bool(fields.get("deviations"))
    fields[TRACES] = draft.fields.get(TRACES, [])
    layout = grid_layout(plan, draft.token, deviations)
    state = None if layout is None else _grid(view, layout, draft, fields)
    if layout is not None:
        ask_trace(TraceTray(station, plan, key, draft.token, GRID, layout), fields[TRACES])
    caution(GAUGING)
    fields |= ask_look(plan, place, draft.fields)
    _keep(station, key, Draft(draft.token, state, fields))
    wish = st.session_state.pop(place("wish"), "")
    if wish:
        _save(station, view, layout, Draft(draft.token, state, fields), is_short=wish == "short")
    st.button(
        "Save the check", type="primary", shortcut="Ctrl+Enter", width="stretch", on_click=_wish,
        args=(place("wish"), "whole"),
    )  # fmt: skip
    refused = st.session_state.get(place("refused"))
    if refused is not None:
        tell_refused(refused)
        if any(_STILL_OPEN in each.reason for each in refused.refusals):
            st.button("Save with what is there", on_click=_wish, args=(place("wish"), "short"))


def _wish(key: str, wish: str) -> None:
    """Remember that the check shall be saved; it is, once the newest values are read."""
    st.session_state[key] = wish


def _draft(station: Station, key: str) -> Draft:
    """What was typed before, under the token that this session already shows."""
    draft = read_draft(station, key)
    if draft.grid is None and not draft.fields:
        token = st.session_state.setdefault(f"token {key}", uuid.uuid4().hex)
        return Draft(token)
    st.session_state[f"token {key}"] = draft.token
    return draft


def _ask_fields(view: OperatorView, place: Any, draft: Draft) -> Fields:
    """Ask for counter, purpose, time, name, and how the gauge shows sizes."""
    kept, last = draft.fields, "" if view.counter is None else f"last {view.counter}"
    for name, first in (("counter", ""), ("time", ""), ("purpose", "hourly"), ("gauge shows", SIZES)):
        st.session_state.setdefault(place(name), kept.get(name, first))
    _preset_purpose(view, place, draft)
    st.session_state.setdefault("operator field", st.session_state.get("operator", ""))
    columns = st.columns(5, vertical_alignment="bottom")
    fields: Fields = {
        "counter": columns[0].text_input("Counter", key=place("counter"), placeholder=last),
        "purpose": columns[1].selectbox(
            "What is this check for?", list(PURPOSE_WORDS), key=place("purpose"), format_func=_purpose
        ),
        "time": columns[2].text_input("Pieces made at", key=place("time"), placeholder="now, or 06:40"),
    }
    st.session_state["operator"] = columns[3].text_input(
        "Who gauged?", key="operator field", placeholder="name or sign"
    )
    if any(can_deviate(each) for each in view.plan.gauged):
        says = columns[4].selectbox(
            "The gauge shows", (SIZES, FROM_MASTER), key=place("gauge shows"), disabled=_has_values(draft),
            help="Can be changed while the grid is empty.",
        )  # fmt: skip
        fields["gauge shows"] = says
        fields["deviations"] = says == FROM_MASTER
    return fields


def _preset_purpose(view: OperatorView, place: Any, draft: Draft) -> None:
    """Choose "after a slide move" once, where the advised move is made and nothing is typed yet."""
    verdict = view.last_verdict
    move = None if verdict is None or verdict.die_set != view.die_set else verdict.correction
    if (
        move is None
        or move.to_mm != view.setting_mm
        or _has_values(draft)
        or place("preset") in st.session_state
    ):
        return
    st.session_state[place("purpose")] = "after_move"
    st.session_state[place("preset")] = True


def _purpose(word: str) -> str:
    return PURPOSE_WORDS[word]


def _has_values(draft: Draft) -> bool:
    """Whether anything stands in the grid of this check, in this session or kept."""
    session = st.session_state.get(GRID)
    record = session.get("grid") if isinstance(session, Mapping) else None
    typed: Mapping[str, Any] = record if isinstance(record, Mapping) else {}
    cells = typed.get("cells", {}) if str(typed.get("token", "")).startswith(draft.token) else {}
    kept = draft.grid.cells.values() if draft.grid is not None else ()
    return any(cell.get("text") for column in cells.values() for cell in column) or any(
        cell.text for column in kept for cell in column
    )


def _grid(view: OperatorView, layout: GridLayout, draft: Draft, fields: Fields) -> GridState:
    plan, deviations = view.plan, bool(fields.get("deviations"))

    def said(column: str, piece: int) -> set[str]:
        """Texts of this place that were doubted once and came again."""
        session = st.session_state.get(GRID)
        record = session.get("grid") if isinstance(session, Mapping) else None
        struck = list(record.get("struck", ())) if isinstance(record, Mapping) else []
        found = {each["text"] for each in struck if (each["column"], each["piece"]) == (column, piece)}
        kept = draft.grid.struck if draft.grid is not None else ()
        return found | {each.text for each in kept if (each.column, each.piece) == (column, piece)}

    def beside(column: str, piece: int, text: str) -> str | None:
        characteristic = place_of(plan, column).characteristic
        if not (deviations and can_deviate(characteristic)):
            return note_of(fields[TRACES], column, piece, text)
        return f"{size_from_master(characteristic, text):f} {unit_words(characteristic.unit)}"

    return entry_grid(
        layout, draft=draft.grid, key=GRID, judge=judge_of(plan, deviations, said), beside=beside,
        marks=marks_of(plan, deviations, warmth_of(fields)),
    )  # fmt: skip


def _keep(station: Station, key: str, draft: Draft) -> None:
    """Keep what is typed, when it has changed and there is anything."""
    has_text = draft.grid is not None and draft.grid.seq > 0
    is_touched = any(draft.fields.get(name) for name in _TOUCHED)
    if not (has_text or is_touched):
        return
    body = repr((draft.token, draft.grid and draft.grid.to_json(), draft.fields))
    if st.session_state.get(f"kept {key}") != body:
        save_draft(station, key, draft)
        st.session_state[f"kept {key}"] = body


def _save(
    station: Station, view: OperatorView, layout: GridLayout | None, draft: Draft, *, is_short: bool
) -> None:
    """Hand the check to the station; a refusal stays on the page, and so does everything typed."""
    key, refused_key = draft_key(view.machine.id, view.plan.part), f"{draft.token} refused"
    try:
        check = _check(station, view, layout, draft, is_short)
        verdict = station.check_in(check, by=st.session_state.get("operator") or None)
    except Refused as refused:
        st.session_state[refused_key] = refused
        return
    drop_draft(station, key)
    for name in (f"token {key}", f"kept {key}", refused_key):
        st.session_state.pop(name, None)
    st.session_state[f"saved {view.machine.id} {view.plan.part}"] = verdict
    st.session_state["saved at"] = station.now()
    st.session_state["to the top"] = True
    st.rerun()


def _check(
    station: Station, view: OperatorView, layout: GridLayout | None, draft: Draft, is_short: bool
) -> dict[str, Any]:
    """Make the check as the station takes it.

    Raises
    ------
    Refused
        Something is still open, refused or waiting, or nobody has said how the pieces look.
    """
    plan, state, fields = view.plan, draft.grid, draft.fields
    answers, skipped, problems = look_values(plan, fields)
    typed: dict[str, dict[str, list[Typed]]] = {}
    if layout is not None and state is not None:
        problems += _unfinished(layout, state, fields["purpose"] != "hourly" or is_short)
        skipped += left_out(plan, state)
        if not problems:
            typed = typed_values(plan, state, bool(fields.get("deviations")))
    if problems:
        raise Refused(problems)
    return {
        "time": typed_moment(fields["time"], station.now(), plan.zone),
        "machine": view.machine.id,
        "part": plan.part,
        "counter": fields["counter"],
        "operator": st.session_state.get("operator", ""),
        "purpose": fields["purpose"],
        "temperature_c": fields.get(PART, "").strip(),
        "master_temperature_c": fields.get(MASTER, "").strip(),
        "values": with_traces(plan, typed.get("values", {}), fields.get(TRACES)) | answers,
        "from_master_um": typed.get("from_master_um"),
        "skipped": skipped,
    }


def _unfinished(layout: GridLayout, state: GridState, may_be_short: bool) -> list[Refusal]:
    labels = {column.name: column.label for column in layout.columns}
    problems = [
        Refusal(f"{labels[name]}, piece {piece}: {says}", do="Enter it again in the grid")
        for (name, piece), says in state.refusals.items()
    ]
    if state.waiting():
        waiting = ", ".join(each.text for each in state.waiting())
        problems.append(
            Refusal(f"values are waiting for a place: {waiting}", do="Put them in or set them aside")
        )
    still_open = [f"{labels[name]} piece {piece}" for name, piece in state.open_places(layout)]
    if still_open and not may_be_short:
        do = "Gauge them, leave them out with a reason, or save with what is there"
        problems.append(Refusal(f"{_STILL_OPEN}: {', '.join(still_open)}", do=do))
    return problems
