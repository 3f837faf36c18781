"""Sentences of contract section 5 about what a verdict says, tried on hand-made checks."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from shaft import check, event, open_shop, running

from spc.station import verdict_line


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
