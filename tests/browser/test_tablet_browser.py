"""On a tablet: nothing is cut off, and a page just opened shows the last verdict before the grid."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from shaft_size import HOURLY, OVER_PIN_SIZE

from spc.station import Station

pytestmark = pytest.mark.browser

Settle = Callable[[Page], None]
MACHINES = [f"R{number}" for number in range(1, 8)]
PLAN = (
    '[part]\nid = "P-31"\ndescription = "splined shaft"\n[plant]\nzone = "Europe/Berlin"\n'
    + "".join(f'[[machine]]\nid = "{name}"\n' for name in MACHINES)
    + f'[die_set]\ncorrection_travel = 0.060\n{HOURLY}{OVER_PIN_SIZE}limits = "with_die_wear"\n'
)
TABLET = {"width": 1024, "height": 768}


@pytest.fixture(scope="module")
def held(record: tuple[Station, Path], url: str) -> str:
    """A shop whose last check was held back; the address it is served at."""
    station, _ = record
    start = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=2)
    where = {"machine": "R1", "part": "P-31"}
    for event, value in (("die_set_mounted", "D-07"), ("penetration", "12.348")):
        station.log({**where, "time": start.isoformat(), "event": event, "value": value})
    values = ["31.271", "31.270", "31.272", "31.269", "31.273"]
    made = (start + timedelta(minutes=50)).isoformat()
    verdict = station.check_in({**where, "time": made, "counter": 240, "values": {"over_pin": values}})
    assert verdict.verdict == "hold"
    return url


def test_a_tablet_shows_the_verdict_first_and_every_machine(held: str, page: Page, settle: Settle) -> None:
    """The grid took the page down to itself, past a hold; the buttons of the last machines stuck out of the page."""
    page.set_viewport_size(TABLET)
    page.goto(f"{held}/?machine=R1&part=P-31")
    expect(page.locator("tbody tr:nth-child(1) td:nth-of-type(1) input")).to_be_focused()
    settle(page)
    verdict = page.locator("section.spc-verdict")
    expect(verdict).to_contain_text("Stop and hold")
    box = verdict.bounding_box()
    assert box is not None
    assert box["y"] >= 0.0
    assert box["y"] + box["height"] <= TABLET["height"]
    for name in MACHINES:
        button = page.get_by_role("radio", name=name, exact=True).bounding_box()
        assert button is not None
        assert button["x"] + button["width"] <= TABLET["width"]
