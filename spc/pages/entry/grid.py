"""Mount the entry grid on a page and hand back what was typed.

The browser moves from place to place and keeps the keys; it never turns a text into a number. Python
judges each text and says which it cannot take; the grid then stops, with a sound and a message over the
whole screen.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import Any

import streamlit as st

from spc.pages.entry.layout import GridLayout
from spc.pages.entry.state import GridState, Mark

__all__ = ["entry_grid", "newest_state"]

Judge = Callable[[str, int, str], str | None]
Beside = Callable[[str, int, str], str | None]
Marks = Callable[[GridState], Mapping[tuple[str, int], Mark]]

_SCRIPTS = ("words.js", "places.js", "stop.js", "parts.js", "outside.js", "grid.js")


def entry_grid(
    layout: GridLayout,
    *,
    draft: GridState | None,
    key: str,
    judge: Judge,
    beside: Beside | None = None,
    marks: Marks | None = None,
    on_change: Callable[[], None] | None = None,
) -> GridState:
    """Show the grid to the operator and return everything typed so far.

    Parameters
    ----------
    layout : GridLayout
        The columns and the token of this check.
    draft : GridState or None
        What the page had stored for this check; counts only under the same token.
    key : str
        Key of the component in the session; one grid a key.
    judge : callable (column, piece, text) -> str or None
        Says in a sentence why a text cannot be taken, None where it can; `piece` counts from 1.
    beside : callable (column, piece, text) -> str or None, optional
        Text to show under a value that was taken, such as the absolute size of a typed deviation.
    marks : callable (state) -> mapping of (column, piece) to Mark, optional
        What is to be said of taken values, seen together: outside the tolerance, what a piece amounts to.
    on_change : callable, optional
        Called before the page runs again for a change.

    Returns
    -------
    GridState
        With `refusals` filled in. Store ``state.to_json()`` on every run and give it back as `draft`: the
        browser forgets on reload.

    Notes
    -----
    Call it inside ``@st.fragment``, so that a value does not run the whole page. Refused, skipped and
    replaced texts stay in the state; saving is the page's business.
    """
    state = newest_state(layout, draft, st.session_state.get(key))
    state = replace(state, refusals=_judged(state, judge))
    _component()(
        key=key,
        data={
            "key": key,
            "layout": layout.to_dict(),
            "draft": state.to_dict(),
            "refusals": [
                {"column": column, "piece": piece, "text": state.cells[column][piece - 1].text, "says": says}
                for (column, piece), says in state.refusals.items()
            ],
            "beside": _beside(state, beside),
            "marks": _marks(state, marks),
        },
        on_grid_change=on_change or _nothing,
    )
    return state


def newest_state(layout: GridLayout, draft: GridState | None, session: Any) -> GridState:
    """Return what stands in the grid: the newer of the stored draft and what the browser sent last."""
    known = [GridState.empty(layout)]
    if draft is not None and draft.token == layout.token:
        known.append(draft)
    record = session.get("grid") if isinstance(session, Mapping) else None
    if isinstance(record, Mapping):
        try:
            typed = GridState.from_dict(record)
        except ValueError:
            typed = known[0]  # a browser that sends no grid has sent nothing
        if typed.token == layout.token:
            known.append(typed)
    return max(known, key=lambda state: state.seq).fitted(layout)


def _judged(state: GridState, judge: Judge) -> dict[tuple[str, int], str]:
    refusals = {}
    for column, cells in state.cells.items():
        for piece, cell in enumerate(cells, start=1):
            says = judge(column, piece, cell.text) if cell.text else None
            if says is not None:
                refusals[column, piece] = says
    return refusals


def _beside(state: GridState, beside: Beside | None) -> list[dict[str, object]]:
    if beside is None:
        return []
    shown: list[dict[str, object]] = []
    for column, cells in state.cells.items():
        for piece, cell in enumerate(cells, start=1):
            taken = cell.text and (column, piece) not in state.refusals
            says = beside(column, piece, cell.text) if taken else None
            if says is not None:
                shown.append({"column": column, "piece": piece, "text": cell.text, "says": says})
    return shown


def _marks(state: GridState, marks: Marks | None) -> list[dict[str, object]]:
    said = {} if marks is None else marks(state)
    return [
        {
            "column": column, "piece": piece, "text": state.cells[column][piece - 1].text,
            "says": mark.says, "outside": mark.is_outside,
        }
        for (column, piece), mark in said.items()
    ]  # fmt: skip


def _nothing() -> None:
    """Make the grid's value known to Streamlit where the page wants no call."""


@cache
def _component() -> Callable[..., Any]:
    folder = files("spc.pages.entry")
    mount: Callable[..., Any] = st.components.v2.component(
        "spc_entry_grid",
        html=folder.joinpath("grid.html").read_text(encoding="utf-8"),
        css=folder.joinpath("grid.css").read_text(encoding="utf-8"),
        js="\n".join(folder.joinpath(name).read_text(encoding="utf-8") for name in _SCRIPTS),
    )
    return mount
