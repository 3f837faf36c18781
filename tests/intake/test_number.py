"""Text to Decimal: what is read, what is refused, and how a file's style is settled."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from intake_samples import plan

from spc.errors import Refused
from spc.intake import read_decimal, read_typed, settle_style
from spc.intake.number import both_readings, exact_text, plan_fits, read_between, read_whole

OVER_PIN = plan().characteristic("over_pin")
LEAD = plan().characteristic("lead_error")
FITS = plan_fits(OVER_PIN)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("31.250", "31.250"), ("+031.25", "31.25"), ("-0.004", "-0.004"), ("\u22120.004", "-0.004"),
        (".0005", "0.0005"), (" 7 ", "7"), ("1e-05", "0.00001"), ("1,234.5", "1234.5"), ("1,234,567", "1234567"),
    ],
)  # fmt: skip
def test_point_style_is_read_exactly(text: str, value: str) -> None:
    assert read_decimal(text) == Decimal(value)


@pytest.mark.parametrize(("text", "value"), [("31,25", "31.25"), ("1.234,5", "1234.5"), ("-0,004", "-0.004")])
def test_comma_style_is_read_exactly(text: str, value: str) -> None:
    assert read_decimal(text, "comma") == Decimal(value)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "3.1.", "3,1,", "31.25x", "O.5", "nan", "NaN", "inf", "-Infinity", "--1", "+-1", "1-", "31.",
        "31 250", "1e5", "0x10", "1_000", "\u0663", "1,23,456.0", "3.1,2.3", "9" * 41, "=31.2", "31.25 mm",
    ],
)  # fmt: skip
@pytest.mark.parametrize("style", ["point", "comma"])
def test_what_is_no_number_is_refused_with_what_is_allowed(text: str, style: str) -> None:
    with pytest.raises(Refused) as refused:
        read_decimal(text, style)  # type: ignore[arg-type]  # a parametrised word
    assert refused.value.refusals[0].allowed
    assert refused.value.refusals[0].value == text


def test_the_other_style_is_named() -> None:
    with pytest.raises(Refused, match="its decimal mark is a comma"):
        read_decimal("31,25", "point")


@pytest.mark.parametrize(
    ("texts", "separator", "style"),
    [
        (["31.250", "31.2"], ",", "point"),
        (["31,250"], ";", "comma"),
        (["31,250"], "\t", "comma"),
        (["31,250"], ",", None),
        (["31,250", "31,25"], ",", "comma"),
        (["31,250", "-0,004"], ",", "comma"),  # no thousands begin with 0
        (["12", "13"], ";", "point"),
        ([], ";", "point"),
    ],
)
def test_style_is_settled_from_separator_and_other_numbers(texts, separator, style) -> None:
    assert settle_style([(text, None) for text in texts], separator) == style


def test_style_left_open_is_settled_by_the_plan() -> None:
    assert settle_style([("31,250", FITS), ("31,260", FITS)], ",") == "comma"
    in_um = plan_fits(OVER_PIN, Decimal("0.001"))
    assert settle_style([("31,250", in_um)], ",") == "point"
    assert settle_style([("31,250", FITS), ("31,250", in_um)], ",") is None  # the votes differ


def test_where_both_readings_remain_the_number_is_refused() -> None:
    assert read_between("31,250", None, FITS) == Decimal("31.250")
    assert "could be 99000 or 99.000" in str(read_between("99,000", None, FITS))
    assert "could be" in str(read_between("31,250", None))
    assert read_between("31,250", "point") == Decimal(31250)


def test_a_point_before_three_digits_is_open_in_a_file_of_decimal_commas() -> None:
    assert read_between("31.250", "comma", FITS) == Decimal("31.250")
    assert "could be" in str(read_between("12.348", "comma"))
    assert read_between("12.348", "point") == Decimal("12.348")


def test_nominal_zero_is_decided_within_ten_tolerances() -> None:
    # tolerance width 0.028 mm: 0.28 mm is the reach, so 0.250 is meant neither as 250 nor as refused
    assert read_between("1,250", None, plan_fits(LEAD, Decimal("0.001"))) == Decimal("1.250")
    assert "could be" in str(read_between("1,250", None, plan_fits(LEAD)))


@pytest.mark.parametrize("text", ["31.251", "31,251", " 31.251 ", "+31,251"])
def test_typed_values_take_point_or_comma(text: str) -> None:
    assert read_typed(text, OVER_PIN) == Decimal("31.251")


def test_typed_nonsense_names_the_characteristic() -> None:
    with pytest.raises(Refused, match="over_pin: a number holds no letters"):
        read_typed("31.2s", OVER_PIN)


@given(st.decimals(allow_nan=False, allow_infinity=False, places=4, min_value=-9999, max_value=9999))
def test_every_printed_decimal_comes_back_exactly(value: Decimal) -> None:
    text = format(value, "f")
    assert read_decimal(text) == value
    assert read_decimal(text.replace(".", ","), "comma") == value


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e9, max_value=1e9))
def test_a_float_comes_back_to_the_same_bits(value: float) -> None:
    point, comma = both_readings(exact_text(value))
    if point is not None:
        assert float(point) == value
    assert comma is None


@given(st.text(max_size=30))
def test_any_text_is_a_finite_number_or_none(text: str) -> None:
    for value in both_readings(text):
        assert value is None or value.is_finite()


@given(st.text(alphabet="0123456789.,-+ ", max_size=12))
def test_two_readings_differ_only_by_one_mark_before_three_digits(text: str) -> None:
    point, comma = both_readings(text)
    if point is not None and comma is not None and point != comma:
        marks = [mark for mark in text if mark in ".,"]
        assert len(marks) == 1
        assert max(abs(point), abs(comma)) == 1000 * min(abs(point), abs(comma))


def test_counts_are_whole() -> None:
    assert read_whole("310.0") == 310  # as programs write a column with gaps
    assert read_whole("0") == 0
    assert [read_whole(text) for text in ("", "3.5", "-1", "x", "1e-1")] == [None] * 5
    assert read_whole("0", least=1) is None
    assert read_whole("12,310", None) is None  # two readings, and no plan to ask
