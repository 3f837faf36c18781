"""The station as a person meets it: started, typed into at gauge speed, read, and looked around in."""

import re
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from shaft_size import HOURLY, OVER_PIN_SIZE

from spc.station import Station

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]
PLAN = f"""
[part]
id = "P-31"
description = "splined shaft"
[plant]
zone = "Europe/Berlin"
[[machine]]
id = "R1"
[die_set]
correction_travel = 0.060
{HOURLY}{OVER_PIN_SIZE}limits = "with_die_wear"
[[characteristic]]
name = "crest"
kind = "crest_diameter"
unit = "mm"
nominal = 33.500
lower = 33.450
upper = 33.550
[[characteristic]]
name = "runout"
kind = "runout"
unit = "mm"
nominal = 0.0
upper = 0.040
[[characteristic]]
name = "look"
kind = "visual"
subgroup_size = 1
answers = ["ok", "flakes", "chip mark"]
"""
OVER_PIN = ("31.251", "31.247", "31.254", "31.249", "31.252")
CREST = ("33.498", "33,503", "33.501", "33.499", "33.504")
RUNOUT = ("0.011", "0.008", "0.014", "0.009", "0.012")
AT_GAUGE_SPEED_MS = 2


@pytest.fixture(scope="module")
def record(record: tuple[Station, Path]) -> tuple[Station, Path]:
    """A shop whose dies came on three hours ago, with two checks behind it."""
    station, _ = record
    start = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=3)
    where = {"machine": "R1", "part": "P-31"}
    for event, value in (("die_set_mounted", "D-07"), ("penetration", "12.348"), ("blank_batch", "B-19")):
        station.log({**where, "time": start.isoformat(), "event": event, "value": value})
    for number, values in enumerate((("31.249", "31.251", "31.247", "31.252", "31.250"), OVER_PIN[::-1])):
        check = {**where, "time": (start + timedelta(minutes=20 + 60 * number)).isoformat()}
        station.check_in(
            {**check, "counter": 80 + 240 * number, "values": {"over_pin": values, "look": "ok"}}
        )
    return record


@pytest.fixture(scope="module")
def station_url(record: tuple[Station, Path], tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The station, started as `spc station` starts it, from a folder that has nothing to do with it."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    code = f"import sys; from spc.pages.launch import launch; sys.exit(launch({str(record[1])!r}, {port}, False))"
    folder = tmp_path_factory.mktemp("elsewhere")
    with (folder / "log.txt").open("w") as log:
        server = subprocess.Popen([sys.executable, "-c", code], cwd=folder, stdout=log, stderr=log)
        try:
            _wait_until_up(server, f"http://127.0.0.1:{port}/_stcore/health")
            yield f"http://127.0.0.1:{port}"
        finally:
            server.terminate()
            server.wait(30)
    said = (folder / "log.txt").read_text()
    assert f"http://127.0.0.1:{port}" in said
    assert "Traceback" not in said
    assert server.returncode == 0


def _wait_until_up(server: "subprocess.Popen[bytes]", url: str) -> None:
    deadline = time.monotonic() + 120
    while time.monotonic() < deadline and server.poll() is None:
        try:
            with urllib.request.urlopen(url, timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise RuntimeError("the station did not start")


def test_one_hour_from_typed_values_to_a_verdict(
    station_url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(station_url)
    first = page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")
    expect(first).to_be_focused()
    settle(page)
    for piece in zip(OVER_PIN, CREST, RUNOUT, strict=True):
        for text in piece:
            page.keyboard.type(text, delay=AT_GAUGE_SPEED_MS)
            page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_contain_text("15 of 15 in · kept")
    page.get_by_role("textbox", name="Counter").click()
    page.keyboard.type("560")
    page.keyboard.press("Tab")
    page.get_by_text("Flanks, crest and root looked at: all ok").click()
    settle(page)
    page.keyboard.press("Control+Enter")
    verdict = page.locator("section.spc-verdict")
    expect(verdict).to_contain_text("Run on")
    expect(verdict).to_contain_text("counter 560")
    expect(verdict).to_be_in_viewport()
    kept = record[0].operator_view("P-31", "R1").last_verdict
    assert kept is not None
    sizes = dict(kept.subgroups)
    # means by hand from the fifteen values above
    assert [round(sizes[name].mean, 4) for name in ("over_pin", "crest", "runout")] == [
        31.2506,
        33.501,
        0.0108,
    ]
    assert all(sizes[name].n == 5 for name in ("over_pin", "crest", "runout"))


def test_a_draft_outlives_a_reload_in_the_midst_of_a_check(
    station_url: str, page: Page, settle: Settle
) -> None:
    page.goto(station_url)
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")).to_be_focused()
    settle(page)
    for text in ("31.253", "33.502"):
        page.keyboard.type(text, delay=AT_GAUGE_SPEED_MS)
        page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_contain_text("2 of 15 in · kept")
    settle(page)
    page.reload()
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(3) input")).to_be_focused()
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")).to_have_value("31.253")


def test_a_slide_move_is_logged_from_the_page(
    station_url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(station_url)
    page.get_by_role("button", name="Slide moved").click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("Guards closed")
    expect(dialog.get_by_role("textbox", name=re.compile("^From"))).to_have_value("12.348")
    dialog.get_by_role("textbox", name=re.compile("^To")).click()
    page.keyboard.type("12.352")
    page.keyboard.press("Tab")
    settle(page)
    dialog.get_by_role("button", name="Log it").click()
    expect(page.locator(".spc-told")).to_contain_text("slide 12.348 → 12.352 mm")
    expect(dialog).to_be_hidden()
    assert str(record[0].operator_view("P-31", "R1").setting_mm) == "12.352"


def test_a_file_is_dropped_looked_at_and_saved(
    station_url: str, record: tuple[Station, Path], page: Page, settle: Settle
) -> None:
    page.goto(f"{station_url}/file")
    settle(page)
    made = (datetime.now(UTC) - timedelta(hours=1)).isoformat(timespec="seconds")
    rows = ["time,machine,part,characteristic,piece,value,counter"]
    rows += [f"{made},R1,P-31,over_pin,{piece},{text},500" for piece, text in enumerate(OVER_PIN, start=1)]
    rows += [f"{made},R1,P-31,over_pin,6,31.2S1,500"]
    content = "\n".join(rows).encode()
    page.locator('input[type="file"]').first.set_input_files(
        {"name": "from-the-lab.csv", "mimeType": "text/csv", "buffer": content}
    )
    expect(page.locator(".spc-table").first).to_contain_text("31.2S1")
    before = len(record[0].histories("P-31", "R1")[0].points)
    page.get_by_role("button", name="Save what can be taken").click()
    expect(page.locator(".spc-told")).to_contain_text("Saved: 5 new values")
    assert len(record[0].histories("P-31", "R1")[0].points) == before + 1


def test_the_other_pages_open_from_the_list(station_url: str, page: Page, settle: Settle) -> None:
    page.goto(station_url)
    settle(page)
    for name, says in (
        ("Review", "Checks due"),
        ("Die board", "D-07"),
        ("Plan and limits", "31.232 to 31.268 mm"),
    ):
        page.get_by_test_id("stSidebarNav").get_by_role("link", name=name).click()
        expect(page.get_by_test_id("stMain")).to_contain_text(says)
        expect(page.get_by_role("heading", name=name, level=1)).to_be_visible()
        expect(page.get_by_test_id("stMain")).to_contain_text("Local law and codes")
        expect(page.get_by_test_id("stException")).to_have_count(0)
    page.goto(f"{station_url}/board")
    expect(page.locator("svg.marks, canvas.marks").first).to_be_visible()


def test_a_tick_from_an_earlier_check_is_not_there_for_the_next(
    station_url: str, page: Page, settle: Settle
) -> None:
    page.goto(station_url)
    settle(page)
    expect(page.get_by_role("checkbox", name=re.compile("looked at: all ok"))).not_to_be_checked()
