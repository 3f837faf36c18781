"""The limits that judge the next check on a machine, and a name under those that are provisional."""

import streamlit as st

from spc.errors import Refused
from spc.pages.tell import table, tell, tell_refused
from spc.pages.words import clock_words, plain, size_words, unit_words
from spc.shop import Plan
from spc.station import Station
from spc.station.limits_standing import LimitsStanding

__all__ = ["limits_that_judge"]

_TOLD = "sign told"
_REFUSED = "sign refused"


def limits_that_judge(station: Station, plan: Plan, machine: str) -> None:
    """Show what stands for every size now, and offer the provisional limits for signing."""
    st.header(f"Limits that judge the next check on {machine}")
    told, refused = st.session_state.pop(_TOLD, ""), st.session_state.pop(_REFUSED, None)
    if told:
        tell(told)
    if refused is not None:
        tell_refused(refused, "Not signed. Nothing you typed is lost.")
    found = station.limits_standing(plan.part, machine)
    rows = [_row(each, plan.zone) for each in found]
    table(["What", "Limits for the mean", "Middle", "Limit for the range", "Standing"], rows)
    for each in found:
        if each.beyond:
            st.write(f"**{plain(each.characteristic.name)}.** {each.beyond}")
    open_ones = {each.characteristic.name: each for each in found if each.is_open}
    if open_ones:
        _offer(station, plan.part, machine, open_ones)
    else:
        st.caption("Nothing waits for a name here: limits that follow the die are not signed.")


def _row(each: LimitsStanding, zone: str) -> list[str]:
    limits, of = each.limits, each.characteristic
    if limits is None:
        return [plain(of.name), each.says, "", "", ""]
    unit = unit_words(of.unit)
    return [
        plain(of.name),
        f"{size_words(limits.lower, of, 1)} to {size_words(limits.upper, of, 1)} {unit}",
        f"{size_words(limits.centre, of, 1)} {unit}",
        "" if limits.spread_upper is None else f"{size_words(limits.spread_upper, of, 1)} {unit}",
        _standing(each, zone),
    ]


def _standing(each: LimitsStanding, zone: str) -> str:
    limits = each.limits
    if limits is None:
        return ""
    if limits.standing != "signed":
        checks = f", from {limits.subgroups} checks" if limits.standing == "provisional" else ""
        return f"{limits.standing}{checks}"
    by = f"signed by {limits.signed_by}" if limits.signed_by else "signed"
    if each.is_waiting:
        return f"{by}, judges from the next check"
    return by if limits.signed_at is None else f"{by}, {clock_words(limits.signed_at, zone)}"


def _offer(station: Station, part: str, machine: str, open_ones: dict[str, LimitsStanding]) -> None:
    st.write(
        "Provisional limits come from the first checks, and nobody has looked at those: a point outside them alarms "
        "only where the forecast did not expect it. Whoever signs lets them judge to the letter."
    )
    columns = st.columns([3, 3, 4, 2], vertical_alignment="bottom")
    name = columns[0].selectbox("Sign the limits of", list(open_ones), key="sign what", format_func=plain)
    beyond = open_ones[str(name)].beyond
    columns[1].text_input("Your name", key="sign by")
    columns[2].text_input(
        "Why these",
        key="sign reason",
        placeholder="wanted: they pass the tolerance" if beyond else "may be left empty",
    )
    columns[3].button("Sign", type="primary", width="stretch", on_click=_sign, args=(station, part, machine))
    if beyond:
        st.caption(
            "To sign limits that reach beyond the tolerance, say why they may stand. Every piece is still judged "
            "by the tolerance."
        )


def _sign(station: Station, part: str, machine: str) -> None:
    name = str(st.session_state["sign what"])
    by, reason = (str(st.session_state.get(key) or "") for key in ("sign by", "sign reason"))
    try:
        station.sign_limits(part, machine, name, by=by, reason=reason)
    except Refused as refused:
        st.session_state[_REFUSED] = refused
        return
    st.session_state["sign reason"] = ""
    st.session_state[_TOLD] = (
        f"Signed: the limits of {plain(name).lower()} on {machine}, by {by.strip()}. "
        "They judge from the next check on."
    )
