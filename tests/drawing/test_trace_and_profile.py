"""Traces, depths, profiles and grooves: lines and bands stand where the records say."""

import json
import math
from itertools import pairwise

import altair
import pytest
from invented import named

from spc.drawing import to_svg
from spc.drawing.groove import groove_drawing, groove_on_part
from spc.drawing.profile import profile_picture
from spc.drawing.theme import THEMES
from spc.drawing.trace import band_edges, depth_picture, trace_picture
from spc.geometry import depth_deviation, nominal_lead, straightness, travel

BOTH = pytest.mark.parametrize("name", list(THEMES))
L1 = (
    [0, 100, 200, 300, 400, 500, 600],
    [0, 2, 5, 4, 8, 9, 14],
)  # geometry reference, data L1, worked by hand


@BOTH
def test_the_band_of_a_trace_is_as_wide_as_its_variation(name: str) -> None:
    found = travel(*L1)
    spec = trace_picture(*L1, found, name)
    if name == "light":  # the schema is slow, and both have the same shape
        altair.Chart.from_dict(spec)
    for row in named(spec, "band")["band"]:
        assert row["high"] - row["low"] == pytest.approx(103 / 28)
    ends = [row["y"] for row in named(spec, "mean_line")["mean_line"]]
    assert ends == pytest.approx([-9 / 28, -9 / 28 + 177 / 14])
    assert [row["y"] for row in named(spec, "readings")["readings"]] == L1[1]


def test_the_worst_300_are_drawn_only_where_they_are_a_part() -> None:
    spec = trace_picture(*L1, travel(*L1), "light")
    rows = named(spec, "worst_300")["worst_300"]
    assert [row["x"] for row in rows] == [300, 600]  # the window of data L1
    short = ([0, 50, 100], [0.0, 1.0, 0.0])
    assert "worst_300" not in json.dumps(trace_picture(*short, travel(*short), "light"))


def test_the_worst_turn_ends_a_turn_after_it_begins() -> None:
    position = [2.5 * step for step in range(241)]
    deviation = [0.02 * x + 4 * math.sin(2 * math.pi * x / 10) for x in position]  # data L4
    found = travel(position, deviation, lead_mm=10.0)
    spec = trace_picture(position, deviation, found, "light", turns=[x / 10 for x in position])
    first, last = named(spec, "worst_turn")["worst_turn"]
    assert last["x"] - first["x"] == pytest.approx(10.0)
    assert first["high"] - first["low"] == pytest.approx(8.000823, abs=5e-7)
    assert "worst turn" not in json.dumps(trace_picture(position, deviation, found, "light"))


def test_every_reading_lies_in_the_band() -> None:
    found, rows = travel(*L1), list(zip(*L1, strict=True))
    (start, low, high), (end, low_end, high_end) = band_edges(rows, found, 0, 600)
    for x, y in rows:
        share = (x - start) / (end - start)
        assert low + share * (low_end - low) - 1e-9 <= y <= high + share * (high_end - high) + 1e-9


def test_a_long_trace_is_drawn_without_a_mark_for_each_reading() -> None:
    position = [0.05 * step for step in range(9000)]
    deviation = [math.sin(x) for x in position]
    spec = trace_picture(position, deviation, travel(position, deviation), "light")
    assert len(named(spec, "readings")["readings"]) == 3000
    assert named(spec, "dots") == {}


@BOTH
def test_a_profile_stands_in_its_zone(name: str) -> None:
    profile = ([0, 50, 100, 150, 200], [0.0, 6.0, 8.0, 6.0, 0.8])  # geometry reference, data S3: 38/5
    found = straightness(*profile)
    spec = profile_picture(*profile, found, name)
    if name == "light":
        altair.Chart.from_dict(spec)
    low, high = named(spec, "zone_bottom")["zone_bottom"], named(spec, "zone_top")["zone_top"]
    assert [top["y"] - bottom["y"] for bottom, top in zip(low, high, strict=True)] == pytest.approx(
        [7.6, 7.6]
    )
    for x, y in zip(*profile, strict=True):
        bottom = low[0]["y"] + (low[1]["y"] - low[0]["y"]) * x / 200
        assert bottom - 1e-9 <= y <= bottom + 7.6 + 1e-9
    assert [row["y"] for row in named(spec, "end_points")["end_points"]] == [0.0, 0.8]
    squares = named(spec, "least_squares")["least_squares"]
    assert [row["y"] for row in squares] == pytest.approx([3.84, 4.48])  # by hand: 4.16 + 80/25000 (x − 100)
    assert "zone of 7.60" in spec["description"]
    assert "narrowest zone" in to_svg(spec)


def test_a_deeper_groove_is_drawn_lower() -> None:
    found = depth_deviation([0, 50, 100], [1.502, 2.0, 2.495], [0, 100], [1.5, 2.5])
    spec = depth_picture(found, "light")
    altair.Chart.from_dict(spec)
    assert [row["y"] for row in named(spec, "readings")["readings"]] == pytest.approx([2.0, 0.0, -5.0])
    top, bottom = json.loads(json.dumps(spec))["layer"][-1]["encoding"]["y"]["scale"]["domain"]
    assert top > bottom  # the domain's first value stands at the bottom of the panel


def test_a_groove_passes_the_top_of_the_part_once_a_turn() -> None:
    table = nominal_lead([0, 60, 120, 180], [12, 12, 20, 28])
    ways = groove_on_part(table, outside_mm=24.0)
    tops = [way[0] for way in ways]
    assert [float(table.turns([x])[0]) for x, _ in tops] == pytest.approx(list(range(len(ways))), abs=1e-2)
    assert all(height == pytest.approx(12.0, abs=0.1) for _, height in tops)
    spaces = [after[0] - before[0] for before, after in pairwise(tops)]
    assert spaces[:4] == pytest.approx([12.0] * 4, abs=0.05)
    assert spaces[4:] == sorted(spaces[4:])  # the lead grows


def test_a_deeper_groove_has_a_wider_stroke() -> None:
    table = nominal_lead([0, 100], [10.0, 20.0])
    svg = groove_drawing(table, 24.0, "light", lambda at_mm: 0.5 + at_mm / 100)
    plain = groove_drawing(table, 24.0, "dark")
    assert "depth 0.5 mm" in svg
    assert "depth 1.5 mm" in svg
    assert "depth" not in plain
    assert 'stroke-width="3"' in plain
    assert "6.93 turns" in svg  # 100 mm · ln 2 / 10 mm
