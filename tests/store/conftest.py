"""Real databases for every test: one in a file, one in memory; the clock is the test's."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from spc.store import Store, open_store


@pytest.fixture
def clock() -> Callable[[], datetime]:
    ticks = iter(range(10**6))
    return lambda: datetime(2026, 4, 1, tzinfo=UTC) + timedelta(seconds=next(ticks))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "record.sqlite"


@pytest.fixture(params=["file", "memory"])
def store(request, file: Path, clock) -> Iterator[Store]:
    opened = open_store(file if request.param == "file" else ":memory:", now=clock)
    yield opened
    opened.close()


@pytest.fixture
def file_store(file: Path, clock) -> Iterator[Store]:
    opened = open_store(file, now=clock, busy_timeout_s=0.2)
    yield opened
    opened.close()
