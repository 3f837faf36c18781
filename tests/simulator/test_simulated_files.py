"""The files of the demo: byte for byte from their seed, in the layout every other program relies on."""

import tomllib
from pathlib import Path

import pytest

from spc.simulator import demo_shop, simulate_to_folder

DEMO = Path(__file__).parents[2] / "demo_data"
PLANS = sorted(DEMO.glob("plan-*.toml"))
OF_THE_MONTH = ("KS-24", "SW-32", "KS-38", "BG-21")
MONTH_PLANS = [DEMO / f"plan-{part}.toml" for part in OF_THE_MONTH]
EVENT_WORDS = {
    "die_set_mounted", "die_set_reground", "die_set_removed", "penetration", "setting", "blank_batch",
    "gauge_mastered", "machine_stopped", "scrapped", "held", "released", "order", "note",
}  # fmt: skip


def test_demo_data_regenerates_byte_for_byte(tmp_path):
    simulate_to_folder(tmp_path)
    made = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    kept = {
        path.name: path.read_bytes() for path in DEMO.iterdir() if path.suffix in (".csv", ".toml", ".json")
    }
    assert made.keys() == kept.keys()
    for name in made:
        assert made[name] == kept[name], f"{name} differs"


def test_another_seed_gives_another_month(tmp_path):
    simulate_to_folder(tmp_path, seed=1, days=1)
    assert (tmp_path / "readings.csv").read_bytes()[:5000] != (DEMO / "readings.csv").read_bytes()[:5000]


def test_columns_and_line_ends_are_the_contracts():
    readings, events = (DEMO / "readings.csv").read_bytes(), (DEMO / "events.csv").read_bytes()
    assert readings.startswith(
        b"time,machine,part,characteristic,piece,value,unit,counter,operator,purpose\n"
    )
    assert events.startswith(b"time,machine,part,event,value,note,counter,form,operator\n")
    assert b"\r" not in readings + events
    assert len(readings) < 3_000_000


def test_events_use_only_words_of_the_contract(events):
    assert {row["event"] for row in events} <= EVENT_WORDS
    reasons = {row["value"] for row in events if row["event"] == "die_set_removed"}
    assert reasons <= {"worn", "chipped", "planned", "part_change", "other"}


def test_no_key_is_used_twice(readings, events):
    reading_keys = [
        tuple(row[key] for key in ("time", "machine", "part", "characteristic", "piece")) for row in readings
    ]
    event_keys = [tuple(row[key] for key in ("time", "machine", "part", "event", "value")) for row in events]
    assert len(reading_keys) == len(set(reading_keys))
    assert len(event_keys) == len(set(event_keys))


def test_rows_stand_in_time_order(readings, events):
    for rows in (readings, events):
        assert [row["time"] for row in rows] == sorted(row["time"] for row in rows)


def test_four_plans_of_the_month_name_three_machines_and_only_their_own():
    plans = [tomllib.loads(path.read_text(encoding="utf-8")) for path in MONTH_PLANS]
    assert {plan["machine"][0]["id"] for plan in plans} == {"R1", "R2", "R3"}
    assert all(len(plan["machine"]) == 1 for plan in plans)
    assert {plan["machine"][0]["display"] for plan in plans} == {"deeper_is_larger", "deeper_is_smaller"}


@pytest.mark.parametrize("path", MONTH_PLANS, ids=lambda path: path.stem)
def test_every_plan_of_the_month_carries_a_size_a_lead_or_pitch_a_form_and_a_look(path):
    plan = tomllib.loads(path.read_text(encoding="utf-8"))
    kinds = {entry["kind"] for entry in plan["characteristic"]}
    assert kinds & {"over_pin_diameter", "over_wire_diameter", "over_ball_diameter"}
    assert kinds & {"lead_deviation", "pitch_deviation"}
    assert kinds & {"straightness", "runout"}
    assert "visual" in kinds
    for entry in plan["characteristic"]:
        if "lower" in entry and "upper" in entry:
            assert entry["lower"] < entry.get("target", entry["nominal"]) < entry["upper"]


def test_one_part_has_two_forms_on_one_slide():
    plan = tomllib.loads((DEMO / "plan-KS-38.toml").read_text(encoding="utf-8"))
    slid = {entry["form"] for entry in plan["characteristic"] if entry.get("set_by") == "penetration"}
    assert slid == {"spline", "thread"}


def test_every_reading_is_in_its_plan(readings):
    known = {}
    for path in PLANS:
        plan = tomllib.loads(path.read_text(encoding="utf-8"))
        for entry in plan["characteristic"]:
            known[plan["part"]["id"], entry["name"]] = entry
    for row in readings:
        entry = known[row["part"], row["characteristic"]]
        assert row["unit"] == entry.get("unit", "")
        assert int(row["piece"]) <= entry.get("subgroup_size", 5)
        if entry["kind"] == "visual":
            assert row["value"] in entry["answers"]
        else:
            float(row["value"])


def test_short_months_and_single_parts_can_be_asked_for(tmp_path):
    simulate_to_folder(tmp_path, days=2, parts=("KS-38",))
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "events.csv",
        "plan-KS-38.toml",
        "readings.csv",
        "truth.json",
    ]
    assert demo_shop(days=2, parts=("KS-38",)).stories == ()
