"""Logging from the page: each button, in the machine's own display sense, and refusals that lose nothing."""

from collections.abc import Callable
from decimal import Decimal

import pytest
from small_shop import press, words, write
from streamlit.testing.v1 import AppTest

from spc.shop import EventLogged
from spc.station import Station
from spc.station.kept import fact_of

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"


def logged(shop: Station) -> list[tuple[str, str, str]]:
    with shop.store.reading() as shelf:
        facts = [fact_of(each) for each in shelf.facts("P-31", ["R1"], kinds=("event",))]
    return [(each.event, each.value, each.note) for each in facts if isinstance(each, EventLogged)]


def test_a_slide_move_is_recorded_deeper_is_larger(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Slide moved")
    assert "Guards closed" in words(page)
    write(page, "To, as it stands now (mm)", "-12,352")
    press(page, "Log it")
    assert logged(shop)[-1] == ("penetration", "12.352", "")
    assert shop.operator_view("P-31", "R1").shown_setting_mm == Decimal("-12.352")


def test_a_move_nobody_logged_is_logged_first(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Slide moved")
    write(page, "From, as it stood on the panel (mm)", "-12.350")
    write(page, "To, as it stands now (mm)", "-12.352")
    press(page, "Log it")
    assert logged(shop)[-2:] == [
        ("penetration", "12.350", "found so on the panel"),
        ("penetration", "12.352", ""),
    ]


def test_a_refused_event_is_explained_and_logs_nothing(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Slide moved")
    before = logged(shop)
    write(page, "To, as it stands now (mm)", "12.3.5")
    press(page, "Log it")
    assert logged(shop) == before
    assert "not a number" in str(page.session_state["event refused"])


def test_a_die_change_takes_the_old_set_off_and_puts_the_new_one_on(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Dies changed")
    assert "lock out" in words(page)
    next(each for each in page.selectbox if each.label.startswith("Why did")).set_value("worn")
    write(page, "Which set is on now?", "D-08")
    write(page, "Slide with the new set, as on the panel (mm)", "-12.300")
    press(page, "Log it")
    found = [each[:2] for each in logged(shop)[-3:]]
    assert found == [("die_set_removed", "worn"), ("die_set_mounted", "D-08"), ("penetration", "12.300")]
    assert shop.operator_view("P-31", "R1").die_set == "D-08"


def test_a_die_change_without_a_reason_is_refused(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Dies changed")
    write(page, "Which set is on now?", "D-08")
    press(page, "Log it")
    assert "why D-07 came off" in str(page.session_state["event refused"])
    assert shop.operator_view("P-31", "R1").die_set == "D-07"


@pytest.mark.parametrize(
    ("button", "fields", "expected"),
    [
        ("New bar batch", {"Bar batch": "B-20"}, ("blank_batch", "B-20", "")),
        (
            "Gauge set on its master",
            {"It showed, before setting, above (+) or below (−) the master (µm)": "-1,5"},
            ("gauge_mastered", "-1.5", "over_pin"),
        ),
        (
            "Machine stopped",
            {"For how many minutes?": "21", "Why?": "break"},
            ("machine_stopped", "21", "break"),
        ),
        ("Scrapped", {"How many pieces?": "12"}, ("scrapped", "12", "")),
        ("Another setting", {"Now set to": "2.0"}, ("setting", "2.0", "dwell_s")),
        ("Something else", {"How many pieces, or which": "40"}, ("held", "40", "")),
    ],
)
def test_each_button_logs_its_event(
    shop: Station, run_page: RunPage, button: str, fields: dict[str, str], expected: tuple[str, str, str]
) -> None:
    page = press(run_page(HOURLY), button)
    for label, text in fields.items():
        write(page, label, text)
    press(page, "Log it")
    assert not page.exception
    assert logged(shop)[-1] == expected


def test_a_check_is_struck_out_with_a_reason_and_laid_out_again(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Strike a check out")
    press(page, "Strike it out")
    assert "only struck out with a reason" in str(page.session_state["past refused"])
    press(page, "Strike a check out")
    write(page, "Why?", "digits swapped")
    press(page, "Strike it out")
    assert "Its values are in the grid" in words(page)
    again = run_page(HOURLY)
    assert next(each for each in again.text_input if each.label == "Counter").value == "540"
    view = shop.operator_view("P-31", "R1")
    assert view.counter == 320


def test_a_result_that_comes_later_completes_its_check(shop: Station, run_page: RunPage) -> None:
    page = press(run_page(HOURLY), "Add a result that came later")
    write(page, "Piece 1, mm", "-0.003")
    press(page, "Add it")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    assert dict(verdict.subgroups)["lead_error"].mean == pytest.approx(-0.003)
    assert dict(verdict.subgroups)["over_pin"].n == 5
