"""Answer a verdict that asks for a look: what was found, what was done, and who stands for it."""

from typing import Final

import streamlit as st

from spc.errors import Refused
from spc.pages.tell import tell_refused
from spc.shop import AlarmAnswered, Verdict
from spc.shop.causes import CAUSE_WORDS, cause_words
from spc.station import Station

__all__ = ["offer_answer"]

_PREFIX: Final = "answer "
_ASKING: Final = ("watch", "hold")


def offer_answer(station: Station, verdict: Verdict, answer: AlarmAnswered | None) -> None:
    """Offer to answer the verdict that stands, where it asks for an answer."""
    if verdict.verdict not in _ASKING or verdict.check_id is None:
        return
    says = "Answer it" if answer is None else "Answer it anew"
    if st.button(says, key=_PREFIX + "open", on_click=_open_anew):
        _answer_verdict(station, verdict.check_id)


def _open_anew() -> None:
    """Forget what an earlier dialog said."""
    for name in ("refused", "done"):
        st.session_state.pop(_PREFIX + name, None)


@st.dialog("Answer the verdict", width="medium")
def _answer_verdict(station: Station, check_id: int) -> None:
    """Ask what was found and what was done."""
    if st.session_state.pop(_PREFIX + "done", False):
        st.rerun()
    st.selectbox(
        "What was found?", list(CAUSE_WORDS), key=_PREFIX + "cause", format_func=cause_words, index=None,
        accept_new_options=True, placeholder="in your own words, or one of these",
    )  # fmt: skip
    st.text_input("What was done?", key=_PREFIX + "action", placeholder="such as gauge set, pieces sorted")
    st.session_state.setdefault(_PREFIX + "by", st.session_state.get("operator", ""))
    st.text_input("Who?", key=_PREFIX + "by", placeholder="your name or sign")
    st.caption("This says what people know. It releases no pieces: that is for a qualified person.")
    refused = st.session_state.get(_PREFIX + "refused")
    if refused is not None:
        tell_refused(refused)
    st.button("Keep the answer", type="primary", width="stretch", on_click=_keep, args=(station, check_id))


def _keep(station: Station, check_id: int) -> None:
    by = _field("by")
    try:
        station.answer(check_id, _field("cause"), _field("action"), by=by or None)
    except Refused as refused:
        st.session_state[_PREFIX + "refused"] = refused
        return
    st.session_state["operator"] = by or st.session_state.get("operator", "")
    st.session_state["told"] = "The answer is kept with the verdict."
    st.session_state[_PREFIX + "done"] = True


def _field(name: str) -> str:
    return str(st.session_state.get(_PREFIX + name) or "").strip()
