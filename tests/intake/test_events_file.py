"""events.csv, event mappings, and what readings and events say together."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from intake_samples import HEADER, plan, row

from spc.errors import Refused
from spc.intake import EventsRead, read_event, read_events, read_history
from spc.shop.layouts import EVENT_COLUMNS, EVENTS

TOP = "time,machine,part,event,value,note"


def events(*lines: str, top: str = TOP) -> EventsRead:
    return read_events(("events.csv", "\n".join([top, *lines]).encode()), [plan()])


def line(event: str, value: str, note: str = "", time: str = "2026-03-02T08:00") -> str:
    return f"{time},R1,,{event},{value},{note}"


@pytest.mark.parametrize(
    ("event", "value", "note", "kept"),
    [
        ("die_set_mounted", "D-07", "", "D-07"),
        ("die_set_reground", "D-07", "", "D-07"),
        ("die_set_removed", "Worn", "", "worn"),
        ("die_set_removed", "part_change", "", "part_change"),
        ("die_set_removed", "crane_damage", "", "crane_damage"),
        ("penetration", "12.348", "", "12.348"),
        ("penetration", "12", "", "12"),
        ("setting", "0.25", "tilt_deg", "0.25"),
        ("blank_batch", "B-19", "", "B-19"),
        ("gauge_mastered", "-1.5", "over_pin", "-1.5"),
        ("machine_stopped", "35", "", "35"),
        ("scrapped", "4", "", "4"),
        ("note", "", "new coolant", ""),
        ("PENETRATION", "12.348", "", "12.348"),
    ],
)
def test_each_event_is_taken(event: str, value: str, note: str, kept: str) -> None:
    found = events(line(event, value, note))
    assert found.refusals == ()
    (logged,) = found.events
    assert (logged.event, logged.value, logged.note, logged.part) == (event.lower(), kept, note, "")
    assert (logged.time, logged.row, logged.source) == (datetime(2026, 3, 2, 7, tzinfo=UTC), 2, "events.csv")


@pytest.mark.parametrize(
    ("bad", "column", "allowed"),
    [
        (line("penetraton", "12.3"), "event", "die_set_mounted, die_set_reground"),
        (line("", "12.3"), "event", "die_set_mounted"),
        (line("die_set_mounted", ""), "value", "die set's id"),
        (
            line("die_set_removed", "worm"),
            "value",
            "worn, chipped, planned, part_change, other, crane_damage",
        ),
        (line("penetration", "deep"), "value", "larger is deeper"),
        (line("penetration", '"12,348"'), "value", "larger is deeper"),
        (line("penetration", "nan"), "value", "larger is deeper"),
        (line("setting", "1"), "note", "dwell_s"),
        (line("blank_batch", ""), "value", "bar batch's id"),
        (line("machine_stopped", "-5"), "value", "at least 0"),
        (line("scrapped", ""), "value", "pieces or text"),
        (line("note", "x", time="08:00"), "time", "2026-03-02T09:00"),
        (line("note", "x").replace("R1", "R9"), "machine", "R1, R2"),
        (line("note", "x").replace("R1,", "R1,P-99"), "part", "P-31"),
        (line("note", "x") + ",extra", "the whole row", ""),
    ],
)
def test_a_bad_event_is_refused_with_its_place(bad: str, column: str, allowed: str) -> None:
    found = events(bad, line("note", "kept"))
    assert [event.value for event in found.events] == ["kept"]
    (refusal,) = found.refusals
    assert (refusal.file, refusal.row, refusal.column) == ("events.csv", 2, column)
    assert allowed in refusal.allowed
    assert (found.rows, found.accepted_rows) == (2, 1)


def test_a_repeated_event_counts_as_taken_once() -> None:
    found = events(line("penetration", "12.348"), line("penetration", "12.348"))
    assert (len(found.events), found.accepted_rows) == (1, 2)


def test_decimal_commas_and_any_column_order() -> None:
    found = read_events(
        ("e.csv", b"EVENT;VALUE;Time;Machine;Counter\r\npenetration;12,348;2026-03-02T08:00;R1;310\r\n"),
        [plan()],
    )
    assert [(event.value, event.counter) for event in found.events] == [("12.348", 310)]


def test_missing_columns_are_named() -> None:
    with pytest.raises(Refused, match="lacks event, value"):
        events(top="time,machine,part")


def test_an_event_from_a_program() -> None:
    event = {
        "time": datetime(2026, 3, 2, 7, tzinfo=UTC),
        "machine": "R1",
        "event": "penetration",
        "value": 12.348,
    }
    logged = read_event(event, plan())
    assert (logged.value, logged.source) == ("12.348", "entry")
    with pytest.raises(Refused) as refused:
        read_event({"time": "08:00", "machine": "R7", "evnt": "note"}, plan())
    assert [each.column for each in refused.value.refusals] == ["evnt", "machine", "event", "time"]


@pytest.mark.parametrize("typed", ["12,348", "12.348", 12.348])
def test_a_typed_setting_takes_point_or_comma(typed: object) -> None:
    event = {"time": "2026-03-02T08:00", "machine": "R1", "event": "penetration", "value": typed}
    assert read_event(event, plan()).value == "12.348"


READINGS = "\n".join([HEADER, row("31.25", time="2026-03-02T07:00"), row("31.25"), row("31.26", piece=2)])


def test_a_check_before_the_first_die_set_is_refused_only_if_one_comes_later(tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    path.write_text(READINGS, encoding="utf-8")
    mounted = ("events.csv", f"{TOP}\n{line('die_set_mounted', 'D-07')}".encode())
    found = read_history([plan()], path, mounted)
    assert [check.time.hour for check in found.checks] == [8]
    (refusal,) = found.refusals
    assert (refusal.row, refusal.column, refusal.value) == (2, "time", "2026-03-02T07:00:00")
    assert "2026-03-02T08:00:00" in refusal.allowed
    assert (found.rows, found.accepted_rows) == (4, 3)
    for events_file in (None, ("events.csv", f"{TOP}\n{line('penetration', '12.3')}".encode())):
        assert len(read_history([plan()], path, events_file).checks) == 2
    at_once = line("die_set_mounted", "D-07", time="2026-03-02T07:00")
    assert read_history([plan()], path, ("e.csv", f"{TOP}\n{at_once}".encode())).refusals == ()
    other = line("die_set_mounted", "D-07").replace("R1", "R2")
    assert read_history([plan()], path, ("e.csv", f"{TOP}\n{other}".encode())).refusals == ()


def test_a_mounting_already_in_the_record_counts(tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    path.write_text(READINGS, encoding="utf-8")
    mounted = ("events.csv", f"{TOP}\n{line('die_set_mounted', 'D-07')}".encode())
    known = {"R1": datetime(2026, 3, 1, tzinfo=UTC)}
    assert read_history([plan()], path, mounted, known).refusals == ()


words = st.one_of(st.text(max_size=12), st.sampled_from([*EVENTS, "R1", "P-31", "12.3", "2026-03-02T08:00"]))


@settings(deadline=None)
@given(st.dictionaries(st.sampled_from(EVENT_COLUMNS), words))
def test_any_event_mapping_is_taken_or_explained(event: dict[str, str]) -> None:
    assert all(each.reason and each.column for each in told(event))


def told(event: dict[str, str]) -> tuple:
    try:
        read_event(event, plan())
    except Refused as refused:
        return refused.refusals
    return ()
