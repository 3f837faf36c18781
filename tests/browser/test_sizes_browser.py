"""The sizes page with real keys: a spline typed in, an impossible pin, a trace pasted."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]


def fill(page: Page, label: str, text: str) -> None:
    field = page.get_by_role("textbox", name=label, exact=True)
    field.fill(text)
    field.press("Tab")


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
    page.get_by_role("radio", name="Straightness").click()
    table = page.get_by_role("textbox", name="Position, mm, and height, µm")
    table.fill("0 0\n50 6\n100 8\n150 6\n200 0.8")
    table.press("Control+Enter")
    expect(page.locator(".spc-strip")).to_contain_text("7.60 µm")  # 38/5, by hull and by linear programming
    page.get_by_role("radio", name="Over pins").click()
    expect(page.get_by_role("textbox", name="Teeth", exact=True)).to_have_value("19")
