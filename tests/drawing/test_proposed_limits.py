"""Limits somebody looks at before signing, and those that slope: said in words, marked as what they are."""

import json

import invented

from spc.drawing.checks import check_rows, limit_rows
from spc.drawing.xbar_r import xbar_r_picture


def test_proposed_limits_and_a_check_left_out_say_so() -> None:
    points = (
        invented.point(0, standing="proposed"),
        invented.point(1, 44.530, standing="proposed", left_out=True),
        invented.point(2, standing="proposed"),
    )
    drawn = json.dumps(xbar_r_picture(invented.history(points), "light"), ensure_ascii=False)
    assert "limits of these checks" in drawn
    assert "left out of the limits" in drawn
    assert "struck out" not in drawn
    assert "provisional" not in drawn.replace('"limit_', "")


def test_sloping_limits_are_lines_from_check_to_check() -> None:
    points = tuple(invented.point(each, standing="sloping", upper=44.508 + each / 1000) for each in range(3))
    steps = limit_rows(check_rows(invented.history(points)), ("upper",))
    assert [(step["x"], round(step["upper"], 3)) for step in steps] == [
        (0.0, 44.508),
        (500.0, 44.509),
        (1000.0, 44.510),
    ]
