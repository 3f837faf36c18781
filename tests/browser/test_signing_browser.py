"""A quality lead signs limits with real keys: looks, leaves a check out, signs, and reads the history."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from spc.station import Station

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]
PLAN = """
[part]
id = "P-52"
description = "grooved pin"
[plant]
zone = "UTC"
[[machine]]
id = "R5"
[check]
subgroup_size = 5
interval_minutes = 60
[[characteristic]]
name = "crest"
kind = "crest_diameter"
unit = "mm"
nominal = 33.500
lower = 33.400
upper = 33.600
minimum_cpk = 1.33
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.000
lower = -0.003
upper = 0.003
subgroup_size = 1
"""


@pytest.fixture(scope="module")
def record(record: tuple[Station, Path]) -> tuple[Station, Path]:
    """Thirty hourly checks; the lead wanders further than it may."""
    station, _ = record
    start = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=31)
    for hour in range(30):
        crest = [f"33.5{(hour * step) % 7:02d}" for step in (1, 2, 3, 4, 5)] if hour != 9 else ["33.530"] * 5
        values = {"crest": crest, "lead_error": [f"{(hour * 5 % 7 - 3) / 1000:.3f}"]}
        time = (start + timedelta(hours=hour)).isoformat()
        station.check_in({"machine": "R5", "part": "P-52", "time": time, "values": values})
    return record


def _choose(page: Page, label: str, text: str, settle: Settle) -> None:
    page.get_by_test_id("stSelectbox").filter(has=page.get_by_text(label, exact=True)).locator(
        "input"
    ).click()
    page.keyboard.type(text)
    expect(page.get_by_role("option")).to_have_count(1)
    page.keyboard.press("Enter")
    settle(page)


def _write(page: Page, label: str, text: str, settle: Settle) -> None:
    page.get_by_role("textbox", name=label, exact=True).click()
    page.keyboard.type(text)
    page.keyboard.press("Tab")
    settle(page)


def test_limits_beyond_the_tolerance_are_signed_with_a_reason_and_stand_at_once(
    url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(f"{url}/plan")
    settle(page)
    main = page.get_by_test_id("stMain")
    expect(main).to_contain_text("a mean can leave the tolerance before these limits call")
    expect(main).to_contain_text("Cpk 1.33")
    _choose(page, "Sign the limits of", "Lead", settle)
    _write(page, "Your name", "Q. Lead", settle)
    page.get_by_role("button", name="Sign", exact=True).click()
    expect(page.locator(".spc-refused")).to_contain_text("signed with a reason")
    assert record[0].limits_history("P-52", "R5", "lead_error") == ()
    _write(page, "Why these", "new lead cam in May", settle)
    page.get_by_role("button", name="Sign", exact=True).click()
    expect(page.locator(".spc-told")).to_contain_text("They judge from the next check on")
    expect(page.locator(".spc-table").nth(1)).to_contain_text("signed by Q. Lead, judges from the next check")


def test_a_first_phase_is_looked_at_cleaned_and_signed(
    url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(f"{url}/plan")
    settle(page)
    _choose(page, "Limits of", "Crest", settle)
    main = page.get_by_test_id("stMain")
    expect(main).to_contain_text("mean 33.5300 above the limit")
    _write(page, "What was different there", "gauge not set on its master", settle)
    page.get_by_role("button", name="Leave it out").click()
    expect(main).to_contain_text("with every check")
    expect(page.get_by_text("left out of the limits")).to_be_visible()
    expect(page.get_by_text("struck out")).to_have_count(0)
    _write(page, "Signed by", "Q. Lead", settle)
    _write(page, "Why these limits", "proving run", settle)
    page.get_by_role("button", name="Sign these limits").click()
    expect(page.locator(".spc-told")).to_contain_text("They judge from the next check on")
    history = page.locator(".spc-table").filter(has_text="Taken from").filter(has_text="Q. Lead: proving run")
    expect(history).to_contain_text("gauge not set on its master")
    (signed,) = record[0].limits_history("P-52", "R5", "crest")
    assert (signed.subgroups, len(signed.excluded)) == (29, 1)


def test_room_inside_the_tolerance_opens_beside_the_limits(url: str, page: Page, settle: Settle) -> None:
    page.goto(f"{url}/plan")
    settle(page)
    _choose(page, "Limits of", "Crest", settle)
    page.get_by_text(re.compile("^Room inside the tolerance")).click()
    expect(page.get_by_text("Acceptance limits")).to_be_visible()
    expect(page.get_by_text("Modified limits")).to_be_visible()
