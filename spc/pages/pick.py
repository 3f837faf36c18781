"""Few and big pickers for machine and part, kept in the page's address."""

from collections.abc import Mapping, Sequence

import streamlit as st

from spc.pages.tell import tell
from spc.shop import Plan
from spc.station import Station

__all__ = ["machines_of", "pick_machine_and_part", "plans_or_tell"]

_FEW = 8
"""Up to so many choices stand side by side as buttons; more go into a list."""


def plans_or_tell(station: Station) -> tuple[Plan, ...]:
    """Return the plans in force, or say how the first one gets in."""
    plans = station.plans()
    if not plans:
        tell(
            "No plan is in the record yet. Go to “Plan and limits” and take the plan of a part in; "
            "then its checks can be typed here."
        )
    return plans


def machines_of(station: Station, plans: Sequence[Plan]) -> dict[str, list[str]]:
    """Return the parts of every machine, machines and parts in order."""
    found: dict[str, list[str]] = {}
    for plan in plans:
        for machine in station.machines(plan.part):
            found.setdefault(machine, []).append(plan.part)
    return {machine: sorted(found[machine]) for machine in sorted(found)}


def pick_machine_and_part(station: Station, plans: Sequence[Plan]) -> tuple[str, str] | None:
    """Let a person choose; the part whose dies are on the machine is chosen beforehand.

    Returns
    -------
    (machine, part) or None
        None where no plan names a machine and nothing was ever made.
    """
    machines = machines_of(station, plans)
    if not machines:
        return _typed_machine(plans)
    mounted = {row.machine: row.part for row in station.die_board()}
    descriptions = {plan.part: plan.description for plan in plans}
    with st.container(horizontal=True, vertical_alignment="bottom", gap="large"):
        machine = _pick("Machine", list(machines), "machine", None)
        part = _pick("Part", machines[machine], "part", mounted.get(machine), descriptions)
    return machine, part


def _pick(
    label: str, options: list[str], key: str, first: str | None, more: Mapping[str, str] | None = None
) -> str:
    """Offer the options, what the address or the person named before chosen; the key follows the options."""
    place = f"pick_{key}"
    if st.session_state.get(place) not in options:
        asked = st.query_params.get(key, "")
        chosen = asked if asked in options else first if first in options else options[0]
        st.session_state[place] = chosen

    def named(option: str) -> str:
        says = (more or {}).get(option, "").split(",")[0]
        return f"{option} · {says}" if says else option

    if len(options) <= _FEW:
        st.segmented_control(label, options, key=place, format_func=named, required=True)
    else:
        st.selectbox(label, options, key=place, format_func=named)
    chosen = str(st.session_state[place] or options[0])
    if st.query_params.get(key) != chosen:
        st.query_params[key] = chosen
    return chosen


def _typed_machine(plans: Sequence[Plan]) -> tuple[str, str] | None:
    """No plan names a machine: the first check says where the part is made."""
    left, right = st.columns([2, 5])
    machine = left.text_input("Machine", key="typed_machine", placeholder="its name, as on the machine")
    with right:
        part = _pick("Part", [plan.part for plan in plans], "part", None)
    return (machine.strip(), part) if machine.strip() else None
