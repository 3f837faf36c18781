"""Counters, die lives, checks and stops of the demo agree with each other."""

import tomllib
from collections import Counter, defaultdict
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

DEMO = Path(__file__).parents[2] / "demo_data"


def test_counters_rise_within_a_mounting_and_restart_with_it(readings, events):
    mountings = defaultdict(list)
    for row in events:
        if row["event"] == "die_set_mounted":
            mountings[row["part"]].append(row["time"])
            assert row["counter"] == "0"
    last: dict[tuple[str, datetime], int] = {}
    for row in readings:
        mounted = max(time for time in mountings[row["part"]] if time <= row["time"])
        key = (row["part"], mounted)
        assert int(row["counter"]) >= last.get(key, 1)
        last[key] = int(row["counter"])


def test_dies_are_in_whenever_a_check_is_made(readings, events):
    moves = [row for row in events if row["event"] in ("die_set_mounted", "die_set_removed")]
    for row in readings[::7]:
        before = [move for move in moves if move["machine"] == row["machine"] and move["time"] <= row["time"]]
        assert before[-1]["event"] == "die_set_mounted"
        assert before[-1]["part"] == row["part"]


def test_the_counter_follows_pieces_per_hour_and_stops(checks, events):
    # 90 pieces an hour on R3, own number of the demo shop
    times = [time for time in sorted(checks["BG-21"]) if time.isoformat() < "2026-03-06"]
    stopped = sum(
        int(row["value"])
        for row in events
        if row["event"] == "machine_stopped"
        and row["machine"] == "R3"
        and times[0] <= row["time"] < times[-1]
    )
    hours = (times[-1] - times[0]).total_seconds() / 3600.0 - stopped / 60.0
    made = checks["BG-21"][times[-1]]["counter"] - checks["BG-21"][times[0]]["counter"]
    assert abs(made - 90.0 * hours) <= 1.0


def test_every_mounting_comes_with_its_reference_setting(events):
    mounted = [(row["time"], row["machine"]) for row in events if row["event"] == "die_set_mounted"]
    slid = {(row["time"], row["machine"]) for row in events if row["event"] == "penetration"}
    assert all(key in slid for key in mounted)


def test_moves_keep_to_the_step_and_the_largest_move(events):
    plans = [tomllib.loads(path.read_text(encoding="utf-8")) for path in DEMO.glob("plan-*.toml")]
    limits = {plan["machine"][0]["id"]: plan["machine"][0] for plan in plans}
    setting: dict[str, float] = {}
    for row in events:
        if row["event"] != "penetration":
            continue
        machine, value = limits[row["machine"]], float(row["value"])
        steps = value / machine["slide_step_mm"]
        assert abs(steps - round(steps)) < 1e-6
        if not row["note"]:
            assert 0.0 < abs(value - setting[row["machine"]]) <= machine["largest_move_mm"] + 1e-9
        setting[row["machine"]] = value


def test_enough_die_lives_end_and_one_by_a_chip(events, truth):
    ends = Counter((life["part"], life["reason"]) for life in truth["die_lives"])
    for part in ("KS-24", "SW-32", "KS-38", "BG-21"):
        assert ends[part, "worn"] >= 3
    assert sum(count for (_, reason), count in ends.items() if reason == "chipped") == 1
    assert any(row["event"] == "die_set_reground" for row in events)
    assert any(life["limit"] == "limit" for life in truth["die_lives"] if life["reason"] == "worn")


def test_healthy_sets_come_off_for_the_other_part_and_return(truth):
    returned = [life for life in truth["die_lives"] if len(life["mounted"]) > 1]
    assert {life["part"] for life in returned} == {"KS-24", "SW-32"}


def test_worn_sets_come_off_when_the_truth_says_so(truth):
    for life in truth["die_lives"]:
        if life["reason"] == "worn":
            # found at the next check, or at the next one that measured the lead (a shift: 8 h of 240 pieces)
            most = 320 if life["limit"] == "travel" else 2100
            assert 0 <= life["age"] - life["end_age"] <= most
        elif life["reason"] == "":
            assert life["end_age"] > life["age"]


def test_a_few_checks_are_missed_and_a_few_are_late(checks):
    hourly = [time for time, check in checks["KS-38"].items() if check["purpose"] in ("hourly", "first_off")]
    gaps = [later - earlier for earlier, later in pairwise(hourly)]
    late = [gap for gap in gaps if timedelta(minutes=69) < gap < timedelta(minutes=100)]
    missed = [gap for gap in gaps if timedelta(minutes=110) < gap < timedelta(hours=24)]
    assert 1 <= len(late) <= 30
    assert 1 <= len(missed) <= 30


def test_weekends_are_stops_of_two_days(events):
    weekends = [row for row in events if row["note"] == "weekend"]
    assert len(weekends) == 9
    assert all(row["value"] == "2880" and row["part"] == "" for row in weekends)


def test_gauges_are_set_on_their_masters_every_shift(events):
    shifts = defaultdict(set)
    for row in events:
        if row["event"] == "gauge_mastered" and row["machine"] == "R3":
            shifts[row["time"].date()].add(row["time"].hour)
    whole_days = [day for day, hours in shifts.items() if {6, 14, 22} <= hours]
    assert len(whole_days) >= 15
