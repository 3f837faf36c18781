"""Sentences of contract section 5 about what a verdict says, tried on hand-made checks."""

import json
import re
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from shaft import PLAN, START, check, event, open_shop, running

from spc.station import open_station, verdict_line


def said(of: Any) -> Iterator[str]:
    """Every `says` of a line, those of explanations too."""
    if isinstance(of, dict):
        for key, value in of.items():
            if key == "says":
                yield value
            yield from said(value)
    elif isinstance(of, list):
        for value in of:
            yield from said(value)


BAD = {
    "a piece out": {"pieces": ["31.290", "31.250", "31.249", "31.250", "31.251"]},
    "a slip": {"pieces": ["31.250", "312.51", "31.249", "31.250", "31.251"]},
    "a step": {"mean": 31.257},
    "a wide range": {"pieces": ["31.259", "31.241", "31.250", "31.258", "31.242"]},
    "an odd piece": {"pieces": ["31.250", "31.2505", "31.2500", "31.2495", "31.2640"]},
    "a visual find": {"values": {"look": ["ok", "flakes"]}},
}


@pytest.mark.parametrize("name", BAD)
def test_every_says_names_a_number(name):
    """Section 5: "every `says` names a number"."""
    live = open_shop()
    running(live, 8)
    line = verdict_line(live.check_in(check(9, counter=2700, **BAD[name])))

    texts = list(said(line))
    assert texts
    assert [text for text in texts if not re.search(r"\d", text)] == []


def test_travel_nearly_used_up_names_numbers():
    """Section 5: "every `says` names a number", also of `travel_used`."""
    live = open_shop()
    running(live, 3)
    live.log(event(3.1, "penetration", "12.396"))
    line = verdict_line(live.check_in(check(4, 31.2052, 1200)))

    assert "travel_used" in {each["kind"] for each in line["signals"]}
    assert [text for text in said(line) if not re.search(r"\d", text)] == []


ZERO_WIDE = PLAN.replace("lower = 31.232\nupper = 31.268", "lower = 31.250\nupper = 31.250")


@pytest.mark.parametrize("text", [PLAN, ZERO_WIDE])
def test_after_an_absurd_value_the_line_is_still_strict_json(text):
    """Section 5 is JSON: no NaN, no infinity, whatever was typed and however narrow the tolerance is."""
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(text)
    live.log(event(0, "die_set_mounted", "D-1"))
    counters = [0, 0, 300, 10**11, 10**11 + 300, 10**12, 10**12]
    sizes = ["31.25", "31250000000", "31.25", "31.25", "312500000", "-5", "31.25"]
    for hour, (counter, size) in enumerate(zip(counters, sizes, strict=True), 1):
        line = verdict_line(live.check_in(check(hour, counter=counter, pieces=[size] * 5)))
        json.dumps(line, allow_nan=False)


def test_hundreds_of_equal_readings_are_no_trouble():
    """A coarse gauge that always shows the same: no spread at all, and no limits from it."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 200):
        same = check(hour, counter=100 * hour, pieces=["31.250"] * 5, values={"bow": ["0.02", "0.02"]})
        line = verdict_line(live.check_in(same))
        json.dumps(line, allow_nan=False)
    assert line["verdict"] == "run"
    assert "limits" not in line["subgroups"]["bow"]


@pytest.mark.parametrize("size", ["31.2900", "31.2640"])
def test_a_piece_is_called_by_its_own_number(size):
    """Section 1: `piece` is "1…n within the check"; piece 2 was left out, piece 4 is the odd one."""
    live = open_shop()
    running(live, 8)
    pieces = ["31.2500", "", "31.2505", size, "31.2495", "31.2502"]
    verdict = live.check_in(check(9, counter=2700, pieces=pieces))

    texts = [each.says for each in verdict.signals if "piece " in each.says]
    assert texts
    assert all("piece 4" in each for each in texts)


LEAD = """
[[characteristic]]
name = "lead"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.014
upper = 0.014
wears_with_die = true
subgroup_size = 1
"""


def test_travel_used_up_is_said_of_a_size_that_the_slide_sets():
    """Section 5: a signal's `characteristic`; the lead limits the life here, the slide does not set it."""
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(PLAN + LEAD)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 8):
        lead = {"lead": [f"{0.0015 * hour:.4f}"]}
        if hour == 7:
            live.log(event(6.5, "penetration", "12.396"))
        mean = 31.250 if hour < 7 else 31.2052
        verdict = live.check_in(check(hour, mean, 300 * hour, values=lead))

    said_of = [each.characteristic for each in verdict.signals if each.kind == "travel_used"]
    assert verdict.die_life.limited_by == "lead"
    assert said_of == ["over_pin"]


def test_a_verdict_gives_its_line_and_its_number():
    """Section 6: "`Verdict.to_dict()` is section 5 plus `check_id`"."""
    live = open_shop()
    verdict = live.check_in(check(1, counter=300))
    line = verdict.to_dict()

    assert list(line)[:13] == [
        "time", "machine", "part", "die_set", "counter", "age", "purpose", "verdict", "signals", "explained",
        "correction", "contain", "die_life",
    ]  # fmt: skip
    assert line["check_id"] == verdict.check_id
    assert json.loads(json.dumps(line, allow_nan=False)) == line
