"""After the verdict: a move that is made, a check struck out, dies that are gone, a find on the dies."""

from collections.abc import Callable
from datetime import timedelta

from small_shop import VALUES, press, type_values, words, write
from streamlit.testing.v1 import AppTest

from spc.shop import Verdict
from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"
BIG = ("31.262", "31.264", "31.263", "31.265", "31.261")  # mean 31.263, 13 µm above the middle 31.250


def saved(page: AppTest, shop: Station, *values: str) -> Verdict:
    """Type, look, save; the verdict that came."""
    type_values(page, *values)
    page.run()
    write(page, "Counter", "760")
    page.checkbox[0].check().run()
    press(page, "Save the check")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    return verdict


def purpose(page: AppTest) -> str:
    return str(next(each for each in page.selectbox if each.label.startswith("What is this")).value)


def adjusted(shop: Station) -> Verdict:
    """Checks that grow until the station advises a move."""
    for hour in range(6):
        mean = 31.253 + 0.002 * hour
        values = [f"{mean + off:.4f}" for off in (-0.002, 0.001, 0.0, 0.002, -0.001)]
        made = (shop.now() - timedelta(minutes=9 - hour)).isoformat()
        check = {"machine": "R1", "part": "P-31", "time": made, "counter": 560 + 10 * hour}
        verdict = shop.check_in({**check, "values": {"over_pin": values, "look": ["ok"]}})
        if verdict.verdict == "correct":
            return verdict
    raise AssertionError(verdict.to_dict())


def test_the_advised_move_once_made_is_not_ordered_again(shop: Station, run_page: RunPage) -> None:
    verdict = adjusted(shop)
    page = run_page(HOURLY)
    assert purpose(page) == "hourly"
    assert verdict.correction is not None
    move = {"machine": "R1", "part": "P-31", "event": "penetration", "value": str(verdict.correction.to_mm)}
    shop.log({**move, "time": shop.now().isoformat()})

    page.run()
    assert "move is made: gauge two pieces" in words(page).lower()
    assert verdict.next_action not in words(page)
    assert purpose(page) == "after_move"
    again = run_page(HOURLY)
    assert purpose(again) == "after_move"


def test_a_struck_out_verdict_does_not_stay_up(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    verdict = saved(page, shop, *BIG)
    assert verdict.verdict != "run"
    assert verdict.next_action[-20:] in words(page)
    shop.annul(verdict.check_id or 0, "the wrong master")  # by somebody at another screen

    page.run()
    assert verdict.next_action[-20:] not in words(page)
    assert "Run on</b> on the last check" in words(page)


def test_no_forecast_of_dies_that_are_gone(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    saved(page, shop, *VALUES)
    assert "Pieces left in this die set" in words(page)
    off = {"machine": "R1", "part": "P-31", "event": "die_set_removed", "value": "worn"}
    shop.log({**off, "time": shop.now().isoformat(), "counter": "770"})

    page.run()
    assert "none logged" in words(page)
    assert "Pieces left in this die set" not in words(page)
    assert "growth" not in words(page)


def test_the_slide_is_read_off_the_panel_and_a_setting_without_its_set_is_refused(
    shop: Station, run_page: RunPage
) -> None:
    adjusted(shop)
    page = press(run_page(HOURLY), "Slide moved")
    assert next(each for each in page.text_input if each.label.startswith("To,")).value == ""
    page = press(run_page(HOURLY), "Dies changed")
    next(each for each in page.selectbox if each.label.startswith("Why did")).set_value("worn")
    write(page, "Slide with the new set, as on the panel (mm)", "-12.300")
    press(page, "Log it")
    assert "no set is named" in str(page.session_state["event refused"])
    assert shop.operator_view("P-31", "R1").die_set == "D-07"
