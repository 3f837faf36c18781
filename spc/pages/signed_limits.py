"""The history of limits: every set that somebody signed, from when to when, and what was left out of it."""

from datetime import datetime

import streamlit as st

from spc.pages.tell import table
from spc.pages.words import plain, size_words, unit_words
from spc.shop import Characteristic, Plan
from spc.shop.moment import to_local
from spc.station import Station
from spc.station.limits_history import SignedLimits

__all__ = ["signed_limits"]


def signed_limits(station: Station, plan: Plan, machine: str) -> None:
    """Show every signed set of limits on this machine, the newest first."""
    rows = [
        _row(each, characteristic, plan.zone)
        for characteristic in plan.gauged
        for each in reversed(station.limits_history(plan.part, machine, characteristic.name))
    ]
    st.header("Limits signed so far")
    if not rows:
        st.caption(f"Nobody has signed limits on {machine} yet.")
        return
    heads = ["What", "Stood", "Limits for the mean", "Range up to", "Taken from", "Signed by", "Left out"]
    table(heads, rows)


def _row(each: SignedLimits, characteristic: Characteristic, zone: str) -> list[str]:
    unit = unit_words(characteristic.unit)
    span = f"{size_words(each.lower, characteristic, 1)} to {size_words(each.upper, characteristic, 1)}"
    spread = "" if each.spread_upper is None else f"{size_words(each.spread_upper, characteristic, 1)} {unit}"
    why = f": {each.reason}" if each.reason else ""
    left_out = "; ".join(
        f"{'a check' if one.time is None else _moment(one.time, zone)}: {one.reason}" for one in each.excluded
    )
    return [
        plain(characteristic.name),
        _stood(each, zone),
        f"{span} {unit}",
        spread,
        _from(each, zone),
        f"{each.by}{why}",
        left_out,
    ]


def _stood(each: SignedLimits, zone: str) -> str:
    begun = "the first plan" if each.signed_from is None else _moment(each.signed_from, zone)
    return f"since {begun}" if each.until is None else f"{begun} to {_moment(each.until, zone)}"


def _from(each: SignedLimits, zone: str) -> str:
    if each.is_from_plan:
        return "the plan"
    if each.period_from is None or each.period_to is None:
        return f"the first {each.subgroups} good checks"
    first, last = (to_local(moment, zone) for moment in (each.period_from, each.period_to))
    return f"{each.subgroups} checks of {first:%d %b %Y} to {last:%d %b %Y}"


def _moment(moment: datetime, zone: str) -> str:
    return f"{to_local(moment, zone):%d %b %Y, %H:%M}"
