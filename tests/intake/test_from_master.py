"""Deviations from a setting master: size = certified size of the master + deviation (common practice, no source)."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from intake_samples import plan

from spc.errors import Refused
from spc.intake import master_size, read_check, size_from_master
from spc.shop import CheckGauged

PLAN = plan()
OVER_PIN = replace(PLAN.characteristic("over_pin"), master_size=Decimal("31.2524"))
WITH_MASTER = replace(PLAN, characteristics=(OVER_PIN, *PLAN.characteristics[1:]))
CHECK = {"time": "2026-03-02T09:00", "machine": "R1", "part": "P-31"}


def checked(**parts: object) -> CheckGauged:
    return read_check({**CHECK, **parts}, WITH_MASTER)


@pytest.mark.parametrize(
    ("text", "size"),
    [("-1.4", "31.251"), ("2,6", "31.255"), ("0", "31.2524"), ("\u22123", "31.2494"), ("+0.5", "31.2529")],
)
def test_a_deviation_is_from_the_certified_size_of_the_master(text: str, size: str) -> None:
    assert size_from_master(OVER_PIN, text) == Decimal(size)  # sums by hand


def test_without_a_certified_size_the_master_has_the_nominal() -> None:
    bare = replace(OVER_PIN, master_size=None)
    assert master_size(bare) == Decimal("31.250")
    assert size_from_master(bare, "1") == Decimal("31.251")


def test_inches_and_micrometres() -> None:
    inch = replace(OVER_PIN, unit="in", master_size=Decimal("1.2304"))
    micron = replace(OVER_PIN, unit="um", master_size=Decimal("31252.4"))
    assert size_from_master(inch, "25.4") == Decimal(
        "1.2314"
    )  # 25.4 µm are 0.001 in, by the inch's definition
    assert size_from_master(micron, "25.4") == Decimal("31277.8")


@given(st.decimals(-500, 500, places=1, allow_nan=False))
def test_the_size_less_the_master_is_the_deviation_exactly(deviation: Decimal) -> None:
    size = size_from_master(OVER_PIN, format(deviation, "f"))
    assert (size - Decimal("31.2524")) * 1000 == deviation


@pytest.mark.parametrize("text", ["", "x", "1.2.3", "nan"])
def test_a_text_that_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(Refused) as refused:
        size_from_master(OVER_PIN, text)
    assert (refused.value.refusals[0].column, refused.value.refusals[0].value) == ("over_pin", text)


@pytest.mark.parametrize("name", ["lead_error", "runout", "look"])
def test_what_has_no_size_has_no_master(name: str) -> None:
    with pytest.raises(Refused, match="no size that a setting master could carry"):
        size_from_master(PLAN.characteristic(name), "1")
    with pytest.raises(Refused, match="no size that a setting master could carry"):
        checked(from_master_um={name: ["1"]})


def test_the_record_keeps_the_text_its_unit_and_the_exact_size() -> None:
    found = checked(from_master_um={"over_pin": ["-1,4", "", 2.6]}, values={"look": ["ok"]}).readings
    assert [(each.piece, each.text, each.unit) for each in found[-2:]] == [
        (1, "-1,4", "um from master 31.2524 mm"),
        (3, "2.6", "um from master 31.2524 mm"),
    ]
    assert [each.value for each in found[-2:]] == [Decimal("31.2510"), Decimal("31.2550")]
    assert found[0].answer == "ok"


def test_deviations_may_stand_alone_or_beside_the_sizes_of_other_pieces() -> None:
    alone = checked(from_master_um={"over_pin": {"top": "1"}}).readings
    assert [(each.piece, each.position, each.value) for each in alone] == [(1, "top", Decimal("31.2534"))]
    mixed = checked(values={"over_pin": ["31.251"]}, from_master_um={"over_pin": ["", "1"]}).readings
    assert [(each.piece, each.unit) for each in mixed] == [(1, "mm"), (2, "um from master 31.2524 mm")]


def test_one_piece_given_in_both_ways_is_refused() -> None:
    with pytest.raises(Refused, match="given twice") as refused:
        checked(values={"over_pin": ["31.251"]}, from_master_um={"over_pin": ["1", "x"]})
    assert [each.column for each in refused.value.refusals] == ["over_pin, piece 1", "over_pin, piece 2"]


@pytest.mark.parametrize("given_deviations", [[1], "1", 1, {}])
def test_a_check_without_deviations_is_refused(given_deviations: object) -> None:
    with pytest.raises(Refused, match=r"the values are missing|nothing was gauged"):
        checked(from_master_um=given_deviations)
