"""Limits from a chosen period: see what stands out, leave a check out with a reason, sign what remains."""

from datetime import date, datetime, timedelta
from typing import Final

import streamlit as st

from spc.drawing.xbar_r import xbar_r_picture
from spc.errors import Refused
from spc.pages.beside_limits import die_life, room_inside
from spc.pages.look import picture, theme_name
from spc.pages.tell import strip, table, tell, tell_refused
from spc.pages.words import clock_words, plain, size_words, unit_words
from spc.shop import Characteristic, Plan
from spc.shop.moment import to_local, to_utc
from spc.station import Station
from spc.station.beyond_tolerance import beyond_tolerance
from spc.station.first_phase_records import FirstPhase, PhaseCheck

__all__ = ["chosen_period"]

_DAYS: Final = 28
_LISTED: Final = 12
_DATE: Final = "YYYY-MM-DD"
_MANY: Final = 0.25
"""Share of checks that stand out from which days are no first phase (common practice, no source)."""
_LEFT_OUT: Final = "period left out"
_REFUSED: Final = "period refused"
_TOLD: Final = "period told"


def chosen_period(station: Station, plan: Plan, machine: str) -> None:
    """Offer to work limits out from the hourly checks of a period, and to sign them."""
    st.header("Limits from a period you choose")
    st.write(
        "For the first limits after a proving run, or for new ones after a lasting change: choose days on which "
        "the process ran as it should, leave out only what has a known cause, and sign."
    )
    told = st.session_state.pop(_TOLD, "")
    if told:
        tell(told)
    refused = st.session_state.pop(_REFUSED, None)
    if refused is not None:
        tell_refused(refused)
    asked = _ask(station, plan, machine)
    if asked is None:
        return
    try:
        phase = asked.phase(_left_out())
        whole = asked.phase({}) if _left_out() else None
    except Refused as wrong:
        tell_refused(wrong, "No limits from these days.")
        return
    _show(phase, whole, plan.zone)
    room_inside(phase)
    die_life(station, plan.part, machine, phase.characteristic, asked.start, asked.end, plan.zone)
    _leave_out(phase, plan.zone)
    _offer_to_sign(asked, beyond_tolerance(phase.characteristic, phase.lower, phase.upper))


class _Asked:
    """What was chosen, ready for the station."""

    def __init__(
        self, station: Station, plan: Plan, machine: str, name: str, first: date, last: date
    ) -> None:
        self.station, self.part, self.machine, self.name = station, plan.part, machine, name
        self.start = _midnight(first, plan.zone)
        self.end = _midnight(last + timedelta(days=1), plan.zone)

    def phase(self, excluded: dict[int, str]) -> FirstPhase:
        return self.station.first_phase(
            self.part, self.machine, self.name, from_time=self.start, to_time=self.end, excluded=excluded
        )

    def sign(self, by: str, reason: str) -> None:
        self.station.sign_first_phase(
            self.part,
            self.machine,
            self.name,
            by=by,
            reason=reason,
            from_time=self.start,
            to_time=self.end,
            excluded=_left_out(),
        )


def _ask(station: Station, plan: Plan, machine: str) -> _Asked | None:
    columns = st.columns([4, 2, 2], vertical_alignment="bottom")
    names = [each.name for each in plan.gauged]
    name = columns[0].selectbox(
        "Limits of",
        names,
        index=None,
        placeholder="choose a size",
        key="period what",
        format_func=plain,
        on_change=_forget,
    )
    today = to_local(station.now(), plan.zone).date()
    begin = today - timedelta(days=_DAYS - 1)
    first = columns[1].date_input("First day", begin, key="period first", format=_DATE, on_change=_forget)
    last = columns[2].date_input(
        "Last day, included", today, key="period last", format=_DATE, on_change=_forget
    )
    return None if name is None else _Asked(station, plan, machine, name, first, last)


def _midnight(day: date, zone: str) -> datetime:
    return to_utc(datetime(day.year, day.month, day.day), zone)  # noqa: DTZ001  # to_utc gives it the plant's zone


def _left_out() -> dict[int, str]:
    return dict(st.session_state.get(_LEFT_OUT, {}))


def _forget() -> None:
    st.session_state.pop(_LEFT_OUT, None)


def _show(phase: FirstPhase, whole: FirstPhase | None, zone: str) -> None:
    each, unit = phase.characteristic, unit_words(phase.characteristic.unit)
    picture(xbar_r_picture(phase.history, theme_name()), "period picture")
    spread = "–" if phase.spread_upper is None else size_words(phase.spread_upper, each, 1)
    before = "" if whole is None else f"; with every check {_span(whole, each)}"
    strip(
        [
            ("Limits for the mean", _span(phase, each), f"{unit}{before}"),
            ("Middle", size_words(phase.limits.centre, each, 1), unit),
            ("Limit for the range", spread, unit if phase.n > 1 else "one piece a check"),
            ("Spread of one piece", size_words(phase.limits.sigma_within, each, 2), f"{unit}, one σ"),
            ("Hourly checks that count", f"{len(phase.counted)}", f"{phase.n} pieces a check"),
        ]
    )
    st.caption(
        " ".join(said for said in (_left(phase), _apart(phase), phase.remark, _unsteady(phase)) if said)
    )
    rows = [_row(check, each, zone) for check in phase.checks if check.says or check.excluded]
    if rows:
        _list(rows)
    else:
        st.write("No check stands out: neither beyond these limits nor nine in a row on one side.")


def _list(rows: list[list[str]]) -> None:
    heads = ["Made at", "Mean", "Range", "What stands out", "Left out because"]
    table(heads, rows[:_LISTED])
    if len(rows) > _LISTED:
        with st.expander(f"{len(rows) - _LISTED} more"):
            table(heads, rows[_LISTED:])


def _span(phase: FirstPhase, each: Characteristic) -> str:
    return f"{size_words(phase.lower, each, 1)} to {size_words(phase.upper, each, 1)}"


def _row(check: PhaseCheck, each: Characteristic, zone: str) -> list[str]:
    spread = size_words(check.range, each) if check.n > 1 else ""
    says = "; ".join(check.says)
    return [clock_words(check.time, zone), size_words(check.mean, each, 1), spread, says, check.excluded]


def _apart(phase: FirstPhase) -> str:
    apart = [
        f"{count} {words}"
        for count, words in (
            (phase.struck_out, "struck out"),
            (phase.suspect, "hard to believe"),
            (phase.other_sizes, "of one piece only"),
        )
        if count
    ]
    return f"Not taken at all: {', '.join(apart)}." if apart else ""


def _left(phase: FirstPhase) -> str:
    if len(phase.counted) == len(phase.checks):
        return ""
    return "A check left out stands in the record as before; only these limits do without it."


def _unsteady(phase: FirstPhase) -> str:
    out, all_of_them = len(phase.outside), len(phase.counted)
    if phase.characteristic.judged_by == "with_die_wear":
        return (
            f"The limits of this size follow the die as it wears; {out} of {all_of_them} checks stand out against "
            "fixed ones, which judge only where no counter is typed."
        )
    if out > _MANY * all_of_them:
        return (
            f"{out} of {all_of_them} checks stand out: on these days the size did not stand still. Find what moved "
            "it before anybody signs."
        )
    return ""


def _leave_out(phase: FirstPhase, zone: str) -> None:
    each = phase.characteristic
    named = {
        check.check_id: f"{clock_words(check.time, zone)}: {size_words(check.mean, each, 1)}"
        + (", stands out" if check.says else "")
        for check in (*phase.outside, *(one for one in phase.counted if not one.says))
    }
    columns = st.columns([5, 5, 2], vertical_alignment="bottom")
    columns[0].selectbox(
        "Leave a check out", list(named), key="period check", format_func=lambda key: named.get(key, "")
    )
    columns[1].text_input(
        "What was different there", key="period why", placeholder="such as a new bar batch without a set-up"
    )
    columns[2].button("Leave it out", width="stretch", on_click=_leave)
    if _left_out():
        st.button("Take all of them back in", on_click=_forget)


def _leave() -> None:
    reason = str(st.session_state.get("period why") or "").strip()
    if not reason:
        st.session_state[_REFUSED] = Refused.one(
            "a check is left out of limits for a reason", do="Say what was different there"
        )
        return
    check_id = int(st.session_state["period check"])
    st.session_state[_LEFT_OUT] = {**_left_out(), check_id: reason}
    st.session_state["period why"] = ""


def _offer_to_sign(asked: _Asked, beyond: str) -> None:
    if beyond:
        st.write(f"**Before you sign.** {beyond} Say in your reason why they may stand.")
    columns = st.columns([3, 5, 3], vertical_alignment="bottom")
    columns[0].text_input("Signed by", key="period by")
    columns[1].text_input("Why these limits", key="period reason", placeholder="such as proving run of March")
    columns[2].button("Sign these limits", type="primary", width="stretch", on_click=_sign, args=(asked,))


def _sign(asked: _Asked) -> None:
    by, reason = (str(st.session_state.get(key) or "") for key in ("period by", "period reason"))
    try:
        asked.sign(by, reason)
    except Refused as refused:
        st.session_state[_REFUSED] = refused
        return
    _forget()
    st.session_state["period reason"] = ""
    said = f"Signed: the limits of {plain(asked.name).lower()} on {asked.machine}, by {by.strip()}."
    st.session_state[_TOLD] = f"{said} They judge from the next check on."
