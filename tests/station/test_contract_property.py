"""Whatever happens on the floor: every line obeys section 5, is strict JSON, and live is replay."""

import json
import re
from datetime import timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shaft import PLAN, START, at

from spc.intake import read_check, read_event, read_plan
from spc.station import open_station, replay, verdict_line
from spc.station.kept import verdict_of

SECOND = """
[[characteristic]]
name = "lead"
kind = "lead_deviation"
unit = "um"
nominal = 0
lower = -14
upper = 14
wears_with_die = true
subgroup_size = 1
[[characteristic]]
name = "core"
kind = "diameter"
unit = "mm"
nominal = 10.0
lower = 10.0
subgroup_size = 2
[[characteristic]]
name = "depth"
kind = "groove_depth"
unit = "mm"
nominal = 2.0
lower = 1.97
upper = 2.03
set_by = "penetration"
piece_value = "largest"
"""
TEXT = PLAN + SECOND
PART = read_plan(TEXT)
NEAR = {
    "over_pin": (31.25, 0.004),
    "bow": (0.02, 0.01),
    "lead": (0.0, 5.0),
    "core": (10.02, 0.01),
    "depth": (2.0, 0.01),
}

machines = st.sampled_from(["M1", "M1", "M2"])
counters = st.one_of(st.none(), st.integers(0, 3000), st.sampled_from([0, 10**6, 10**12]))


@st.composite
def readings(draw, name):
    centre, wide = NEAR[name]
    steps = draw(st.lists(st.integers(-40, 40), min_size=1, max_size=5))
    scale = draw(st.sampled_from([0.1, 0.1, 0.1, 0.0, 1.0]))
    slip = draw(st.sampled_from([1, 1, 1, 1, 1, 10, 25.4, 1000]))
    return [f"{centre * slip + scale * wide * step / 10:.4f}" for step in steps]


@st.composite
def checks(draw):
    names = draw(st.lists(st.sampled_from(sorted(NEAR)), min_size=1, max_size=5, unique=True))
    values = {name: draw(readings(name)) for name in names}
    if draw(st.booleans()):
        values["look"] = [draw(st.sampled_from(["ok", "ok", "ok", "flakes"]))]
    purpose = draw(st.sampled_from(["hourly", "hourly", "setup", "after_move", "trial"]))
    return {
        "machine": draw(machines),
        "part": "T-9",
        "counter": draw(counters),
        "purpose": purpose,
        "values": values,
    }


VALUES = {
    "die_set_mounted": ["D-1", "D-2"], "die_set_reground": ["D-1", "D-2"],
    "die_set_removed": ["worn", "chipped", "planned", "part_change", "other"],
    "penetration": ["12.340", "12.344", "12.300", "-3.1", "912.3"], "setting": ["1.4"],
    "blank_batch": ["B-1", "B-2"], "gauge_mastered": ["0", "-2.5", "4000"], "machine_stopped": ["0", "90"],
    "note": ["box 3"],
}  # fmt: skip


@st.composite
def events(draw):
    kind = draw(st.sampled_from(sorted(VALUES)))
    note = "dwell_s" if kind == "setting" else draw(st.sampled_from(["", "over_pin"]))
    return {
        "machine": draw(machines),
        "part": draw(st.sampled_from(["T-9", ""])),
        "event": kind,
        "value": draw(st.sampled_from(VALUES[kind])),
        "note": note,
        "counter": draw(counters),
    }


def histories():
    facts = st.one_of(checks(), checks(), events())
    gaps = st.sampled_from([0, 0.5, 1, 1, 30])
    return st.lists(st.tuples(gaps, facts), min_size=1, max_size=14).map(dated)


def dated(steps):
    """Give every fact its time; a check and an event of the same time, machine and kind stand once."""
    hours, kept = 0.0, {}
    for gap, fact in steps:
        hours += gap
        key = (hours, fact["machine"], fact.get("event", "check"), fact.get("value"), fact.get("part"))
        kept.setdefault(key, {**fact, "time": at(hours)})
    return list(kept.values())


def obeys_section_5(line):
    json.dumps(line, allow_nan=False)
    kinds = {each["kind"] for each in line["signals"]}
    word, correction, contain = line["verdict"], line["correction"], line["contain"]
    assert (word == "hold") == bool(kinds & {"out_of_tolerance", "visual"})
    assert (word == "hold") == (contain is not None)
    assert word != "correct" or correction is not None
    assert correction is None or word in ("correct", "hold")
    assert word != "run" or not line["signals"]
    assert word != "watch" or line["signals"]
    if contain is not None and contain["pieces"] is not None:
        assert contain["pieces"] == contain["to_counter"] - contain["from_counter"] >= 0
    if line["die_life"] is not None:
        left = list(line["die_life"]["pieces_left"].values())
        assert left == sorted(left)
        assert left[0] >= 0
    assert line["counter"] is not None or (line["age"] is None and line["die_life"] is None)
    for says in re.findall(r'"says": "((?:[^"\\]|\\.)*)"', json.dumps(line, ensure_ascii=False)):
        assert re.search(r"\d", says), says
    assert all(each["since"] <= line["time"] for each in line["signals"])


def lines_of(live):
    with live.store.reading() as shelf:
        lines = [verdict_line(verdict_of(each)) for each in shelf.verdicts("T-9")]
    return [{key: value for key, value in line.items() if key != "check_id"} for line in lines]


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(histories(), st.randoms(use_true_random=False))
def test_any_history_obeys_section_5_and_live_is_replay(history, dice):
    """Sections 4 and 5: "live state and full replay are identical", however late a fact arrives."""
    gauged = [fact for fact in history if "values" in fact]
    logged = [fact for fact in history if "event" in fact]
    live = open_station(":memory:", now=lambda: START + timedelta(days=90))
    live.take_plan(TEXT)
    order = sorted(range(len(history)), key=lambda i: i + dice.choice([0, 0, 0, 3.5]))
    for place in order:
        fact = history[place]
        live.check_in(fact) if "values" in fact else live.log(fact)
        if dice.random() < 0.2:
            live.store.drop_checkpoints()
    shown = lines_of(live)
    live.close()
    replayed = replay(
        [PART], [read_check(each, PART) for each in gauged], [read_event(each, PART) for each in logged]
    )

    for line in shown:
        obeys_section_5(line)
    assert sorted(shown, key=by_place) == sorted((verdict_line(each) for each in replayed), key=by_place)


def by_place(line):
    return (line["time"], line["machine"])
