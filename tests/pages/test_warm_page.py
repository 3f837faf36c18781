"""The hourly page where a plan brings readings to 20 °C and gauges at several positions."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from small_shop import PLAN, press, words, write
from streamlit.testing.v1 import AppTest

from spc.intake import read_plan
from spc.pages.entry import GridCell, GridState, Mark
from spc.pages.grid_marks import Warmth, beyond_words, marks_of
from spc.pages.grid_of_plan import grid_layout, left_out, typed_values
from spc.pages.strike_out import gauged_check
from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"
GAIN = "penetration_gain = 0.80\n"
WARM = PLAN.replace(GAIN, GAIN + "expansion_per_k = 11.5e-6\n")
TWO_PLACES = PLAN.replace(GAIN, GAIN + 'positions = ["left", "right"]\npiece_value = "PIECE"\n')
PIECES = ("31.250", "31.248", "31.253", "31.252", "31.249")


def fields(page: AppTest) -> set[str]:
    return {each.label for each in page.text_input}


def put_in(page: AppTest, columns: dict[str, tuple[str, ...]]) -> None:
    """Put into the session what the browser sends when these texts stand in the grid."""
    page.session_state["token check|R1|P-31"] = "t1"
    cells = {
        name: [{"text": text, "skip": "", "seen": False} for text in texts] for name, texts in columns.items()
    }
    grid: dict[str, Any] = {"token": "t1", "seq": 5, "cells": cells, "struck": [], "meanwhile": []}
    page.session_state["readings"] = {"grid": grid}
    page.run()


def save(page: AppTest) -> None:
    page.checkbox[0].check().run()
    press(page, "Save the check")
    assert not page.exception


def test_no_temperature_is_asked_for_without_an_expansion(run_page: RunPage) -> None:
    assert not any("°C" in each for each in fields(run_page(HOURLY)))


def test_the_verdict_says_in_words_what_was_taken_off(shop: Station, run_page: RunPage) -> None:
    shop.take_plan(WARM)
    page = run_page(HOURLY)
    put_in(page, {"over_pin": PIECES})
    write(page, "Part, °C", "31")
    page.run()
    assert "One temperature alone corrects nothing" in words(page)
    write(page, "Setting master, °C", "22")
    page.run()
    assert "About 3.2 µm taken off over pins" in words(page)
    save(page)
    says = words(page)
    assert "part 31 °C, master 22 °C: 3.2 µm taken off, known to ±" in says
    assert "mean 31.2504 mm as gauged, 31.2472 as judged" in says  # 31.2504 − 31.2504 · 11.5e-6 · 9
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    kept = gauged_check(shop, verdict.check_id or 0)
    assert {each.text for each in kept.readings if each.characteristic == "over_pin"} == set(PIECES)


def test_a_draft_keeps_the_temperatures(shop: Station, run_page: RunPage) -> None:
    shop.take_plan(WARM)
    page = run_page(HOURLY)
    write(page, "Part, °C", "31,5")
    page.run()
    again = run_page(HOURLY)
    assert next(each.value for each in again.text_input if each.label == "Part, °C") == "31,5"


def test_a_temperature_that_cannot_be_is_said_at_once_and_refused_at_saving(
    shop: Station, run_page: RunPage
) -> None:
    shop.take_plan(WARM)
    page = run_page(HOURLY)
    put_in(page, {"over_pin": PIECES})
    write(page, "Part, °C", "310")
    page.run()
    assert "no part or master in the hand has this temperature" in words(page)
    before = shop.operator_view("P-31", "R1").last_check
    save(page)
    assert "temperature_c" not in words(page)
    assert shop.operator_view("P-31", "R1").last_check == before


@pytest.mark.parametrize(("rule", "mean"), [("largest", 31.2506), ("smallest", 31.2496), ("mean", 31.2501)])
def test_several_positions_are_one_piece(shop: Station, run_page: RunPage, rule: str, mean: float) -> None:
    shop.take_plan(TWO_PLACES.replace("PIECE", rule))
    page = run_page(HOURLY)
    left = ("31.250", "31.248", "31.253", "31.252", "31.249")
    right = ("31.251", "31.246", "31.250", "31.252", "31.250")
    put_in(page, {"over_pin @ left": left, "over_pin @ right": right})
    save(page)
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    group = verdict.subgroup("over_pin")
    assert group is not None
    by_hand = {
        "largest": (31.251 + 31.248 + 31.253 + 31.252 + 31.250) / 5,
        "smallest": (31.250 + 31.246 + 31.250 + 31.252 + 31.249) / 5,
        "mean": (31.2505 + 31.247 + 31.2515 + 31.252 + 31.2495) / 5,
    }
    assert group.n == 5
    assert group.mean == pytest.approx(by_hand[rule], abs=1e-9)
    assert group.mean == pytest.approx(mean, abs=0.0013)


def state_of(text: str, cells: dict[str, tuple[GridCell, ...]]) -> tuple[Any, GridState]:
    plan = read_plan(text)
    layout = grid_layout(plan, "t", deviations=False)
    assert layout is not None
    return plan, GridState("t", 1, cells).fitted(layout)


def test_a_value_outside_is_marked_with_words_and_by_how_much() -> None:
    plan, state = state_of(PLAN, {"over_pin": (GridCell("31.272"), GridCell("31.268"), GridCell("31.2315"))})
    marks = marks_of(plan, False, Warmth())(state)
    assert marks == {
        ("over_pin", 1): Mark("0.004 over the upper limit", is_outside=True),
        ("over_pin", 3): Mark("0.0005 under the lower limit", is_outside=True),
    }


def test_nothing_outside_reads_as_nothing() -> None:
    over_pin = read_plan(PLAN).characteristic("over_pin")
    assert beyond_words(Decimal("31.268000001"), over_pin) == "0.0001 over the upper limit"
    assert beyond_words(Decimal("31.268"), over_pin) == ""


def test_a_warm_value_is_marked_by_its_size_at_20() -> None:
    plan, state = state_of(WARM, {"over_pin": (GridCell("31.270"),)})
    cold = marks_of(plan, False, Warmth())(state)["over_pin", 1]
    warm = marks_of(plan, False, Warmth(Decimal(31), Decimal(22)))(state)["over_pin", 1]
    assert cold.is_outside
    assert warm == Mark("31.2668 mm at 20 °C")  # 31.270 − 31.270 · 11.5e-6 · 9


def test_a_piece_is_marked_once_all_its_positions_are_in() -> None:
    cells = {
        "over_pin @ left": (GridCell("31.250"), GridCell("31.272")),
        "over_pin @ right": (GridCell("31.252"), GridCell(skip="gauge not at hand")),
    }
    plan, state = state_of(TWO_PLACES.replace("PIECE", "mean"), cells)
    assert marks_of(plan, False, Warmth())(state) == {
        ("over_pin @ right", 1): Mark("mean of the piece 31.2510 mm")
    }
    assert left_out(plan, state) == [("over_pin", 2, "right: gauge not at hand")]
    taken = typed_values(plan, state, deviations=False)["values"]["over_pin"]
    assert taken[:2] == [{"left": "31.250", "right": "31.252"}, {"left": "31.272", "right": ""}]
