"""Plan and limits: what is checked against which limits, and a name under those that judge."""

import streamlit as st

from spc.errors import Refused
from spc.pages.chosen_period import chosen_period
from spc.pages.pick import pick_machine_and_part, plans_or_tell
from spc.pages.plan_promise import plan_promises
from spc.pages.signed_limits import signed_limits
from spc.pages.tell import strip, table, tell, tell_refused
from spc.pages.the_station import the_station
from spc.pages.words import limit_words, plain, size_words, unit_words
from spc.shop import Characteristic, Plan
from spc.station import Station
from spc.station.views import CharacteristicHistory, CheckPoint

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
        _limits(station, plan, machine)
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
    heads = ["What", "Tolerance", "Aim", "Pieces", "When", "Set by", "Limits", "Cpk wanted"]
    table(heads, [_row(each) for each in plan.characteristics])
    with st.expander("The plan as it was taken in"):
        st.code(plan.text, language="toml")


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
    wanted = "" if each.minimum_cpk is None else f"{each.minimum_cpk:.2f}"
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


def _limits(station: Station, plan: Plan, machine: str) -> None:
    st.header(f"Limits that judge on {machine}")
    histories = station.histories(plan.part, machine)
    rows = [_limit_row(each) for each in histories]
    table(["What", "Limits for the mean", "Middle", "Limit for the range", "Standing"], rows)
    open_ones = [each.characteristic.name for each in histories if _last(each, "provisional") is not None]
    if not open_ones:
        st.caption("Nothing waits for a name here: limits that follow the die are not signed.")
        return
    st.write("Provisional limits judge as they are. Whoever signs stands for them.")
    columns = st.columns([3, 3, 4, 2], vertical_alignment="bottom")
    columns[0].selectbox("Sign the limits of", open_ones, key="sign what", format_func=plain)
    columns[1].text_input("Your name", key="sign by")
    columns[2].text_input("Why these", key="sign reason", placeholder="may be left empty")
    columns[3].button(
        "Sign", type="primary", width="stretch", on_click=_sign, args=(station, plan.part, machine)
    )


def _limit_row(history: CharacteristicHistory) -> list[str]:
    each = history.characteristic
    point = next((found for found in reversed(history.points) if found.lower is not None), None)
    if point is None or point.lower is None or point.upper is None or point.centre is None:
        return [plain(each.name), "none yet: they come from the first 20 good hourly checks", "", "", ""]
    unit = unit_words(each.unit)
    spread = "" if point.spread_upper is None else f"{size_words(point.spread_upper, each, 1)} {unit}"
    standing = {"forecast": "follows the die"}.get(point.standing, point.standing)
    return [
        plain(each.name),
        f"{size_words(point.lower, each, 1)} to {size_words(point.upper, each, 1)} {unit}",
        f"{size_words(point.centre, each, 1)} {unit}",
        spread,
        standing,
    ]


def _last(history: CharacteristicHistory, standing: str) -> CheckPoint | None:
    """The last point with limits, where they stand so."""
    point = next((found for found in reversed(history.points) if found.standing), None)
    return point if point is not None and point.standing == standing else None


def _sign(station: Station, part: str, machine: str) -> None:
    name = str(st.session_state["sign what"])
    by, reason = (str(st.session_state.get(key) or "") for key in ("sign by", "sign reason"))
    try:
        station.sign_limits(part, machine, name, by=by, reason=reason)
    except Refused as refused:
        st.session_state["plan refused"] = refused
        return
    st.session_state["told"] = f"Signed: the limits of {plain(name).lower()} on {machine}, by {by}."


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
