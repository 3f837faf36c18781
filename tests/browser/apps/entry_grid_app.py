"""One page with the entry grid; a dictionary of the server process stands for the record."""

import os
import time
from decimal import Decimal, InvalidOperation

import streamlit as st

from spc.pages.entry import GridColumn, GridLayout, GridState, entry_grid


@st.cache_resource
def drafts() -> dict[str, str]:
    """Drafts by user: one dictionary for the whole server process."""
    return {}


def layout(token: str, by: str) -> GridLayout:
    return GridLayout(
        token=token,
        columns=(
            GridColumn("over_pin", "Over pins", "mm", 5, nominal="31.250", lower="31.232", upper="31.268"),
            GridColumn(
                "crest",
                "Crest diameter",
                "µm",
                5,
                mode="deviation_um",
                master_size="28.4992 mm",
                decimals=1,
                nominal="28.500 mm",
                lower="28.470 mm",
                upper="28.530 mm",
            ),
            GridColumn("runout", st.query_params.get("label", "Run-out"), "mm", 5, upper="0.020"),
            GridColumn("lead", "Lead deviation", "mm", 1, later=True, lower="−0.014", upper="0.014"),
        ),
        by=by,  # type: ignore[arg-type]  # comes from the query of the test
    )


def judge(column: str, piece: int, text: str) -> str | None:
    try:
        value = Decimal(text.replace(",", ".").replace("−", "-"))
    except InvalidOperation:
        return "This text is not a number."
    if column == "over_pin" and not 30 <= value <= 33:
        return (
            f"{text} mm lies far from the nominal 31.250 mm. Allowed: 30 to 33 mm. Gauge piece {piece} again."
        )
    return None


def beside(column: str, piece: int, text: str) -> str | None:
    if column != "crest" or piece < 1:
        return None
    return f"{Decimal('28.4992') + Decimal(text.replace(',', '.').replace('−', '-')) / 1000} mm"


@st.fragment
def grid(user: str, check: GridLayout) -> None:
    stored = drafts().get(user)
    draft = GridState.from_json(stored) if stored else None
    state = entry_grid(check, draft=draft, key="readings", judge=judge, beside=beside)
    time.sleep(float(os.environ.get("GRID_APP_SLEEP", "0")))
    drafts()[user] = state.to_json()
    st.session_state["state"] = state
    st.session_state["fragment_runs"] = st.session_state.get("fragment_runs", 0) + 1
    with st.expander("What the page knows"):
        st.code(state.to_json(), language=None)
        st.code("; ".join(f"{c}/{p}" for c, p in state.refusals) or "none refused", language=None)
        st.code("complete" if state.complete(check) else "not complete", language=None)


def main() -> None:
    st.set_page_config(page_title="entry grid", layout="wide")
    user = st.query_params.get("user", "anybody")
    number = st.session_state.setdefault("number", 1)
    st.session_state["runs"] = st.session_state.get("runs", 0) + 1
    st.title("Hourly check")
    st.text_input("Note for the shift")
    grid(user, layout(f"check {number}", st.query_params.get("by", "piece")))
    if st.button("Save", shortcut="Ctrl+Enter", type="primary"):
        drafts()[user + " saved"] = st.session_state["state"].to_json()
        drafts().pop(user, None)
        st.session_state["number"] = number + 1
        st.rerun()
    st.code(f"saved: {drafts().get(user + ' saved', 'nothing')}", language=None)
    st.caption(f"full runs: {st.session_state['runs']}")


if __name__ == "__main__":
    main()
