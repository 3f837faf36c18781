"""The parts of the review page: checks due, one characteristic with its indices, and what else was there."""

import streamlit as st

from spc.drawing.probability import probability_picture
from spc.drawing.xbar_r import xbar_r_picture
from spc.pages.look import picture, theme_name
from spc.pages.tell import strip, table, told
from spc.pages.words import PURPOSE_WORDS, clock_words, limit_words, plain, signed, size_words, unit_words
from spc.reports.capability_words import (
    PROBABILITY_CAPTION,
    answer_sentence,
    capability_facts,
    capability_title,
)
from spc.reports.words import interval_words, share_words
from spc.station import CharacteristicReview, Review
from spc.station.review_indices import indices_shown

__all__ = ["show_characteristic", "show_checks_due", "show_rest"]

_LISTED = 30


def show_checks_due(found: Review) -> None:
    """Say which checks came late and which never."""
    duty, zone = found.duty, found.plan.zone
    wrong = [each for each in duty.due if each.standing != "in time"]
    if duty.remark:
        st.caption(duty.remark)
    if not wrong:
        return
    with st.expander(f"Checks not in time: {duty.count('late')} late, {duty.count('missed')} missed"):
        rows = [
            [
                clock_words(each.due, zone),
                each.standing,
                "" if each.made is None else clock_words(each.made, zone),
                f"{each.minutes_late:.0f} min" if each.standing == "late" else "",
            ]
            for each in wrong[-_LISTED:]
        ]
        table(["Was due", "", "Was made", "Late by, running time"], rows)


def show_characteristic(one: CharacteristicReview) -> None:
    """Show means and ranges with the limits in force, then what the process holds."""
    each = one.characteristic
    st.header(f"{plain(each.name)}, {limit_words(each)}")
    picture(xbar_r_picture(one.history, theme_name()), "review picture")
    beyond = (
        f"{one.beyond} of {one.judged} hourly checks lay beyond the limits that judged them."
        if one.judged
        else ""
    )
    st.write(f"{one.outside} of {one.pieces:,} hourly pieces out of tolerance. {beyond} {_apart(one)}")
    _limits(one)
    _capability(one)


def _apart(one: CharacteristicReview) -> str:
    if not one.other_checks:
        return ""
    said = ", ".join(
        f"{checks} {PURPOSE_WORDS.get(purpose, purpose)}" for purpose, checks, _ in one.other_checks
    )
    return f"Drawn, but not counted: {said}."


def _limits(one: CharacteristicReview) -> None:
    limits, each = one.limits, one.characteristic
    if one.limits_remark:
        st.caption(one.limits_remark)
    if limits is None:
        return
    unit = unit_words(each.unit)
    standing = limits.standing if not limits.signed_by else f"signed by {limits.signed_by}"
    if limits.standing == "provisional":
        standing = "provisional, nobody has signed"
    strip(
        [
            (
                "Limits in force for the mean",
                f"{size_words(limits.lower, each, 1)} to {size_words(limits.upper, each, 1)}",
                unit,
            ),
            ("Middle", size_words(limits.centre, each, 1), unit),
            (
                "Limit for the range",
                "–" if limits.spread_upper is None else size_words(limits.spread_upper, each, 1),
                unit,
            ),
            ("Standing", standing, f"for {limits.n} pieces a check"),
        ]
    )


def _capability(one: CharacteristicReview) -> None:
    st.header(capability_title(one))
    answer = answer_sentence(one)
    if answer:
        st.write(_strong(answer))
    if one.capability_remark:
        st.write(one.capability_remark)
    found = one.capability
    if found is None:
        return
    rows = [
        [line.name, f"{line.index.estimate:.2f}", interval_words(line.index), f"{line.index.n:,}", line.about]
        for line in indices_shown(found, follows=one.characteristic.judged_by == "with_die_wear")
        if line.honest is not None or found.honest is None
    ]
    heads = ["Index", "Value", f"With {share_words(found.level)} certainty between", "Pieces", "Speaks of"]
    table(heads, rows)
    told(capability_facts(one))
    plot = probability_picture(found, one.characteristic, theme_name())
    if plot is not None:
        with st.expander("How the pieces lie along the distribution"):
            picture(plot, "review probability")
            st.caption(PROBABILITY_CAPTION)


def _strong(answer: str) -> str:
    """Set the first sentence, which answers, in strong type."""
    first, _, rest = answer.partition(": ")
    word, _, rest = rest.partition(". ")
    return f"{first}: **{word}.** {rest}"


def show_rest(found: Review) -> None:
    """Show dies, holds and looks of the period."""
    if found.die_sets:
        _die_sets(found)
    if found.held:
        _held(found)
    if found.looks:
        _looks(found)


def _die_sets(found: Review) -> None:
    st.header("Die sets")
    rows = [
        [
            each.die_set or "not named",
            "" if each.mounted is None else clock_words(each.mounted, found.plan.zone),
            "still on" if each.removed is None else clock_words(each.removed, found.plan.zone),
            each.removed_for.replace("_", " "),
            "" if each.age_last is None else f"{each.age_last:,}",
            ""
            if each.wear is None
            else f"{signed(each.wear.estimate)} µm ({signed(each.wear.low90)} to {signed(each.wear.high90)})",
        ]
        for each in found.die_sets
    ]
    table(["Die set", "On since", "Off", "Why", "Age, pieces", "Growth per 1,000 pieces"], rows)
    if found.planned_age:
        st.write(found.planned_age)


def _held(found: Review) -> None:
    st.header("Stop and hold")
    rows = [
        [
            clock_words(each.time, found.plan.zone),
            "" if each.counter is None else f"{each.counter:,}",
            "" if each.pieces_held is None else f"{each.pieces_held:,}",
            "; ".join(each.says),
            each.answer or "no answer yet",
        ]
        for each in found.held
    ]
    table(["Made at", "Counter", "Pieces held back", "Why", "Answer"], rows)


def _looks(found: Review) -> None:
    st.header("What was seen")
    rows = [
        [
            plain(each.name),
            f"{each.checks:,}",
            f"{each.pieces:,}",
            ", ".join(f"{answer} {pieces}" for answer, pieces in each.finds) or "nothing",
        ]
        for each in found.looks
    ]
    table(["Look", "Checks", "Pieces", "Found"], rows)
