"""Readable but implausible: slips of entry are said with a number, honest values are left alone.

Slips and window after the shop practice of soft stops at entry (common practice, no source); swapped digits
differ by a multiple of 9 in their place (arithmetic).
"""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from intake_samples import HEADER, plan, read, row

from spc.intake import copied, doubt, plausible_window
from spc.shop import ToleranceLimits

OVER_PIN = plan().characteristic("over_pin")
LEAD = plan().characteristic("lead_error")
RUNOUT = plan().characteristic("runout")


@pytest.mark.parametrize(
    ("value", "meant", "slip"),
    [
        ("312.51", "31.251", "one place off"),
        ("3.1251", "31.251", "one place off"),
        ("0.31251", "31.251", "two places off"),
        ("31251", "31.251", "another unit"),
        ("1.2303", "31.24962", "inches"),
        ("793.75", "31.25", "inches"),
        ("-0.004", "31.246", "deviation was typed for the size"),
        ("4", "31.254", "deviation was typed for the size"),
        ("13.251", "31.251", "swapped"),
        ("31.521", "31.251", "swapped"),
        ("331.251", "31.251", "doubled"),
        ("3.251", "31.251", "missing"),
    ],
)
def test_a_slip_of_a_size_is_named_with_what_would_fit(value: str, meant: str, slip: str) -> None:
    said = doubt(Decimal(value), OVER_PIN, 31.2495, 0.003)
    assert said is not None
    assert said.startswith(f"{value} mm")
    assert f"{meant} would fit" in said
    assert slip in said


def test_master_size_is_what_a_deviation_is_from() -> None:
    said = doubt(Decimal("4"), replace(OVER_PIN, master_size=Decimal("31.2480")))
    assert said is not None
    assert "31.252 would fit" in said


@pytest.mark.parametrize(
    ("value", "slip"),
    [("4", "another unit"), ("0.09", "one place off"), ("31.25", "lies 31.25 mm from the target")],
)
def test_a_slip_of_a_deviation(value: str, slip: str) -> None:
    assert slip in str(doubt(Decimal(value), LEAD, 0.001, 0.002))


def test_a_turned_sign_where_the_target_is_off_centre() -> None:
    limits = ToleranceLimits(Decimal("0.090"), Decimal("0.110"))
    taper = replace(LEAD, target=Decimal("0.100"), tolerance=limits)
    assert "sign is turned" in str(doubt(Decimal("-0.100"), taper))


def test_a_magnitude_is_never_negative() -> None:
    assert "never below 0" in str(doubt(Decimal(-3), RUNOUT))
    assert doubt(Decimal(40), RUNOUT) is None


def test_swapped_digits_inside_the_window_need_an_expected_size() -> None:
    # 27.513 for 27.531: off by 18 µm = 9 × 2 µm, and the swap lands on the expected size
    limits = ToleranceLimits(Decimal("27.500"), Decimal("27.540"))
    characteristic = replace(OVER_PIN, nominal=Decimal("27.520"), target=None, tolerance=limits)
    said = doubt(Decimal("27.513"), characteristic, 27.531, 0.002)
    assert said is not None
    assert "27.531 would fit" in said
    assert doubt(Decimal("27.513"), characteristic) is None
    assert doubt(Decimal("27.513"), characteristic, 27.516, 0.002) is None


def test_a_gross_step_of_the_process_is_no_slip() -> None:
    assert doubt(Decimal("31.339"), OVER_PIN, 31.2495, 0.003) is None


@given(st.integers(31177, 31321), st.none() | st.floats(1e-4, 0.01))
def test_nothing_inside_the_window_is_doubted_without_an_expected_size(um: int, sigma: float | None) -> None:
    assert doubt(Decimal(um) / 1000, OVER_PIN, None, sigma) is None
    low, high = plausible_window(OVER_PIN, sigma) or (0.0, 0.0)
    assert low <= um / 1000 <= high


@given(st.decimals(allow_nan=False, allow_infinity=False, places=5, min_value=-(10**6), max_value=10**6))
def test_every_doubt_names_the_value(value: Decimal) -> None:
    for characteristic in (OVER_PIN, LEAD, RUNOUT):
        said = doubt(value, characteristic, float(characteristic.aim), 0.002)
        assert said is None or said.startswith(f"{value} ")


def check(values: list[str], time: str = "2026-03-02T09:00", runout: tuple[str, ...] = ()):
    rows = [row(value, piece=piece, time=time) for piece, value in enumerate(values, start=1)]
    rows += [
        row(value, piece=piece, time=time, characteristic="runout") for piece, value in enumerate(runout, 1)
    ]
    return read("\n".join([HEADER, *rows])).checks[0]


def test_a_copied_check_is_said_with_its_number_of_values() -> None:
    first = check(["31.250", "31.252", "31.249"])
    again = check(["31.25", "31.252", "31.249"], "2026-03-02T10:00")
    assert "all 3 values of over_pin" in str(copied(first, again))
    assert copied(None, again) is None
    assert copied(first, check(["31.250", "31.252", "31.248"], "2026-03-02T10:00")) is None


def test_one_other_value_shows_that_somebody_gauged() -> None:
    # Three pieces to 1 µm with a spread of 2 µm repeat by chance once in 350 checks: (1/(2·√π·2))³.
    sizes, later = ["31.250", "31.252", "31.249"], "2026-03-02T10:00"
    first = check(sizes, runout=("0.011", "0.014"))
    assert copied(first, check(sizes, later, ("0.012", "0.014"))) is None
    assert copied(first, check(sizes, later, ("0.011", "0.014"))) is not None
    assert copied(first, check(sizes, later)) is not None


def test_a_check_that_confirms_is_no_copy() -> None:
    first = check(["31.250", "31.252", "31.249"])
    assert copied(first, replace(first, purpose="confirm")) is None


def test_two_pieces_or_a_coarse_gauge_are_no_copy() -> None:
    assert copied(check(["31.25", "31.26"]), check(["31.25", "31.26"])) is None
    assert copied(check(["31.25"] * 5), check(["31.25"] * 5)) is None
