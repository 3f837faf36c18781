"""How the pieces look: one tick that all was looked at and is well, or what was seen, piece by piece."""

from collections.abc import Callable, Mapping
from typing import Any, Final

import streamlit as st

from spc.errors import Refusal
from spc.pages.words import plain
from spc.shop import Plan

__all__ = ["ask_look", "look_values"]

NOT_LOOKED: Final = "not looked at"
OPEN: Final = "–"
Key = Callable[[str], str]


def ask_look(plan: Plan, key: Key, kept: Mapping[str, Any]) -> dict[str, Any]:
    """Ask the operator how the pieces look.

    Parameters
    ----------
    key : callable
        Makes the key of a field in the session.
    kept : mapping
        The draft's fields.

    Returns
    -------
    dict
        The fields as they stand, for the draft and for `look_values`.
    """
    if not plan.looked_at:
        return {}
    fields: dict[str, Any] = {}
    for name in ("all ok", "seen"):
        st.session_state.setdefault(key(name), bool(kept.get(name, False)))
    with st.container(horizontal=True, vertical_alignment="center", gap="large"):
        fields["all ok"] = st.checkbox("Flanks, crest and root looked at: all ok", key=key("all ok"))
        if not fields["all ok"]:
            fields["seen"] = st.toggle("Something was seen, or not looked at", key=key("seen"))
    if fields.get("seen") and not fields["all ok"]:
        for characteristic in plan.looked_at:
            columns = st.columns(max(3, characteristic.subgroup_size))
            for piece in range(1, characteristic.subgroup_size + 1):
                name = f"look {characteristic.name} {piece}"
                choices = [OPEN, *characteristic.answers, NOT_LOOKED]
                before = kept.get(name)
                st.session_state.setdefault(key(name), before if before in choices else OPEN)
                fields[name] = columns[piece - 1].selectbox(
                    f"{plain(characteristic.name)}, piece {piece}", choices, key=key(name)
                )
    return fields


def look_values(
    plan: Plan, fields: Mapping[str, Any]
) -> tuple[dict[str, list[str]], list[tuple[str, int, str]], list[Refusal]]:
    """Return answers, looks left out, and what still has to be said."""
    answers: dict[str, list[str]] = {}
    skipped: list[tuple[str, int, str]] = []
    for characteristic in plan.looked_at:
        said = []
        for piece in range(1, characteristic.subgroup_size + 1):
            answer = fields.get(f"look {characteristic.name} {piece}", OPEN)
            if fields.get("all ok"):
                answer = characteristic.answers[0]
            if answer == OPEN:
                return answers, skipped, [_unsaid(characteristic.answers)]
            if answer == NOT_LOOKED:
                skipped.append((characteristic.name, piece, NOT_LOOKED))
            said.append("" if answer == NOT_LOOKED else answer)
        if any(said):
            answers[characteristic.name] = said
    return answers, skipped, []


def _unsaid(answers: tuple[str, ...]) -> Refusal:
    return Refusal(
        "nobody has said how the pieces look",
        allowed=f"the tick that flanks, crest and root were looked at, or for each piece {', '.join(answers)}",
        do="Look at them, then tick, or choose what was seen",
    )
