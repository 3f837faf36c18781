"""The Python side of the entry grid: what comes back, what is refused, what a draft keeps."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from streamlit.testing.v1 import AppTest

from spc.pages.entry import GridCell, GridColumn, GridLayout, GridState, Meanwhile, Struck

LAYOUT = GridLayout(
    token="check 1",
    columns=(
        GridColumn("over_pin", "Over pins", "mm", 3, nominal="31.250", lower="31.232", upper="31.268"),
        GridColumn("lead", "Lead deviation", "mm", 1, later=True),
    ),
)


def page() -> None:
    """One page with the grid; the session says which draft it has stored."""
    import streamlit as st

    from spc.pages.entry import GridColumn, GridLayout, GridState, entry_grid

    layout = GridLayout(
        token="check 1",
        columns=(
            GridColumn("over_pin", "Over pins", "mm", 3),
            GridColumn("lead", "Lead deviation", "mm", 1, later=True),
        ),
    )

    def judge(column: str, piece: int, text: str) -> str | None:
        return f"{column} {piece}: {text} is refused" if "x" in text else None

    stored = st.session_state.get("stored")

    @st.fragment
    def fragment() -> None:
        st.session_state["state"] = entry_grid(
            layout,
            draft=GridState.from_json(stored) if stored else None,
            key="readings",
            judge=judge,
            beside=lambda column, piece, text: f"{piece}: {text} mm" if column == "lead" else None,
        )

    fragment()


def sent(seq: int, *texts: str, token: str = "check 1", lead: str = "") -> dict[str, Any]:
    """What the browser sends for these texts."""
    cells = {"over_pin": [{"text": t, "skip": "", "seen": False} for t in texts], "lead": [{"text": lead}]}
    return {"grid": {"token": token, "seq": seq, "cells": cells, "struck": [], "meanwhile": []}}


def run(browser: object = None, stored: str | None = None) -> tuple[GridState, dict[str, Any]]:
    """Run the page once; the state it got and the data it hands to the browser."""
    app = AppTest.from_function(page, default_timeout=30)
    if browser is not None:
        app.session_state["readings"] = browser
    app.session_state["stored"] = stored
    app.run()
    assert not app.exception
    data: dict[str, Any] = json.loads(app.get("bidi_component")[0].proto.json)
    return app.session_state["state"], data


def test_an_untouched_grid_is_empty_and_open() -> None:
    state, data = run()
    assert state == GridState.empty(LAYOUT)
    assert state.open_places(LAYOUT) == (("over_pin", 1), ("over_pin", 2), ("over_pin", 3))
    assert data["draft"]["seq"] == 0
    assert data["refusals"] == []


def test_texts_come_back_as_typed_and_are_judged_one_by_one() -> None:
    state, data = run(sent(4, "31,251", "x1", "31.250", lead="-0.003"))
    assert state.texts("over_pin") == ("31,251", "x1", "31.250")
    assert state.refusals == {("over_pin", 2): "over_pin 2: x1 is refused"}
    assert not state.complete(LAYOUT)
    assert data["refusals"] == [
        {"column": "over_pin", "piece": 2, "text": "x1", "says": "over_pin 2: x1 is refused"}
    ]
    assert data["beside"] == [{"column": "lead", "piece": 1, "text": "-0.003", "says": "1: -0.003 mm"}]


def test_a_column_that_comes_later_leaves_nothing_open() -> None:
    state, _ = run(sent(3, "31.251", "31.250", "31.249"))
    assert state.complete(LAYOUT)


def test_a_stored_draft_is_taken_up_by_a_new_session() -> None:
    draft = GridState("check 1", 2, {"over_pin": (GridCell("31.251"), GridCell(skip="piece lost"))})
    state, data = run(stored=draft.to_json())
    assert state.texts("over_pin") == ("31.251", "", "")
    assert state.skipped() == {("over_pin", 2): "piece lost"}
    assert data["draft"] == state.to_dict()


@pytest.mark.parametrize(("seq", "expected"), [(1, "31.111"), (9, "31.999")])
def test_of_draft_and_session_the_newer_counts(seq: int, expected: str) -> None:
    draft = GridState("check 1", 5, {"over_pin": (GridCell("31.111"),)})
    state, _ = run(sent(seq, "31.999", "", ""), draft.to_json())
    assert state.texts("over_pin")[0] == expected


def test_texts_of_another_check_are_left_out() -> None:
    old = GridState("check 0", 99, {"over_pin": (GridCell("31.000"),)})
    state, _ = run(sent(50, "31.999", "", "", token="check 0"), old.to_json())
    assert state == GridState.empty(LAYOUT)


@pytest.mark.parametrize(
    "browser",
    [
        {"grid": None},
        {"grid": "31.251"},
        {"grid": {"token": "check 1", "seq": "many", "cells": {}}},
        {"grid": {"token": "check 1", "seq": 3, "cells": [1, 2]}},
        {"grid": {"token": "check 1", "seq": 3, "cells": {"over_pin": [7]}}},
    ],
)
def test_a_browser_that_sends_no_grid_has_sent_nothing(browser: object) -> None:
    assert run(browser)[0] == GridState.empty(LAYOUT)


def test_more_pieces_and_unknown_columns_than_asked_are_left_out() -> None:
    state, _ = run(
        {
            "grid": {
                "token": "check 1",
                "seq": 3,
                "cells": {"over_pin": [{"text": str(i)} for i in range(9)], "other": [{"text": "1"}]},
            }
        }
    )
    assert state.texts("over_pin") == ("0", "1", "2")
    assert set(state.cells) == {"over_pin", "lead"}


def test_a_waiting_value_keeps_the_check_from_being_complete() -> None:
    cells = {"over_pin": (GridCell("31.251"),) * 3, "lead": (GridCell(),)}
    waiting = GridState("check 1", 4, cells, meanwhile=(Meanwhile("31.299"),))
    aside = GridState("check 1", 4, cells, meanwhile=(Meanwhile("31.299", fate="set aside"),))
    assert not waiting.complete(LAYOUT)
    assert aside.complete(LAYOUT)


texts = st.text(max_size=12)
cells = st.builds(GridCell, texts, texts, st.booleans())
states = st.builds(
    GridState,
    token=texts,
    seq=st.integers(0, 10**6),
    cells=st.dictionaries(texts, st.lists(cells, max_size=4).map(tuple), max_size=3),
    struck=st.lists(st.builds(Struck, texts, st.integers(1, 9), texts, texts), max_size=2).map(tuple),
    meanwhile=st.lists(
        st.builds(Meanwhile, texts, texts, st.integers(0, 9), texts, texts, st.integers(0, 9)), max_size=2
    ).map(tuple),
)


@given(states)
def test_a_draft_comes_back_to_the_letter(state: GridState) -> None:
    assert GridState.from_json(state.to_json()) == state


@pytest.mark.parametrize("text", ["", "no json", "[]", "{}", '{"token": "t", "seq": 1, "cells": 3}'])
def test_a_text_that_is_no_draft_is_said_to_be_none(text: str) -> None:
    with pytest.raises(ValueError):
        GridState.from_json(text)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: GridColumn("a", "A", "mm", 0), "at least 1"),
        (lambda: GridColumn("a", "A", "µm", 5, mode="deviation_um"), "size of its master"),
        (lambda: GridColumn("a", "A", "mm", 5, mode="sizes"), "is not 'absolute'"),
        (lambda: GridLayout("t", ()), "at least one column"),
        (lambda: GridLayout("t", (GridColumn("a", "A", "mm", 5),) * 2), "stands twice"),
        (lambda: GridLayout("t", (GridColumn("a", "A", "mm", 5),), by="row"), "is not 'piece'"),
    ],
)
def test_a_layout_that_cannot_be_shown_is_refused(make: Any, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        make()


def test_any_change_of_the_layout_builds_the_grid_anew() -> None:
    same = GridLayout(LAYOUT.token, LAYOUT.columns).to_dict()["mark"]
    down = GridLayout(LAYOUT.token, LAYOUT.columns, by="characteristic").to_dict()["mark"]
    assert LAYOUT.to_dict()["mark"] == same
    assert down != same
