"""Times: the plant's zone, and the hour that autumn repeats (EU rule: 2026-10-25, 03:00 back to 02:00)."""

from datetime import UTC, datetime

import pytest
from intake_samples import HEADER, read, row

from spc.errors import Refused
from spc.intake.moments import read_moment

ZONE = "Europe/Berlin"


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("2026-03-02T09:00", "2026-03-02T08:00:00+00:00"),
        ("2026-03-02 09:00", "2026-03-02T08:00:00+00:00"),
        ("2026-03-02T09:00:30", "2026-03-02T08:00:30+00:00"),
        ("2026-03-02T09:00:30,5", "2026-03-02T08:00:30.500000+00:00"),
        ("2026-07-02T09:00", "2026-07-02T07:00:00+00:00"),
        ("2026-03-02T09:00Z", "2026-03-02T09:00:00+00:00"),
        ("2026-03-02T09:00-05:00", "2026-03-02T14:00:00+00:00"),
        ("2026-03-02T09:00+0100", "2026-03-02T08:00:00+00:00"),
    ],
)
def test_times_are_read_in_the_plants_zone(text: str, utc: str) -> None:
    assert read_moment(text, ZONE).isoformat() == utc


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "missing"),
        ("09:00", "without a date"),
        ("9:00:00", "without a date"),
        ("2026-03-02", "without a time of day"),
        ("2026-13-02T09:00", "no such date"),
        ("2026-03-02T25:00", "no such date"),
        ("2026-03-29T02:30", "skipped this hour"),
        ("0001-01-01T00:00", "no such date"),
        ("yesterday", "not a date and time"),
        ("02/03/2026 09:00", "not a date and time"),
    ],
)
def test_what_is_no_moment_is_refused(text: str, reason: str) -> None:
    with pytest.raises(Refused, match=reason) as refused:
        read_moment(text, ZONE)
    assert refused.value.refusals[0].column == "time"
    assert "2026-03-02T09:00" in refused.value.refusals[0].allowed


def times(*rows: str) -> list[str]:
    found = read("\n".join([HEADER, *rows]))
    assert found.refusals == ()
    return [check.time.strftime("%H:%M") for check in found.checks]


def at(clock: str, machine: str = "R1", name: str = "over_pin", piece: int = 1) -> str:
    value = "31.25" if name == "over_pin" else "0.001"
    return row(value, name, piece, f"2026-10-25T{clock}").replace("R1", machine)


def test_the_repeated_hour_is_read_by_file_order() -> None:
    assert times(at("01:30"), at("02:10"), at("02:50"), at("02:20"), at("02:50"), at("03:00")) == [
        "23:30", "00:10", "00:50", "01:20", "01:50", "02:00",
    ]  # fmt: skip


def test_checks_one_hour_apart_show_the_same_clock_twice() -> None:
    rows = [at("02:30", piece=piece) for piece in (1, 2)]
    assert times(*rows, *rows, at("03:30")) == ["00:30", "01:30", "02:30"]


def test_machines_run_through_the_hour_each_for_itself() -> None:
    rows = [at("02:40"), at("02:10", "R2"), at("02:20"), at("02:40", "R2")]
    assert times(*rows) == ["00:40", "00:10", "01:20", "00:40"]


def test_a_file_sorted_by_characteristic_goes_through_the_hour_anew() -> None:
    clocks = ["01:30", "02:30", "02:30", "03:30"]
    rows = [at(clock, name=name) for name in ("over_pin", "lead_error") for clock in clocks]
    found = read("\n".join([HEADER, *rows]))
    assert [check.time.hour for check in found.checks] == [23, 0, 1, 2]
    assert [len(check.readings) for check in found.checks] == [2, 2, 2, 2]


def test_an_offset_settles_the_hour() -> None:
    assert times(at("02:30+01:00"), at("02:40+02:00")) == ["01:30", "00:40"]


def test_datetime_objects_are_taken() -> None:
    aware = datetime(2026, 3, 2, 8, tzinfo=UTC)
    assert read_moment(aware, ZONE) == aware
    assert read_moment(datetime(2026, 3, 2, 9), ZONE) == aware  # noqa: DTZ001  # wall clock of the plant
