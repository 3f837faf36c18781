"""Means and ranges, single pieces, and the pieces that die sets have left."""

import json

import altair
import pytest
from invented import board_row, characteristic, every_look, history, named, point

from spc.drawing import pieces_left_picture, pieces_picture, to_svg, xbar_r_picture
from spc.drawing.theme import THEMES
from spc.shop.two_digits import two_digits

BOTH = pytest.mark.parametrize("name", list(THEMES))


@BOTH
def test_means_and_ranges_stand_with_their_limits(name: str) -> None:
    spec = xbar_r_picture(history(every_look()), name)
    if name == "light":  # the schema is slow, and both have the same shape
        altair.Chart.from_dict(spec)
    assert [row["y"] for row in named(spec, "checks_y_")["checks_y_ordinary"]] == [44.500, 44.505, 44.506]
    assert [row["y"] for row in named(spec, "checks_range_")["checks_range_ordinary"]] == [0.004] * 3
    assert {row["limit"] for row in named(spec, "limit_spread")["limit_spread_upper_provisional"]} == {0.011}
    assert {row["limit"] for row in named(spec, "limit_centre")["limit_centre_forecast"]} == {44.500}


def test_means_are_not_shown_against_the_tolerance_of_pieces() -> None:
    assert "allowed" not in json.dumps(xbar_r_picture(history(every_look()), "light"))


def test_single_pieces_have_no_range() -> None:
    singles = tuple(point(number, n=1, values=(44.5,), range=0.0) for number in range(3))
    spec = json.dumps(xbar_r_picture(history(singles), "light"))
    assert "One piece a check has no range" in spec
    assert "No check of over pins yet." in json.dumps(xbar_r_picture(history(()), "light"))


@BOTH
def test_each_piece_is_a_dot_in_its_place(name: str) -> None:
    spec = pieces_picture([44.500, 44.500, 44.501, 44.530, 44.531], characteristic(), name)
    altair.Chart.from_dict(spec)
    assert [round(row["x"], 3) for row in named(spec, "pieces")["pieces"]] == [44.500, 44.500, 44.501, 44.530]
    assert [round(row["x"], 3) for row in named(spec, "pieces_outside")["pieces_outside"]] == [44.531]
    assert "5 pieces, 1 outside the tolerance" in to_svg(spec)


def test_many_pieces_share_dots_and_the_picture_says_so() -> None:
    spec = pieces_picture([44.5] * 1000, characteristic(), "light")
    assert len(named(spec, "pieces")["pieces"]) < 20
    assert "One dot stands for up to 72" in json.dumps(spec)


def test_pieces_without_a_tolerance_or_without_pieces() -> None:
    altair.Chart.from_dict(pieces_picture([44.5], characteristic(None, None), "light"))
    assert "allowed" not in json.dumps(pieces_picture([44.5], characteristic(None, None), "light"))
    assert "No piece of over pins" in json.dumps(pieces_picture([], characteristic(), "light"))


@BOTH
def test_the_board_shows_early_likely_and_late_in_two_digits(name: str) -> None:
    rows = (
        board_row("R1", (2130, 4200, 6149, 8300, 13400)),
        board_row("R2", None, finished=0),
        board_row("R3", (2310, None, 9000, None, 24100), finished=0),
        board_row("R4", (9000, 15000, 21000, None, None)),
        board_row("R5", (None, None, None, None, None)),
    )
    spec = pieces_left_picture(rows, name)
    altair.Chart.from_dict(spec)
    svg = to_svg(spec)
    assert "early 2,100 · likely 6,100 · late 13,000" in svg
    assert "not enough known yet: about 2,000 to 25,000" in svg
    assert "not enough known yet: about 2,300 to 24,000" in svg
    assert "early 9,000 · likely 21,000 · late no end in sight" in svg
    assert "infeed left 0.032 of 0.060 mm" in svg
    assert "die set D-07, 12,310 pieces old" in svg


def test_an_empty_board_says_so() -> None:
    assert "No die set is mounted." in json.dumps(pieces_left_picture((), "light"))


@pytest.mark.parametrize(
    ("pieces", "words"), [(0, "0"), (7, "7"), (99, "99"), (999, "1,000"), (4449, "4,400"), (24_600, "25,000")]
)
def test_two_digits(pieces: int, words: str) -> None:
    assert two_digits(pieces) == words
