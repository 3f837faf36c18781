"""A small shop in a record of its own, and a page run as one function."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import streamlit as st
from small_shop import PLAN
from streamlit.testing.v1 import AppTest

from spc.station import Station, open_station

NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)  # 09:00 in the plant
HOURS = (
    ("31.248", "31.252", "31.249", "31.251", "31.247"),
    ("31.253", "31.250", "31.246", "31.251", "31.250"),
    ("31.251", "31.247", "31.254", "31.249", "31.252"),
)

RunPage = Callable[..., AppTest]


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Station]:
    """One part on one machine with a die set on, and three hours of checks behind it."""
    record = tmp_path / "record.sqlite"
    monkeypatch.setenv("SPC_DB", str(record))
    monkeypatch.setenv("SPC_CLOCK_FROM", NOW.isoformat())
    st.cache_resource.clear()
    station = open_station(record, now=lambda: NOW)
    station.take_plan(PLAN)
    start = NOW - timedelta(hours=3, minutes=10)
    for event, value in (("die_set_mounted", "D-07"), ("penetration", "12.348"), ("blank_batch", "B-19")):
        station.log(
            {"time": start.isoformat(), "machine": "R1", "part": "P-31", "event": event, "value": value}
        )
    for hour, values in enumerate(HOURS):
        check = {"machine": "R1", "part": "P-31", "counter": 100 + 220 * hour, "operator": "MK"}
        time = (start + timedelta(minutes=20 + 60 * hour)).isoformat()
        station.check_in({**check, "time": time, "values": {"over_pin": list(values), "look": ["ok"]}})
    yield station
    station.close()
    st.cache_resource.clear()


@pytest.fixture
def run_page(shop: Station) -> RunPage:  # noqa: ARG001  # a page without a shop shows nothing
    """A function (name of the page) -> the page after its first run."""

    def run(name: str) -> AppTest:
        page = AppTest.from_function(_shown, kwargs={"name": name}, default_timeout=60)
        page.run()
        assert not page.exception
        return page

    return run


def _shown(name: str) -> None:
    import importlib

    from spc.errors import Refused
    from spc.pages.tell import tell_refused

    module, function = name.split(":")
    try:
        getattr(importlib.import_module(f"spc.pages.{module}"), function)()
    except Refused as refused:
        tell_refused(refused)
