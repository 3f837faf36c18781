"""Quiet views beside the control limits: room for a capable size to wander, and one die life that slopes."""

from datetime import datetime

import streamlit as st

from spc.drawing.xbar_r import xbar_r_picture
from spc.pages.look import picture, theme_name
from spc.pages.tell import strip, table
from spc.pages.words import clock_words, size_words, unit_words
from spc.shop import Characteristic
from spc.shop.two_digits import two_digits
from spc.station import Station
from spc.station.die_life_slope import FEWEST_CHECKS, DieLifeSlope
from spc.station.first_phase_records import FirstPhase
from spc.station.room_to_wander import RoomToWander, room_to_wander
from spc.statistics import AcceptanceLimit

__all__ = ["die_life", "room_inside"]

_THOUSAND = 1000.0


def room_inside(phase: FirstPhase) -> None:
    """Where the spread leaves room, show the limits that would let the mean wander inside the tolerance."""
    each = phase.characteristic
    room = room_to_wander(each, phase.limits.centre, phase.limits.sigma_within, phase.n)
    if room is None:
        return
    with st.expander("Room inside the tolerance: limits that let the mean wander"):
        st.write(
            f"By the spread within a check, {_index(room)} is {room.index:.2f}. Where nobody gains by holding the "
            "mean still, a plan may carry one of these instead of control limits."
        )
        table(["Kind", "Mean at least", "Mean at most", "What it keeps"], _room_rows(room, each))
        st.caption(
            "Only while the ranges stay inside their limit, and with pieces that spread evenly about the mean. The "
            "station judges by the limits above; these wait for the plan."
        )


def _index(room: RoomToWander) -> str:
    return "Cp" if room.lower is not None and room.upper is not None else "Cpk to the one limit"


def _room_rows(room: RoomToWander, each: Characteristic) -> list[list[str]]:
    modified = room.modified
    kept = room.upper or room.lower
    rows = [
        [
            "Modified limits",
            _limit(modified.lower, each),
            _limit(modified.upper, each),
            f"calls once more than {modified.share_outside * 1000:.0f} piece in 1,000 would be out "
            f"(3 σ of a mean of {room.n})",
        ]
    ]
    if kept is not None:
        low, high = (None if one is None else one.limit for one in (room.lower, room.upper))
        rows.append(["Acceptance limits", _limit(low, each), _limit(high, each), _risks(kept)])
    return rows


def _limit(value: float | None, each: Characteristic) -> str:
    return "" if value is None else f"{size_words(value, each, 1)} {unit_words(each.unit)}"


def _risks(kept: AcceptanceLimit) -> str:
    return (
        f"1 piece in 100 out: found by {100 * (1 - kept.beta_kept):.0f} of 100 checks; 1 in 100,000 out: a call in "
        f"{100 * kept.alpha_kept:.1f} of 100"
    )


def die_life(
    station: Station, part: str, machine: str, each: Characteristic, start: datetime, end: datetime, zone: str
) -> None:
    """For a size that follows the die, show the life of one set with limits that slope."""
    if each.judged_by != "with_die_wear":
        return
    with st.expander("One die life, with limits that slope"):
        lives = station.die_life_slopes(part, machine, each.name, start, end)
        if not lives:
            st.caption(
                f"It takes {FEWEST_CHECKS} hourly checks of several pieces on one die set, with the counter."
            )
            return
        named = [
            f"{life.die_set}, {clock_words(life.first, zone)} to {clock_words(life.last, zone)}"
            for life in lives
        ]
        chosen = st.selectbox(
            "Die set", range(len(named)), format_func=lambda place: named[place], key="life of"
        )
        _show(lives[chosen], each)


def _show(life: DieLifeSlope, each: Characteristic) -> None:
    chart, unit = life.chart, unit_words(each.unit)
    st.write(
        "Means with the slide moves taken out: what the die alone does."
        if life.moves_taken_out
        else "Means as gauged: no slide setting is on record, so slide moves are still in them."
    )
    picture(xbar_r_picture(life.history, theme_name()), "life picture")
    line, um = chart.line, each.um_per_unit
    strip(
        [
            (
                "Growth per 1,000 pieces",
                f"{line.slope * um:.1f} {_small(each)}".replace("-", "−"),
                f"{line.slope_low * um:.1f} to {line.slope_high * um:.1f}".replace("-", "−"),
            ),
            (
                "Limits of the mean",
                f"± {size_words(chart.half_width, each, 1)} {unit}",
                f"about the line; {len(chart.beyond)} of {chart.subgroups} checks beyond",
            ),
            *_setting(chart.start_level, chart.stop_level, chart.life, each),
        ]
    )
    st.caption(
        "The limits are as wide as the spread within a check, so a bend in the wear shows as checks beyond "
        "them. For reading a life afterwards; the station judges by its forecast, which knows the sets before too."
    )


def _small(each: Characteristic) -> str:
    return "thousandths of a degree" if each.unit == "deg" else unit_words("um")


def _setting(
    start: float | None, stop: float | None, life: float | None, each: Characteristic
) -> list[tuple[str, str, str]]:
    """Say where to set the size and when to set it anew, for a life without a move between."""
    if start is None or stop is None or life is None or not 0.0 < life < 1000.0:
        return []
    return [
        ("Set the mean to", size_words(start, each, 1), "3 σ inside the tolerance"),
        ("Set it anew at", size_words(stop, each, 1), f"after about {two_digits(life * _THOUSAND)} pieces"),
    ]
