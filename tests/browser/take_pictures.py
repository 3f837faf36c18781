"""Make the pictures of the README from the real pages: ``python tests/browser/take_pictures.py``.

The station is started with its demo; what is typed below is typed by real keys. Needs Chromium; takes about
a minute. The pictures go to ``demo_data/pictures/``.
"""

import io
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

PICTURES = Path(__file__).resolve().parents[2] / "demo_data" / "pictures"
MOST_BYTES = 150_000
SETTLED = '[data-testid="stApp"][data-test-script-state="notRunning"]'
expect.set_options(timeout=60_000)  # a busy machine is slow, not wrong
WORKED_HOUR = (("32.8848", "0.012"), ("32.8863", "0.009"), ("32.8828",), ("32.8853",), ("32.8838",))
"""The hour that the README walks through, piece by piece: over wire and straightness."""


@contextmanager
def demo_station() -> Iterator[str]:
    """The station with its invented shop, on a free port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    code = f"import sys; from spc.pages.launch import launch; sys.exit(launch(None, {port}, True))"
    server = subprocess.Popen([sys.executable, "-c", code])
    try:
        deadline = time.monotonic() + 180
        while not _answers(f"http://127.0.0.1:{port}/_stcore/health"):
            if server.poll() is not None or time.monotonic() > deadline:
                raise RuntimeError("the station did not start")
            time.sleep(0.3)
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait(30)


def _answers(url: str) -> bool:
    try:
        with urllib.request.urlopen(url, timeout=2):
            return True
    except (urllib.error.URLError, OSError):
        return False


def settle(page: Page) -> None:
    """Wait until the page has run to its end and its pictures stand."""
    page.locator(SETTLED).wait_for()
    page.wait_for_timeout(1500)
    page.locator(SETTLED).wait_for()


def type_check(page: Page, pieces: tuple[tuple[str, ...], ...], counter: str, time_made: str) -> None:
    """Type one check with real keys, up to the tick that all was looked at."""
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")).to_be_focused()
    settle(page)
    for piece in pieces:
        for text in piece:
            page.keyboard.type(text, delay=5)
            page.keyboard.press("Enter")
    page.get_by_role("textbox", name="Counter").click()
    page.keyboard.type(counter)
    page.keyboard.press("Tab")
    page.get_by_role("textbox", name="Pieces made at").click()
    page.keyboard.type(time_made)
    page.keyboard.press("Tab")
    page.get_by_text("Flanks, crest and root looked at").click()
    settle(page)


def keep(page: Page, name: str) -> None:
    """Write what is on the screen as a picture small enough for the README."""
    PICTURES.mkdir(exist_ok=True)
    path = PICTURES / f"{name}.png"
    page.mouse.move(0, 0)
    drawn = Image.open(io.BytesIO(page.screenshot()))
    drawn.convert("RGB").quantize(256, dither=Image.Dither.NONE).save(path, optimize=True)
    size = path.stat().st_size
    if size > MOST_BYTES:
        raise RuntimeError(f"{path.name} has {size} bytes, allowed {MOST_BYTES}")


def keep_whole(page: Page, name: str) -> None:
    """Keep the page down to the end of its first picture, on a screen that is high enough for it."""
    was = page.viewport_size or {"width": 1280, "height": 900}
    page.set_viewport_size({"width": was["width"], "height": 4000})
    settle(page)
    box = page.locator('[data-testid="stVegaLiteChart"]').first.bounding_box()
    if box is None:
        raise RuntimeError(f"{name}: there is no picture on the page")
    page.set_viewport_size({"width": was["width"], "height": int(box["y"] + box["height"]) + 12})
    settle(page)
    keep(page, name)
    page.set_viewport_size(was)


def take_all(page: Page, url: str) -> None:
    """Take the four pictures of the README."""
    page.goto(f"{url}/?machine=R1&part=SW-32")
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")).to_be_focused()
    settle(page)
    keep(page, "hourly")
    page.goto(f"{url}/?machine=R1&part=SW-32")
    type_check(page, WORKED_HOUR, "916", "2026-03-28T06:08")
    page.keyboard.press("Control+Enter")
    expect(page.locator("section.spc-verdict .word")).to_contain_text("Adjust")
    settle(page)
    keep_whole(page, "verdict")
    page.goto(f"{url}/review?machine=R2&part=KS-38")
    expect(page.get_by_role("heading", name="Over pins")).to_be_visible()
    settle(page)
    page.get_by_text("Characteristic", exact=True).evaluate("element => element.scrollIntoView()")
    page.wait_for_timeout(800)
    keep(page, "review")
    page.goto(f"{url}/board")
    settle(page)
    keep(page, "board")


def main() -> None:
    """Start the station, take the pictures, end it."""
    path = shutil.which("chromium") or shutil.which("google-chrome")
    with demo_station() as url, sync_playwright() as playwright:
        flags = ["--no-sandbox", "--disable-gpu"]
        browser = playwright.chromium.launch(executable_path=path, args=flags)
        page = browser.new_page(viewport={"width": 1280, "height": 900}, color_scheme="light")
        page.set_default_timeout(60_000)
        take_all(page, url)
        browser.close()


if __name__ == "__main__":
    main()
