"""Shifts and machines compared on paper: the same sentence and numbers in every form, and silence without checks."""

import io
import json
import re
from datetime import UTC, datetime, timedelta
from functools import cache

import openpyxl
import pytest

from spc.reports import review_html, review_json, review_xlsx
from spc.station import Review, open_station

FIRST = datetime(2026, 3, 2, 6, tzinfo=UTC)
PLAN = """
[part]
id = "P-1"
[plant]
zone = "UTC"
shifts = ["06:00", "18:00"]
[check]
interval_minutes = 60
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = 20.000
lower = 19.900
upper = 20.100
"""
SAYS = "The shift from 18:00 is 1.8 µm higher than the shift from 06:00, 95 % interval"


@cache
def review(shifts: int = 12) -> Review:
    """Night 1.8 µm higher, and the gauge off by as much on its master after each night."""
    station = open_station(":memory:", now=lambda: FIRST + timedelta(days=30))
    station.take_plan(PLAN)
    for number in range(shifts):
        night = 1.8 if number % 2 else 0.0
        for place, step in enumerate((0.0, 0.4, -0.4)):
            size = 20 + (night + step + 0.5 * (number // 2 % 3 - 1)) / 1000
            time = (FIRST + timedelta(hours=12 * number + 1 + place)).isoformat()
            values = {"over_pin": [f"{size + each:.5f}" for each in (0.0005, -0.0005)]}
            station.check_in({"time": time, "machine": "R1", "part": "P-1", "values": values})
        station.log(
            {
                "time": (FIRST + timedelta(hours=12 * number + 11)).isoformat(),
                "machine": "R1",
                "part": "P-1",
                "event": "gauge_mastered",
                "value": f"{night:.1f}",
                "note": "over_pin",
            }
        )
    return station.review("P-1", "R1")


def test_the_page_says_it_in_a_sentence_and_how_it_came_to_be() -> None:
    words = " ".join(re.sub(r"<[^>]+>", " ", review_html([review()])).split())
    assert "Shifts and machines compared" in words
    assert "One comparison was made; more than noise: over pins between shifts (5 %)." in words
    assert f"Shifts on R1: over pins {SAYS}" in words.replace("Over pins", "over pins")
    assert "the same master measured by both differs by 1.8, so look at the gauge first." in words
    assert "Means of 36 checks in 12 shifts worked, worth about" in words


def test_program_and_workbook_hold_the_same_pair() -> None:
    compared = review().compared
    assert compared is not None
    found = compared.made[0].found
    assert found is not None
    pair = found.pairs[0]
    told = json.loads(review_json([review()]))["reviews"][0]["comparisons"]
    assert told["says"] == compared.says
    (one,) = told["made"]
    assert (one["by"], one["characteristic"], one["unit"]) == ("shift", "over_pin", "µm")
    assert [(each["group"], each["units"], each["checks"]) for each in one["groups"]] == [
        ("06:00", 6, 18),
        ("18:00", 6, 18),
    ]
    (said,) = one["pairs"]
    assert (said["difference"], said["low"], said["high"]) == (pair.difference, pair.low, pair.high)
    assert said["on_the_master"]["difference"] == pytest.approx(1.8)
    heads, row = openpyxl.load_workbook(io.BytesIO(review_xlsx([review()])))["compared"].iter_rows(
        values_only=True
    )
    line = dict(zip(heads, row, strict=True))
    assert (line["characteristic"], line["first"], line["second"]) == ("over pins", "06:00", "18:00")
    assert line["second minus first"] == pytest.approx(pair.difference)
    assert line["says"].startswith(SAYS)


def test_with_too_little_there_is_no_such_part() -> None:
    assert "machines compared" not in review_html([review(2)])
    assert json.loads(review_json([review(2)]))["reviews"][0]["comparisons"] == {"says": "", "made": []}
