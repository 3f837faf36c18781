"""Plan and limits: what is checked against which limits, and a name under those that judge."""

import streamlit as st

from spc.errors import Refused
from spc.pages.chosen_period import chosen_period
from spc.pages.drawing_to_limits import drawing_to_limits
from spc.pages.limits_that_judge import limits_that_judge
from spc.pages.pick import pick_machine_and_part, plans_or_tell
from spc.pages.plan_promise import plan_promises
from spc.pages.signed_limits import signed_limits
from spc.pages.tell import strip, table, tell, tell_refused
from spc.pages.the_station import the_station
from spc.pages.words import limit_words, plain, size_words
from spc.shop import Characteristic, Plan
from spc.station import Station
from spc.station.answering_index import answering_index

__all__ = ["plan_page"]


def plan_page() -> None:
    """Show a plan, what it promises, its limits now and before; let somebody sign, and take another plan in."""
    st.title("Plan and limits")
    station = the_station()
    told = st.session_state.pop("told", "")
    if told:
        tell(told)
    refused = st.session_state.pop("plan refused", None)
    if refused is not None:
        tell_refused(refused)
    plans = plans_or_tell(station)
    picked = pick_machine_and_part(station, plans) if plans else None
    if picked is not None:
        machine, part = picked
        plan = next(each for each in plans if each.part == part)
        _plan(plan)
        drawing_to_limits(plan, machine)
        limits_that_judge(station, plan, machine)
        chosen_period(station, plan, machine)
        signed_limits(station, plan, machine)
        plan_promises(station, plan, machine)
    _another_plan(station)


def _plan(plan: Plan) -> None:
    check = plan.check
    every = "no time set" if check.interval_minutes is None else f"every {check.interval_minutes:g} min"
    travel = plan.correction_travel_mm
    strip(
        [
            ("Part", plan.part, plan.description),
            ("Checks", every, f"{check.subgroup_size} pieces"),
            ("Infeed a die set may need", "not set" if travel is None else f"{travel:.3f} mm", ""),
            ("Shifts from", ", ".join(plan.shifts), plan.zone),
        ]
    )
    heads = ["What", "Tolerance", "Aim", "Pieces", "When", "Set by", "Limits", "Index wanted"]
    table(heads, [_row(each) for each in plan.characteristics])
    _index_wanted(plan)
    with st.expander("The plan as it was taken in"):
        st.code(plan.text, language="toml")


def _index_wanted(plan: Plan) -> None:
    """Say which index answers what the plan wants, and why, as the review does."""
    asked: dict[str, list[str]] = {}
    for each in plan.gauged:
        if each.minimum_cpk is not None:
            asked.setdefault(" because ".join(answering_index(each)), []).append(plain(each.name))
    for answer, names in asked.items():
        st.caption(f"{', '.join(names)}: the review answers with {answer}.")


def _row(each: Characteristic) -> list[str]:
    when = "every check" if each.at == ("every",) else ", ".join(word.replace("_", "-") for word in each.at)
    later = ", result may come later" if each.later else ""
    if each.is_visual:
        return [
            plain(each.name),
            ", ".join(each.answers),
            "",
            str(each.subgroup_size),
            when + later,
            "",
            "",
            "",
        ]
    set_by = {"penetration": "the slide", "none": ""}.get(each.set_by, each.set_by)
    follows = "follow the die" if each.judged_by == "with_die_wear" else "fixed"
    wanted = "" if each.minimum_cpk is None else f"{answering_index(each)[0]} {each.minimum_cpk:.2f}"
    aim = size_words(each.aim, each) if each.nominal else ""
    return [
        plain(each.name),
        limit_words(each),
        aim,
        str(each.subgroup_size),
        when + later,
        set_by,
        follows,
        wanted,
    ]


def _another_plan(station: Station) -> None:
    st.header("Take a plan in")
    dropped = st.file_uploader("plan.toml of one part", type=["toml"], key="plan file")
    if dropped is not None:
        st.button(
            "Bring it into force", on_click=_take_plan, args=(station, dropped.getvalue(), dropped.name)
        )


def _take_plan(station: Station, content: bytes, name: str) -> None:
    try:
        plan = station.take_plan(_text(content, name))
    except Refused as refused:
        st.session_state["plan refused"] = refused
        return
    st.session_state["told"] = f"The plan of {plan.part} is in force."


def _text(content: bytes, name: str) -> str:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused.one("this file is no text", file=name, allowed="a plan in TOML, UTF-8") from None
    return text if "\n" in text or "[" in text else f"{text}\n"
