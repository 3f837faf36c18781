"""Mend the record without erasing: strike a check out and type it again, or bring a result that came later."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

import streamlit as st

from spc.errors import Refused
from spc.intake import can_deviate, from_master_unit
from spc.pages.drafts import Draft, save_draft
from spc.pages.entry import GridCell, GridState
from spc.pages.grid_of_plan import grid_layout
from spc.pages.grid_places import GridPlace, grid_places
from spc.pages.held_traces import traces_of_check
from spc.pages.tell import tell_refused
from spc.pages.temperature_fields import MASTER, PART
from spc.pages.trace_upload import TRACES
from spc.pages.type_check import FROM_MASTER, SIZES, draft_key
from spc.pages.words import plain, unit_words
from spc.shop import Characteristic, CheckGauged, Plan
from spc.shop.moment import local_text
from spc.station import Station
from spc.station.kept import fact_of
from spc.station.views import OperatorView

__all__ = ["Past", "complete", "strike_out"]

_PREFIX: Final = "past "


@dataclass(frozen=True, slots=True)
class Past:
    """Past checks to choose from: check id to what it is called."""

    station: Station
    view: OperatorView
    named: dict[int, str]

    @staticmethod
    def open_anew() -> None:
        """Forget what an earlier dialog said."""
        for name in ("refused", "done"):
            st.session_state.pop(_PREFIX + name, None)


@st.dialog("Strike a check out", width="medium")
def strike_out(past: Past) -> None:
    """Ask which one and why."""
    if st.session_state.pop(_PREFIX + "done", False):
        st.rerun()
    st.write("Nothing is erased: the check stays in the record with its reason, and no longer counts.")
    st.selectbox("Which check?", list(past.named), key=_PREFIX + "check", format_func=past.named.__getitem__)
    st.text_input("Why?", key=_PREFIX + "reason", placeholder="such as digits swapped at piece 3")
    st.session_state.setdefault(_PREFIX + "by", st.session_state.get("operator", ""))
    st.text_input("Who?", key=_PREFIX + "by")
    st.checkbox("Lay its values into the grid, to enter it again", value=True, key=_PREFIX + "again")
    _refusal()
    st.button("Strike it out", type="primary", width="stretch", on_click=_strike, args=(past,))


def _strike(past: Past) -> None:
    check_id = int(st.session_state[_PREFIX + "check"])
    try:
        by = str(st.session_state.get(_PREFIX + "by") or "") or None
        past.station.annul(check_id, str(st.session_state.get(_PREFIX + "reason") or ""), by=by)
        if st.session_state.get(_PREFIX + "again"):
            _lay_out(past, check_id)
    except Refused as refused:
        st.session_state[_PREFIX + "refused"] = refused
        return
    saved = f"saved {past.view.machine.id} {past.view.plan.part}"
    if getattr(st.session_state.get(saved), "check_id", None) == check_id:
        del st.session_state[saved]
    again = " Its values are in the grid." if st.session_state.get(_PREFIX + "again") else ""
    st.session_state["told"] = f"Struck out: the check of {past.named[check_id]}.{again}"
    st.session_state[_PREFIX + "done"] = True


def _lay_out(past: Past, check_id: int) -> None:
    """Put what was typed back into the grid, under the time it was made."""
    check, plan = gauged_check(past.station, check_id), past.view.plan
    token, deviations = f"again-{check_id}", _was_from_masters(check, plan)
    layout = grid_layout(plan, token, deviations)
    cells = {
        each.column: tuple(
            GridCell(_text(check, each, piece, deviations))
            for piece in range(1, each.characteristic.subgroup_size + 1)
        )
        for each in grid_places(plan)
    }
    fields = {
        "counter": "" if check.counter is None else str(check.counter),
        "time": local_text(check.time, plan.zone),
        "purpose": check.purpose,
        "gauge shows": FROM_MASTER if deviations else SIZES,
        PART: _warmth([each.temperature_c for each in check.readings]),
        MASTER: _warmth([each.master_temperature_c for each in check.readings]),
        TRACES: traces_of_check(plan, check),
    }
    grid = None if layout is None else GridState(layout.token, 1, cells)
    save_draft(past.station, draft_key(past.view.machine.id, plan.part), Draft(token, grid, dict(fields)))


def gauged_check(station: Station, check_id: int) -> CheckGauged:
    """Return a check as it was typed."""
    with station.store.reading() as shelf:
        kept = shelf.fact(check_id)
    fact = None if kept is None else fact_of(kept)
    if not isinstance(fact, CheckGauged):
        raise Refused.one("there is no check with this number", value=str(check_id))
    return fact


def _was_from_masters(check: CheckGauged, plan: Plan) -> bool:
    """Whether every size that can be was typed as a deviation from the master that still stands."""
    units = {each.name: from_master_unit(each) for each in plan.gauged if can_deviate(each)}
    typed = [
        (each.unit, units[each.characteristic]) for each in check.readings if each.characteristic in units
    ]
    return bool(typed) and all(unit == from_master for unit, from_master in typed)


def _warmth(known: Sequence[Decimal | None]) -> str:
    """Return the one temperature of a check; "" where none is known or a file gave several."""
    different = {f"{each}" for each in known if each is not None}
    return different.pop() if len(different) == 1 else ""


def _text(check: CheckGauged, place: GridPlace, piece: int, deviations: bool) -> str:
    """What was typed, where the grid reads it as it was read then; else the size that it amounted to."""
    characteristic = place.characteristic
    key = (characteristic.name, piece, place.position)
    found = next((each for each in check.readings if each.key == key), None)
    if found is None:
        return ""
    as_typed = from_master_unit(characteristic) if deviations and can_deviate(characteristic) else ""
    if found.value is None or found.unit in ("", as_typed or characteristic.unit):
        return found.text
    return format(found.value, "f")


@st.dialog("Add a result that came later", width="medium")
def complete(past: Past) -> None:
    """Ask for the values that the measuring room has sent."""
    if st.session_state.pop(_PREFIX + "done", False):
        st.rerun()
    st.selectbox(
        "To which check?", list(past.named), key=_PREFIX + "check", format_func=past.named.__getitem__
    )
    waiting = [each for each in past.view.plan.gauged if each.later or each.at != ("every",)]
    names = {each.name: each for each in waiting}
    name = st.selectbox("Which?", list(names), key=_PREFIX + "name", format_func=plain)
    for piece in range(1, names[name].subgroup_size + 1):
        st.text_input(f"Piece {piece}, {unit_words(names[name].unit)}", key=f"{_PREFIX}value {piece}")
    _refusal()
    st.button("Add it", type="primary", width="stretch", on_click=_complete, args=(past, names[name]))


def _complete(past: Past, characteristic: Characteristic) -> None:
    pieces = range(1, characteristic.subgroup_size + 1)
    try:
        check = gauged_check(past.station, int(st.session_state[_PREFIX + "check"]))
        values = [str(st.session_state.get(f"{_PREFIX}value {piece}") or "") for piece in pieces]
        where = {"machine": check.machine, "part": check.part, "counter": check.counter}
        made = {"time": check.time.isoformat(), "purpose": check.purpose, "operator": check.operator}
        past.station.check_in({**where, **made, "values": {characteristic.name: values}})
    except Refused as refused:
        st.session_state[_PREFIX + "refused"] = refused
        return
    st.session_state["told"] = f"{plain(characteristic.name)} added to its check."
    st.session_state[_PREFIX + "done"] = True


def _refusal() -> None:
    refused = st.session_state.get(_PREFIX + "refused")
    if refused is not None:
        tell_refused(refused)


__all__ += ["gauged_check"]
