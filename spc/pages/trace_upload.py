"""A trace or profile of a piece: its values go into the grid as if typed, the curve is kept with the check."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import streamlit as st

from spc.errors import Refusal, Refused
from spc.intake import TraceRead, read_trace, value_from_trace
from spc.pages.drafts import Draft, read_draft, save_draft
from spc.pages.entry import GridLayout, GridState, newest_state
from spc.pages.grid_places import GridPlace, grid_places
from spc.pages.held_traces import HeldTrace, held_traces
from spc.pages.tell import tell_refused
from spc.pages.words import plain, unit_words
from spc.shop import TRACE_OF, Plan
from spc.shop.trace import TRACE_COLUMNS
from spc.station import Station

__all__ = ["TRACES", "TraceTray", "ask_trace"]

TRACES: Final = "traces"
"""Name under which a draft keeps them."""
_FORMS: Final = ["csv", "xlsx", "txt", "tsv"]


@dataclass(frozen=True, slots=True)
class TraceTray:
    """Where traces of one check are taken to.

    Attributes
    ----------
    key : str
        Of the draft in the record.
    token : str
        Of this check.
    grid_key : str
        Of the grid in the session.
    layout : GridLayout
    """

    station: Station
    plan: Plan
    key: str
    token: str
    grid_key: str
    layout: GridLayout

    def place(self, name: str) -> str:
        """Key of a field of this check in the session."""
        return f"{self.token} {name}"

    def draft(self) -> Draft:
        """What is being typed, by the newest of record and browser."""
        kept = read_draft(self.station, self.key)
        draft = kept if kept.token == self.token else Draft(self.token)
        state = newest_state(self.layout, draft.grid, st.session_state.get(self.grid_key))
        return replace(draft, grid=state)

    def keep(self, draft: Draft, state: GridState, traces: Sequence[HeldTrace]) -> None:
        """Keep the draft with another grid and other traces."""
        fields = draft.fields | {TRACES: [each.to_plain() for each in traces]}
        save_draft(self.station, self.key, Draft(self.token, state, fields))


def ask_trace(tray: TraceTray, kept: Any) -> None:
    """Offer to take a file with a curve; nothing is shown where the plan reads no value from one."""
    spots = [each for each in grid_places(tray.plan) if each.characteristic.trace is not None]
    if not spots:
        return
    pieces = max(each.characteristic.subgroup_size for each in spots)
    of = list(dict.fromkeys(_group(each) for each in spots))
    columns = st.columns([3, 1, 1.4], vertical_alignment="bottom")
    key = tray.place(f"trace {st.session_state.setdefault(tray.place('trace round'), 1)}")
    columns[0].file_uploader(
        "Trace or profile of a piece", type=_FORMS, key=key, on_change=_take, args=(tray, key),
        help="CSV or XLSX with position_mm and deviation_um (travel), height_um (profile) or depth_mm. The values "
        "go into the grid; the curve is kept with the check.",
    )  # fmt: skip
    if pieces > 1:
        columns[1].selectbox("Of piece", range(1, pieces + 1), key=tray.place("trace piece"))
    if len(of) > 1:
        columns[2].selectbox(
            "Measured at", of, key=tray.place("trace of"), format_func=lambda each: each or "the part"
        )
    refused = st.session_state.get(tray.place("trace refused"))
    if refused is not None:
        tell_refused(refused, "This curve was not taken. Nothing you typed is lost.")
    for number, each in enumerate(held_traces(kept)):
        says, away = st.columns([4, 1], vertical_alignment="center")
        says.caption(_told(tray.plan, each))
        away.button("Take it away", key=tray.place(f"away {number}"), on_click=_take_away, args=(tray, each))


def _group(spot: GridPlace) -> str:
    """Say to which form and place on the piece a curve belongs."""
    return ", ".join(each for each in (plain(spot.characteristic.form), spot.position) if each)


def _told(plan: Plan, held: HeldTrace) -> str:
    labels = {each.column: each for each in grid_places(plan)}
    given = [
        f"{labels[column].label} {text} {unit_words(labels[column].characteristic.unit)}".replace("-", "−")
        for column, text in held.cells
        if column in labels
    ]
    return f"Piece {held.piece}, {held.says}: {'; '.join(given)}"


def _take(tray: TraceTray, key: str) -> None:
    """Take the file that was just chosen; a refusal stays on the page."""
    upload = st.session_state.get(key)
    if upload is None:
        return
    st.session_state[tray.place("trace round")] += 1  # the field is empty again, for the next curve
    st.session_state.pop(tray.place("trace refused"), None)
    try:
        _lay_in(tray, read_trace((upload.name, upload.getvalue())))
    except Refused as refused:
        st.session_state[tray.place("trace refused")] = refused


def _lay_in(tray: TraceTray, read: TraceRead) -> None:
    """Put the values of a curve into the grid.

    Raises
    ------
    Refused
        Nothing is read from such a curve, or some value cannot be; the others are in the grid.
    """
    piece = int(st.session_state.get(tray.place("trace piece"), 1))
    spots = _spots(tray, read, piece)
    values: dict[str, str] = {}
    refusals: list[Refusal] = []
    for spot in spots:
        try:
            values[spot.column] = f"{value_from_trace(read.points, spot.characteristic):f}"
        except Refused as refused:
            refusals += [replace(each, file=f"{read.name}, {spot.label}") for each in refused.refusals]
    if values:
        draft = tray.draft()
        held = HeldTrace.of(read, piece, spots[0].position, values)
        others = [
            each for each in held_traces(draft.fields.get(TRACES)) if not each.shares_a_place_with(held)
        ]
        tray.keep(draft, _filled(draft.grid, piece, values), [*others, held])
    if refusals:
        raise Refused(refusals)


def _spots(tray: TraceTray, read: TraceRead, piece: int) -> list[GridPlace]:
    traced = [each for each in grid_places(tray.plan) if each.characteristic.trace is not None]
    of = st.session_state.get(tray.place("trace of"), _group(traced[0]))
    kinds = {TRACE_OF[each.characteristic.kind] for each in traced if _group(each) == of}
    found = [
        each
        for each in traced
        if _group(each) == of
        and TRACE_OF[each.characteristic.kind] == read.kind
        and piece <= each.characteristic.subgroup_size
    ]
    if not found:
        raise Refused.one(
            f"nothing {'here' if read.kind in kinds else 'in this plan'} is read from it",
            value=TRACE_COLUMNS[read.kind][1],
            file=read.name,
            allowed=" or ".join(TRACE_COLUMNS[kind][1] for kind in sorted(kinds)),
            do="Choose the piece and place it was measured at" if read.kind in kinds else "",
        )
    return found


def _filled(state: GridState | None, piece: int, texts: dict[str, str]) -> GridState:
    """Return the grid with these texts in it; a text that stood there is kept among the replaced ones."""
    if state is None:
        msg = "a tray has a grid"
        raise ValueError(msg)
    for column, text in texts.items():
        state = state.with_text(column, piece, text)
    return state


def _take_away(tray: TraceTray, held: HeldTrace) -> None:
    """Forget a curve, and empty the places that still hold its values."""
    draft = tray.draft()
    if draft.grid is None:
        return
    empty = {
        column: ""
        for column, text in held.cells
        if column in draft.grid.cells and draft.grid.texts(column)[held.piece - 1] == text
    }
    others = [each for each in held_traces(draft.fields.get(TRACES)) if each != held]
    tray.keep(draft, _filled(draft.grid, held.piece, empty), others)
