"""Finding where bad pieces begin: how many gaugings, which first, and where halving tells nothing."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.shop import Contain
from spc.station.halving import halving


def held(pieces, start=0):
    return Contain(start, start + pieces, pieces)


def test_three_hundred_pieces_take_nine():
    """Process knowledge, section 6.1: "log2(300)=9 measurements to find where a step began"."""
    found = halving(held(300), order_kept=True, one_way=True)
    assert (found.by, found.gaugings, found.take_counter) == ("piece", 9, 150)
    assert "9 pieces show where it begins" in found.says


@given(st.integers(2, 5000), st.data())
def test_halving_finds_the_first_bad_piece_in_as_many(pieces, data):
    """Brute force: follow the sentence until one piece is left; never more gaugings than it says."""
    first_bad = data.draw(st.integers(1, pieces))
    low, high, gauged = 0, pieces, 0  # good up to and with low, bad at high
    most = halving(held(pieces), order_kept=True, one_way=True).gaugings
    while high - low > 1:
        middle = halving(Contain(low, high, high - low), order_kept=True, one_way=True).take_counter
        gauged += 1
        low, high = (low, middle) if middle >= first_bad else (middle, high)
    assert high == first_bad
    assert gauged <= most == math.ceil(math.log2(pieces))


def test_by_box_where_pieces_fall_into_bins():
    """Section 6.1: "only trays and racks keep the order of pieces"; the plan's `order_kept` is false by default."""
    found = halving(held(600, 2400), order_kept=False, one_way=True)
    assert (found.by, found.gaugings, found.take_counter) == ("box", None, 2700)
    assert "box from about counter 2,700" in found.says
    assert "16 boxes take 4 turns" in found.says


@pytest.mark.parametrize("order_kept", [True, False])
def test_all_are_sorted_where_the_cause_may_have_come_and_gone(order_kept):
    """Section 6.1: halving is "valid for steps/monotone drift only"."""
    found = halving(held(600), order_kept=order_kept, one_way=False)
    assert (found.by, found.gaugings, found.take_counter) == ("all", 600, None)


def test_nothing_to_find_without_counters_or_pieces():
    assert halving(Contain(None, None, None), order_kept=True, one_way=True) is None
    assert halving(Contain(5, 5, 0), order_kept=True, one_way=True) is None


def test_one_piece_is_gauged():
    assert halving(held(1), order_kept=True, one_way=True).gaugings == 1


def test_a_mark_is_looked_for():
    assert halving(held(300), order_kept=True, one_way=True, by_eye=True).says.startswith("Look at")
