"""What the page tests say and read: values in the grid, words on the page."""

from typing import Any

from shaft_size import HOURLY, OVER_PIN_SIZE
from streamlit.testing.v1 import AppTest

from spc.station import Station

PLAN = f"""
[part]
id = "P-31"
description = "splined shaft"
[plant]
zone = "Europe/Berlin"
shifts = ["06:00", "14:00", "22:00"]
[[machine]]
id = "R1"
largest_move_mm = 0.020
display = "deeper_is_smaller"
[die_set]
correction_travel = 0.060
{HOURLY}{OVER_PIN_SIZE}master_size = 31.252
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.000
lower = -0.014
upper = 0.014
subgroup_size = 1
at = ["first_off", "shift"]
result = "later"
[[characteristic]]
name = "look"
kind = "visual"
subgroup_size = 1
answers = ["ok", "flakes", "chip mark"]
"""
VALUES = ("31.250", "31.248", "31.253", "31.252", "31.249")


def words(page: AppTest) -> str:
    """Everything the page says in its own blocks and in plain sentences."""
    blocks = [str(each.proto.body) for each in page.get("html")]
    return " ".join(blocks + [str(each.value) for each in (*page.markdown, *page.caption, *page.header)])


def type_values(
    page: AppTest, *texts: str, column: str = "over_pin", token: str = "t1", suffix: str = ""
) -> None:
    """Put into the session what the browser sends when these texts stand in the grid."""
    page.session_state["token check|R1|P-31"] = token
    cells = {
        "over_pin": [{"text": "", "skip": "", "seen": False}] * 5,
        "lead_error": [{"text": "", "skip": "", "seen": False}],
    }
    cells[column] = [{"text": text, "skip": "", "seen": False} for text in texts]
    grid: dict[str, Any] = {"token": token + suffix, "seq": 5, "cells": cells, "struck": [], "meanwhile": []}
    page.session_state["readings"] = {"grid": grid}


def press(page: AppTest, label: str) -> AppTest:
    """Press the button of this label and let the page run."""
    page_button = next(each for each in page.button if each.label == label)
    return page_button.click().run()


def write(page: AppTest, label: str, text: str) -> None:
    """Write into the field of this label."""
    next(each for each in page.text_input if each.label == label).set_value(text)


def twenty_checks(shop: Station) -> None:
    """Twenty good hourly checks on the day before, so that provisional limits stand."""
    event = {"machine": "R1", "part": "P-31", "time": "2026-03-01T00:00:00+01:00"}
    shop.log({**event, "event": "die_set_mounted", "value": "D-06"})
    for number in range(20):
        values = [f"31.2{48 + (number * step) % 5}" for step in (1, 2, 3, 4, 7)]
        made = f"2026-03-01T{number:02d}:10:00+01:00"
        shop.check_in({"machine": "R1", "part": "P-31", "time": made, "values": {"over_pin": values}})
