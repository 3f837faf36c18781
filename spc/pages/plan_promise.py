"""What the plan promises, size by size, and the chart that fits another wish."""

import streamlit as st

from spc.errors import Refused
from spc.pages.tell import table, tell_refused
from spc.pages.words import plain, unit_words
from spc.shop import Plan
from spc.station import Station
from spc.station.chart_choice import ChartChoice
from spc.station.promise import CharacteristicPromise

__all__ = ["plan_promises"]

_ANSWER = "choice answer"
_REFUSED = "choice refused"
_BETWEEN = "choice between"


def plan_promises(station: Station, plan: Plan, machine: str) -> None:
    """Say how often the checks call for nothing and how soon they find a step; then compare charts."""
    promises = station.promise(plan.part, machine)
    st.header("What these checks promise")
    table(["What", "A check", "Promise", "Spread of one piece"], [_row(each) for each in promises])
    st.caption(
        "With independent checks, limits that are known, and a step that begins between two checks. Where the "
        "limits follow the die, it is a step that the wear does not explain."
    )
    _choose(station, {each.characteristic.name: each for each in promises if each.sigma_um is not None})


def _row(each: CharacteristicPromise) -> list[str]:
    pieces = f"{each.n} piece{'' if each.n == 1 else 's'}"
    spread = ""
    if each.sigma_um is not None:
        spread = f"{each.sigma_um:.2g} {_small(each)} (σ), from {each.source}"
    return [plain(each.characteristic.name), pieces, each.says, spread]


def _small(each: CharacteristicPromise) -> str:
    return "thousandths of a degree" if each.characteristic.unit == "deg" else unit_words("um")


def _choose(station: Station, known: dict[str, CharacteristicPromise]) -> None:
    st.header("Choose the chart")
    if not known:
        st.caption("This wants the spread of a piece, which the first checks show.")
        return
    st.write("How seldom may it call for nothing, and how small a step must it find?")
    columns = st.columns([3, 3, 3, 2], vertical_alignment="bottom")
    name = columns[0].selectbox("For", list(known), key="choice what", format_func=plain, on_change=_forget)
    each = known[str(name)]
    step_key = f"choice step {name}"
    columns[1].number_input("Checks between false alarms", 20, 10_000, 370, 10, key=_BETWEEN)
    columns[2].number_input(f"Step to be found, {_small(each)}", 0.01, 100_000.0, each.step_um, key=step_key)
    columns[3].button("Compare charts", width="stretch", on_click=_compare, args=(station, each, step_key))
    refused = st.session_state.get(_REFUSED)
    if refused is not None:
        tell_refused(refused, "No chart for this.")
    answer = st.session_state.get(_ANSWER)
    if answer is not None:
        _tell_choice(answer)


def _forget() -> None:
    for key in (_ANSWER, _REFUSED):
        st.session_state.pop(key, None)


def _compare(station: Station, each: CharacteristicPromise, step_key: str) -> None:
    step, between = float(st.session_state[step_key]), float(st.session_state[_BETWEEN])
    _forget()
    try:
        st.session_state[_ANSWER] = station.chart_choice(each.n, each.sigma_um or 0.0, step, between)
    except Refused as refused:
        st.session_state[_REFUSED] = refused


def _tell_choice(choice: ChartChoice) -> None:
    rows = [
        [
            offer.name,
            offer.constants,
            f"{offer.in_control.mean_points:,.0f}",
            f"{offer.step.mean_points:.1f}",
            f"{offer.step.within(0.95)}",
        ]
        for offer in choice.offers
    ]
    table(
        [
            "Chart",
            "Constants",
            "Checks between false alarms",
            "Checks until found, on average",
            "95 of 100 within",
        ],
        rows,
    )
    st.write(choice.says)
    st.caption(
        "σ is that of the mean of a check. An EWMA is a mean that remembers the checks before; a CUSUM adds up "
        "the distances from the aim, less K, and speaks at H."
    )
