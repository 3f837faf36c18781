"""The review for a quality lead: a part on a machine over a period, with the paper of it to take along."""

from datetime import date, datetime, timedelta
from importlib.util import find_spec
from typing import Final

import streamlit as st

from spc.pages.pick import pick_machine_and_part, plans_or_tell
from spc.pages.review_compare import show_comparison
from spc.pages.review_parts import show_characteristic, show_checks_due, show_rest
from spc.pages.tell import strip, tell
from spc.pages.the_station import the_station
from spc.pages.words import PURPOSE_WORDS, clock_words, plain
from spc.reports import review_html, review_pdf, review_xlsx
from spc.shop import Plan
from spc.shop.moment import to_local, to_utc
from spc.station import Review, Station

__all__ = ["review_page"]

_SPANS: Final = {
    "24 hours": 1,
    "7 days": 7,
    "4 weeks": 28,
    "Everything": None,
    "From … to …": None,
}
_ALL_SHIFTS: Final = "all shifts"


def review_page() -> None:
    """Show what one part on one machine did, with the limits in force and what the process holds."""
    st.title("Review")
    station = the_station()
    plans = plans_or_tell(station)
    picked = pick_machine_and_part(station, plans) if plans else None
    if picked is None:
        return
    machine, part = picked
    plan = next(each for each in plans if each.part == part)
    start, end, shift = _period(station, plan)
    with st.spinner("Reading the record …"):
        found = station.review(part, machine, start, end, shift)
    if not found.checks:
        tell("No check was made in this period.")
        return
    _sum(found)
    _papers(found)
    show_checks_due(found)
    named = {plain(each.characteristic.name): each for each in found.characteristics if each.history.points}
    name = st.segmented_control(
        "Characteristic", list(named), default=next(iter(named)), required=True, key="review size"
    )
    shown = named.get(str(name), next(iter(named.values())))
    show_characteristic(shown)
    show_comparison(station, found, shown.characteristic)
    show_rest(found)


def _period(station: Station, plan: Plan) -> tuple[datetime | None, datetime | None, str | None]:
    left, right = st.columns([6, 3], vertical_alignment="bottom")
    span = left.segmented_control("Period", list(_SPANS), default="7 days", required=True, key="review span")
    shifts = [_ALL_SHIFTS, *plan.shifts]
    shift = right.selectbox(
        "Shift", shifts, key="review shift", format_func=lambda at: at if at == _ALL_SHIFTS else f"from {at}"
    )
    now = station.now()
    one = None if shift == _ALL_SHIFTS else str(shift)
    if span == "From … to …":
        return (*_dates(now, plan.zone), one)
    days = _SPANS.get(str(span), 7)
    return (None if days is None else now - timedelta(days=days), None if days is None else now, one)


def _dates(now: datetime, zone: str) -> tuple[datetime, datetime]:
    """Ask for two days; both are counted whole."""
    today = to_local(now, zone).date()
    left, right, _ = st.columns([2, 2, 4])
    first = left.date_input("From", today - timedelta(days=6), key="review from", format="YYYY-MM-DD")
    last = right.date_input("To, this day included", today, key="review to", format="YYYY-MM-DD")
    return _midnight(first, zone), _midnight(last + timedelta(days=1), zone)


def _midnight(day: date, zone: str) -> datetime:
    return to_utc(datetime(day.year, day.month, day.day), zone)  # noqa: DTZ001  # to_utc gives it the plant's zone


def _sum(found: Review) -> None:
    zone, duty = found.plan.zone, found.duty
    span = "–"
    if found.from_time is not None and found.to_time is not None:
        span = f"{clock_words(found.from_time, zone)} to {clock_words(found.to_time, zone)}"
    words = dict(found.verdicts)
    others = ", ".join(
        f"{count} {PURPOSE_WORDS.get(purpose, purpose)}"
        for purpose, count in found.purposes
        if purpose != "hourly"
    )
    hourly = dict(found.purposes).get("hourly", 0)
    strip(
        [
            ("Hourly checks", f"{hourly:,}", f"kept apart: {others}" if others else "no other checks"),
            ("Checks due", f"{len(duty.due):,}", f"{duty.count('late')} late, {duty.count('missed')} missed"),
            (
                "Stop and hold",
                f"{words.get('hold', 0)}",
                f"{words.get('correct', 0)} × Adjust, {words.get('watch', 0)} × Look closer",
            ),
            ("Struck out", f"{len(found.struck_out)}", ""),
        ]
    )
    st.caption(f"{span}, {found.plan.zone}")


def _papers(found: Review) -> None:
    """Offer the review as paper; each is made when it is asked for."""
    name = f"review-{found.plan.part}-{found.machine}"
    with st.container(horizontal=True):
        st.download_button(
            "Review as HTML", lambda: review_html([found]), f"{name}.html", "text/html", on_click="ignore"
        )
        sheet = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
        st.download_button(
            "as a workbook (XLSX)", lambda: review_xlsx([found]), f"{name}.xlsx", sheet, on_click="ignore"
        )
        if find_spec("weasyprint") is not None:
            st.download_button(
                "as PDF",
                lambda: review_pdf(review_html([found])),
                f"{name}.pdf",
                "application/pdf",
                on_click="ignore",
            )
        else:
            st.caption("PDF needs an extra that is not installed here; the HTML prints the same pages.")
