"""Checks as a page or a program gives them."""

from datetime import UTC, datetime
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from intake_samples import plan

from spc.errors import Refusal, Refused
from spc.intake import read_check

CHECK = {"time": "2026-03-02T09:00", "machine": "R1", "part": "P-31", "counter": 310, "operator": "Ida"}


def refusals_of(check: dict) -> tuple[Refusal, ...]:
    with pytest.raises(Refused) as refused:
        read_check(check, plan(), source="entry page")
    return refused.value.refusals


def test_values_of_every_type_are_read_exactly() -> None:
    given_values = ["31.251", "31,251", 31.251, Decimal("31.251"), np.float64(31.251), 31]
    check = read_check({**CHECK, "values": {"over_pin": given_values, "look": "OK"}}, plan())
    over_pin = [reading for reading in check.readings if reading.characteristic == "over_pin"]
    assert [reading.value for reading in over_pin] == [Decimal("31.251")] * 5 + [Decimal(31)]
    assert [reading.text for reading in over_pin][:2] == ["31.251", "31,251"]
    assert all(type(reading.text) is str for reading in check.readings)
    assert (check.readings[-1].answer, check.readings[-1].value) == ("ok", None)
    assert (check.time, check.counter, check.operator) == (datetime(2026, 3, 2, 8, tzinfo=UTC), 310, "Ida")
    assert (check.purpose, check.source) == ("hourly", "entry")


def test_left_out_pieces_keep_the_number_of_the_others() -> None:
    skipped = [("over_pin", 2, "dropped")]
    check = read_check(
        {**CHECK, "values": {"over_pin": ["31.25", None, "", "31.26"]}, "skipped": skipped}, plan()
    )
    assert [reading.piece for reading in check.readings] == [1, 4]
    assert check.skipped == (("over_pin", 2, "dropped"),)


def test_positions_of_one_piece() -> None:
    check = read_check({**CHECK, "values": {"over_pin": [{"top": "31.25", "foot": "31.26"}]}}, plan())
    assert [(reading.piece, reading.position) for reading in check.readings] == [(1, "top"), (1, "foot")]


def test_everything_wrong_is_told_together_with_its_field() -> None:
    found = refusals_of(
        {
            "time": "09:00", "machine": "R9", "part": "P-13", "counter": -1, "purpos": "x", "temperature_c": "hot",
            "values": {"over_pn": ["31.25"], "over_pin": ["31.2x", 31.25, float("nan"), True], "look": ["fine"]},
        }
    )  # fmt: skip
    assert [refusal.column for refusal in found] == [
        "purpos", "part", "machine", "time", "counter", "temperature_c", "characteristic", "over_pin, piece 1",
        "over_pin, piece 3", "over_pin, piece 4", "look, piece 1",
    ]  # fmt: skip
    assert {refusal.file for refusal in found} == {"entry page"}
    assert found[0].do == "Perhaps purpose is meant"
    assert all(refusal.allowed for refusal in found)


@pytest.mark.parametrize("values", [None, {}, {"over_pin": []}, {"over_pin": [None, ""]}, [31.25], "31.25"])
def test_a_check_without_values_is_refused(values: object) -> None:
    assert [refusal.column for refusal in refusals_of({**CHECK, "values": values})] == ["values"]


def test_machines_of_other_plans_are_known() -> None:
    check = {**CHECK, "machine": "R7", "values": {"over_pin": 31.25}}
    assert read_check(check, plan(), machines=["R7"]).machine == "R7"


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.binary(max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=6,
)
keys = st.sampled_from(
    ["time", "machine", "part", "counter", "purpose", "temperature_c", "values", "skipped"]
)


@settings(deadline=None)
@given(st.dictionaries(keys, anything), anything)
def test_any_mapping_is_refused_or_read(check: dict, given_values: object) -> None:
    for whole in (check, {**CHECK, "values": {"over_pin": given_values, "look": given_values}}):
        assert all(refusal.reason and refusal.column for refusal in told(whole))


def told(check: dict) -> tuple[Refusal, ...]:
    try:
        read_check(check, plan())
    except Refused as refused:
        return refused.refusals
    return ()
