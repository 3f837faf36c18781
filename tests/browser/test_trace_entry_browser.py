"""A lead trace and a stem profile dropped on the hourly page, with real files, and what stays in the record."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from spc.pages.strike_out import gauged_check
from spc.station import Station

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]
PLAN = """
[part]
id = "P-71"
description = "tube with a groove of changing lead"
[plant]
zone = "UTC"
[[machine]]
id = "R7"
[check]
subgroup_size = 1
interval_minutes = 60
[[characteristic]]
name = "outside_diameter"
kind = "diameter"
unit = "mm"
nominal = 24.000
lower = 23.980
upper = 24.020
[[characteristic]]
name = "mean_travel"
kind = "mean_travel_deviation"
unit = "um"
lower = -60
upper = 60
[characteristic.groove]
ball_mm = 3
lead_mm = 10
nominal_lead = [[0, 10.0], [600, 10.0]]
[characteristic.trace]
useful_mm = [0, 600]
[[characteristic]]
name = "travel_variation"
kind = "travel_variation"
unit = "um"
upper = 20
[[characteristic]]
name = "stem_straightness"
kind = "straightness"
unit = "mm"
upper = 0.020
"""
HEIGHTS = (0, 2, 5, 4, 8, 9, 14)


def drop(page: Page, settle: Settle, name: str, text: str) -> None:
    field = page.locator('input[type="file"]')
    expect(field).to_have_count(1)  # the field of the curve before is gone
    field.set_input_files({"name": name, "mimeType": "text/csv", "buffer": text.encode()})
    settle(page)


def test_traces_fill_the_grid_and_are_kept(
    url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(url)
    cells = [page.locator(f"tbody tr:nth-child(1) td:nth-of-type({column})") for column in (1, 2, 3, 4)]
    expect(cells[0].locator("input")).to_be_focused()
    settle(page)
    page.keyboard.type("24.003", delay=2)
    page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_contain_text("1 of 4 in · kept")
    rows = "".join(f"{100 * place},{height}\n" for place, height in enumerate(HEIGHTS))
    drop(page, settle, "back.csv", f"position_mm,deviation_um\n{rows}500,3\n")
    alert = page.get_by_role("alert").filter(has_text="back.csv")
    expect(alert).to_contain_text("the position goes back after point 7 of the trace")
    expect(cells[0].locator("input")).to_have_value("24.003")
    drop(page, settle, "lead.csv", f"position_mm,deviation_um\n{rows}")
    expect(cells[1].locator("input")).to_have_value("12.64")  # 177/14: geometry reference, section 4.5, L1
    expect(cells[1]).to_contain_text("from trace lead.csv, 7 points")
    expect(cells[2].locator("input")).to_have_value("3.68")  # 103/28
    expect(alert).to_have_count(0)
    drop(page, settle, "stem.csv", "position_mm;height_um\n0;0\n1;3\n2;1\n3;4\n4;2\n")
    expect(cells[3].locator("input")).to_have_value("0.00250")
    expect(cells[3]).to_contain_text("from profile stem.csv, 5 points")
    expect(page.locator("[data-count]")).to_contain_text("4 of 4 in · kept")
    page.reload()
    expect(cells[1]).to_contain_text("from trace lead.csv, 7 points")
    settle(page)
    page.get_by_role("button", name="Save the check").click()
    expect(page.locator("section.spc-verdict")).to_contain_text("Run on")
    kept = record[0].operator_view("P-71", "R7").last_verdict
    assert kept is not None
    check = gauged_check(record[0], kept.check_id or 0)
    assert [(each.name, len(each.points), each.gives) for each in check.traces] == [
        ("lead.csv", 7, ("mean_travel", "travel_variation")),
        ("stem.csv", 5, ("stem_straightness",)),
    ]
