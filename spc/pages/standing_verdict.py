"""Which verdict an operator is shown as the present one, and what of it still holds."""

from dataclasses import replace
from datetime import timedelta
from typing import Final

import streamlit as st

from spc.shop import Verdict
from spc.station import Station
from spc.station.kept import verdict_of
from spc.station.views import OperatorView

__all__ = ["is_move_made", "standing_verdict", "without_spent_forecast"]

_FRESH: Final = timedelta(minutes=30)
"""So long a verdict stays large at the top; then it is the last check."""


def standing_verdict(station: Station, view: OperatorView) -> tuple[Verdict | None, bool]:
    """Return the verdict to show the operator and whether it was just given; never one struck out."""
    saved: Verdict | None = st.session_state.get(f"saved {view.machine.id} {view.plan.part}")
    if saved is None or station.now() - st.session_state["saved at"] >= _FRESH:
        return view.last_verdict, False
    if saved.check_id is None:
        return saved, True
    with station.store.reading() as shelf:
        kept = shelf.standing_verdicts({saved.check_id}).get(saved.check_id)
    return (view.last_verdict, False) if kept is None else (verdict_of(kept), True)


def without_spent_forecast(verdict: Verdict, view: OperatorView) -> Verdict:
    """Leave the forecast of the dies away where it speaks of another set, or where a find points at them."""
    is_other = view.die_set is None or verdict.die_set != view.die_set
    is_found = any(each.kind == "visual" for each in verdict.signals)
    return replace(verdict, die_life=None) if is_other or is_found else verdict


def is_move_made(verdict: Verdict | None, view: OperatorView) -> bool:
    """Whether the slide now stands where this verdict advised to move it."""
    if verdict is None or verdict.verdict != "correct" or verdict.correction is None:
        return False
    return verdict.die_set == view.die_set and view.setting_mm == verdict.correction.to_mm
