"""A plan that gives the tooth instead of the size over pins, seen by an operator and by a quality lead."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from spc.intake import read_plan
from spc.station import Station

pytestmark = pytest.mark.browser

PLAN = """
[part]
id = "P-61"
description = "shaft with a spline and a thread"
[plant]
zone = "UTC"
[[machine]]
id = "R6"
slides = "two"
[check]
subgroup_size = 5
interval_minutes = 60
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
set_by = "penetration"
[characteristic.spline]
module = 1.25
teeth = 22
pressure_angle_deg = 30
pin_mm = 2.4
class = "6f"
[[characteristic]]
name = "over_wire"
kind = "over_wire_diameter"
unit = "mm"
set_by = "penetration"
[characteristic.thread]
major_diameter_mm = 16
pitch_mm = 2
wire_mm = 1.2
class = "6g"
"""


@pytest.fixture(scope="module")
def record(record: tuple[Station, Path]) -> tuple[Station, Path]:
    """Twelve hourly checks around the middle of the limits."""
    station, _ = record
    plan = read_plan(PLAN)
    start = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=12, minutes=10)
    for hour in range(12):
        values = {
            each.name: [f"{float(each.aim) + piece * (hour % 5) / 1000:.3f}" for piece in (-2, -1, 0, 1, 2)]
            for each in plan.characteristics
        }
        time = (start + timedelta(hours=hour)).isoformat()
        station.check_in({"machine": "R6", "part": "P-61", "time": time, "values": values})
    return record


def test_the_tooth_and_the_pitch_diameter_stand_under_their_pictures(
    page: Page, url: str, settle: Callable[[Page], None]
) -> None:
    page.goto(url)
    settle(page)
    expect(
        page.get_by_text(re.compile(r"Tooth thickness behind the last check: 1\.\d{4} mm"))
    ).to_be_visible()
    page.get_by_role("radio", name="Over wire").click()
    settle(page)
    expect(
        page.get_by_text(re.compile(r"Pitch diameter behind the last check: 14\.\d{4} mm"))
    ).to_be_visible()


def test_the_plan_page_explains_how_the_drawing_became_limits(
    page: Page, url: str, settle: Callable[[Page], None]
) -> None:
    page.goto(f"{url}/plan")
    settle(page)
    expect(page.get_by_role("heading", name="From the drawing to the limits")).to_be_visible()
    expect(page.get_by_text("from ISO 4156-1, 30°, class 6, fit f, for the tooth thickness")).to_be_visible()
    expect(page.get_by_text("from ISO 965-1, M16×2 - 6g, for the pitch diameter")).to_be_visible()
    expect(page.get_by_text(re.compile("with both slides, give or take"))).to_have_count(2)
