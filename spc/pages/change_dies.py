"""Log a die change: why the old set came off, and which one is on now."""

import streamlit as st

from spc.errors import Refused
from spc.pages.event_dialogs import Events, Here, field, foot
from spc.pages.move_slide import panel_number
from spc.pages.tell import HANDS_IN, caution
from spc.pages.words import REMOVAL_WORDS
from spc.shop import Plan

__all__ = ["change_dies"]


@st.dialog("Dies changed", width="medium")
def change_dies(here: Here) -> None:
    """Ask about the old set and the new one."""
    view = here.view
    caution(HANDS_IN)
    if view.die_set is not None:
        words = [*REMOVAL_WORDS, *(word for word in view.plan.removal_words if word not in REMOVAL_WORDS)]
        left, right = st.columns(2)
        left.selectbox(
            f"Why did {view.die_set} come off?", words, index=None, key="event why", format_func=_why,
            placeholder="choose",
        )  # fmt: skip
        last = "" if view.counter is None else f"last known {view.counter}"
        right.text_input("Its counter at the end", key="event counter", placeholder=last)
    left, right = st.columns(2)
    left.text_input(
        "Which set is on now?", key="event set", placeholder="such as D-214",
        help="Leave it empty where the machine stands without dies.",
    )  # fmt: skip
    right.selectbox("For which part?", _parts(here), key="event part")
    st.checkbox("It comes back from grinding: its age starts anew", key="event reground")
    st.text_input(
        "Slide with the new set, as on the panel (mm)", key="event slide", placeholder="may come later"
    )
    foot(here, lambda: _changed(here))


def _why(word: str) -> str:
    return REMOVAL_WORDS.get(word, word.replace("_", " "))


def _parts(here: Here) -> list[str]:
    """Parts that this machine may make, the present one first."""
    machine, present = here.view.machine.id, here.view.plan.part
    others = [plan.part for plan in here.station.plans() if plan.part != present and _makes(plan, machine)]
    return [present, *others]


def _makes(plan: Plan, machine: str) -> bool:
    return not plan.machines or machine in {each.id for each in plan.machines}


def _changed(here: Here) -> tuple[Events, str]:
    view, new = here.view, field("set")
    events: Events = []
    if view.die_set is not None:
        if not field("why"):
            allowed = ", ".join(REMOVAL_WORDS.values())
            raise Refused.one(f"it is not said why {view.die_set} came off", allowed=allowed)
        events.append({"event": "die_set_removed", "value": field("why"), "counter": field("counter")})
    if not new:
        if field("slide") or st.session_state.get("event reground"):
            raise Refused.one(
                "no set is named that the slide setting or the grinding belongs to", column="set on now"
            )
        if not events:
            raise Refused.one("no die set is named", allowed="the id engraved on the set, such as D-214")
        return events, f"Logged: {view.die_set} is off, no dies on {view.machine.id}."
    part = {"part": field("part") or view.plan.part}
    if st.session_state.get("event reground"):
        events.append({"event": "die_set_reground", "value": new, **part})
    events.append({"event": "die_set_mounted", "value": new, "counter": "0", **part})
    if field("slide"):
        shown = view.machine.shown_setting_mm(panel_number(field("slide"), "slide"))
        events.append({"event": "penetration", "value": shown, "counter": "0", **part})
    return events, f"Logged: {new} is on {view.machine.id}. Set up, then save a set-up check."
