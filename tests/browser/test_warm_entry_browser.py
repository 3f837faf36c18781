"""A warm check with real keys: temperatures, two positions on a piece, a value outside, and what the verdict says."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from spc.station import Station

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]
PLAN = """
[part]
id = "P-61"
description = "splined sleeve"
[plant]
zone = "UTC"
[[machine]]
id = "R6"
[check]
subgroup_size = 2
interval_minutes = 60
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = 31.250
lower = 31.232
upper = 31.268
expansion_per_k = 11.5e-6
[[characteristic]]
name = "crest"
kind = "crest_diameter"
unit = "mm"
nominal = 33.500
lower = 33.450
upper = 33.550
positions = ["left", "right"]
piece_value = "largest"
"""


def test_a_warm_check_from_the_fields_to_the_verdict(
    url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(url)
    first = page.locator("tbody tr:nth-child(1) td:nth-of-type(1)")
    expect(first.locator("input")).to_be_focused()
    settle(page)
    page.get_by_role("textbox", name="Part, °C").click()
    page.keyboard.type("31")
    page.keyboard.press("Tab")
    expect(page.get_by_role("textbox", name="Setting master, °C")).to_be_focused()
    page.keyboard.type("22")
    page.keyboard.press("Tab")
    expect(page.get_by_text("About 3.2 µm taken off over pins.")).to_be_visible()
    settle(page)
    first.locator("input").click()
    for text in ("31.2754", "33.501", "33.502", "31.2552", "33.500", "33.499"):
        page.keyboard.type(text, delay=2)
        page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_contain_text("6 of 6 in · kept")
    # 31.2754 − 31.2754e0 · 11.5e-6 · 9 = 31.27216; nothing has stopped the grid
    expect(first).to_contain_text("31.2722 mm at 20 °C · 0.0042 over the upper limit")
    right = page.locator("tbody tr:nth-child(1) td:nth-of-type(3)")
    expect(right).to_contain_text("largest of the piece 33.5020 mm")
    page.reload()
    expect(page.get_by_role("textbox", name="Part, °C")).to_have_value("31")
    expect(first).to_contain_text("0.0042 over the upper limit")
    settle(page)
    page.get_by_role("button", name="Save the check").click()
    verdict = page.locator("section.spc-verdict")
    expect(verdict).to_contain_text("Stop and hold")
    expect(verdict).to_contain_text("part 31 °C, master 22 °C: 3.2 µm taken off")
    expect(verdict).to_contain_text("piece 1 is 31.27216, 4.2 µm beyond 31.268")
    kept = record[0].operator_view("P-61", "R6").last_verdict
    assert kept is not None
    crest = kept.subgroup("crest")
    assert crest is not None
    assert (crest.n, crest.mean) == (2, 33.501)  # (33.502 + 33.500) / 2: two pieces, not four
