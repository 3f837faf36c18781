"""The sizes page with real keys: spline and worm typed in, an impossible pin, profile, trace and groove pasted."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from spc.geometry import Worm, worm_over_wires

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]


def fill(page: Page, label: str, text: str) -> None:
    field = page.get_by_role("textbox", name=label, exact=True)
    field.fill(text)
    field.press("Tab")


def choose(page: Page, settle: Settle, name: str, field: str) -> None:
    """Choose a sheet and wait until it stands: what is typed into a field while it is being drawn is lost."""
    page.get_by_role("radio", name=name, exact=True).click()
    expect(page.get_by_role("textbox", name=field)).to_be_visible()
    expect(page.locator(".spc-strip").first).to_be_visible()
    page.wait_for_timeout(300)  # the run that draws the sheet has begun by then
    settle(page)


def test_sizes_by_hand(
    tmp_path: Path, serve_station: Callable[[Path], str], page: Page, settle: Settle
) -> None:
    page.goto(serve_station(tmp_path / "sizes.sqlite") + "/sizes")
    drawing = page.locator("figure.spc-drawing img")
    expect(drawing).to_be_visible()
    settle(page)
    fill(page, "Module, mm", "1.5")
    fill(page, "Teeth", "19")
    fill(page, "Tooth thickness, mm", "2,310")
    fill(page, "Pins, mm", "2.9")
    expect(page.locator(".spc-strip")).to_contain_text("two pins of 2.9 mm")
    assert drawing.evaluate("image => image.complete && image.naturalWidth > 300")
    fill(page, "Pins, mm", "0.5")
    expect(page.locator(".spc-cannot")).to_contain_text("pin")
    expect(drawing).to_have_count(0)
    choose(page, settle, "Straightness", "Position, mm, and height, µm")
    table = page.get_by_role("textbox", name="Position, mm, and height, µm")
    table.fill("0 0\n50 6\n100 8\n150 6\n200 0.8")
    table.press("Control+Enter")
    expect(page.locator(".spc-strip")).to_contain_text("7.60 µm")  # 38/5, by hull and by linear programming
    page.get_by_role("radio", name="Over pins").click()
    expect(page.get_by_role("textbox", name="Teeth", exact=True)).to_have_value("19")


def paste(page: Page, label: str, rows: str) -> None:
    table = page.get_by_role("textbox", name=label)
    table.fill(rows)
    table.press("Control+Enter")


def test_a_worm_a_screw_and_a_changing_groove_by_hand(
    tmp_path: Path, serve_station: Callable[[Path], str], page: Page, settle: Settle
) -> None:
    """Worm: two starts of module 1.25; its size is that of the ball pressed on its flank in the geometry tests.

    Screw: L5 of the travel tests, exact fractions 9/11, 70/11 and 63/11. Groove: a lead from 10 mm to 12 mm over
    200 mm, whose travel is an integral with a logarithm; the trace follows it and the depth stays 10 µm too deep.
    """
    page.goto(serve_station(tmp_path / "sizes.sqlite") + "/sizes")
    strip = page.locator(".spc-strip")
    expect(strip.first).to_be_visible()
    settle(page)
    choose(page, settle, "Over wires", "Wires, mm (empty: best)")
    choose(page, settle, "worm", "Axial module, mm")
    for label, text in {
        "Axial module, mm": "1.25",
        "Starts": "2",
        "Axial flank angle, °": "20",
        "Reference diameter, mm": "14",
        "Wires, mm (empty: best)": "2.2",
        "Thickness along the axis, mm (empty: half the pitch)": "",
    }.items():
        fill(page, label, text)
    expected = worm_over_wires(Worm(1.25, 2, 20.0, 14.0), wire_mm=2.2).over_wire_mm
    expect(strip.first).to_contain_text(f"{expected:.4f} mm")
    expect(page.locator("figure.spc-drawing img")).to_have_count(1)

    choose(page, settle, "Travel of a screw", "Lead, mm (if any)")
    expect(strip.first).to_contain_text("Grade")
    fill(page, "Lead, mm (if any)", "")
    heights = [0, 1, 4, 6, 5, 3, 1, 0, 2, 5]
    rows = "\n".join(f"{100 * step} {height}" for step, height in enumerate(heights))
    paste(page, "Position, mm, and deviation, µm: measured less specified travel", rows)
    expect(strip.first).to_contain_text("+0.8 µm")
    expect(strip.first).to_contain_text("6.4 µm")
    expect(strip.nth(1)).to_contain_text("5.7 µm")

    choose(page, settle, "Groove of changing lead", "Against lead, mm")
    fill(page, "Outside diameter, mm", "20")
    fill(page, "Against lead, mm", "10")
    paste(page, "The drawing's table", "0 10 1.0\n200 12 1.2")
    rows = "\n".join(f"{x} {meant_um(x):.3f} {1.01 + x / 1000:.4f}" for x in range(0, 201, 5))
    paste(page, "Measured along the part", rows)
    expect(strip.first).to_contain_text("over 200 mm")
    expect(strip.first).to_contain_text("0.0 µm")
    expect(page.get_by_text("on average 10.0 µm too deep")).to_be_visible()
    expect(page.locator(".spc-cannot")).to_have_count(0)


def meant_um(x: float) -> float:
    return 1000 * (x - 10 * 100 * math.log(1 + x / 1000))  # ∫ dx / (10 + x/100) = 100 ln(1 + x/1000)
